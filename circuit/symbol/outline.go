package symbol

import "math"

// Outline turns a stroke into polygons that all turn the same way, so that they may be filled together by the non-zero
// rule: one quadrilateral a segment, and a small disc at a bend that is no right angle along the grid. Ends are square to the line (butt), which keeps dashes
// and bars exact. A surface that can only fill uses it.
func Outline(points []Point, closed bool, width float64, dash []float64) [][]Point {
	var o polygons
	o.stroke(points, closed, width, dash)
	out := make([][]Point, o.count())
	for i := range out {
		out[i] = o.at(i)
	}
	return out
}

// polygons are several closed shapes in memory that is used again.
type polygons struct {
	points []Point
	ends   []int
	piece  []Point // of a dashed line
}

func (o *polygons) clear() { o.points, o.ends = o.points[:0], o.ends[:0] }

func (o *polygons) count() int { return len(o.ends) }

func (o *polygons) at(i int) []Point {
	from := 0
	if i > 0 {
		from = o.ends[i-1]
	}
	return o.points[from:o.ends[i]:o.ends[i]]
}

func (o *polygons) add(points ...Point) {
	o.points = append(o.points, points...)
	o.ends = append(o.ends, len(o.points))
}

// stroke adds the polygons of one, as Outline gives them.
func (o *polygons) stroke(points []Point, closed bool, width float64, dash []float64) {
	if len(dash) > 0 {
		o.piece = eachDash(points, closed, dash, o.piece[:0], func(piece []Point) { o.stroke(piece, false, width, nil) })
		return
	}
	n := len(points)
	segments := n - 1
	if closed {
		segments = n
	}
	h := width / 2
	at := func(i int) Point { return points[(i%n+n)%n] }
	// A right angle is closed by the leg before it, which is drawn longer by half a width, while the leg after it begins
	// that much later: nothing is painted twice, which would darken the soft edge of a corner.
	square := func(i int) bool {
		return (closed || i > 0 && i < n-1) && rightAngle(at(i-1), at(i), at(i+1), h)
	}
	for i := range segments {
		a, b := at(i), at(i+1)
		length := math.Hypot(b.X-a.X, b.Y-a.Y)
		if length == 0 {
			continue
		}
		x, y := (b.X-a.X)/length*h, (b.Y-a.Y)/length*h
		if square(i) {
			a = Point{X: a.X + x, Y: a.Y + y}
		}
		end := b
		if square(i + 1) {
			end = Point{X: b.X + x, Y: b.Y + y}
		}
		o.add(Point{X: a.X - y, Y: a.Y + x}, Point{X: a.X + y, Y: a.Y - x}, Point{X: end.X + y, Y: end.Y - x}, Point{X: end.X - y, Y: end.Y + x})
		if last := !closed && i == segments-1; !last && !square(i+1) && bends(a, b, at(i+2)) {
			o.joint(b, h)
		}
	}
}

// rightAngle tells whether two legs along the grid, both longer than the stroke is wide, meet at b.
func rightAngle(a, b, c Point, h float64) bool {
	if !(a.X == b.X && b.Y == c.Y || a.Y == b.Y && b.X == c.X) {
		return false
	}
	return manhattan(a, b) > 2*h && manhattan(b, c) > 2*h
}

func bends(a, b, c Point) bool {
	return abs((b.X-a.X)*(c.Y-b.Y)-(b.Y-a.Y)*(c.X-b.X)) > 1e-9
}

// joint closes any other bend: a round.
func (o *polygons) joint(at Point, h float64) {
	for _, u := range roundJoint {
		o.points = append(o.points, Point{X: at.X + h*u.X, Y: at.Y + h*u.Y})
	}
	o.ends = append(o.ends, len(o.points))
}

var roundJoint = func() (out [10]Point) {
	for i := range out {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(len(out)))
		out[i] = Point{X: cos, Y: sin}
	}
	return out
}()

// dashed cuts a polyline into its dashes.
func dashed(points []Point, closed bool, dash []float64) [][]Point {
	var out [][]Point
	eachDash(points, closed, dash, nil, func(piece []Point) { out = append(out, append([]Point{}, piece...)) })
	return out
}

// eachDash calls f for each dash of a polyline. A dash holds until the next one: all are made in the same memory, which is returned.
func eachDash(points []Point, closed bool, dash []float64, piece []Point, f func(piece []Point)) []Point {
	total := 0.0
	for _, d := range dash {
		total += d
	}
	if total <= 0 {
		f(points)
		return piece
	}
	legs := len(points) - 1
	if closed {
		legs++
	}
	piece = append(piece, points[0])
	index, left := 0, dash[0]
	for i := range legs {
		a, b := points[i], points[(i+1)%len(points)]
		length := math.Hypot(b.X-a.X, b.Y-a.Y)
		for at := 0.0; length > 0 && at < length; {
			step := min(left, length-at)
			at += step
			left -= step
			p := Point{X: a.X + (b.X-a.X)*at/length, Y: a.Y + (b.Y-a.Y)*at/length}
			on := index%2 == 0
			if on {
				piece = append(piece, p)
			}
			if left > 1e-9 {
				continue
			}
			if on {
				f(piece)
			}
			index++
			left = dash[index%len(dash)]
			piece = append(piece[:0], p)
		}
	}
	if index%2 == 0 && len(piece) > 1 {
		f(piece)
	}
	return piece
}
