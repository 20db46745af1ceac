package moisture

import (
	"context"
	"fmt"
	"math"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuit/airflow/effort"
)

// Use is how a vehicle is driven while its air is counted. Zero values stand for what is usual.
type Use struct {
	ApplicationsPerHour float64 // 0 for 40
	Pedal               float64 // share of its travel; 0 for 0.35
	Engine              float64 // rev/s; 0 for the mean of idle and rated speed
	Seconds             float64 // simulated; 0 for half an hour
}

// A Duty is what the air did in a time of such driving. Masses are those of a second of driving, so that a day is so many of them.
type Duty struct {
	Use      Use
	Pumped   float64 // kg/s, the mean
	Purged   float64 // kg/s, of it let out by the dryer
	Loaded   float64 // share of the time that the compressor pumps
	Purges   float64 // 1/s
	Pressure float64 // Pa absolute in the supply reservoir, the mean while pumping
	Flow     float64 // kg/s, the mean while pumping
}

func (u Use) usual(c *circuit.Circuit) Use {
	if u.ApplicationsPerHour == 0 {
		u.ApplicationsPerHour = 40
	}
	if u.Pedal == 0 {
		u.Pedal = 0.35
	}
	if u.Engine == 0 {
		u.Engine = (c.Engine.Idle.SI + c.Engine.Rated.SI) / 2
	}
	if u.Seconds == 0 {
		u.Seconds = 1800
	}
	return u
}

// Drive simulates some driving and counts the air.
func Drive(ctx context.Context, v *effort.Vehicle, u Use) (Duty, error) {
	if !v.Pedal() {
		return Duty{}, fmt.Errorf("driving: circuit %q has no pedal to be driven with; look at it coupled to what draws it", v.Circuit.Name)
	}
	u = u.usual(v.Circuit)
	if !(u.ApplicationsPerHour > 0 && u.ApplicationsPerHour <= 1200 && u.Pedal > 0 && u.Pedal <= 1 && u.Engine >= 0 && u.Engine <= 100 && u.Seconds >= 60 && u.Seconds <= 86400) {
		return Duty{}, fmt.Errorf("driving: %+v is no use of a vehicle: up to 1200 applications an hour, pedal up to 1, engine up to 100 rev/s, a minute to a day", u)
	}
	r, err := v.Charged(v.Faults, 110*circuit.PSI)
	if err != nil {
		return Duty{}, fmt.Errorf("driving: %w", err)
	}
	if err := r.Set(airflow.Engine, u.Engine, 1); err != nil {
		return Duty{}, fmt.Errorf("driving: %w", err)
	}
	const every, pumping, blowing = 0.1, 1e-5, 1e-3 // s, kg/s, kg/s
	m := meter{supply: supplyOf(v.Circuit), dryers: vents(dryers(v.Circuit), circuit.Exhaust), intakes: vents(v.Circuit.Components, circuit.Intake)}
	r.Record(every, func(r *airflow.Run) { m.read(r, pumping, blowing) })
	begin, pumped, purged := r.Time(), r.Pumped(), m.purged(r)
	gap := 3600 / u.ApplicationsPerHour
	on := min(3, gap/2)
	for r.Time() < begin+u.Seconds {
		if err := ctx.Err(); err != nil {
			return Duty{}, err
		}
		for _, half := range []struct{ pedal, seconds float64 }{{u.Pedal, on}, {0, gap - on}} {
			if err := r.Set("pedal", half.pedal, 0.3); err != nil {
				return Duty{}, fmt.Errorf("driving: %w", err)
			}
			if err := r.Advance(half.seconds); err != nil {
				return Duty{}, fmt.Errorf("driving: %w", err)
			}
		}
	}
	seconds := r.Time() - begin
	d := Duty{
		Use: u, Pumped: (r.Pumped() - pumped) / seconds, Purged: (m.purged(r) - purged) / seconds,
		Loaded: m.loaded / m.readings, Purges: m.purges / seconds, Pressure: m.pressure / m.loaded,
	}
	if m.loaded == 0 {
		d.Pressure = r.Pressure(m.supply)
	} else {
		d.Flow = d.Pumped / d.Loaded
	}
	return d, nil
}

// meter reads the run ten times a second: flows of the moment, for what a run has counted is only known at the ends of its steps.
type meter struct {
	supply                             string
	dryers, intakes                    []string
	readings, loaded, pressure, purges float64
	blowing                            bool
}

func (m *meter) read(r *airflow.Run, pumping, blowing float64) {
	m.readings++
	drawn := 0.0
	for _, place := range m.intakes {
		drawn -= r.VentFlow(place)
	}
	if drawn > pumping {
		m.loaded++
		m.pressure += r.Pressure(m.supply)
	}
	flow := 0.0
	for _, place := range m.dryers {
		flow += r.VentFlow(place)
	}
	was := m.blowing
	m.blowing = flow > blowing || was && flow > blowing/10
	if m.blowing && !was {
		m.purges++
	}
}

func (m *meter) purged(r *airflow.Run) float64 {
	sum := 0.0
	for _, place := range m.dryers {
		if kg := r.VentedAt(place); !math.IsNaN(kg) {
			sum += kg
		}
	}
	return sum
}

// supplyOf is the reservoir that no other feeds.
func supplyOf(c *circuit.Circuit) string {
	for _, tank := range c.Reservoirs() {
		if len(tank.FedBy) == 0 {
			return tank.Room
		}
	}
	return circuit.Atmosphere
}

// dryers of a circuit: what keeps a purge volume.
func dryers(c *circuit.Circuit) []*circuit.Component {
	var list []*circuit.Component
	for _, part := range c.Components {
		if part.Kind != nil {
			if _, ok := part.Kind.Param("purge_volume"); ok {
				list = append(list, part)
			}
		}
	}
	return list
}

// vents lists the places where parts let air out or in.
func vents(parts []*circuit.Component, role circuit.Role) []string {
	var places []string
	for _, part := range parts {
		if part.Kind == nil {
			continue
		}
		for _, p := range part.Kind.Ports {
			if p.Vent && p.Role() == role {
				places = append(places, part.ID+"."+p.Name)
			}
		}
	}
	return places
}
