package airflow

import (
	"fmt"
	"slices"
)

// Effect is a sort of change that a fault makes.
type Effect string

const (
	Leaks   Effect = "leaks"   // a room lets air out to the atmosphere
	Opens   Effect = "opens"   // a passage lets air through where it should not, or more of it than it should
	Shuts   Effect = "shuts"   // a passage lets less air through than it should
	Shifts  Effect = "shifts"  // a passage opens or shuts at the wrong moment
	Weakens Effect = "weakens" // a pump delivers less
	Swells  Effect = "swells"  // a room has another volume than it should
	Reads   Effect = "reads"   // a gauge shows something else than the pressure
	Signals Effect = "signals" // a contact, a wire, a lamp or a buzzer is at fault
)

// A Change is one difference between a vehicle with a fault and the healthy one: where the fault acts. It says nothing of
// how much; what follows from it is the solver's business, or that of whoever follows the air along open passages.
type Change struct {
	Effect  Effect
	Part    string // the component or line
	Passage string // id "component/passage": Opens, Shuts, Shifts, Weakens
	Room    string // "component.room": Leaks, Swells
	Place   string // where the leak of Leaks is heard
}

// Changes lists what a fault makes different from the healthy vehicle, by elements, pumps, rooms and signals, each thing
// once. A fault that changes no air and no signal (oil in the air) has none.
func (n *Network) Changes(f Fault) ([]Change, error) {
	var sick plan
	n.plan.copyTo(&sick)
	if err := sick.apply(f); err != nil {
		return nil, fmt.Errorf("changes of %w", err)
	}
	healthy := n.plan
	var all []Change
	add := func(c Change) {
		if !slices.Contains(all, c) {
			all = append(all, c)
		}
	}
	moved := map[term]bool{} // latches and controls that are not what they should be
	for i := range healthy.latches {
		if a, b := healthy.latches[i], sick.latches[i]; a != b {
			moved[term{kind: latchTerm, index: int32(i)}] = true
		}
	}
	for i := range healthy.controls {
		if healthy.controls[i] != sick.controls[i] {
			moved[term{kind: controlTerm, index: int32(i)}] = true
		}
	}
	for i := range healthy.trips {
		if healthy.trips[i] != sick.trips[i] {
			moved[term{kind: controlTerm, index: healthy.trips[i].control}] = true
		}
	}
	for i := range healthy.elements {
		for _, effect := range elementEffects(&healthy.elements[i], &sick.elements[i], moved) {
			e := &healthy.elements[i]
			c := Change{Effect: effect, Part: healthy.owners[e.owner]}
			if e.passage >= 0 {
				c.Passage = healthy.passages[e.passage].id
			} else if e.from >= 0 && e.to == outside {
				c.Effect, c.Room = Leaks, healthy.rooms[e.from].name
				if e.place >= 0 {
					c.Place = healthy.places[e.place]
				}
			}
			add(c)
		}
	}
	for i := range healthy.pumps {
		a, b := &healthy.pumps[i], &sick.pumps[i]
		c := Change{Part: healthy.owners[a.owner], Passage: healthy.passages[a.passage].id}
		if b.efficiency < a.efficiency || b.ratio < a.ratio || b.opening.high < a.opening.high {
			c.Effect = Weakens
			add(c)
		}
		if b.opening.low > a.opening.low {
			c.Effect = Opens
			add(c)
		}
		if !sameTerms(a.opening, b.opening) || touches(a.opening, moved) {
			c.Effect = Shifts
			add(c)
		}
	}
	for i := range healthy.rooms {
		a, b := &healthy.rooms[i], &sick.rooms[i]
		if a.volume != b.volume || !slices.Equal(a.piston.Gauge, b.piston.Gauge) || !slices.Equal(a.piston.Volume, b.piston.Volume) {
			add(Change{Effect: Swells, Part: f.Target, Room: a.name})
		}
	}
	for i := range healthy.gauges {
		if healthy.gauges[i] != sick.gauges[i] {
			add(Change{Effect: Reads, Part: healthy.owners[healthy.gauges[i].owner]})
		}
	}
	for _, part := range signalChanges(healthy, &sick, moved) {
		add(Change{Effect: Signals, Part: part})
	}
	return all, nil
}

// elementEffects compares an element with its healthy self.
func elementEffects(a, b *element, moved map[term]bool) []Effect {
	var out []Effect
	if b.c > a.c || b.opening.low > a.opening.low {
		out = append(out, Opens)
	}
	if b.c < a.c || b.forth < a.forth || b.back < a.back || b.opening.high < a.opening.high || b.opening.low < a.opening.low {
		out = append(out, Shuts)
	}
	if !sameTerms(a.opening, b.opening) || touches(a.opening, moved) {
		out = append(out, Shifts)
	}
	return out
}

func sameTerms(a, b opening) bool { return a.base == b.base && slices.Equal(a.terms, b.terms) }

// touches says whether an opening hangs on one of the inputs, whatever its gain.
func touches(o opening, inputs map[term]bool) bool {
	return slices.ContainsFunc(o.terms, func(t term) bool { return inputs[term{kind: t.kind, index: t.index}] })
}

// signalChanges lists the parts whose electrical side differs.
func signalChanges(healthy, sick *plan, moved map[term]bool) []string {
	var parts []string
	for i := range healthy.contacts {
		c := healthy.contacts[i]
		if c != sick.contacts[i] || moved[term{kind: latchTerm, index: c.latch}] {
			parts = append(parts, healthy.owners[c.owner])
		}
	}
	for i := range healthy.wires {
		if healthy.wires[i] != sick.wires[i] {
			parts = append(parts, healthy.owners[healthy.wires[i].owner])
		}
	}
	for i := range healthy.sinks {
		if healthy.sinks[i] != sick.sinks[i] {
			parts = append(parts, healthy.owners[healthy.sinks[i].owner])
		}
	}
	return parts
}
