package symbol

import (
	"math"

	"airpath/circuit"
)

// TargetKind is what lies under a point.
type TargetKind int

const (
	Nothing     TargetKind = iota
	OnComponent            // a symbol
	OnGauge                // a symbol whose pressure can be read off
	OnVent                 // the triangle of an exhaust or intake
	OnLine
)

// A Target is what lies under a point.
type Target struct {
	Kind  TargetKind
	ID    string // of the component or line
	Port  string // of a vent
	Place string // as findings name it: "rear_relay", "dryer.3", "discharge_line"
}

// Hit lays a circuit out and tells what lies at a point. Who asks more than once keeps the Sheet.
func Hit(c *circuit.Circuit, at Point, tolerance float64) Target {
	return NewSheet(c).Hit(at, tolerance)
}

// Hit tells what lies at a point, topmost first: a vent, a symbol, then the nearest line within the tolerance (grid
// steps); at last a symbol or vent within the tolerance.
func (sh *Sheet) Hit(at Point, tolerance float64) Target {
	for _, slack := range []float64{0, tolerance} {
		if t, ok := sh.hitVent(at, min(0.35, tolerance)+slack*0.6); ok {
			return t
		}
		if t, ok := sh.hitPart(at, slack); ok {
			return t
		}
		if slack == 0 {
			if t, ok := sh.hitLine(at, tolerance); ok {
				return t
			}
		}
	}
	return Target{}
}

func (sh *Sheet) hitVent(at Point, slack float64) (Target, bool) {
	best, found := math.Inf(1), Target{}
	for i := range sh.parts {
		p := &sh.parts[i]
		for _, spec := range p.comp.Kind.Ports {
			if !spec.Vent {
				continue
			}
			place, ok := p.ports[spec.Name]
			if !ok {
				continue
			}
			on := p.onSheet(place)
			o := on.Out.Step()
			mid := Point{X: on.At.X - o.X*0.5, Y: on.At.Y - o.Y*0.5}
			d := math.Hypot(at.X-mid.X, at.Y-mid.Y)
			if d <= 0.75+slack && d < best {
				best = d
				found = Target{Kind: OnVent, ID: p.comp.ID, Port: spec.Name, Place: p.comp.ID + "." + spec.Name}
			}
		}
	}
	return found, found.Kind != Nothing
}

func (sh *Sheet) hitPart(at Point, slack float64) (Target, bool) {
	for i := len(sh.parts) - 1; i >= 0; i-- {
		p := &sh.parts[i]
		if p.box.Grow(slack).Contains(at) {
			t := Target{Kind: OnComponent, ID: p.comp.ID, Place: p.comp.ID}
			if p.drawing.Dial {
				t.Kind = OnGauge
			}
			return t, true
		}
	}
	return Target{}, false
}

func (sh *Sheet) hitLine(at Point, tolerance float64) (Target, bool) {
	best, found := tolerance, Target{}
	for i := len(sh.lines) - 1; i >= 0; i-- {
		if d := distance(at, sh.lines[i].points); d < best || d == best && found.Kind == Nothing {
			best = d
			id := sh.lines[i].line.ID
			found = Target{Kind: OnLine, ID: id, Place: id}
		}
	}
	return found, found.Kind != Nothing
}

// distance from a point to a polyline.
func distance(at Point, points []Point) float64 {
	best := math.Inf(1)
	for i := range len(points) - 1 {
		a, b := points[i], points[i+1]
		x := min(max(at.X, min(a.X, b.X)), max(a.X, b.X))
		y := min(max(at.Y, min(a.Y, b.Y)), max(a.Y, b.Y))
		best = min(best, math.Hypot(at.X-x, at.Y-y))
	}
	return best
}

// Anchor is where a pin for a place is fastened: the tip of a vent, a port, the upper edge of a symbol, the middle of a
// line's longest leg.
func (sh *Sheet) Anchor(place string) (Point, bool) {
	if feet := sh.feet(place); len(feet) > 0 {
		return feet[0], true
	}
	return Point{}, false
}

// feet are the points where a pin for a place may be fastened, the usual one first.
func (sh *Sheet) feet(place string) []Point {
	if i, ok := sh.partAt[place]; ok {
		b := sh.parts[i].box
		mid := b.Center()
		return []Point{{X: mid.X, Y: b.Min.Y}, {X: mid.X, Y: b.Max.Y}, {X: b.Min.X, Y: mid.Y}, {X: b.Max.X, Y: mid.Y}}
	}
	if i, ok := sh.lineAt[place]; ok {
		return []Point{middleOf(sh.lines[i].points)}
	}
	if ref, ok := portRef(place); ok {
		if port, ok := sh.PortAt(ref); ok {
			return []Point{port.At}
		}
	}
	return nil
}

func portRef(place string) (circuit.PortRef, bool) {
	for i := len(place) - 1; i > 0; i-- {
		if place[i] == '.' {
			return circuit.PortRef{Component: place[:i], Port: place[i+1:]}, true
		}
	}
	return circuit.PortRef{}, false
}

// middleOf a polyline's longest leg; the first of several.
func middleOf(points []Point) Point {
	best, at := -1.0, points[0]
	for i := range len(points) - 1 {
		if d := manhattan(points[i], points[i+1]); d > best {
			best = d
			at = Point{X: (points[i].X + points[i+1].X) / 2, Y: (points[i].Y + points[i+1].Y) / 2}
		}
	}
	return at
}
