package airflow

import (
	"airpath/circuit"
)

// outside is the node number of the atmosphere in plans.
const outside = -1

// Bore is the name of a line's one passage.
const Bore = "bore"

// A plan is what the laws said: the numbers of one vehicle before they are ordered for the solver. The network keeps the
// healthy one; each run has a copy that faults and procedures change. Nothing in it but numbers may differ between runs.
type plan struct {
	circuit *circuit.Circuit
	detail  Detail

	rooms    []room
	elements []element
	pumps    []pump
	latches  []latch
	trips    []trip
	gauges   []gauge
	contacts []contact
	sinks    []sink
	wires    []wire
	controls []control
	rods     []rod
	thrusts  []chamberThrust

	// What follows is shared by all runs.
	owners       []string // components in file order, then lines
	passages     []passage
	places       []string // where air can be heard leaving
	roomIndex    map[string]int32
	passageIndex map[string]int32
	placeIndex   map[string]int32
	controlIndex map[string]int32
	latchIndex   map[string]int32
	ownerIndex   map[string]int32
	partIndex    map[string]*circuit.Component
	leakIndex    map[leakKey]int32   // leak elements
	offIndex     map[string][2]int32 // open-end elements of a line
	lineIndex    map[string]*circuit.Line
	lineAt       map[circuit.PortRef]*circuit.Line
}

type room struct {
	name    string
	volume  float64 // m³, the fixed part
	heat    float64 // W/K
	thermal bool
	piston  Piston
}

// element is one way for air: what is wired never changes, the numbers may.
type element struct {
	from, to int32 // node numbers, outside for the atmosphere
	passage  int32 // index, or -1 for leaks to the atmosphere and open ends
	place    int32 // where its air is heard if it goes to the atmosphere, or -1
	owner    int32
	dormant  bool // a leak, a hole, an open end: no passage of a healthy part
	isLine   bool
	end      bool // an open end of a line that has been taken off
	piece    int  // of a line that is laid in several: how many lie before it

	c, crit     float64 // conductance m³/(s·Pa) and critical pressure ratio
	forth, back float64 // share of the conductance from → to and to → from
	opening     opening
	closed      int // how many procedure actions hold it shut
}

// opening = low + (high − low)·S(clamp(base + Σ gain·x)).
type opening struct {
	base      float64
	low, high float64
	terms     []term
}

type termKind uint8

const (
	roomTerm termKind = iota
	controlTerm
	latchTerm
)

type term struct {
	kind  termKind
	index int32
	gain  float64
}

type pump struct {
	passage, from, to, owner int32
	displacement, clearance  float64
	efficiency, ratio        float64
	speed                    int32 // control
	opening                  opening
}

// latch sees p(room) + aid·(p(aide) − atmosphere).
type latch struct {
	name       string
	room, aide int32
	owner      int32
	aid        float64
	rise, fall float64
	initial    bool
	held       bool // stuck at initial
}

func (l *latch) sees(n *Network, p []float64) float64 {
	v := p[n.at(l.room)]
	if l.aid != 0 {
		v += l.aid * (p[n.at(l.aide)] - atmosphere)
	}
	return v
}

type trip struct {
	control, room, owner int32
	below                float64
}

type gauge struct {
	owner, room  int32
	full         float64 // end of the dial, Pa absolute
	offset, band float64 // Pa
}

// rod is a push-rod that a room's pressure moves.
type rod struct {
	owner, room int32
	Rod
}

type control struct {
	name      string
	bare      string // the name without its component
	owner     int32  // -1 for the vehicle's own
	rest, max float64
	low, high float64 // what a fault leaves of its range
	held      bool
	hold      float64
}

type passage struct {
	id, target, name string
	elements         []int32
}

// copyTo copies what runs may change, into q's own slices.
func (p *plan) copyTo(q *plan) {
	rooms, elements, pumps, latches := q.rooms[:0], q.elements[:0], q.pumps[:0], q.latches[:0]
	trips, gauges, contacts := q.trips[:0], q.gauges[:0], q.contacts[:0]
	sinks, wires, controls, rods, thrusts := q.sinks[:0], q.wires[:0], q.controls[:0], q.rods[:0], q.thrusts[:0]
	*q = *p
	q.rooms = append(rooms, p.rooms...)
	q.elements = append(elements, p.elements...)
	q.pumps = append(pumps, p.pumps...)
	q.latches = append(latches, p.latches...)
	q.trips = append(trips, p.trips...)
	q.gauges = append(gauges, p.gauges...)
	q.contacts = append(contacts, p.contacts...)
	q.sinks = append(sinks, p.sinks...)
	q.wires = append(wires, p.wires...)
	q.controls = append(controls, p.controls...)
	q.rods = append(rods, p.rods...)
	q.thrusts = append(thrusts, p.thrusts...)
}

func (p *plan) component(id string) *circuit.Component { return p.partIndex[id] }

// across is the port at the other end of the line on a port.
func (p *plan) across(ref circuit.PortRef) (circuit.PortRef, bool) {
	l, ok := p.lineAt[ref]
	if !ok {
		return circuit.PortRef{}, false
	}
	if l.From == ref {
		return l.To, true
	}
	return l.From, true
}

// portRoom is the node that a port opens into.
func (p *plan) portRoom(ref circuit.PortRef) int32 {
	c := p.partIndex[ref.Component]
	if c == nil {
		return outside
	}
	spec, ok := c.Kind.Port(ref.Port)
	if !ok || spec.Room == circuit.Atmosphere {
		return outside
	}
	if i, ok := p.roomIndex[c.ID+"."+spec.Room]; ok {
		return i
	}
	return outside
}

// ventOf is the place where a component's air is heard when one of its passages leads outside: its vent port if it has
// one, else the part itself (the vent holes of a chamber).
func (p *plan) ventOf(c *circuit.Component) int32 {
	if c == nil {
		return -1
	}
	for _, port := range c.Kind.Ports {
		if port.Vent {
			return p.place(c.ID + "." + port.Name)
		}
	}
	return p.place(c.ID)
}

func (p *plan) place(name string) int32 {
	if i, ok := p.placeIndex[name]; ok {
		return i
	}
	i := int32(len(p.places))
	p.placeIndex[name] = i
	p.places = append(p.places, name)
	return i
}

func (p *plan) passage(id, target, name string) int32 {
	if i, ok := p.passageIndex[id]; ok {
		return i
	}
	i := int32(len(p.passages))
	p.passageIndex[id] = i
	p.passages = append(p.passages, passage{id: id, target: target, name: name})
	return i
}
