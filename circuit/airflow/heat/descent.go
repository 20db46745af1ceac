package heat

import (
	"fmt"
	"math"

	"airpath/circuit"
	"airpath/circuit/airflow/effort"
)

// A Descent is a hill and how it is driven down. Zero values stand for what is usual.
type Descent struct {
	Grade       float64 // fall over length of the road's map: 0.06 is 6 %
	Length      float64 // m along the road
	Speed       float64 // m/s, held as long as the brakes can
	EngineShare float64 // of what must be held back, by engine brake or retarder
	Ambient     float64 // K; 0 for 293.15
	Start       float64 // drum temperature at the top, K; 0 for ambient
	Available   float64 // greatest service pressure above the atmosphere, Pa; 0 for 100 psi
	Rolling     float64 // rolling resistance over weight; 0 for 0.006
	DragArea    float64 // drag coefficient times front area, m²; 0 for 5.5
}

// Usual numbers of a laden truck. Engineering judgement.
const (
	usualRolling  = 0.006
	usualDragArea = 5.5   // m²
	airDensity    = 1.204 // kg/m³ at 20 °C and the standard atmosphere
	fullPressure  = 100 * circuit.PSI
	topSpeed      = 60 // m/s: a vehicle that has run away so far is not followed further
)

func (d Descent) usual() Descent {
	set := func(v *float64, usual float64) {
		if *v == 0 {
			*v = usual
		}
	}
	set(&d.Ambient, Cold)
	set(&d.Start, d.Ambient)
	set(&d.Available, fullPressure)
	set(&d.Rolling, usualRolling)
	set(&d.DragArea, usualDragArea)
	return d
}

func (d Descent) check() error {
	for _, x := range []struct {
		what      string
		v, lo, hi float64
	}{
		{"grade", d.Grade, 0, 0.5}, {"length in m", d.Length, 1, 1e5}, {"speed in m/s", d.Speed, 0.5, 40}, {"share of engine braking", d.EngineShare, 0, 1},
		{"ambient temperature in K", d.Ambient, 200, 340}, {"drum temperature in K", d.Start, 200, 1200}, {"available pressure in Pa", d.Available, 0, 1.1e6},
		{"rolling resistance", d.Rolling, 0, 0.1}, {"drag area in m²", d.DragArea, 0, 30},
	} {
		if !(x.v >= x.lo && x.v <= x.hi) {
			return fmt.Errorf("descent: %s goes from %g to %g, not %g", x.what, x.lo, x.hi, x.v)
		}
	}
	return nil
}

// pull is what the brakes and engine have to hold back, N.
func (d Descent) pull(mass, speed float64) float64 {
	angle := math.Atan(d.Grade)
	return mass*effort.Gravity*(math.Sin(angle)-d.Rolling*math.Cos(angle)) - 0.5*airDensity*d.DragArea*speed*speed
}

// A Moment of a descent.
type Moment struct {
	Seconds, Distance float64   // s, m
	Speed             float64   // m/s
	Pressure          float64   // service pressure above the atmosphere, Pa
	Temperature       []float64 // of each wheel's drum, K
	Force             []float64 // N at each wheel's tyre
}

// An Outcome is what a descent does to the brakes.
type Outcome struct {
	Descent  Descent
	Moments  []Moment // about a hundred, first and last included
	End      Moment
	Absorbed float64 // J that the brakes have taken up
	GivenOff float64 // J of it that has gone to the air

	RunsAway float64 // m from the top at which a full application no longer held the speed; NaN if it always did
	Full     float64 // N that a full application gives at the bottom
	FullCold float64 // N that it gave at the top with cold drums
	Left     float64 // Full over FullCold
	Stop     Stop    // a full application at the bottom, still on the grade

	Springs       float64 // N that the springs alone give at the bottom
	SpringsNeeded float64 // N that keep the vehicle from gaining speed there without the engine
	SpringStop    Stop    // the springs alone, from the speed at the bottom, still on the grade
}

// Descend drives a vehicle down a hill with its brakes held on so far that it keeps its speed.
func Descend(v *effort.Vehicle, d Descent) (Outcome, error) {
	d = d.usual()
	if err := d.check(); err != nil {
		return Outcome{}, err
	}
	mass := v.Circuit.Vehicle.Mass.SI
	if mass <= 0 {
		return Outcome{}, fmt.Errorf("descent: circuit %q has no [vehicle] table, so that its mass is not known", v.Circuit.Name)
	}
	if !v.Pedal() {
		return Outcome{}, fmt.Errorf("descent: circuit %q has no pedal, so that it goes down no hill alone; look at it coupled to what draws it", v.Circuit.Name)
	}
	const step = 0.5 // s; a drum's own time is ten minutes and more
	out := Outcome{Descent: d, RunsAway: math.NaN()}
	h := newHot(v, d)
	out.FullCold = h.full()
	now := Moment{Speed: d.Speed}
	every := d.Length / 100
	next := 0.0
	for now.Distance < d.Length {
		need := h.d.pull(mass, now.Speed) * (1 - d.EngineShare)
		now.Pressure = h.hold(need)
		got := h.forces(now.Pressure, effort.HeldOff)
		if now.Distance >= next {
			out.Moments = append(out.Moments, h.moment(now))
			next += every
		}
		after := d.Speed
		if got < need*(1-1e-6) || now.Speed > d.Speed {
			if math.IsNaN(out.RunsAway) {
				out.RunsAway = now.Distance
			}
			after = min(max(now.Speed+(need-got)/mass*step, d.Speed), topSpeed)
		}
		mean := (now.Speed + after) / 2
		dt := min(step, (d.Length-now.Distance)/mean)
		h.warm(mean, dt)
		now.Seconds += dt
		now.Distance += mean * dt
		now.Speed = after
		if d.Length-now.Distance < 1e-6 {
			now.Distance = d.Length
		}
	}
	h.forces(now.Pressure, effort.HeldOff)
	out.End = h.moment(now)
	out.Moments = append(out.Moments, out.End)
	out.Absorbed, out.GivenOff = h.absorbed, h.lost
	out.Full = h.full()
	out.Left = math.NaN()
	if out.FullCold > 0 {
		out.Left = out.Full / out.FullCold
	}
	out.Springs = h.forces(0, 0)
	out.SpringsNeeded = max(0, d.pull(mass, now.Speed))
	out.Stop = h.clone().stop(now.Speed, mass, d.Available, effort.HeldOff)
	out.SpringStop = h.clone().stop(now.Speed, mass, 0, 0)
	return out, nil
}

// Hottest wheel of a moment, and its temperature.
func (m Moment) Hottest() (wheel int, temperature float64) {
	wheel = -1
	for i, t := range m.Temperature {
		if wheel < 0 || t > temperature {
			wheel, temperature = i, t
		}
	}
	return wheel, temperature
}
