package symbol

import (
	"image/color"
	"math"
)

// dotRadius of a flag's foot, dp.
const dotRadius = 2.4

// pins draw the findings where they were made: a small flag on a stem, with a picture and the result.
func (v *view) pins() {
	for _, f := range v.arranged().flags {
		v.flag(f)
	}
}

// flagSize with a pin's words, or without.
func (v *view) flagSize(pin *Pin, bare bool) (w, h float64) {
	size := v.look.text(normalType)
	h = size * 1.6
	if w = h; pin.Text != "" && !bare {
		w += Font{Size: size, Bold: true}.Width(pin.Text) + size*0.45
	}
	return w, h
}

func (v *view) flag(f pennant) {
	if !v.shown(f.box.Union(Box{f.foot, f.foot}).Grow(v.look.dp(3))) {
		return
	}
	pal := v.look.Palette
	size := v.look.text(normalType)
	fill, edge, ink := pal.Body, pal.Good, pal.Ink
	if f.pin.Bad {
		fill, edge, ink = pal.Bad, pal.Bad, pal.OnBad
	}
	h := size * 1.6
	if !f.dot {
		v.s.Poly([]Point{f.foot, nearest(f.box, f.foot)}, false, Style{Stroke: edge, Width: v.look.dp(1.6)})
	}
	v.s.Poly(arc(f.foot, v.look.dp(dotRadius), 0, 2*math.Pi), true, Style{Fill: edge})
	if f.dot {
		return
	}
	v.s.Poly(rounded(f.box, size*0.35), true, Style{Fill: fill, Stroke: edge, Width: v.look.dp(1.4)})
	v.pinPicture(Point{X: f.box.Min.X + h/2, Y: f.box.Center().Y}, size*0.55, f.pin.Kind, ink)
	if f.pin.Text != "" && !f.bare {
		v.s.Text(Point{X: f.box.Min.X + h*0.95, Y: f.box.Center().Y + size*capHalf}, f.pin.Text, Font{Size: size, Bold: true, Anchor: Start, Color: ink})
	}
}

// How many distances from its foot a flag is tried at: usually, and where it would cover something else.
const (
	usualRings = 5
	mostRings  = 14
)

// flagPlace tries places around each foot, near ones first, and takes the first that covers least, of those that are allowed. The foot is
// NaN where none is.
func (v *view) flagPlace(feet []Point, w, h float64, taken []Box, rings int, allowed func(foot Point, box Box) bool) (foot Point, place Box) {
	best := math.Inf(1)
	foot.X = math.NaN()
	for i, f := range feet {
		if b, cost := v.flagAround(f, w, h, taken, rings, allowed); cost+0.1*h*h*float64(min(i, 1)) < best {
			best, foot, place = cost+0.1*h*h*float64(min(i, 1)), f, b
		}
	}
	return foot, place
}

func (v *view) flagAround(foot Point, w, h float64, taken []Box, rings int, allowed func(foot Point, box Box) bool) (place Box, best float64) {
	best = math.Inf(1)
	for away := range rings {
		stem := v.look.dp(9 + 11*float64(away))
		for _, c := range []Point{
			{X: foot.X - h/2, Y: foot.Y - stem - h}, {X: foot.X - w + h/2, Y: foot.Y - stem - h},
			{X: foot.X - h/2, Y: foot.Y + stem}, {X: foot.X - w + h/2, Y: foot.Y + stem},
			{X: foot.X + stem, Y: foot.Y - h/2}, {X: foot.X - stem - w, Y: foot.Y - h/2},
			{X: foot.X + stem, Y: foot.Y - stem - h/2}, {X: foot.X - stem - w, Y: foot.Y - stem - h/2},
			{X: foot.X + stem, Y: foot.Y + stem - h/2}, {X: foot.X - stem - w, Y: foot.Y + stem - h/2},
		} {
			b := Box{c, Point{X: c.X + w, Y: c.Y + h}}
			if allowed != nil && !allowed(foot, b) {
				continue
			}
			cost := 0.15 * h * h * float64(away)
			stem := boxAround([]Point{foot, nearest(b, foot)}).Grow(0.05)
			for _, t := range taken {
				cost += overlap(t, b) + overlap(t, stem)
			}
			s := v.sh.bounds
			if b.Min.X < s.Min.X || b.Min.Y < s.Min.Y || b.Max.X > s.Max.X || b.Max.Y > s.Max.Y {
				cost += w * h
			}
			if cost < best {
				best, place = cost, b
			}
		}
	}
	return place, best
}

// nearest point of a flag to its foot, not quite at a corner.
func nearest(box Box, foot Point) Point {
	round := 0.2 * box.Height()
	return Point{X: min(max(foot.X, box.Min.X+round), box.Max.X-round), Y: min(max(foot.Y, box.Min.Y), box.Max.Y)}
}

// pinPicture is what kind of finding it is, within a radius.
func (v *view) pinPicture(mid Point, r float64, kind PinKind, ink color.NRGBA) {
	w := max(v.look.dp(1.3), r*0.16)
	style := Style{Stroke: ink, Width: w}
	at := func(x, y float64) Point { return Point{X: mid.X + r*x, Y: mid.Y + r*y} }
	line := func(points ...Point) { v.s.Poly(points, false, style) }
	switch kind {
	case HissPin, QuietPin: // air from a hole
		v.s.Poly(arc(at(-0.8, 0), r*0.22, 0, 2*math.Pi), true, Style{Fill: ink})
		for _, a := range []float64{-0.5, 0, 0.5} {
			sin, cos := math.Sincos(a)
			line(at(-0.8+0.55*cos, 0.55*sin), at(-0.8+1.7*cos, 1.7*sin))
		}
		if kind == QuietPin {
			line(at(-0.8, 0.9), at(0.8, -0.9))
		}
	case GaugePin:
		v.s.Poly(arc(mid, r*0.95, 0, 2*math.Pi), true, style)
		line(mid, at(0.5, -0.55))
	case TimePin:
		v.s.Poly(arc(at(0, 0.12), r*0.85, 0, 2*math.Pi), true, style)
		line(at(0, 0.12), at(0, -0.4))
		line(at(0, 0.12), at(0.4, 0.3))
		line(at(-0.3, -1), at(0.3, -1))
	case LampPin:
		v.s.Poly(arc(mid, r*0.9, 0, 2*math.Pi), true, style)
		line(at(-0.6, -0.6), at(0.6, 0.6))
		line(at(-0.6, 0.6), at(0.6, -0.6))
	case CheckPin:
		line(at(-0.75, 0.05), at(-0.2, 0.65), at(0.8, -0.6))
	case BubblePin:
		for _, b := range [][3]float64{{-0.35, 0.35, 0.5}, {0.45, 0.1, 0.36}, {-0.1, -0.6, 0.3}} {
			v.s.Poly(arc(at(b[0], b[1]), r*b[2], 0, 2*math.Pi), true, style)
		}
	case HotPin: // a thermometer
		line(at(0, -0.95), at(0, 0.3))
		v.s.Poly(arc(at(0, 0.55), r*0.36, 0, 2*math.Pi), true, Style{Fill: ink})
		line(at(0.35, -0.7), at(0.7, -0.7))
		line(at(0.35, -0.25), at(0.7, -0.25))
	case WetPin, OilPin: // a drop, empty or filled
		drop := []Point{at(0, -0.95)}
		drop = append(drop, arc(at(0, 0.3), r*0.6, -0.35, math.Pi+0.35)...)
		if kind == OilPin {
			v.s.Poly(drop, true, Style{Fill: ink})
		} else {
			v.s.Poly(drop, true, style)
		}
	case StrokePin: // a travel between two ends
		line(at(-0.9, -0.6), at(-0.9, 0.6))
		line(at(0.9, -0.6), at(0.9, 0.6))
		line(at(-0.6, 0), at(0.6, 0))
		line(at(0.25, -0.3), at(0.6, 0), at(0.25, 0.3))
	default:
		for _, y := range []float64{-0.55, 0, 0.55} {
			line(at(-0.7, y), at(0.7, y))
		}
	}
}
