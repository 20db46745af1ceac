package symbol

import (
	"math"
	"slices"

	"airpath/circuit"
)

// A Sheet is a circuit laid out in plan view: where each symbol stands, where its ports are, how the lines run and cross.
// It is made once after every change of the circuit and then only read; its methods may be called from several goroutines.
type Sheet struct {
	circuit *circuit.Circuit
	parts   []part // in file order
	lines   []run  // in file order
	partAt  map[string]int
	lineAt  map[string]int
	bounds  Box
	labels  labelCache
}

// A part is one component on the sheet.
type part struct {
	comp    *circuit.Component
	drawing Drawing
	box     Box
	ports   map[string]Port // where each port that is used is fastened, in the unturned drawing
}

// A run is one line on the sheet.
type run struct {
	line    *circuit.Line
	from    Port // on the sheet
	to      Port
	points  []Point // from port to port, every leg upright or level
	pilot   bool    // it only carries a command: dashed
	bridges []bridge
	drawn   []Point // points with the hops
}

// NewSheet lays out a circuit. Lines that name components or ports that are not there are left out.
func NewSheet(c *circuit.Circuit) *Sheet {
	sh := &Sheet{circuit: c, partAt: map[string]int{}, lineAt: map[string]int{}}
	for _, comp := range c.Components {
		if comp.Kind == nil {
			continue
		}
		sh.partAt[comp.ID] = len(sh.parts)
		sh.parts = append(sh.parts, part{comp: comp, drawing: drawingOf(comp), box: BoxOf(comp), ports: map[string]Port{}})
	}
	var lines []*circuit.Line
	for _, l := range c.Lines {
		if sh.has(l.From) && sh.has(l.To) {
			lines = append(lines, l)
		}
	}
	sh.fasten(lines)
	sh.route(lines)
	sh.findBridges()
	sh.bounds = sh.extent()
	return sh
}

func (sh *Sheet) has(ref circuit.PortRef) bool {
	i, ok := sh.partAt[ref.Component]
	if !ok {
		return false
	}
	_, ok = sh.parts[i].drawing.Ports[ref.Port]
	return ok
}

// Circuit that is laid out.
func (sh *Sheet) Circuit() *circuit.Circuit { return sh.circuit }

// Bounds of everything on the sheet: the file's size, and whatever lies outside it.
func (sh *Sheet) Bounds() Box { return sh.bounds }

func (sh *Sheet) extent() Box {
	b := Box{Max: Point{X: sh.circuit.Sheet.Width, Y: sh.circuit.Sheet.Height}}
	if b.Width() <= 0 || b.Height() <= 0 {
		b = Box{Max: Point{X: 20, Y: 15}} // a sheet without a size still has some paper
	}
	for _, p := range sh.parts {
		b = b.Union(p.box)
	}
	for _, r := range sh.lines {
		for _, v := range r.points {
			b = b.Union(Box{v, v})
		}
	}
	return b
}

// BoxOf a component on this sheet.
func (sh *Sheet) BoxOf(id string) (Box, bool) {
	i, ok := sh.partAt[id]
	if !ok {
		return Box{}, false
	}
	return sh.parts[i].box, true
}

// RouteOf a line: its corners from port to port.
func (sh *Sheet) RouteOf(id string) ([]Point, bool) {
	i, ok := sh.lineAt[id]
	if !ok {
		return nil, false
	}
	return slices.Clone(sh.lines[i].points), true
}

// PortAt is where a port is fastened on this sheet, and to which side it looks.
func (sh *Sheet) PortAt(ref circuit.PortRef) (Port, bool) {
	i, ok := sh.partAt[ref.Component]
	if !ok {
		return Port{}, false
	}
	p := &sh.parts[i]
	place, ok := p.ports[ref.Port]
	if !ok {
		places := p.drawing.Ports[ref.Port]
		if len(places) == 0 {
			return Port{}, false
		}
		place = places[0]
	}
	return p.onSheet(place), true
}

func (p *part) onSheet(place Port) Port {
	at := p.drawing.turned(place.At, p.comp.Turn)
	return Port{Point{X: p.box.Min.X + at.X, Y: p.box.Min.Y + at.Y}, p.drawing.turnedSide(place.Out, p.comp.Turn)}
}

// fasten chooses a place on the border for every port that has a line, and gives vents theirs.
func (sh *Sheet) fasten(lines []*circuit.Line) {
	for i := range sh.parts {
		p := &sh.parts[i]
		var wanted []wish
		for _, spec := range p.comp.Kind.Ports {
			if spec.Vent {
				if places := p.drawing.Ports[spec.Name]; len(places) > 0 {
					p.ports[spec.Name] = places[0]
				}
				continue
			}
			for _, l := range lines {
				switch (circuit.PortRef{Component: p.comp.ID, Port: spec.Name}) {
				case l.From:
					wanted = append(wanted, wish{spec.Name, sh.toward(l.Route, l.To, false)})
				case l.To:
					wanted = append(wanted, wish{spec.Name, sh.toward(l.Route, l.From, true)})
				}
			}
		}
		p.choose(wanted)
	}
}

// A wish is where the line on a port goes.
type wish struct {
	port   string
	target Point
}

// toward is the first place that a line goes to from one of its ends.
func (sh *Sheet) toward(route []Point, other circuit.PortRef, last bool) Point {
	if len(route) > 0 {
		if last {
			return route[len(route)-1]
		}
		return route[0]
	}
	p := &sh.parts[sh.partAt[other.Component]]
	if places := p.drawing.Ports[other.Port]; len(places) == 1 {
		return p.onSheet(places[0]).At
	}
	return p.box.Center()
}

// choose tries every combination of places for the ports wanted (there are at most a few with more than one place) and
// keeps the cheapest, the earliest where several are equal.
func (p *part) choose(wanted []wish) {
	best := math.Inf(1)
	picked := make([]Port, len(wanted))
	var try func(i int, cost float64)
	try = func(i int, cost float64) {
		if cost >= best {
			return
		}
		if i == len(wanted) {
			best = cost
			for j, w := range wanted {
				p.ports[w.port] = picked[j]
			}
			return
		}
		for _, place := range p.drawing.Ports[wanted[i].port] {
			taken := slices.ContainsFunc(picked[:i], func(q Port) bool { return q.At == place.At })
			if taken && len(p.drawing.Ports[wanted[i].port]) > 1 {
				continue
			}
			picked[i] = place
			try(i+1, cost+reach(p.onSheet(place), wanted[i].target))
		}
	}
	try(0, 0)
}

// reach is what it costs to go from a port to a point: the way, and the bends.
func reach(from Port, to Point) float64 {
	o := from.Out.Step()
	d := Point{X: to.X - from.At.X, Y: to.Y - from.At.Y}
	ahead, aside := d.X*o.X+d.Y*o.Y, abs(d.X*o.Y-d.Y*o.X)
	cost := abs(ahead) + aside
	if aside > 0 {
		cost += 2
	}
	if ahead < 0 {
		cost += 8
	}
	return cost
}

// isPilot tells whether a line only carries a command: it ends at a control port, or at
// a joint from which such a line goes on.
func isPilot(l *circuit.Line, lines []*circuit.Line, kindOf func(component string) *circuit.Kind) bool {
	if l.Type.Medium() != circuit.Air {
		return false
	}
	control := func(ref circuit.PortRef) bool {
		k := kindOf(ref.Component)
		if k == nil {
			return false
		}
		spec, ok := k.Port(ref.Port)
		return ok && spec.Role() == circuit.Control
	}
	if control(l.From) || control(l.To) {
		return true
	}
	k := kindOf(l.To.Component)
	if k == nil || !joins(k) {
		return false
	}
	return slices.ContainsFunc(lines, func(on *circuit.Line) bool {
		return on != l && on.From.Component == l.To.Component && control(on.To)
	})
}

// joins tells whether a kind does nothing but join lines: three or more ports on one room, and no way out of it.
func joins(k *circuit.Kind) bool {
	if len(k.Rooms) != 1 || len(k.Passages) > 0 || len(k.Ports) < 3 {
		return false
	}
	return !slices.ContainsFunc(k.Ports, func(p circuit.PortSpec) bool { return p.Medium != circuit.Air || p.Vent })
}

func (sh *Sheet) kindOf(component string) *circuit.Kind {
	if i, ok := sh.partAt[component]; ok {
		return sh.parts[i].comp.Kind
	}
	return nil
}

func manhattan(a, b Point) float64 { return abs(a.X-b.X) + abs(a.Y-b.Y) }
