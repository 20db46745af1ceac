package effort

import (
	"math"

	"airpath/circuit"
	"airpath/circuit/airflow"
)

// Side of the vehicle.
type Side int

const (
	NoSide Side = iota
	Left
	Right
)

func (s Side) String() string { return [...]string{"", "left", "right"}[s] }

// A Wheel is one brake with what works it. Numbers are those of this vehicle, its faults included.
type Wheel struct {
	Chamber *circuit.Component
	Slack   *circuit.Component // nil where nothing is on the rod
	Brake   *circuit.Component // nil where nothing is on the slack adjuster
	Axle    int                // index in the vehicle's axles, -1 where none names the brake
	Side    Side

	Area, Full    float64 // m², m
	Arm, SquareAt float64 // m; Arm is 0 without a slack adjuster
	Foundation            // DrumRadius is 0 without a brake, TyreRadius without a vehicle table
	Thermal               // of the drum
	Lining        float64 // m, thickness left
	Turned        float64 // rad, by which wear has turned the cam on
	Passes        float64 // share of the rod's force that a seized rod or shaft lets through

	contact     float64 // Pa at which the shoes touch
	springs     bool
	springForce float64    // N with the rod back
	springFalls float64    // share of it lost at full stroke
	springArea  float64    // m²
	service     curve      // stroke by service pressure, springs held off
	parked      curve      // stroke by hold-off pressure, no service air
	delivered   []delivery // nil where the wheel gets all that is asked for
}

// Thermal is what a drum does with heat.
type Thermal struct {
	DrumMass float64 // kg
	Cooling  float64 // W/K at 10 m/s
	FadeFrom float64 // K
	Fade     float64 // share of friction lost for each 100 K above
}

// An Effort is what one wheel does at one moment.
type Effort struct {
	Wheel      *Wheel
	Service    float64 // Pa above the atmosphere
	HoldOff    float64 // Pa above the atmosphere; NaN in a chamber without a spring
	Stroke     float64 // m
	ShoeForce  float64 // N on the clevis that reaches the shoes: rod force less what the return springs take
	BySpring   float64 // N, the spring's part of it
	Lever      float64 // m
	CamTorque  float64 // N·m
	CamTurn    float64 // rad, from new linings and the rod back
	WheelForce float64 // N at the tyre, cold linings; 0 without a brake or a tyre radius
}

// curve of strokes sampled from the air's own law, at every step of pressure.
type curve []float64

const (
	sampleStep = 0.5 * psi
	samples    = 321 // up to 160 psi
)

// at interpolates the stroke.
func (c curve) at(pressure float64) float64 {
	x := max(0, min(pressure/sampleStep, float64(len(c)-1)))
	i := min(int(x), len(c)-2)
	return c[i] + (c[i+1]-c[i])*(x-float64(i))
}

// reaches is the least pressure with that stroke, Inf where there is none.
func (c curve) reaches(stroke float64) float64 {
	for i, s := range c {
		if s < stroke {
			continue
		}
		if i == 0 {
			return 0
		}
		return (float64(i-1) + (stroke-c[i-1])/(s-c[i-1])) * sampleStep
	}
	return math.Inf(1)
}

// Stroke with service air of a pressure and the springs held off, m.
func (w *Wheel) Stroke(service float64) float64 { return w.service.at(service) }

// Spring tells whether the chamber has a parking spring.
func (w *Wheel) Spring() bool { return w.springs }

// byAir is the force of service air on the shoes. more is what the rod comes out further than in the run, m: of a hot drum, or
// in a stop from speed. From the stop on, the housing takes all that the pressure rises further.
func (w *Wheel) byAir(service, more float64) float64 {
	if service <= w.contact {
		return 0
	}
	stroke := w.service.at(service) + more
	if stroke >= w.Full {
		stop := w.service.reaches(w.Full - more - 1e-9)
		if stop <= w.contact { // the plate meets the housing before the shoes meet the drum
			return 0
		}
		service, stroke = min(service, stop), w.Full
	}
	return w.Passes * max(0, w.Area*(areaShare(stroke/w.Full)*service-w.contact))
}

// bySpring is the force of the spring on the shoes. A spring's force falls as it comes out: from its force with the rod back to
// the share at which hold-off air begins to push it in again, at full stroke. It has to overcome the return springs too.
func (w *Wheel) bySpring(holdOff, more float64) float64 {
	if !w.springs {
		return 0
	}
	touch := w.service.at(w.contact)
	stroke := w.parked.at(holdOff)
	if stroke < touch-1e-4 || touch+more >= w.Full {
		return 0 // the rod does not come out as far as the shoes
	}
	spring := w.springForce * (1 - w.springFalls*min(1, (stroke+more)/w.Full))
	return w.Passes * max(0, spring-holdOff*w.springArea-w.contact*w.Area)
}

// Work out what a wheel does with service and hold-off pressures above the atmosphere (hold-off NaN without a spring), the rod
// out by stroke. more is as for a hot drum or a stop from speed; 0 standing and cold.
func (w *Wheel) Work(service, holdOff, stroke, more float64) Effort {
	e := Effort{Wheel: w, Service: service, HoldOff: holdOff, Stroke: min(stroke+more, w.Full)}
	e.ShoeForce = w.byAir(service, more)
	if w.springs && !math.IsNaN(holdOff) {
		// Spring and air push on one rod: without anti-compounding their forces add up (BC driver manual p. 175).
		e.BySpring = w.bySpring(max(holdOff, 0), more)
		e.ShoeForce += e.BySpring
	}
	if w.Arm == 0 {
		return e
	}
	e.Lever = Lever(w.Arm, e.Stroke, w.SquareAt)
	e.CamTorque = e.ShoeForce * e.Lever
	e.CamTurn = w.Turned + e.Stroke/w.Arm
	if w.DrumRadius > 0 && w.TyreRadius > 0 && e.CamTurn < camPassesOver {
		e.WheelForce = w.WheelForce(e.CamTorque)
	}
	return e
}

// HeldOff is a hold-off pressure above the atmosphere at which every spring is off (49 CFR 571.121 S5.8.3 wants it at 70 psi).
const HeldOff = 150 * psi

// With works out what a wheel does with service and hold-off pressures above the atmosphere, the rod out as far as they push
// it, and by more further: of a hot drum, or in a stop from speed.
func (w *Wheel) With(service, holdOff, more float64) Effort {
	stroke := w.service.at(service)
	if !w.springs {
		return w.Work(service, math.NaN(), stroke, more)
	}
	return w.Work(service, holdOff, max(stroke, w.parked.at(holdOff)), more)
}

// camPassesOver: a cam turned so far lets the rollers fall over its nose, and the shoes are no longer spread. Some way beyond
// the limit of 120 degrees (Quebec, C-24.2 r. 32 s. 166(7)).
const camPassesOver = 140 * math.Pi / 180

// tipOverMiddle is how far the end of a shoe at the cam moves when its middle moves by one: it turns about its anchor.
const tipOverMiddle = 1.6

// TravelForGap is the rod travel that a gap between lining and drum takes, m.
func (w *Wheel) TravelForGap(gap float64) float64 {
	if w.Arm == 0 || w.DrumRadius == 0 {
		return 0
	}
	return tipOverMiddle * gap / w.CamRadius * w.Arm
}

// sample takes the chamber's strokes from the run's own law.
func (w *Wheel) sample(r *airflow.Run) error {
	id := w.Chamber.ID
	take := func(room, other string, rest float64) (curve, error) {
		c := make(curve, samples)
		if other != "" {
			if err := r.Fill(id+"."+other, rest); err != nil {
				return nil, err
			}
		}
		for i := range c {
			if err := r.Fill(id+"."+room, circuit.AtmospherePressure+float64(i)*sampleStep); err != nil {
				return nil, err
			}
			c[i] = r.Stroke(id)
		}
		return c, nil
	}
	other := ""
	if w.springs {
		other = "spring"
	}
	var err error
	if w.service, err = take("service", other, circuit.AtmospherePressure+HeldOff); err != nil || !w.springs {
		return err
	}
	w.parked, err = take("spring", "service", circuit.AtmospherePressure)
	return err
}
