package canvas

import (
	"math"

	"gioui.org/f32"
)

// Small plane geometry in pixels.

func abs(v float32) float32 { return float32(math.Abs(float64(v))) }

func round(v float32) int { return int(math.Round(float64(v))) }

func norm(p f32.Point) float32 { return float32(math.Hypot(float64(p.X), float64(p.Y))) }

func unitOf(p f32.Point) f32.Point {
	n := norm(p)
	if n < 1e-6 {
		return f32.Point{}
	}
	return p.Mul(1 / n)
}

// area is twice the signed area: positive for shapes that turn clockwise on the screen.
func area(p []f32.Point) float32 {
	var a float32
	for i, q := range p {
		r := p[(i+1)%len(p)]
		a += q.X*r.Y - r.X*q.Y
	}
	return a
}

// dropRepeats leaves out points that lie on their predecessor. It works in place.
func dropRepeats(p []f32.Point) []f32.Point {
	out := p[:1]
	for _, q := range p[1:] {
		if norm(q.Sub(out[len(out)-1])) > 0.01 {
			out = append(out, q)
		}
	}
	return out
}
