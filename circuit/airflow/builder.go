package airflow

import (
	"fmt"

	"airpath/circuit"
)

// A Builder takes down what a law says about one component or one line. A name that the kind lacks, or a number that makes
// no sense, is an error of the program and panics.
type Builder struct {
	plan      *plan
	component *circuit.Component
	line      *circuit.Line
	owner     int32 // index in plan.owners
	built     map[string]bool
}

// Component that is being built, nil for a line.
func (b *Builder) Component() *circuit.Component { return b.component }

// Line that is being built, nil for a component.
func (b *Builder) Line() *circuit.Line { return b.line }

// Value of one of the component's parameters, SI.
func (b *Builder) Value(param string) float64 { return b.component.Value(param) }

// Across finds the component at the other end of the line on one of this component's ports.
func (b *Builder) Across(port string) (*circuit.Component, bool) {
	other, ok := b.plan.across(circuit.PortRef{Component: b.component.ID, Port: port})
	if !ok {
		return nil, false
	}
	return b.plan.component(other.Component), true
}

// Volume adds a fixed volume (m³) to a room.
func (b *Builder) Volume(room string, v float64) {
	b.must(v >= 0, "volume of %s is %g m³", room, v)
	b.plan.rooms[b.room(room)].volume += v
}

// Thermal gives a room an energy equation: its air exchanges hA watts per kelvin with a wall at ambient temperature.
func (b *Builder) Thermal(room string, hA float64) {
	b.must(hA >= 0, "heat conductance of %s is %g W/K", room, hA)
	r := &b.plan.rooms[b.room(room)]
	r.thermal, r.heat = true, hA
}

// Piston adds a moving wall to a room.
func (b *Builder) Piston(room string, p Piston) {
	if err := p.check(); err != nil {
		b.must(false, "room %s: %v", room, err)
	}
	r := &b.plan.rooms[b.room(room)]
	b.must(len(r.piston.Gauge) == 0, "room %s has two pistons", room)
	r.piston = p.clone()
}

// Passage adds an element with sonic conductance c (m³/(s·Pa)) and critical pressure ratio crit under the name of one of
// the kind's passages, from its From room to its To room. More elements under one name are parallel.
func (b *Builder) Passage(name string, c, crit float64, o Opening) {
	from, to := b.ends(name)
	b.element(name, from, to, c, crit, o)
}

// PassageBack is Passage with the element turned round: its terms and checks see To as the upstream end.
func (b *Builder) PassageBack(name string, c, crit float64, o Opening) {
	from, to := b.ends(name)
	b.element(name, to, from, c, crit, o)
}

// Checked adds an element that opens by (p_from − p_to − crack)/span and never lets air go back.
func (b *Builder) Checked(name string, c, crit, crack, span float64) {
	from, to := b.ends(name)
	b.checked(name, from, to, c, crit, crack, span)
}

// CheckedBack is Checked in the other direction, from the passage's To room to its From room.
func (b *Builder) CheckedBack(name string, c, crit, crack, span float64) {
	from, to := b.ends(name)
	b.checked(name, to, from, c, crit, crack, span)
}

func (b *Builder) checked(name string, from, to int32, c, crit, crack, span float64) {
	b.must(span > 0 && crack >= 0, "passage %s: crack %g Pa and span %g Pa", name, crack, span)
	e := b.element(name, from, to, c, crit, Opening{Base: -crack / span})
	e.opening.terms = append(e.opening.terms, term{kind: roomTerm, index: from, gain: 1 / span}, term{kind: roomTerm, index: to, gain: -1 / span})
}

// Pump adds a compressor between two rooms.
func (b *Builder) Pump(name, from, to string, p Pump) {
	b.must(p.Displacement > 0 && p.Clearance >= 0 && p.Efficiency > 0 && p.Ratio > 0, "pump %s: %+v", name, p)
	speed := p.Speed
	if speed == "" {
		speed = Engine
	}
	b.plan.pumps = append(b.plan.pumps, pump{
		passage: b.passage(name), from: b.room(from), to: b.room(to), owner: b.owner,
		displacement: p.Displacement, clearance: p.Clearance, efficiency: p.Efficiency, ratio: p.Ratio,
		speed: b.control(speed), opening: b.opening(p.Loaded),
	})
}

// Rod lets a room's pressure move the component's push-rod. A component with several rods is out as far as the furthest.
func (b *Builder) Rod(room string, r Rod) {
	b.plan.rods = append(b.plan.rods, rod{owner: b.owner, room: b.room(room), Rod: r})
}

// Latch is true once the room's absolute pressure has passed rise, and false once it has fallen through fall.
func (b *Builder) Latch(name, room string, rise, fall float64, initial bool) {
	b.LatchAided(name, room, room, 0, rise, fall, initial)
}

// LatchAided is a Latch on the room's pressure and a share of another one's above the atmosphere, which works on a smaller
// area of the same piston.
func (b *Builder) LatchAided(name, room, aide string, aid, rise, fall float64, initial bool) {
	b.must(rise > fall, "latch %s rises at %g Pa and falls at %g Pa", name, rise, fall)
	full := b.id() + "." + name
	_, twice := b.plan.latchIndex[full]
	b.must(!twice, "latch %s is there twice", name)
	b.plan.latchIndex[full] = int32(len(b.plan.latches))
	b.plan.latches = append(b.plan.latches, latch{name: full, room: b.room(room), aide: b.room(aide), aid: aid, rise: rise, fall: fall, initial: initial, owner: b.owner})
}

// Trip lets a control spring back to rest when the room's absolute pressure is below a level.
func (b *Builder) Trip(control, room string, below float64) {
	b.plan.trips = append(b.plan.trips, trip{control: b.control(control), room: b.room(room), below: below, owner: b.owner})
}

// Gauge lets this component show a room's pressure.
func (b *Builder) Gauge(room string) {
	full := 1e12
	if _, ok := b.component.Kind.Param("full_scale"); ok {
		full = b.component.Value("full_scale")
	}
	b.plan.gauges = append(b.plan.gauges, gauge{owner: b.owner, room: b.room(room), full: full})
}

// Contact is an electrical contact to ground on this component's current port; it is closed while the latch has the value.
func (b *Builder) Contact(latch string, closedWhen bool) {
	b.plan.contacts = append(b.plan.contacts, contact{owner: b.owner, latch: b.latch(latch), when: closedWhen})
}

// Sink is a lamp or buzzer: on while its wiring reaches a closed contact and the key is on.
func (b *Builder) Sink() {
	b.plan.sinks = append(b.plan.sinks, sink{owner: b.owner})
}

func (b *Builder) element(name string, from, to int32, c, crit float64, o Opening) *element {
	b.must(c >= 0 && crit >= 0 && crit < 1, "passage %s: conductance %g, critical ratio %g", name, c, crit)
	p := b.passage(name)
	place := int32(-1)
	if from < 0 || to < 0 {
		place = b.plan.ventOf(b.component)
	}
	b.plan.passages[p].elements = append(b.plan.passages[p].elements, int32(len(b.plan.elements)))
	b.plan.elements = append(b.plan.elements, element{
		passage: p, from: from, to: to, owner: b.owner, place: place, isLine: b.line != nil,
		c: c, crit: crit, forth: 1, back: 1, opening: b.opening(o),
	})
	return &b.plan.elements[len(b.plan.elements)-1]
}

func (b *Builder) opening(o Opening) opening {
	out := opening{base: o.Base, low: 0, high: 1}
	rooms := 0
	for _, t := range o.Terms {
		named := 0
		for _, name := range []string{t.Room, t.Control, t.Latch} {
			if name != "" {
				named++
			}
		}
		b.must(named == 1, "a term must name one of room, control and latch: %+v", t)
		if t.Room != "" {
			rooms++
		}
		switch {
		case t.Room != "":
			out.terms = append(out.terms, term{roomTerm, b.room(t.Room), t.Gain})
		case t.Control != "":
			out.terms = append(out.terms, term{controlTerm, b.control(t.Control), t.Gain})
		default:
			out.terms = append(out.terms, term{latchTerm, b.latch(t.Latch), t.Gain})
		}
	}
	b.must(rooms <= mostInfluences, "an opening may hang on %d rooms, not on %d", mostInfluences, rooms)
	return out
}

func (b *Builder) id() string {
	if b.line != nil {
		return b.line.ID
	}
	return b.component.ID
}

// room turns a name into a node number; the atmosphere is -1.
func (b *Builder) room(name string) int32 {
	if name == circuit.Atmosphere {
		return outside
	}
	if b.line != nil {
		switch name {
		case "from":
			return b.plan.portRoom(b.line.From)
		case "to":
			return b.plan.portRoom(b.line.To)
		}
	} else if i, ok := b.plan.roomIndex[b.component.ID+"."+name]; ok {
		return i
	}
	b.must(false, "has no room %q", name)
	return outside
}

func (b *Builder) ends(passage string) (from, to int32) {
	if b.line != nil {
		b.must(passage == Bore, "a line has one passage, %q, not %q", Bore, passage)
		return b.room("from"), b.room("to")
	}
	spec, ok := b.component.Kind.Passage(passage)
	b.must(ok, "has no passage %q", passage)
	return b.room(spec.From), b.room(spec.To)
}

func (b *Builder) passage(name string) int32 {
	if b.line == nil {
		_, ok := b.component.Kind.Passage(name)
		b.must(ok, "has no passage %q", name)
	}
	b.built[name] = true
	return b.plan.passage(b.id()+"/"+name, b.id(), name)
}

func (b *Builder) control(name string) int32 {
	if i, ok := b.plan.controlIndex[b.id()+"."+name]; ok {
		return i
	}
	i, ok := b.plan.controlIndex[name]
	b.must(ok, "has no control %q, nor has the vehicle", name)
	return i
}

func (b *Builder) latch(name string) int32 {
	i, ok := b.plan.latchIndex[b.id()+"."+name]
	b.must(ok, "has no latch %q (a latch is declared before it is used)", name)
	return i
}

func (b *Builder) must(ok bool, format string, args ...any) {
	if ok {
		return
	}
	kind := "line"
	if b.component != nil {
		kind = b.component.Kind.Name
	}
	panic(fmt.Sprintf("airflow: %s (%s): ", b.id(), kind) + fmt.Sprintf(format, args...))
}
