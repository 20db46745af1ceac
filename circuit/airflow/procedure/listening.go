package procedure

import (
	"airpath/circuit"
)

// listening are the rounds by ear, each in one state of the controls: what blows where in which state is what tells seats
// and seals apart.
func listening(v *vehicle) []*Procedure {
	if !v.builds() {
		return nil
	}
	all := []*Procedure{v.listenBuilding(), v.listenUnloaded(), v.listenParked()}
	if v.at.released != nil {
		all = append(all, v.listenReleased())
		if v.foot != nil {
			all = append(all, v.listenApplied())
		}
	}
	return all
}

const walk = "Go round and listen at every exhaust, vent, fitting and line, an ear within an arm's length. Write down where it blows or hisses; where it is doubtful, brush soap on."

// listen completes a round: its readings are the same in every state.
func (v *vehicle) listen(p Procedure, while func(*execution) bool, seconds float64) *Procedure {
	places := v.listened()
	p.Tools = append(p.Tools, "soap and brush")
	p.Minutes, p.each = 1+v.round(places, inPassing), hearing
	p.Steps = append(p.Steps, Step{readFlow{ids: []string{"hiss"}, places: places, text: walk, while: while, seconds: seconds}, ""})
	for _, place := range places {
		r := said("hiss", "air is heard at the "+v.nameOf(place), place, Ear, byEar, HeardBy(p.State.Engine))
		r.Dimension, r.Access = circuit.Flow, v.access(place)
		p.Readings = append(p.Readings, r)
	}
	return v.procedure(p)
}

func (v *vehicle) listenBuilding() *Procedure {
	return v.listen(Procedure{
		ID: "listen-building", Title: "Listen while building",
		About: "Engine idling, compressor pumping. Air at the purge port now comes past the purge valve; air at the governor's exhaust past its seat.",
		Start: v.at.low,
		State: circuit.State{Engine: "idle", Compressor: "loaded", Park: "set", Pedal: "up"},
		Steps: []Step{
			{await{until: []condition{needles{v.dash, false, gauge(90), true}, unloads{v}}, within: 600, rising: true, mark: "ninety"}, ""},
			{v.engine("idle"), "If it cuts out before the round is done, press the pedal a few times until it pumps again."},
			{wait{10, ""}, ""},
		},
	}, nil, 0)
}

func (v *vehicle) listenUnloaded() *Procedure {
	return v.listen(Procedure{
		ID: "listen-unloaded", Title: "Listen after cut-out, engine idling",
		About: "Engine idling, compressor unloaded, the normal purge over. Air at the purge port now comes back through the dryer's outlet check; air at the intake past the unloader's seal.",
		Start: v.at.cutOut,
		State: circuit.State{Engine: "idle", Compressor: "unloaded", Park: "set", Pedal: "up"},
		Steps: []Step{{v.engine("idle"), "The normal purge is over after half a minute; what blows on after that, or until the compressor pumps again, counts."}},
	}, func(x *execution) bool { return x.run.Latch(v.cutOut()) }, 45)
}

func (v *vehicle) listenParked() *Procedure {
	return v.listen(Procedure{
		ID: "listen-parked", Title: "Listen, engine off, parked",
		About: "Quiet, reservoirs full, springs set, pedal up: what leaks on the supply side and at the inlets of valves.",
		Start: v.at.parked,
		State: circuit.State{Engine: "off", Park: "set", Pedal: "up"},
	}, nil, 0)
}

func (v *vehicle) listenReleased() *Procedure {
	return v.listen(Procedure{
		ID: "listen-released", Title: "Listen, engine off, park released",
		About: "As parked, with hold-off air in the spring brakes besides: what is heard now and not when parked is hold-off air.",
		Start: v.at.released,
		Tools: []string{"chocks"},
		State: circuit.State{Engine: "off", Park: "released", Pedal: "up"},
	}, nil, 0)
}

func (v *vehicle) listenApplied() *Procedure {
	return v.listen(Procedure{
		ID: "listen-applied", Title: "Listen, engine off, pedal down",
		About: "With service air in the chambers: what is heard now and not with the pedal up is service air.",
		Start: v.at.released,
		Tools: []string{"chocks", "pedal prop"},
		State: circuit.State{Engine: "off", Park: "released", Pedal: "down"},
		Steps: []Step{
			{v.pedal(true), "A second person or a pedal prop holds it."},
			{wait{30, "for the sound of the application to die away"}, ""},
		},
	}, nil, 0)
}
