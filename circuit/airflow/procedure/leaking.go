package procedure

import (
	"airpath/circuit"
	"airpath/circuit/limit"
)

// watched is how long the needles are watched for in a leak test, s: over one minute a fall of 2 psi is hardly more than
// what two readings are off by.
const watched = 300

// leaking are the tests of losing air, engine off.
func leaking(v *vehicle) []*Procedure {
	if !v.brakes() || v.at.released == nil {
		return nil
	}
	return []*Procedure{v.leakDownParked(), v.leakDownReleased(), v.leakDownApplied(), v.plugAndWatch()}
}

func (v *vehicle) leakDownParked() *Procedure {
	p := Procedure{
		ID: "leak-down-parked", Title: "Leak-down, parked",
		About:   "How fast the reservoirs lose air with the engine off and the park set. A leak that shows with the park released and not now is one of hold-off air; with a trailer, or of its supply.",
		Minutes: watched/60 + 0.5, Start: v.at.parked,
		Tools: []string{stopwatch},
		State: circuit.State{Engine: "off", Park: "set", Pedal: "up"},
		Steps: []Step{
			{noteNeedles{"before"}, "They have settled: the air has cooled."},
			{wait{watched, ""}, "Touch no control."},
			{readFall{id: "fall", since: "before", taps: v.dash, perMinute: true}, ""},
			{readNow{id: "level", taps: v.dash}, "A needle that has stopped on its way down says where the leak ends."},
		},
	}
	for _, t := range v.dash {
		p.Readings = append(p.Readings, v.rate("fall", "fall per minute on the "+t.name+", parked", t, watched).within(v, limit.LeakReleased))
	}
	p.Readings = append(p.Readings, v.endings()...)
	return v.procedure(p)
}

func (v *vehicle) leakDownReleased() *Procedure {
	p := Procedure{
		ID: "leak-down-released", Title: "Leak-down, brakes released",
		About:   "How fast the reservoirs lose air with the engine off and the park released. It is done released, on chocks, because hold-off air that leaks shows only then.",
		Minutes: watched/60 + 0.5, Start: v.at.released,
		Tools: []string{stopwatch, "chocks"},
		State: circuit.State{Engine: "off", Park: "released", Pedal: "up"},
		Steps: []Step{
			{noteNeedles{"before"}, "They have settled: the air has cooled."},
			{wait{watched, ""}, "Touch no control."},
			{readFall{id: "fall", since: "before", taps: v.dash, perMinute: true}, ""},
			{readNow{id: "level", taps: v.dash}, "A needle that has stopped on its way down says where the leak ends."},
		},
	}
	for _, t := range v.dash {
		p.Readings = append(p.Readings, v.rate("fall", "fall per minute on the "+t.name, t, watched).within(v, limit.LeakReleased))
	}
	p.Readings = append(p.Readings, v.endings()...)
	return v.procedure(p)
}

func (v *vehicle) leakDownApplied() *Procedure {
	const settle = 120
	p := Procedure{
		ID: "leak-down-applied", Title: "Leak-down, brakes applied",
		About:   "How fast the reservoirs lose air with the pedal held down. What leaks here and not with the pedal up lies behind the foot valve.",
		Minutes: (settle+watched)/60 + 0.5, Start: v.at.released,
		Tools: []string{stopwatch, "chocks", "pedal prop"},
		State: circuit.State{Engine: "off", Park: "released", Pedal: "down"},
		Steps: []Step{
			{v.pedal(true), "Use a pedal prop: a foot lets up without noticing."},
			{wait{settle, "for the needles to settle: the first drop does not count"}, ""},
			{noteNeedles{"before"}, ""},
			{wait{watched, ""}, ""},
			{readFall{id: "fall", since: "before", taps: v.dash, perMinute: true}, ""},
			{readNow{id: "level", taps: v.dash}, "A needle that has stopped on its way down says where the leak ends."},
			{v.pedal(false), ""},
		},
	}
	for _, t := range v.dash {
		p.Readings = append(p.Readings, v.rate("fall", "fall per minute on the "+t.name, t, watched).within(v, limit.LeakApplied))
	}
	p.Readings = append(p.Readings, v.endings()...)
	return v.procedure(p)
}

// endings are where the driver's needles stand at the end of a leak test: a plateau tells which valve has shut.
func (v *vehicle) endings() []Reading {
	var out []Reading
	for _, t := range v.dash {
		out = append(out, v.level("level", "where the "+t.name+" stands at the end", t))
	}
	return out
}
