package procedure

import (
	"fmt"

	"airpath/circuit"
	"airpath/circuit/limit"
)

// comparing are the tests of what tells the driver something, against what is so: gauges, switches and their wiring.
func comparing(v *vehicle) []*Procedure {
	if !v.builds() {
		return nil
	}
	return []*Procedure{v.substituteGauge(), v.switchUnplugged()}
}

// substituteGauge puts a good gauge beside each of the driver's.
func (v *vehicle) substituteGauge() *Procedure {
	p := Procedure{
		ID: "substitute-gauge", Title: "Substitute gauge",
		About:   "A good gauge on a tee beside each of the driver's: what differs between them is the gauge, not the vehicle.",
		Minutes: 2 + 6*float64(len(v.dash)), Start: v.at.parked,
		Tools: []string{serviceGauge, "tees", "spanners"},
		State: circuit.State{Engine: "off", Park: "set", Pedal: "up"},
		Steps: []Step{{fitGauge{"on a tee beside each gauge of the dash"}, ""}},
	}
	for _, t := range v.dash {
		good := tap{place: t.place, name: "service gauge beside the " + t.name, room: t.room}
		p.Steps = append(p.Steps, Step{readBeside{level: "true", above: "difference", place: t.place, service: good, dash: t}, ""})
		level, diff := v.level("true", "pressure on the "+good.name, good), v.change("difference", "pressure on the "+good.name+" above what that shows", good)
		level.Gauge, diff.Gauge, diff.Level = "", t.place, true
		diff.Limits = v.gaugeLimits()
		p.Readings = append(p.Readings, level, diff)
	}
	return v.procedure(p)
}

// gaugeLimits turn the share of cut-out by which a gauge may be off into pressure.
func (v *vehicle) gaugeLimits() []limit.Limit {
	full := v.cutOutSpan()
	r := Reading{}.within(v, limit.GaugeError)
	for i := range r.Limits {
		l := &r.Limits[i]
		l.Dimension, l.Low, l.High = circuit.PressureSpan, l.Low*full, l.High*full
		l.Note = fmt.Sprintf("7 %% of a cut-out of %.0f psi", full/psi)
	}
	return r.Limits
}

// switchUnplugged parts each low pressure switch from its wiring: with the plug off the lamp must be out, with the plug bridged
// it must light.
func (v *vehicle) switchUnplugged() *Procedure {
	lamps := []*circuit.Component{}
	for _, c := range v.warnings {
		if c.Kind.Name != "buzzer" {
			lamps = append(lamps, c)
		}
	}
	if len(lamps) == 0 || len(v.lowSwitch) == 0 {
		return nil
	}
	lamp := lamps[0]
	p := Procedure{
		ID: "switch-unplugged", Title: "Low pressure switch unplugged",
		About:   "At full pressure, key on: a lamp that is lit and goes out with a switch unplugged was lit by that switch; one that stays lit has a short; one that does not light with the plug bridged is dead or its wire is broken.",
		Minutes: 1 + 3*float64(len(v.lowSwitch)), Start: v.at.parked,
		Tools: []string{"bridging wire"},
		State: circuit.State{Engine: "off", Park: "set", Pedal: "up"},
	}
	for _, s := range v.lowSwitch {
		p.Steps = append(p.Steps,
			Step{plug{s.ID, s.Name, "off"}, ""}, Step{readLamp{"unplugged", s.ID, lamp.ID, lamp.Name}, ""},
			Step{plug{s.ID, s.Name, "bridged"}, ""}, Step{readLamp{"bridged", s.ID, lamp.ID, lamp.Name}, ""},
			Step{plug{s.ID, s.Name, "on"}, ""},
		)
		for _, r := range []struct{ id, title string }{{"unplugged", "unplugged"}, {"bridged", "unplugged and its plug bridged"}} {
			lit := said(r.id, fmt.Sprintf("the %s is lit with the %s %s", lamp.Name, s.Name, r.title), s.ID, Eye, byEye, plainly)
			lit.Access = v.access(s.ID)
			p.Readings = append(p.Readings, lit)
		}
	}
	return v.procedure(p)
}

// plug of a switch: off, bridged to ground, or on again.
type plug struct{ part, name, to string }

func (a plug) words(phrase) string {
	switch a.to {
	case "off":
		return "Pull the plug off the " + a.name + "; leave the key on."
	case "bridged":
		return "Bridge the plug of the " + a.name + " to ground with a wire."
	}
	return "Take the wire off and plug the " + a.name + " in again."
}

func (a plug) run(x *execution) error {
	if err := x.run.Unplug(a.part, a.to == "off"); err != nil {
		return err
	}
	return x.run.Bridge(a.part, a.to == "bridged")
}

func (plug) dangers() []danger { return nil }
func (plug) looksAt() sight    { return sight{} }

// readLamp: whether a lamp is lit, for the part that was just handled.
type readLamp struct{ id, place, lamp, name string }

func (a readLamp) words(phrase) string { return "Write down whether the " + a.name + " is lit." }

func (a readLamp) run(x *execution) error {
	x.put(a.id, a.place, map[bool]float64{true: 1}[x.run.Lit(a.lamp)])
	return nil
}

func (readLamp) dangers() []danger { return nil }
func (readLamp) looksAt() sight    { return sight{signals: true} }
