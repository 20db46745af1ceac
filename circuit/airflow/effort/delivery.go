package effort

import (
	"fmt"
	"slices"

	"airpath/circuit"
)

// Not every wheel gets what the pedal asks for: limiting and ratio valves hold some of it back. What reaches each wheel is
// taken from a run, in which the pedal is pressed slowly from rest to the floor, so that faults of those valves count as well.

const (
	pressedFrom = 120 * psi // reservoirs, before
	pressedOver = 20.0      // s: slow enough for the far ends to follow
	pressedStep = 0.25      // s
	leastAsked  = 0.5 * psi // below it nothing is told by what arrives
)

// Gets is the service pressure above the atmosphere that reaches the wheel when the pedal asks for one: the greatest that any
// wheel gets.
func (w *Wheel) Gets(asked float64) float64 {
	if w.delivered == nil {
		return asked
	}
	i := 1 + slices.IndexFunc(w.delivered[1:], func(d delivery) bool { return d.asked >= asked })
	if i < 1 {
		i = len(w.delivered) - 1 // beyond the sample it goes on as it went last
	}
	a, b := w.delivered[i-1], w.delivered[i]
	return max(0, a.got+(b.got-a.got)*(asked-a.asked)/(b.asked-a.asked))
}

// A delivery is what one wheel gets of what is asked for, Pa above the atmosphere.
type delivery struct{ asked, got float64 }

// shared tells whether some part gives a share of the pressure, or no more than so much.
func (v *Vehicle) shared() bool {
	return slices.ContainsFunc(v.Circuit.Components, func(c *circuit.Component) bool { return has(c, "ratio") || has(c, "limit") })
}

// Pedal tells whether the vehicle has a pedal: a towed one by itself has none.
func (v *Vehicle) Pedal() bool {
	return slices.ContainsFunc(v.Network.Controls(), func(name string) bool { return bareOf(name) == "pedal" })
}

// deliver samples what every wheel gets.
func (v *Vehicle) deliver() error {
	r, err := v.Charged(v.Faults, pressedFrom)
	if err != nil {
		return err
	}
	if err := r.Set("pedal", 1, pressedOver); err != nil {
		return err
	}
	curves := make([][]delivery, len(v.Wheels))
	for i := range curves {
		curves[i] = []delivery{{}}
	}
	last := leastAsked
	for range int(pressedOver / pressedStep) {
		if err := r.Advance(pressedStep); err != nil {
			return fmt.Errorf("what reaches the wheels: %w", err)
		}
		got, asked := make([]float64, len(v.Wheels)), 0.0
		for i, w := range v.Wheels {
			got[i] = max(0, r.Pressure(w.Chamber.ID+".service")-circuit.AtmospherePressure)
			asked = max(asked, got[i])
		}
		if asked < last+leastAsked {
			continue
		}
		last = asked
		for i := range curves {
			curves[i] = append(curves[i], delivery{asked, got[i]})
		}
	}
	for i, w := range v.Wheels {
		if len(curves[i]) > 1 {
			w.delivered = curves[i]
		}
	}
	return nil
}
