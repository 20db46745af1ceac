package usage

import (
	"context"
	"fmt"
	"math"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuit/airflow/effort"
)

// Braking is how the pedal is worked.
type Braking struct {
	Pressure     float64 // in the chambers, above the atmosphere, Pa; 0 for the pedal to the floor
	On, Off      float64 // s of each application and each pause
	Applications int
	Engine       float64 // rev/s; 0 for off
	From         float64 // reservoir pressure above the atmosphere, Pa; 0 for 120 psi. The compressor works from the governor's cut-in down
}

// Fanning is the pedal pumped to the floor and let up again, as fast as it goes, twenty times, the engine idling.
func Fanning(c *circuit.Circuit) Braking {
	return Braking{On: 0.6, Off: 0.6, Applications: 20, Engine: c.Engine.Idle.SI}
}

// An Account is what it took.
type Account struct {
	Braking  Braking
	Lowest   []float64 // of all reservoirs, after each application with the pedal up again, Pa absolute
	Used     float64   // m³ of free air that left at exhausts and other vents, without the dryer's
	Purged   float64   // m³ of free air that the dryer let out
	Pumped   float64   // m³ of free air
	Seconds  float64
	Warning  int     // the application at which a lamp or buzzer came on, from 1; 0 for never
	SpringAt int     // the application at which a knob sprang out, from 1; 0 for never
	Keeps    bool    // the lowest pressure of the last third of applications is no lower than that of the third before, or than the governor's cut-in
	Reached  float64 // highest chamber pressure, Pa absolute
}

// Each application's free air, m³.
func (a Account) Each() float64 { return a.Used / float64(a.Braking.Applications) }

const usualFrom = 120 * circuit.PSI

func (b Braking) check() error {
	for _, x := range []struct {
		what      string
		v, lo, hi float64
	}{
		{"pressure in Pa", b.Pressure, 0, 1.1e6}, {"seconds on", b.On, 0.1, 3600}, {"seconds off", b.Off, 0.1, 36000}, {"number of applications", float64(b.Applications), 1, 1000},
		{"engine speed in rev/s", b.Engine, 0, 100}, {"reservoir pressure in Pa", b.From, 0, 1.1e6},
	} {
		if !(x.v >= x.lo && x.v <= x.hi) {
			return fmt.Errorf("braking: %s goes from %g to %g, not %g", x.what, x.lo, x.hi, x.v)
		}
	}
	return nil
}

// Count the air that a way of braking takes, on the vehicle with its faults.
func Count(ctx context.Context, v *effort.Vehicle, b Braking) (Account, error) {
	if b.From == 0 {
		b.From = usualFrom
	}
	if err := b.check(); err != nil {
		return Account{}, err
	}
	pedal := 1.0
	if b.Pressure > 0 {
		var err error
		if pedal, err = pedalFor(ctx, v, b.Pressure, b.From); err != nil {
			return Account{}, err
		}
	}
	r, err := v.Charged(v.Faults, b.From)
	if err != nil {
		return Account{}, fmt.Errorf("braking: %w", err)
	}
	x := worker{v: v, r: r, a: Account{Braking: b}, purges: purgesOf(v.Circuit)}
	if err := x.work(ctx, pedal); err != nil {
		return Account{}, fmt.Errorf("braking: %w", err)
	}
	return x.a, nil
}

// worker carries one account through its run.
type worker struct {
	v      *effort.Vehicle
	r      *airflow.Run
	a      Account
	purges []string // places where dryers let air out
}

func (x *worker) work(ctx context.Context, pedal float64) error {
	b := x.a.Braking
	if err := x.r.Set(airflow.Key, 1, 0); err != nil {
		return err
	}
	if err := x.r.Set(airflow.Engine, b.Engine, 0.5); err != nil {
		return err
	}
	begin, pumped, purged, vented, drawn := x.r.Time(), x.r.Pumped(), x.purged(), x.r.Vented(), x.drawn()
	x.r.Record(0.1, x.watch)
	defer x.r.Record(0, nil)
	for i := range b.Applications {
		if err := ctx.Err(); err != nil {
			return err
		}
		for _, half := range []struct{ pedal, seconds float64 }{{pedal, b.On}, {0, b.Off}} {
			if err := x.r.Set("pedal", half.pedal, min(0.2, half.seconds/2)); err != nil {
				return err
			}
			if err := x.r.Advance(half.seconds); err != nil {
				return err
			}
		}
		x.a.Lowest = append(x.a.Lowest, x.lowest())
		x.notice(i + 1)
	}
	x.a.Seconds = x.r.Time() - begin
	x.a.Pumped = airflow.FreeAir(x.r.Pumped() - pumped)
	x.a.Purged = airflow.FreeAir(x.purged() - purged)
	// Vented counts what is drawn in as less than nothing.
	x.a.Used = airflow.FreeAir(x.r.Vented()-vented-(x.drawn()-drawn)) - x.a.Purged
	x.a.Keeps = keeps(x.a.Lowest, CutIn(x.v.Circuit)+atmosphere)
	return nil
}

// watch keeps the highest pressure of any chamber.
func (x *worker) watch(r *airflow.Run) {
	for _, w := range x.v.Wheels {
		x.a.Reached = max(x.a.Reached, r.Pressure(w.Chamber.ID+".service"))
	}
}

func (x *worker) lowest() float64 {
	least := math.Inf(1)
	for _, tank := range x.v.Circuit.Reservoirs() {
		least = min(least, x.r.Pressure(tank.Room))
	}
	return least
}

// notice what the driver would.
func (x *worker) notice(application int) {
	for _, c := range x.v.Circuit.Components {
		if x.a.Warning == 0 && isWarning(x.v.Circuit, c) && x.r.Lit(c.ID) {
			x.a.Warning = application
		}
	}
	for _, name := range x.v.Network.Controls() {
		if x.a.SpringAt == 0 && x.r.Tripped(name) {
			x.a.SpringAt = application
		}
	}
}

// purgesOf lists the places where dryers blow.
func purgesOf(c *circuit.Circuit) []string {
	var places []string
	for _, part := range c.Components {
		if _, ok := part.Kind.Param("purge_volume"); !ok {
			continue
		}
		for _, p := range part.Kind.Ports {
			if p.Vent && p.Role() == circuit.Exhaust {
				places = append(places, part.ID+"."+p.Name)
			}
		}
	}
	return places
}

func (x *worker) purged() float64 {
	sum := 0.0
	for _, place := range x.purges {
		sum += x.r.VentedAt(place)
	}
	return sum
}

// drawn is what has come in at intakes, kg, counted as the run does: negative.
func (x *worker) drawn() float64 {
	sum := 0.0
	for _, part := range x.v.Circuit.Components {
		for _, p := range part.Kind.Ports {
			if p.Vent && p.Role() == circuit.Intake {
				if m := x.r.VentedAt(part.ID + "." + p.Name); !math.IsNaN(m) {
					sum += m
				}
			}
		}
	}
	return sum
}

// keeps compares the last third of the pressures with the third before. Above cut-in the compressor may rest, and a fall tells nothing.
func keeps(pressures []float64, cutIn float64) bool {
	third := len(pressures) / 3
	if third == 0 {
		return len(pressures) > 0 && pressures[len(pressures)-1] >= pressures[0]
	}
	least := func(of []float64) float64 {
		m := math.Inf(1)
		for _, p := range of {
			m = min(m, p)
		}
		return m
	}
	const gauge = 0.1 * circuit.PSI // no gauge shows less
	n := len(pressures)
	before := least(pressures[n-2*third : n-third])
	const late = 2 * circuit.PSI // a service reservoir falls so far below before the supply has followed
	if cutIn > atmosphere {
		before = min(before, cutIn-late)
	}
	return least(pressures[n-third:]) >= before-gauge
}
