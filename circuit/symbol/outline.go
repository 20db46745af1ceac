package symbol

import "math"

// Outline turns a stroke into polygons that all turn the same way, so that they may be filled together by the non-zero
// rule: one quadrilateral a segment, and a small disc at a bend that is no right angle along the grid. Ends are square to the line (butt), which keeps dashes
// and bars exact. A surface that can only fill uses it.
func Outline(points []Point, closed bool, width float64, dash []float64) [][]Point {
	if len(dash) > 0 {
		var out [][]Point
		for _, piece := range dashed(points, closed, dash) {
			out = append(out, Outline(piece, false, width, nil)...)
		}
		return out
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
	var out [][]Point
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
		out = append(out, []Point{{X: a.X - y, Y: a.Y + x}, {X: a.X + y, Y: a.Y - x}, {X: end.X + y, Y: end.Y - x}, {X: end.X - y, Y: end.Y + x}})
		if last := !closed && i == segments-1; !last && !square(i+1) && bends(a, b, at(i+2)) {
			out = append(out, joint(b, h))
		}
	}
	return out
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
func joint(at Point, h float64) []Point {
	const n = 10
	out := make([]Point, n)
	for i := range out {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / n)
		out[i] = Point{X: at.X + h*cos, Y: at.Y + h*sin}
	}
	return out
}

// dashed cuts a polyline into its dashes.
func dashed(points []Point, closed bool, dash []float64) [][]Point {
	total := 0.0
	for _, d := range dash {
		total += d
	}
	if total <= 0 {
		return [][]Point{points}
	}
	if closed {
		points = append(append([]Point{}, points...), points[0])
	}
	var out [][]Point
	piece, index, left := []Point{points[0]}, 0, dash[0]
	for i := range len(points) - 1 {
		a, b := points[i], points[i+1]
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
				out = append(out, piece)
			}
			index++
			left = dash[index%len(dash)]
			piece = []Point{p}
		}
	}
	if index%2 == 0 && len(piece) > 1 {
		out = append(out, piece)
	}
	return out
}
