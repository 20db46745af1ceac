package symbol

import "math"

// A space is what is still free on a sheet for the numbers and flags that stand on top: each takes the place where it covers
// least, and keeps it.
type space struct {
	parts  []Box
	labels []Box
	taken  []Box // by numbers and flags so far
	places []Point
}

func (v *view) newSpace() *space {
	labels := v.sh.placedLabels(v.look)
	sp := &space{parts: make([]Box, 0, len(v.sh.parts)), labels: make([]Box, 0, len(labels)), taken: make([]Box, 0, len(v.marks.Suspect)+len(v.marks.Path)), places: make([]Point, 0, 32)}
	for i := range v.sh.parts {
		sp.parts = append(sp.parts, v.sh.parts[i].box)
	}
	for _, l := range labels {
		sp.labels = append(sp.labels, l.box)
	}
	return sp
}

func (sp *space) take(b Box) { sp.taken = append(sp.taken, b) }

// best takes the place of several where a box covers least; an earlier one is better where it covers not much more. own is
// the part that it belongs to and may lie on, -1 for none.
func (sp *space) best(places []Point, box func(Point) Box, own int) Point {
	best, at := math.Inf(1), Point{}
	for i, p := range places {
		b := box(p)
		cost := 0.04 * float64(i) * b.Width() * b.Height()
		for k, q := range sp.parts {
			if k != own {
				cost += overlap(q, b)
			}
		}
		for _, q := range sp.labels {
			cost += 4 * overlap(q, b) // a name is read, a symbol is still known with its corner covered
		}
		for _, q := range sp.taken {
			cost += 6 * overlap(q, b) // two numbers on one another are worst: neither can be read
		}
		if cost < best {
			best, at = cost, p
		}
	}
	sp.take(box(at))
	return at
}

// all that is not free.
func (sp *space) all() []Box {
	all := append(make([]Box, 0, len(sp.parts)+len(sp.labels)+len(sp.taken)+8), sp.parts...)
	return append(append(all, sp.labels...), sp.taken...)
}

// alongRun are places on a line: its middle, and then farther and farther from it.
func alongRun(out, points []Point) []Point {
	length := 0.0
	for i := range len(points) - 1 {
		length += manhattan(points[i], points[i+1])
	}
	out = append(out, middleOf(points))
	for _, share := range [...]float64{0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.12, 0.88} {
		out = append(out, pointAt(points, share*length))
	}
	return out
}

// besideRun are places so far to the side of a line, for where there is no room on it.
func besideRun(out, points []Point, off float64) []Point {
	length := 0.0
	for i := range len(points) - 1 {
		length += manhattan(points[i], points[i+1])
	}
	for i, share := range [...]float64{0.5, 0.35, 0.65, 0.2, 0.8, 0.5, 0.2, 0.8} {
		if i == 5 {
			off *= 1.8
		}
		at := pointAt(points, share*length)
		next := pointAt(points, min(share*length+0.01, length))
		if next.X != at.X { // the line runs level here
			out = append(out, Point{X: at.X, Y: at.Y - off}, Point{X: at.X, Y: at.Y + off})
		} else {
			out = append(out, Point{X: at.X + off*1.3, Y: at.Y}, Point{X: at.X - off*1.3, Y: at.Y})
		}
	}
	return out
}

// pointAt is the point of a polyline so far from its beginning.
func pointAt(points []Point, way float64) Point {
	for i := range len(points) - 1 {
		a, b := points[i], points[i+1]
		leg := manhattan(a, b)
		if way <= leg && leg > 0 {
			return Point{X: a.X + (b.X-a.X)*way/leg, Y: a.Y + (b.Y-a.Y)*way/leg}
		}
		way -= leg
	}
	return points[len(points)-1]
}
