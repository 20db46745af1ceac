package circuit

import (
	"fmt"
	"slices"
	"strings"
)

// supply warns of parts that no air can get to. Air is taken to go the way it normally goes: out of the atmosphere where
// a passage starts there, and through each passage forward. Against that direction a valve's exhaust or a check valve
// fitted the wrong way round would seem to feed it.
func (k *checker) supply() {
	fed := map[string]bool{}
	for _, room := range forward(NewPlumbing(k.circuit)).Reach(Atmosphere, nil) {
		fed[room] = true
	}
	if len(fed) == 1 {
		if slices.ContainsFunc(k.circuit.Components, func(c *Component) bool { return len(c.Kind.Rooms) > 0 }) {
			k.problems.warn(Position{File: k.file(), Line: 1, Column: 1}, "", "no component draws air from the atmosphere, so nothing feeds this circuit", "a compressor is wanted")
		}
		return
	}
	for _, c := range k.circuit.Components {
		var dry []string
		air := 0
		for _, p := range c.Kind.Ports {
			if p.Medium != Air || p.Vent || p.Optional {
				continue
			}
			air++
			if !fed[c.Room(p.Room)] && k.circuit.LineAt(PortRef{c.ID, p.Name}) != nil { // an open port has had its own warning
				dry = append(dry, p.Name)
			}
		}
		where := fmt.Sprintf("component %q", c.ID)
		switch {
		case len(dry) == 0:
		case len(dry) == air:
			k.problems.warn(c.Source, where, "nothing feeds it", "no air gets from a compressor to any of its ports")
		case len(dry) == 1:
			k.problems.warn(c.Source, where, "nothing feeds its port "+dry[0], "no air gets from a compressor to it")
		default:
			k.problems.warn(c.Source, where, "nothing feeds its ports "+strings.Join(dry, ", "), "no air gets from a compressor to them")
		}
	}
}

// forward is the plumbing with every passage one-way; lines stay as they are.
func forward(p *Plumbing) *Plumbing {
	ways := p.Ways()
	for i := range ways {
		ways[i].OneWay = ways[i].OneWay || !ways[i].Line
	}
	f, err := plumb(p.rooms, ways)
	if err != nil {
		panic("circuit: " + err.Error()) // the same names were good a moment ago
	}
	return f
}

// drains warns of reservoir rooms without a drain: a way out by hand that is joined to the room by lines alone.
func (k *checker) drains() {
	p := NewPlumbing(k.circuit)
	for _, c := range k.circuit.Components {
		for _, r := range c.Kind.Rooms {
			if !r.Reservoir {
				continue
			}
			joined := p.Reach(c.Room(r.Name), func(_, passage string) bool { return passage == Bore })
			if !slices.ContainsFunc(joined, k.handOpened) {
				k.problems.warn(c.Source, fmt.Sprintf("component %q", c.ID), fmt.Sprintf("the %s has no drain", r.About), "fasten a drain valve to it")
			}
		}
	}
}

// handOpened tells whether a hand-worked passage leads from a room to the atmosphere.
func (k *checker) handOpened(room string) bool {
	id, name, _ := strings.Cut(room, ".")
	c := k.circuit.Component(id)
	return c != nil && slices.ContainsFunc(c.Kind.Passages, func(p PassageSpec) bool {
		return p.From == name && p.To == Atmosphere && p.Control != "" && !p.Worn
	})
}

func (k *checker) file() string {
	if k.circuit.source == nil {
		return ""
	}
	return k.circuit.source.file
}
