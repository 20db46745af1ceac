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
	forward := NewPlumbing(k.circuit).Forward()
	for _, source := range append(k.facesOfTrailer(), Atmosphere) {
		for _, room := range forward.Reach(source, nil) {
			fed[room] = true
		}
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

// facesOfTrailer are the rooms behind the open couplings of a trailer, which is fed by what pulls it.
func (k *checker) facesOfTrailer() []string {
	var rooms []string
	if k.circuit.Class != "trailer" {
		return nil
	}
	for _, c := range k.circuit.Components {
		for _, p := range c.Kind.Passages {
			if p.Coupling {
				rooms = append(rooms, c.Room(p.From))
			}
		}
	}
	return rooms
}

// drains warns of reservoirs without a drain.
func (k *checker) drains() {
	for _, r := range k.circuit.Reservoirs() {
		if !r.Drained {
			k.problems.warn(r.Component.Source, fmt.Sprintf("component %q", r.Component.ID), fmt.Sprintf("the %s has no drain", r.Spec.About), "fasten a drain valve to it")
		}
	}
}

func (k *checker) file() string {
	if k.circuit.source == nil {
		return ""
	}
	return k.circuit.source.file
}
