package flow

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"airpath/circuit"
	"airpath/ui/engine"
	"airpath/ui/widgets"
)

// A control is something that a person works, with its widgets.
type control struct {
	name  string // full: "foot_valve.pedal"
	title string
	part  *circuit.Component
	spec  circuit.ControlSpec
	index int // in a glance
	cab   bool

	slider widgets.Slider
	press  widgets.Press  // of what stands only at its ends
	letGo  widgets.Button // of what springs back

	slider2 widgets.Slider // the same on the part's page
	turnIt  widgets.Button

	last float64 // where it was last, of what springs back
}

// controlsOf lists what can be worked, in file order.
func controlsOf(c *circuit.Circuit) []*control {
	var out []*control
	for _, part := range c.Components {
		for _, spec := range part.Kind.Controls {
			k := &control{name: part.ID + "." + spec.Name, title: part.Name, part: part, spec: spec, last: 0.5 * spec.Max}
			if len(part.Kind.Controls) > 1 {
				k.title += ", " + strings.ReplaceAll(spec.Name, "_", " ")
			}
			k.cab = part.Place == "cab" || part.Place == "board"
			out = append(out, k)
		}
	}
	if !slices.ContainsFunc(out, func(k *control) bool { return k.cab }) {
		for _, k := range out { // a vehicle that nobody sits in is worked from outside
			k.cab = true
		}
	}
	return out
}

func (c *control) share(a *Area) float64 { return a.frame.Now.Control[c.index] / c.spec.Max }

func (c *control) update(gtx ctx, a *Area) {
	if v, ok := c.slider.Update(gtx, c.share(a), 0.05); ok {
		c.set(a, v)
	}
	if v, ok := c.slider2.Update(gtx, c.share(a), 0.05); ok {
		c.set(a, v)
	}
	if c.press.Clicked(gtx) || c.turnIt.Clicked(gtx) {
		c.turn(a)
	}
	if c.letGo.Clicked(gtx) {
		c.set(a, c.spec.Rest/c.spec.Max)
	}
}

// set moves the control to a share of its way.
func (c *control) set(a *Area, share float64) {
	share = min(max(share, 0), 1)
	if share > 0 && c.spec.Gradual {
		c.last = share * c.spec.Max
	}
	value, over := share*c.spec.Max, 0.0
	if c.spec.Gradual && a.frame.Playing {
		over = 0.1 // while time stands, what is moved is seen at once
	}
	words, now := c.title+": "+c.says(share), a.now
	a.do(func(w *engine.Worked) { w.Set(c.name, value, over, now, words) })
}

// turn goes from one end to the other; what stands anywhere goes back to where it was last.
func (c *control) turn(a *Area) {
	switch share := c.share(a); {
	case !c.spec.Gradual:
		c.set(a, 1-math.Round(share))
	case share > 0.01:
		c.set(a, 0)
	default:
		c.set(a, c.last/c.spec.Max)
	}
}

// says in words where the control stands.
func (c *control) says(share float64) string {
	zero, full := c.spec.Ends()
	switch {
	case share <= 0.005:
		return zero
	case share >= 0.995:
		return full
	}
	return fmt.Sprintf("%.0f %%", 100*share)
}
