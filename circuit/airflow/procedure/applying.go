package procedure

import (
	"fmt"

	"airpath/circuit"
	"airpath/circuit/limit"
)

// applying are the tests with the pedal, engine off.
func applying(v *vehicle) []*Procedure {
	if !v.brakes() || v.at.released == nil {
		return nil
	}
	return []*Procedure{v.fullApplication(), v.applicationsUntilWarning(), v.compressorHolds()}
}

func (v *vehicle) fullApplication() *Procedure {
	p := Procedure{
		ID: "full-application", Title: "One full application",
		About:   "What one full application costs each circuit. Long strokes take more air, lost reservoir volume drops further, a circuit that does not deliver drops less.",
		Minutes: 2, Start: v.at.released, every: 0.25,
		Tools: []string{"chocks"},
		State: circuit.State{Engine: "off", Park: "released", Pedal: "down"},
		Steps: []Step{
			{noteNeedles{"before"}, ""},
			{v.pedal(true), ""},
			{wait{5, ""}, "Watch how far the needles dip at first."},
			{readDip{id: "dip", since: "before", taps: v.dash}, ""},
		},
	}
	if len(v.stopLamps) > 0 {
		l := readLit{id: "stop-lamp"}
		for _, c := range v.stopLamps {
			l.sinks, l.names = append(l.sinks, c.ID), append(l.names, "the "+c.Name)
		}
		p.Steps = append(p.Steps, Step{l, ""})
	}
	p.Steps = append(p.Steps,
		Step{wait{55, "for the needles to settle"}, ""},
		Step{readFall{id: "drop", since: "before", taps: v.dash}, ""},
		Step{v.pedal(false), ""},
	)
	for _, t := range v.dash {
		p.Readings = append(p.Readings, v.change("drop", "settled drop on the "+t.name, t).dropWithin(v))
	}
	for _, t := range v.dash {
		p.Readings = append(p.Readings, v.change("dip", "deepest dip of the "+t.name+" in the first seconds", t))
	}
	for _, c := range v.stopLamps {
		r := said("stop-lamp", "on with the pedal down: the "+c.Name, c.ID, Eye, byEye, plainly)
		r.Access = v.access(c.ID)
		p.Readings = append(p.Readings, r)
	}
	return v.procedure(p)
}

// dropWithin turns the limit on the drop, a share of the pressure before, into pressure for a vehicle charged to cut-out.
func (r Reading) dropWithin(v *vehicle) Reading {
	full := v.governor.Value("cut_out") - circuit.AtmospherePressure
	r = r.within(v, limit.ApplicationDrop)
	for i := range r.Limits {
		l := &r.Limits[i]
		l.Dimension, l.High, l.Low = circuit.PressureSpan, l.High*full, l.Low*full
		l.Note = fmt.Sprintf("20 %% of a full charge of %.0f psi", full/psi)
	}
	return r
}

// compressorHolds sets the compressor at idle against whatever leaks with all brakes applied.
func (v *vehicle) compressorHolds() *Procedure {
	if v.at.hundred == nil {
		return nil
	}
	const give = 600
	p := Procedure{
		ID: "compressor-holds", Title: "Compressor against a full application, at idle",
		About:   "With the pedal held down and the park released the compressor, idling, has to make good whatever the brakes lose. Needles that stand still too low, or sink, say that it can't: it makes too little, or too much is lost.",
		Minutes: 4, Start: v.at.hundred,
		Tools: []string{stopwatch, "chocks", "pedal prop"},
		State: circuit.State{Engine: "idle", Compressor: "loaded", Park: "released", Pedal: "down"},
		Steps: []Step{
			{v.pedal(true), "Use a pedal prop: a foot lets up without noticing."},
			{wait{reaching, "for the needles to come to rest"}, ""},
			{v.engine("idle"), ""},
			{await{until: []condition{needles{v.dash, true, gauge(100), true}, unloads{v}}, within: give, rising: true, mark: "held"}, "From there it has shown that it can."},
			{readNow{id: "holds", taps: v.dash}, ""},
			{v.pedal(false), ""},
			{v.engine("off"), ""},
		},
	}
	for _, t := range v.dash {
		p.Readings = append(p.Readings, v.level("holds", "pressure on the "+t.name+" that the compressor reaches and holds at idle, pedal down", t).within(v, limit.CompressorHolds))
	}
	return v.procedure(p)
}
