package airflow

import (
	"cmp"
	"fmt"
	"math"

	"airpath/circuit"
)

// SharpHole is the discharge coefficient of a leak: a sharp-edged hole (the note under the handbook's orifice table says
// 0.65, another public sheet 0.61).
const SharpHole = 0.65

// An Edit is what a fault does to one run's copy of the numbers. It can reach the part that it was made for, and by Across
// the parts that its lines lead to. The topology never changes.
type Edit struct {
	plan      *plan
	component *circuit.Component
	line      *circuit.Line
	owner     int32
}

// Component at fault, nil for a line.
func (e *Edit) Component() *circuit.Component { return e.component }

// Line at fault, nil for a component.
func (e *Edit) Line() *circuit.Line { return e.line }

// Circuit that the part belongs to.
func (e *Edit) Circuit() *circuit.Circuit { return e.plan.circuit }

// Value of one of the component's parameters, SI.
func (e *Edit) Value(param string) float64 { return e.component.Value(param) }

// Across is an Edit for the component at the other end of the line on a port: a slack adjuster reaches its chamber so.
func (e *Edit) Across(port string) (*Edit, bool) {
	other, ok := e.plan.across(circuit.PortRef{Component: e.component.ID, Port: port})
	if !ok {
		return nil, false
	}
	return e.plan.editOf(other.Component), true
}

// Leak opens a sharp hole from a room to the atmosphere. A line's rooms are "from" and "to".
func (e *Edit) Leak(room string, holeDiameter float64) {
	i, ok := e.plan.leakIndex[leakKey{e.owner, room}]
	e.must(ok, "no leak can be made in room %q", room)
	el := &e.plan.elements[i]
	el.c += HoleConductance(holeDiameter, SharpHole)
}

// Hole opens a sharp hole beside what else there is in a passage, both ways: a leaking seat, a worn wall.
func (e *Edit) Hole(passage string, holeDiameter float64) {
	p := e.passage(passage)
	for _, k := range p.elements {
		if el := &e.plan.elements[k]; el.dormant {
			el.c += HoleConductance(holeDiameter, SharpHole)
			return
		}
	}
	e.must(false, "passage %q can have no hole", passage)
}

// AtLeast keeps a passage (or pump) from opening less than a share: held open by dirt, by ice, by a worn stop.
func (e *Edit) AtLeast(passage string, share float64) {
	e.limit(passage, func(o *opening, first bool) {
		if first {
			o.low = math.Max(o.low, share)
			o.high = math.Max(o.high, o.low)
		}
	})
}

// AtMost keeps a passage (or pump) from opening more than a share.
func (e *Edit) AtMost(passage string, share float64) {
	e.limit(passage, func(o *opening, _ bool) {
		o.high = math.Min(o.high, share)
		o.low = math.Min(o.low, o.high)
	})
}

func (e *Edit) limit(passage string, f func(o *opening, first bool)) {
	i, ok := e.plan.passageIndex[e.id()+"/"+passage]
	e.must(ok, "no passage %q in the network", passage)
	for n, k := range e.plan.passages[i].elements {
		if el := &e.plan.elements[k]; !el.dormant {
			f(&el.opening, n == 0)
		}
	}
	for k := range e.plan.pumps {
		if e.plan.pumps[k].passage == i {
			f(&e.plan.pumps[k].opening, true)
		}
	}
}

// Scale multiplies a passage's conductance in both directions: restricted, or 0 for blocked.
func (e *Edit) Scale(passage string, factor float64) {
	e.each(passage, func(el *element) { el.c *= factor })
}

// ScaleForth multiplies the conductance in the direction from the passage's From room to its To room.
func (e *Edit) ScaleForth(passage string, factor float64) {
	e.scaleWay(passage, factor, true)
}

// ScaleBack multiplies the conductance against that direction: the lining of a hose that has come loose.
func (e *Edit) ScaleBack(passage string, factor float64) {
	e.scaleWay(passage, factor, false)
}

// flapSpan is the difference of pressure over which a loose lining is blown from one side to the other. Engineering judgement; at
// none at all a way would have two conductances at once where nothing flows, which no real one has.
const flapSpan = 700.0 // Pa

func (e *Edit) scaleWay(passage string, factor float64, forth bool) {
	p := e.passage(passage)
	first := e.plan.elements[p.elements[0]]
	e.each(passage, func(el *element) {
		sameWay := el.piece > 0 || el.from == first.from && el.to == first.to
		switch {
		case el.opening.constant() && el.from >= 0 && el.to >= 0:
			gain := 1 / flapSpan
			if sameWay == forth { // it is the other way that blows it open
				gain = -gain
			}
			open := el.opening.value(0)
			el.opening = opening{low: open * factor, high: open, terms: []term{{roomTerm, el.from, gain}, {roomTerm, el.to, -gain}}}
		case sameWay == forth:
			el.forth *= factor
		default:
			el.back *= factor
		}
	})
}

// Stick holds a passage at an opening, whatever its pressures and controls say: stuck open 1, stuck shut 0. Where a passage has
// several elements the first takes the opening and the others are shut.
func (e *Edit) Stick(passage string, share float64) {
	e.limit(passage, func(o *opening, first bool) {
		o.low, o.high = 0, 0
		if first {
			o.low, o.high = share, share
		}
	})
}

// ShiftOpening adds du to what a passage's opening is made of, before it is clamped: it opens earlier (du > 0) or later.
func (e *Edit) ShiftOpening(passage string, du float64) {
	e.each(passage, func(el *element) { el.opening.base += du })
}

// Reopen replaces what a passage's first element opens by; a share that it can't open beyond stays.
func (e *Edit) Reopen(passage string, o Opening) {
	el := &e.plan.elements[e.passage(passage).elements[0]]
	el.opening.base, el.opening.terms = o.Base, nil
	for _, t := range o.Terms {
		kind, index := e.influence(cmp.Or(t.Room, t.Control, t.Latch))
		el.opening.terms = append(el.opening.terms, term{kind, index, t.Gain})
	}
}

// ScaleTerm multiplies the gain of one influence (a room, control or latch, named as the law named it) on a passage.
func (e *Edit) ScaleTerm(passage, name string, factor float64) {
	e.terms(passage, name, func(_ *opening, t *term) { t.gain *= factor })
}

// ShiftTerm lets a passage see one influence dx higher than it is (Pa for rooms, the control's own unit for controls): the
// threshold that it makes comes earlier or later.
func (e *Edit) ShiftTerm(passage, name string, dx float64) {
	e.terms(passage, name, func(o *opening, t *term) { o.base += t.gain * dx })
}

func (e *Edit) terms(passage, name string, f func(*opening, *term)) {
	found := false
	kind, index := e.influence(name)
	e.each(passage, func(el *element) {
		el.opening.terms = append([]term(nil), el.opening.terms...)
		for i := range el.opening.terms {
			if t := &el.opening.terms[i]; t.kind == kind && t.index == index {
				f(&el.opening, t)
				found = true
			}
		}
	})
	e.must(found, "passage %q has no term %q", passage, name)
}

// Shift adds Pa to a latch's two thresholds.
func (e *Edit) Shift(latch string, rise, fall float64) {
	l := &e.plan.latches[e.latch(latch)]
	l.rise += rise
	l.fall += fall
	e.must(l.rise > l.fall, "latch %q would rise at %g Pa and fall at %g Pa", latch, l.rise, l.fall)
}

// Latch is one of the part's latches, to be changed.
func (e *Edit) Latch(name string) *latch { return &e.plan.latches[e.latch(name)] }

// Hold keeps a latch at a value.
func (e *Edit) Hold(latch string, value bool) {
	l := &e.plan.latches[e.latch(latch)]
	l.held, l.initial = true, value
}

// PumpScale multiplies what a pump delivers.
func (e *Edit) PumpScale(name string, factor float64) {
	e.pump(name).efficiency *= factor
}

// PumpSpeed multiplies a pump's speed: a belt that slips.
func (e *Edit) PumpSpeed(name string, factor float64) {
	e.pump(name).ratio *= factor
}

// Drown fills a share of a room's fixed volume with water.
func (e *Edit) Drown(room string, share float64) {
	e.must(share >= 0 && share < 1, "share of water %g", share)
	e.plan.rooms[e.room(room)].volume *= 1 - share
}

// EditPiston replaces a room's piston by what change makes of a copy of it.
func (e *Edit) EditPiston(room string, change func(Piston) Piston) {
	r := &e.plan.rooms[e.room(room)]
	e.must(len(r.piston.Gauge) > 0, "room %q has no piston", room)
	p := change(r.piston.clone())
	if err := p.check(); err != nil {
		e.must(false, "room %s: %v", room, err)
	}
	r.piston = p
}

// EditRod replaces the stroke curve that hangs on one of the part's rooms.
func (e *Edit) EditRod(room string, to Rod) {
	k := e.room(room)
	for i := range e.plan.rods {
		if e.plan.rods[i].owner == e.owner && e.plan.rods[i].room == k {
			e.plan.rods[i].Rod = to
			return
		}
	}
	e.must(false, "room %q moves no rod", room)
}

// GaugeOffset lets the part's gauge read high (Pa > 0) or low.
func (e *Edit) GaugeOffset(pa float64) {
	e.gauge().offset += pa
}

// GaugeStick lets the part's needle follow only when the pressure is more than band Pa away from it.
func (e *Edit) GaugeStick(band float64) {
	e.gauge().band = band
}

// ContactHold keeps the part's contact closed, or open.
func (e *Edit) ContactHold(closed bool) {
	for i := range e.plan.contacts {
		if e.plan.contacts[i].owner == e.owner {
			e.plan.contacts[i].held, e.plan.contacts[i].hold = true, closed
		}
	}
}

// Wire breaks a wire, or shorts it to ground.
func (e *Edit) Wire(open, shorted bool) {
	for i := range e.plan.wires {
		if e.plan.wires[i].owner == e.owner {
			e.plan.wires[i].open, e.plan.wires[i].shorted = open, shorted
		}
	}
}

// SinkDead lets the part's lamp or buzzer never come on.
func (e *Edit) SinkDead() {
	for i := range e.plan.sinks {
		if e.plan.sinks[i].owner == e.owner {
			e.plan.sinks[i].dead = true
		}
	}
}

// influence finds what a term's name means to this part: one of its latches, controls or rooms.
func (e *Edit) influence(name string) (termKind, int32) {
	if i, ok := e.plan.latchIndex[e.id()+"."+name]; ok {
		return latchTerm, i
	}
	if i, ok := e.plan.controlIndex[e.id()+"."+name]; ok {
		return controlTerm, i
	}
	if e.line != nil {
		return roomTerm, e.room(name)
	}
	if i, ok := e.plan.roomIndex[e.id()+"."+name]; ok {
		return roomTerm, i
	}
	return controlTerm, e.control(name)
}

// Control holds a control at a value, whatever the operator does.
func (e *Edit) Control(name string, hold float64) {
	c := &e.plan.controls[e.control(name)]
	c.held, c.hold = true, hold
}

// ControlRange keeps what the operator sets within bounds.
func (e *Edit) ControlRange(name string, low, high float64) {
	c := &e.plan.controls[e.control(name)]
	c.low, c.high = low, high
}

// ControlAtLeast keeps a control from being set lower: a pedal that does not return.
func (e *Edit) ControlAtLeast(name string, low float64) {
	c := &e.plan.controls[e.control(name)]
	c.low = math.Max(c.low, low)
	c.high = math.Max(c.high, c.low)
}

// ControlAtMost keeps a control from being set higher: a pedal that does not go down all the way.
func (e *Edit) ControlAtMost(name string, high float64) {
	c := &e.plan.controls[e.control(name)]
	c.high = math.Min(c.high, high)
	c.low = math.Min(c.low, c.high)
}

// ShiftTrip adds Pa to the level at which a control springs back.
func (e *Edit) ShiftTrip(control string, pa float64) {
	k := e.control(control)
	for i := range e.plan.trips {
		if e.plan.trips[i].control == k {
			e.plan.trips[i].below += pa
		}
	}
}

func (e *Edit) id() string {
	if e.line != nil {
		return e.line.ID
	}
	return e.component.ID
}

func (e *Edit) room(name string) int32 {
	if e.line != nil {
		switch name {
		case "from":
			return e.plan.portRoom(e.line.From)
		case "to":
			return e.plan.portRoom(e.line.To)
		}
	} else if i, ok := e.plan.roomIndex[e.component.ID+"."+name]; ok {
		return i
	}
	e.must(false, "no room %q", name)
	return outside
}

func (e *Edit) passage(name string) passage {
	i, ok := e.plan.passageIndex[e.id()+"/"+name]
	e.must(ok, "no passage %q in the network", name)
	return e.plan.passages[i]
}

func (e *Edit) each(passage string, f func(*element)) {
	for _, k := range e.passage(passage).elements {
		if el := &e.plan.elements[k]; !el.dormant {
			f(el)
		}
	}
}

func (e *Edit) latch(name string) int32 {
	i, ok := e.plan.latchIndex[e.id()+"."+name]
	e.must(ok, "no latch %q", name)
	return i
}

func (e *Edit) control(name string) int32 {
	if i, ok := e.plan.controlIndex[e.id()+"."+name]; ok {
		return i
	}
	i, ok := e.plan.controlIndex[name]
	e.must(ok, "no control %q", name)
	return i
}

func (e *Edit) pump(name string) *pump {
	i, ok := e.plan.passageIndex[e.id()+"/"+name]
	e.must(ok, "no pump %q", name)
	for k := range e.plan.pumps {
		if e.plan.pumps[k].passage == i {
			return &e.plan.pumps[k]
		}
	}
	e.must(false, "no pump %q", name)
	return nil
}

func (e *Edit) gauge() *gauge {
	for i := range e.plan.gauges {
		if e.plan.gauges[i].owner == e.owner {
			return &e.plan.gauges[i]
		}
	}
	e.must(false, "has no gauge")
	return nil
}

func (e *Edit) must(ok bool, format string, args ...any) {
	if !ok {
		panic("airflow: fault on " + e.id() + ": " + fmt.Sprintf(format, args...))
	}
}
