package circuit

import (
	"fmt"
	"slices"
)

// Check says what is wrong with a circuit's parts and wiring, errors and warnings, in the order of its file. It can be
// asked about a circuit that is being edited, at any time. Errors mean that the circuit has no meaning as it stands;
// warnings, that it is not what a finished vehicle should be.
func Check(c *Circuit) Problems {
	problems := check(c, nil, false)
	problems.sort()
	return problems
}

// check leaves alone the ports of components whose kind is unsure, and with broken set, everything that would only be
// noise after other errors: a port is not open because the line to it has a typing slip.
func check(c *Circuit, unsure map[string]bool, broken bool) Problems {
	k := checker{circuit: c, unsure: unsure}
	k.parts()
	k.ids()
	k.wiring()
	k.layout()
	k.vehicle()
	if !broken && len(k.problems.Errors()) == 0 {
		k.openPorts()
		k.supply()
		k.drains()
	}
	return k.problems
}

type checker struct {
	circuit  *Circuit
	unsure   map[string]bool
	problems Problems
}

// at finds where a key of a component or line stands in the file it was read from, or else the part itself.
func (k *checker) at(source Position, id, key string) Position {
	if k.circuit.source == nil {
		return source
	}
	for _, s := range k.circuit.source.sections {
		if s.at != source {
			continue
		}
		if e, ok := s.entry("id"); !ok || e.value.text != id {
			break // the part was renamed since
		}
		if e, ok := s.entry(key); ok {
			return e.value.at
		}
	}
	return source
}

// parts looks at each component by itself. A reader has told already what it can't read, so that only circuits made or
// edited by hand can fail here.
func (k *checker) parts() {
	for _, c := range k.circuit.Components {
		where := fmt.Sprintf("component %q", c.ID)
		if c.Kind == nil {
			if !k.unsure[c.ID] {
				k.problems.add(c.Source, where, "it has no kind", oneOf(kindNames()))
			}
			continue
		}
		for _, p := range c.Kind.Params {
			q, given := c.Given[p.Name]
			if !given {
				continue
			}
			if what, right := outOfBounds(p.Name, q, p.Min, p.Max); what != "" {
				k.problems.add(k.at(c.Source, c.ID, p.Name), where, what, right)
			}
		}
		for _, p := range c.Kind.Params {
			if p.Below == "" || !k.known(c, p.Name) || !k.known(c, p.Below) {
				continue
			}
			if c.Value(p.Name) >= c.Value(p.Below) {
				key := p.Name
				if _, given := c.Given[key]; !given {
					key = p.Below
				}
				k.problems.add(k.at(c.Source, c.ID, key), where, fmt.Sprintf("%q is not below %q: %s and %s", p.Name, p.Below, c.text(p.Name), c.text(p.Below)), "")
			}
		}
	}
}

// known tells whether a parameter has a value at all: one that the file must give may be missing.
func (k *checker) known(c *Component, param string) bool {
	if _, given := c.Given[param]; given {
		return true
	}
	spec, ok := c.Kind.Param(param)
	return ok && spec.Default != ""
}

// text of a parameter as the file or the kind writes it.
func (c *Component) text(param string) string {
	if q, ok := c.Given[param]; ok {
		return q.Text
	}
	spec, _ := c.Kind.Param(param)
	return spec.Default
}

// ids must differ, over components and lines together.
func (k *checker) ids() {
	first := map[string]Position{}
	note := func(what, id string, source Position) {
		if id == "" {
			return
		}
		at := k.at(source, id, "id")
		if before, taken := first[id]; taken {
			k.problems.add(at, fmt.Sprintf("%s %q", what, id), fmt.Sprintf("the id %q is taken", id), fmt.Sprintf("it is first used at line %d; components and lines share one set of ids", before.Line))
			return
		}
		first[id] = at
	}
	for _, c := range k.circuit.Components {
		note("component", c.ID, c.Source)
	}
	for _, l := range k.circuit.Lines {
		note("line", l.ID, l.Source)
	}
}

// wiring looks at both ends of every line.
func (k *checker) wiring() {
	taken := map[PortRef]*Line{}
	for _, l := range k.circuit.Lines {
		where := fmt.Sprintf("line %q", l.ID)
		if l.From != (PortRef{}) && l.From == l.To {
			k.problems.add(k.at(l.Source, l.ID, "to"), where, fmt.Sprintf("it goes from %s back to the same port", l.From), "a line joins two ports")
			continue
		}
		for _, end := range []struct {
			key  string
			port PortRef
		}{{"from", l.From}, {"to", l.To}} {
			if end.port == (PortRef{}) || !k.port(l, where, end.key, end.port) {
				continue
			}
			if other := taken[end.port]; other != nil {
				k.problems.add(k.at(l.Source, l.ID, end.key), where, fmt.Sprintf("%s has a line already, %q", end.port, other.ID), "a port takes one line; put a tee between")
				continue
			}
			taken[end.port] = l
		}
	}
}

// port looks at one end of a line.
func (k *checker) port(l *Line, where, key string, ref PortRef) bool {
	at := k.at(l.Source, l.ID, key)
	comp := k.circuit.Component(ref.Component)
	if comp == nil {
		var names []string
		for _, c := range k.circuit.Components {
			names = append(names, c.ID)
		}
		k.problems.add(at, where, fmt.Sprintf("%q goes to %s, and there is no component %q", key, ref, ref.Component), Suggest(ref.Component, names))
		return false
	}
	if comp.Kind == nil || k.unsure[comp.ID] {
		return false
	}
	spec, ok := comp.Kind.Port(ref.Port)
	if !ok {
		k.problems.add(at, where, fmt.Sprintf("%q goes to %s, but %s has no port %q", key, ref, withArticle(comp.Kind.Title), ref.Port), portsOffered(comp.Kind, l.Type))
		return false
	}
	if spec.Vent {
		k.problems.add(at, where, fmt.Sprintf("%q goes to %s, which opens to the atmosphere and takes no line", key, ref), portsOffered(comp.Kind, l.Type))
		return false
	}
	if l.Type != "" && spec.Medium != l.Type.Medium() {
		k.problems.add(at, where, fmt.Sprintf("a %s carries %s, but %s is for %s", l.Type, l.Type.Medium(), ref, spec.Medium), "it takes a "+typesFor(spec.Medium))
		return false
	}
	return true
}

func portsOffered(k *Kind, t LineType) string {
	var m Medium
	if t != "" {
		m = t.Medium()
	}
	names := portNames(k, m)
	if len(names) == 0 {
		return fmt.Sprintf("%s has no port for a %s", withArticle(k.Title), t)
	}
	return oneOf(names)
}

func typesFor(m Medium) string {
	var names string
	for _, t := range lineTypes {
		if t.Medium() == m {
			if names != "" {
				names += " or "
			}
			names += string(t)
		}
	}
	return names
}

// layout warns of what lies off the sheet, where nobody would find it.
func (k *checker) layout() {
	s := k.circuit.Sheet
	if s.Width == 0 || s.Height == 0 {
		return
	}
	off := func(p Point) bool { return p.X < 0 || p.Y < 0 || p.X > s.Width || p.Y > s.Height }
	right := fmt.Sprintf("the sheet is %v by %v grid steps", s.Width, s.Height)
	for _, c := range k.circuit.Components {
		if off(c.At) {
			k.problems.warn(k.at(c.Source, c.ID, "at"), fmt.Sprintf("component %q", c.ID), fmt.Sprintf("it lies off the sheet, at [%v, %v]", c.At.X, c.At.Y), right)
		}
	}
	for _, l := range k.circuit.Lines {
		if i := slices.IndexFunc(l.Route, off); i >= 0 {
			k.problems.warn(k.at(l.Source, l.ID, "route"), fmt.Sprintf("line %q", l.ID), fmt.Sprintf("a corner lies off the sheet, at [%v, %v]", l.Route[i].X, l.Route[i].Y), right)
		}
	}
}

// openPorts warns of ports that should have a line.
func (k *checker) openPorts() {
	for _, c := range k.circuit.Components {
		for _, p := range c.Kind.Ports {
			if p.Vent || p.Optional || k.circuit.LineAt(PortRef{c.ID, p.Name}) != nil {
				continue
			}
			what := fmt.Sprintf("nothing is fastened to port %s (%s)", p.Name, p.About)
			if p.Medium == Air {
				what += ", it counts as plugged"
			}
			k.problems.warn(c.Source, fmt.Sprintf("component %q", c.ID), what, fmt.Sprintf("a %s from \"%s.%s\" is wanted", typesFor(p.Medium), c.ID, p.Name))
		}
	}
}
