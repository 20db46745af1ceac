package symbol

import "math"

// Kinds that only join lines, or give a gauge a place to be screwed on.
var plumbingDrawings = map[string]Drawing{
	"tee": {
		Width: 2, Height: 2, Minor: true,
		Ports: map[string][]Port{"a": teeSides(3), "b": teeSides(1), "c": teeSides(0)},
		Paint: func(p *pen) {
			mid := Point{X: 1, Y: 1}
			for _, port := range []string{"a", "b", "c"} {
				if place, ok := p.ports[port]; ok {
					p.duct("body", place.At, mid)
				}
			}
			p.disc(p.airColor("body"), mid, 0.5)
		},
	},
	"test-connection": {
		Width: 4, Height: 4, Minor: true,
		Ports: map[string][]Port{"1": onEverySide(4, 4)},
		Paint: paintTest,
	},
}

// teeSides are the four sides of a tee, beginning with one.
func teeSides(first int) []Port {
	s := onEverySide(2, 2)
	return append(append([]Port{}, s[first:]...), s[:first]...)
}

// A capped nipple: the line's end, a waist with a thread, and the cap across.
func paintTest(p *pen) {
	inner, used := p.lead("1", 1)
	out := Down
	if used {
		out = p.ports["1"].Out
	} else {
		inner = Point{X: 2, Y: 3}
	}
	o := out.Step()
	at := func(t, side float64) Point { // t away from the line
		return Point{X: inner.X - o.X*t - o.Y*side, Y: inner.Y - o.Y*t + o.X*side}
	}
	p.shape(at(0, 0.9), at(0.9, 0.9), at(0.9, -0.9), at(0, -0.9))
	p.stroke(thin, at(0.45, 0.9), at(0.45, -0.9))
	mid := at(1.35, 0)
	p.poly(arc(mid, 0.62, 0, 2*math.Pi), true, Style{Stroke: p.ink, Fill: p.body_, Width: p.width(medium)})
	p.disc(p.ink, mid, 0.2)
}
