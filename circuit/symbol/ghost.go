package symbol

import (
	"math"

	"airpath/circuit"
)

// Sizes of the vehicle's ghost in grid steps.
const (
	wheelLength = 15
	wheelWidth  = 7
	railWidth   = 1.6
)

// ghost is the vehicle under the drawing, so that the sheet also tells where to crawl.
func (v *view) ghost() {
	sheet := v.sh.circuit.Sheet
	if sheet.Rails == [2]float64{} {
		return
	}
	pal := v.look.Palette
	v.s.Begin("ghost", "the vehicle from above, front to the left")
	defer v.s.End()
	fill := Style{Fill: pal.Ghost, Stroke: pal.Trace, Width: v.look.stroke(0.1, 0.8)}
	cab, front := v.cab()
	for _, a := range sheet.Axles {
		if !v.shown(Box{Point{X: a.X - 1.1, Y: a.Y0}, Point{X: a.X + 1.1, Y: a.Y1}}.Grow(1)) {
			continue
		}
		v.s.Poly(corners(Point{X: a.X - 1.1, Y: a.Y0}, Point{X: a.X + 1.1, Y: a.Y1}), true, fill)
	}
	frames := sheet.Frames
	if len(frames) == 0 {
		frames = []circuit.Frame{{X0: 0, X1: sheet.Width, Rails: sheet.Rails}}
	}
	for _, f := range frames {
		from, to := max(front, f.X0+2), f.X1-2
		for _, y := range f.Rails {
			if v.shown(Box{Point{X: from, Y: y - railWidth/2}, Point{X: to, Y: y + railWidth/2}}.Grow(1)) {
				v.s.Poly(corners(Point{X: from, Y: y - railWidth/2}, Point{X: to, Y: y + railWidth/2}), true, fill)
			}
		}
		for _, x := range [...]float64{from + 1, to - 1} {
			if !v.shown(Box{Point{X: x - 0.8, Y: f.Rails[0]}, Point{X: x + 0.8, Y: f.Rails[1]}}.Grow(1)) {
				continue
			}
			v.s.Poly(corners(Point{X: x - 0.8, Y: f.Rails[0] + railWidth/2}, Point{X: x + 0.8, Y: f.Rails[1] - railWidth/2}), true, fill)
		}
	}
	for _, a := range sheet.Axles {
		for _, y := range [...]float64{a.Y0, a.Y1} {
			wheel := Box{Point{X: a.X - wheelLength/2, Y: y - wheelWidth/2.0}, Point{X: a.X + wheelLength/2, Y: y + wheelWidth/2.0}}
			if v.shown(wheel.Grow(1)) {
				v.s.Poly(rounded(wheel, 1.6), true, fill)
			}
		}
	}
	if cab != (Box{}) && v.shown(cab.Grow(1)) {
		v.s.Poly(rounded(cab, 4), true, Style{Stroke: pal.Trace, Width: v.look.stroke(0.22, 1.2)})
	}
}

// cab is the outline around everything whose place is the cab, and where the rails begin.
func (v *view) cab() (Box, float64) {
	var b Box
	for _, p := range v.sh.parts {
		if p.comp.Place == "cab" {
			if b == (Box{}) {
				b = p.box
			}
			b = b.Union(p.box)
		}
	}
	sheet := v.sh.circuit.Sheet
	if b == (Box{}) {
		return b, 2
	}
	b.Min.X, b.Min.Y = 1, 4
	b.Max.X, b.Max.Y = b.Max.X+1.5, sheet.Height-2
	return b, b.Max.X + 1
}

// rounded is an upright rectangle with round corners.
func rounded(b Box, r float64) []Point {
	r = min(r, b.Width()/2, b.Height()/2)
	out := make([]Point, 0, 64)
	for i, c := range [...]Point{
		{X: b.Max.X - r, Y: b.Min.Y + r}, {X: b.Max.X - r, Y: b.Max.Y - r},
		{X: b.Min.X + r, Y: b.Max.Y - r}, {X: b.Min.X + r, Y: b.Min.Y + r},
	} {
		from := -math.Pi/2 + float64(i)*math.Pi/2
		out = appendEllipse(out, c, r, r, from, from+math.Pi/2)
	}
	return out
}
