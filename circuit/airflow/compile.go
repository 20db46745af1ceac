package airflow

import (
	"fmt"

	"airpath/circuit"
)

func newPlan(c *circuit.Circuit) *plan {
	return &plan{
		circuit:      c,
		roomIndex:    map[string]int32{},
		passageIndex: map[string]int32{},
		placeIndex:   map[string]int32{},
		controlIndex: map[string]int32{},
		latchIndex:   map[string]int32{},
		ownerIndex:   map[string]int32{},
		leakIndex:    map[leakKey]int32{},
		offIndex:     map[string][2]int32{},
		partIndex:    map[string]*circuit.Component{},
		lineIndex:    map[string]*circuit.Line{},
		lineAt:       map[circuit.PortRef]*circuit.Line{},
	}
}

// planOf lets every component's and every line's law speak.
func planOf(c *circuit.Circuit, d Detail) (*plan, error) {
	p := newPlan(c)
	p.detail = d
	p.addControl(Engine, "", -1, 0, 1e3)
	p.addControl(Key, "", -1, 0, 1)
	for _, part := range c.Components {
		if _, ok := laws[part.Kind.Name]; !ok {
			return nil, fmt.Errorf("component %s: nothing is known of how air moves in a %q", part.ID, part.Kind.Name)
		}
		p.addPart(part)
	}
	for _, l := range c.Lines {
		if _, ok := lineLaws[l.Type]; !ok {
			return nil, fmt.Errorf("line %s: nothing is known of how air moves in a %q", l.ID, l.Type)
		}
		p.addOwner(l.ID)
		p.lineIndex[l.ID] = l
		for _, end := range []circuit.PortRef{l.From, l.To} {
			part := p.partIndex[end.Component]
			if part == nil {
				return nil, fmt.Errorf("line %s: there is no component %q", l.ID, end.Component)
			}
			if _, ok := part.Kind.Port(end.Port); !ok {
				return nil, fmt.Errorf("line %s: %s has no port %q", l.ID, end.Component, end.Port)
			}
			p.lineAt[end] = l
		}
	}
	for _, part := range c.Components {
		p.buildPart(part)
	}
	for _, l := range c.Lines {
		p.buildLine(l)
	}
	for i := range p.rooms {
		if p.rooms[i].volume < smallestRoom {
			p.rooms[i].volume = smallestRoom
		}
	}
	p.warmChambers()
	return p, nil
}

func (p *plan) addOwner(id string) int32 {
	i := int32(len(p.owners))
	p.ownerIndex[id] = i
	p.owners = append(p.owners, id)
	return i
}

func (p *plan) addControl(name, part string, owner int32, rest, max float64) {
	full := name
	if part != "" {
		full = part + "." + name
	}
	p.controlIndex[full] = int32(len(p.controls))
	p.controls = append(p.controls, control{name: full, bare: name, owner: owner, rest: rest, max: max, low: 0, high: max})
}

func (p *plan) addPart(part *circuit.Component) {
	owner := p.addOwner(part.ID)
	p.partIndex[part.ID] = part
	for _, r := range part.Kind.Rooms {
		name := part.ID + "." + r.Name
		p.roomIndex[name] = int32(len(p.rooms))
		p.rooms = append(p.rooms, room{name: name})
	}
	for _, c := range part.Kind.Controls {
		p.addControl(c.Name, part.ID, owner, c.Rest, c.Max)
	}
}

// buildPart runs a component's law, then adds what every part has by itself: beside each passage a hole, and for each
// room a leak, of no size until a fault gives them one.
func (p *plan) buildPart(part *circuit.Component) {
	b := &Builder{plan: p, component: part, owner: p.ownerIndex[part.ID], built: map[string]bool{}}
	if build := laws[part.Kind.Name].Build; build != nil {
		build(b)
	}
	for _, spec := range part.Kind.Passages {
		b.must(b.built[spec.Name] || spec.Worn, "the law forgets passage %q", spec.Name)
		hole := b.element(spec.Name, b.room(spec.From), b.room(spec.To), 0, NozzleCrit, Open)
		hole.dormant = true
	}
	place := p.place(part.ID)
	for _, r := range part.Kind.Rooms {
		p.leakIndex[leakKey{b.owner, r.Name}] = p.dormant(b.owner, place, p.roomIndex[part.ID+"."+r.Name], false)
	}
}

// buildLine runs a line's law, then adds a leak and an open end for either end.
func (p *plan) buildLine(l *circuit.Line) {
	b := &Builder{plan: p, line: l, owner: p.ownerIndex[l.ID], built: map[string]bool{}}
	if build := lineLaws[l.Type].Build; build != nil {
		build(b)
	}
	switch l.Type.Medium() {
	case circuit.Current:
		p.wires = append(p.wires, wire{owner: b.owner, a: p.ownerIndex[l.From.Component], b: p.ownerIndex[l.To.Component]})
	case circuit.Air:
		b.must(b.built[Bore], "the law of a %s forgets its bore", l.Type)
		var off [2]int32
		for i, end := range []string{"from", "to"} {
			node := b.room(end)
			if node < 0 {
				off[i] = -1
				continue
			}
			p.leakIndex[leakKey{b.owner, end}] = p.dormant(b.owner, p.place(l.ID), node, true)
			off[i] = p.dormant(b.owner, p.place(l.ID+"."+end), node, true)
			p.elements[off[i]].end = true
		}
		p.offIndex[l.ID] = off
	}
}

// dormant is an element from a room to the atmosphere that is shut until a fault or a procedure opens it.
func (p *plan) dormant(owner, place, node int32, line bool) int32 {
	i := int32(len(p.elements))
	p.elements = append(p.elements, element{
		from: node, to: outside, passage: -1, place: place, owner: owner, dormant: true, isLine: line,
		crit: NozzleCrit, forth: 1, back: 1, opening: opening{base: 1, low: 1, high: 1},
	})
	return i
}

type leakKey struct {
	owner int32
	room  string
}

// editOf is an Edit for a component or a line, or nil.
func (p *plan) editOf(id string) *Edit {
	e := &Edit{plan: p, component: p.partIndex[id], line: p.lineIndex[id], owner: p.ownerIndex[id]}
	if e.component == nil && e.line == nil {
		return nil
	}
	return e
}
