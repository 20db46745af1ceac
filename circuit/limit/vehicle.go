package limit

import (
	"fmt"
	"strings"

	"airpath/circuit"
)

// A Ruling is one requirement that a vehicle's file was held against.
type Ruling struct {
	Component string // the part that it is about; "" for the vehicle as a whole
	What      string // "governor: cut-in at 103 psi"
	Wanted    string // "at least 100 psi"
	Source    string // document and section
	Pass      bool
}

// settings lists what a component's parameters say about a limited quantity: by parameter and not by kind, so that a new
// kind is held against the limits as soon as it has the parameter.
var settings = []struct {
	param, quantity, what string
}{
	{"cut_in", CutIn, "cut-in"},
	{"cut_out", CutOut, "cut-out"},
	{"closes_below", WarningAt, "warning"},
	{"closes_above", StopLampAt, "stop lamps"},
	{"pops_at", SpringsSetAt, "knob pops out"},
	{"held_off_at", HeldOffAt, "springs held off"},
	{"tolerance", GaugeError, "tolerance"},
}

// CheckVehicle holds the file of a healthy vehicle against the limits that need no air to move: reservoir volume, the
// settings of its valves and switches, drains, and the protection of each service reservoir from the loss of what fills
// it. US limits, in the order of the file; the circuit must be one that [circuit.Check] finds no errors in.
func CheckVehicle(c *circuit.Circuit) []Ruling {
	rulings := volumeRulings(c)
	for _, r := range c.Reservoirs() {
		rulings = append(rulings, reservoirRulings(r)...)
	}
	for _, comp := range c.Components {
		if comp.Kind == nil {
			continue
		}
		for _, s := range settings {
			spec, ok := comp.Kind.Param(s.param)
			if !ok {
				continue
			}
			// A span over the atmosphere and a level on a gauge are both written as gauge pressure in a file.
			value := comp.Value(s.param)
			if spec.Dimension == circuit.PressureSpan {
				value += circuit.AtmospherePressure
			}
			for _, l := range For("US", c.Class, s.quantity) {
				if l.Usual {
					continue
				}
				rulings = append(rulings, Ruling{
					Component: comp.ID, What: fmt.Sprintf("%s: %s %s", comp.Name, s.what, l.show(value)), Wanted: l.Wanted(), Source: l.Source, Pass: l.Meets(value),
				})
			}
		}
	}
	return rulings
}

func volumeRulings(c *circuit.Circuit) []Ruling {
	chambers := ChamberTotal(c)
	if chambers == 0 {
		return nil
	}
	var rulings []Ruling
	total := ReservoirTotal(c)
	for _, l := range For("US", c.Class, ReservoirVolume) {
		rulings = append(rulings, Ruling{
			What:   fmt.Sprintf("%.1f L of reservoirs for %.2f L of chambers, %.1f times", total*1e3, chambers*1e3, total/chambers),
			Wanted: fmt.Sprintf("at least %.0f times", l.Low), Source: l.Source, Pass: l.Meets(total / chambers),
		})
	}
	return rulings
}

func reservoirRulings(r circuit.Reservoir) []Ruling {
	name := r.Component.Name + ", " + r.Spec.About
	drain := Ruling{Component: r.Component.ID, What: name + ": drain", Wanted: "a drain worked by hand", Source: "49 CFR 571.121 S5.1.2.4", Pass: r.Drained}
	if len(r.FedBy) == 0 {
		return []Ruling{drain}
	}
	protection := Ruling{
		Component: r.Component.ID, What: name + ": keeps its air when " + strings.Join(r.FedBy, " or ") + " is lost",
		Wanted: "a check valve between", Source: "49 CFR 571.121 S5.1.2.3", Pass: len(r.Lost) == 0,
	}
	return []Ruling{drain, protection}
}

// show writes a value in the unit of the limits' own sources.
func (l Limit) show(si float64) string {
	return circuit.Format(si, l.Dimension, circuit.UnitsOf(l.Dimension)[0].Name, 1)
}

// Wanted puts the bounds into words: "at least 100 psi".
func (l Limit) Wanted() string {
	switch {
	case l.Usual && l.Low == l.High:
		return "usually " + l.show(l.Low)
	case l.Usual:
		return "usually " + l.show(l.Low) + " to " + l.show(l.High)
	case l.Low > -1e300 && l.High < 1e300:
		return l.show(l.Low) + " to " + l.show(l.High)
	case l.Low > -1e300:
		return "at least " + l.show(l.Low)
	}
	return "at most " + l.show(l.High)
}
