package procedure

import (
	"airpath/circuit"
)

// trailerCoupled looks at the trailer as it was coupled: charged and released, then with the pedal down. Couplings joined crosswise, a
// cock left shut or a hose left hanging show here at a glance, and in no leak.
func (v *vehicle) trailerCoupled() *Procedure {
	springs, brakes, tanks := v.trailerSprings(), v.trailerChambers(), v.trailerTanks()
	if len(brakes) == 0 {
		return nil
	}
	p := Procedure{
		ID: "trailer-coupled", Title: "Trailer charged, released and applied",
		About:   "What the trailer does with both hoses on: with the supply in its brakes must be off and its reservoir full, with the pedal down all of them on. Joined crosswise, its reservoir stays empty and its springs stay set.",
		Minutes: 4, Start: v.at.released,
		Tools: []string{serviceGauge, "chocks for tractor and trailer", "pedal prop"},
		State: circuit.State{Engine: "off", Park: "released", Trailer: "in"},
	}
	if len(springs) > 0 {
		p.Steps = append(p.Steps, Step{readRods{id: "rod-out", chambers: idsOf(springs), names: namesOf(springs)}, "They should be in: the springs are held off."})
		p.Readings = append(p.Readings, v.rodsSeen("rod-out", springs, "trailer supply in, pedal up")...)
	}
	if len(tanks) > 0 {
		p.Steps = append(p.Steps, Step{readNow{id: "level", taps: tanks}, ""})
		for _, t := range tanks {
			p.Readings = append(p.Readings, v.level("level", "what the "+t.name+" stands at, trailer charged", t))
		}
	}
	p.Steps = append(p.Steps,
		Step{v.pedal(true), "Use a pedal prop."},
		Step{wait{reaching, "for the trailer's brakes to come on"}, ""},
		Step{readRods{id: "applied", chambers: idsOf(brakes), names: namesOf(brakes)}, ""},
		Step{v.pedal(false), ""},
	)
	p.Readings = append(p.Readings, v.rodsSeen("applied", brakes, "pedal down")...)
	return v.procedure(p, tanks...)
}

// trailerChambers are all chambers of the trailer.
func (v *vehicle) trailerChambers() []*circuit.Component {
	var out []*circuit.Component
	for _, c := range v.chambers() {
		if c.Place == "trailer" {
			out = append(out, c)
		}
	}
	return out
}

// rodsSeen are the readings on whether push-rods are out.
func (v *vehicle) rodsSeen(id string, chambers []*circuit.Component, when string) []Reading {
	var out []Reading
	for _, c := range chambers {
		r := said(id, "the push-rod of the "+c.Name+" has come out, "+when, c.ID, Eye, byEye, rodOut)
		r.Dimension, r.Access = circuit.Length, v.access(c.ID)
		out = append(out, r)
	}
	return out
}
