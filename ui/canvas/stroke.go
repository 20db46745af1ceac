package canvas

import (
	"image/color"

	"gioui.org/f32"
	"gioui.org/op"
)

// Stroke draws an open polyline in pixels as one outline of quads, level and upright legs as rectangles. It is what the
// sheet's lines are drawn with, for plots.
func Stroke(ops *op.Ops, points []f32.Point, width float32, c color.NRGBA) {
	if len(points) < 2 {
		return
	}
	s := surface{ops: ops}
	p := append([]f32.Point(nil), points...)
	s.stroke(p, width, false, c)
	s.flush()
}

// Thin leaves out the points of a polyline that lie within tolerance of the line without them (Douglas and Peucker 1973).
func Thin(points []f32.Point, tolerance float32) []f32.Point {
	if len(points) < 3 {
		return points
	}
	keep := make([]bool, len(points))
	keep[0], keep[len(points)-1] = true, true
	type part struct{ from, to int }
	for todo := []part{{0, len(points) - 1}}; len(todo) > 0; {
		t := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		a, b := points[t.from], points[t.to]
		dir := unitOf(b.Sub(a))
		worst, at := float32(0), -1
		for i := t.from + 1; i < t.to; i++ {
			d := points[i].Sub(a)
			far := abs(d.X*dir.Y - d.Y*dir.X)
			if dir == (f32.Point{}) {
				far = norm(d)
			}
			if far > worst {
				worst, at = far, i
			}
		}
		if at > 0 && worst > tolerance {
			keep[at] = true
			todo = append(todo, part{t.from, at}, part{at, t.to})
		}
	}
	out := points[:0:0]
	for i, k := range keep {
		if k {
			out = append(out, points[i])
		}
	}
	return out
}
