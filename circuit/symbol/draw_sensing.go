package symbol

import (
	"math"

	"airpath/circuit"
)

// Kinds that tell the driver.
var sensingDrawings = map[string]Drawing{
	"gauge": {
		Width: 8, Height: 8, Dial: true,
		Ports: map[string][]Port{"1": onEverySide(8, 8)},
		Paint: paintGauge,
	},
	"pressure-switch": {
		Width: 6, Height: 6,
		Ports: map[string][]Port{"1": onEverySide(6, 6), "e": otherSides(6, 6)},
		Paint: func(p *pen) { paintSwitch(p, false) },
	},
	"stop-lamp-switch": {
		Width: 6, Height: 6,
		Ports: map[string][]Port{"1": onEverySide(6, 6), "e": otherSides(6, 6)},
		Paint: func(p *pen) { paintSwitch(p, true) },
	},
	"lamp": {
		Width: 6, Height: 6,
		Ports: map[string][]Port{"e1": onEverySide(6, 6), "e2": onEverySide(6, 6), "e3": onEverySide(6, 6)},
		Paint: paintLamp,
	},
	"buzzer": {
		Width: 6, Height: 6,
		Ports: map[string][]Port{"e1": onEverySide(6, 6)},
		Paint: paintBuzzer,
	},
}

// otherSides are the places of a second port: the right side first.
func otherSides(w, h float64) []Port {
	s := onEverySide(w, h)
	return []Port{s[1], s[3], s[2], s[0]}
}

// lead draws a port's stub from the border to a body whose edge is inset deep.
func (p *pen) lead(port string, inset float64) (inner Point, used bool) {
	place, ok := p.ports[port]
	if !ok {
		return Point{}, false
	}
	o := place.Out.Step()
	inner = Point{X: place.At.X - o.X*inset, Y: place.At.Y - o.Y*inset}
	spec, _ := p.comp.Kind.Port(port)
	if spec.Medium == circuit.Air {
		p.duct(spec.Room, place.At, inner)
	} else {
		c := p.look.Palette.Wire
		if p.grey {
			c = p.look.Palette.Cleared
		}
		p.poly([]Point{place.At, inner}, false, Style{Stroke: c, Width: p.width(thin)})
	}
	return inner, true
}

// The three-quarter circle of an instrument, with a scale of three quarters of a turn and a needle. The dial stays upright.
func paintGauge(p *pen) {
	p.lead("1", 1)
	mid := Point{X: 4, Y: 4}
	p.circle(mid, 3)
	const from, sweep = math.Pi * 0.75, math.Pi * 1.5
	center := p.at(mid)
	rim := func(t, r float64) Point {
		sin, cos := math.Sincos(from + t*sweep)
		return Point{X: center.X + r*cos, Y: center.Y + r*sin}
	}
	style := Style{Stroke: p.ink, Width: p.width(thin)}
	for i := range 6 {
		p.surface.Poly([]Point{rim(float64(i)/5, 2.2), rim(float64(i)/5, 2.65)}, false, style)
	}
	full := p.comp.Value("full_scale") - circuit.AtmospherePressure
	shown := p.state.Needle
	if shown == 0 {
		shown = p.pressure("1")
	}
	t, needle := 0.0, p.faint // a pale needle at nothing: not known
	if !math.IsNaN(shown) && full > 0 {
		needle = p.ink
		t = min(1.04, max(0, (shown-circuit.AtmospherePressure)/full))
	}
	p.surface.Poly([]Point{rim(t, -0.5), rim(t, 2.1)}, false, Style{Stroke: needle, Width: p.width(thick)})
	p.surface.Poly(arc(center, 0.42, 0, 2*math.Pi), true, Style{Fill: needle})
	if !math.IsNaN(shown) && p.look.detail() == Full {
		p.text(Point{X: 4, Y: 5.9}, p.look.pressureNumber(shown), min(p.look.text(smallType), 1.5), true, p.ink)
	}
}

// A square control component with a contact. The arrow tells whether it closes on rising or on falling pressure.
func paintSwitch(p *pen, rising bool) {
	p.lead("1", 1)
	p.lead("e", 1)
	p.body(Point{X: 1, Y: 1}, Point{X: 5, Y: 5})
	// The contact stays upright: two studs and a blade.
	origin := p.at(Point{X: 3, Y: 3})
	at := func(x, y float64) Point { return Point{X: origin.X + x, Y: origin.Y + y} }
	style := Style{Stroke: p.ink, Width: p.width(medium)}
	blade := at(0.75, -0.75)
	if p.state.On {
		blade = at(1.05, 0.25)
	}
	p.surface.Poly([]Point{at(-1.05, 0.25), blade}, false, style)
	for _, x := range []float64{-1.05, 1.05} {
		p.surface.Poly(arc(at(x, 0.25), 0.3, 0, 2*math.Pi), true, Style{Fill: p.ink})
	}
	tip, tail := at(0, 1.45), at(0, 0.75)
	if rising {
		tip, tail = tail, tip
	}
	spread := (tip.Y - tail.Y) * 0.85
	p.surface.Poly([]Point{{X: tip.X - 0.5, Y: tip.Y - spread}, tip, {X: tip.X + 0.5, Y: tip.Y - spread}}, false, Style{Stroke: p.ink, Width: p.width(thin)})
}

// A circle with a cross; lit, it is filled and rayed.
func paintLamp(p *pen) {
	for _, port := range []string{"e1", "e2", "e3"} {
		p.lead(port, 1)
	}
	mid := Point{X: 3, Y: 3}
	const r = 2
	fill := p.body_
	if p.state.On {
		fill = p.look.Palette.Lamp
		for i := range 8 {
			sin, cos := math.Sincos(math.Pi/8 + float64(i)*math.Pi/4)
			p.poly([]Point{{X: 3 + 2.35*cos, Y: 3 + 2.35*sin}, {X: 3 + 2.9*cos, Y: 3 + 2.9*sin}}, false, Style{Stroke: p.look.Palette.Lamp, Width: p.width(medium)})
		}
	}
	p.poly(arc(mid, r, 0, 2*math.Pi), true, Style{Stroke: p.ink, Fill: fill, Width: p.width(medium)})
	d := r * math.Sqrt2 / 2
	p.stroke(medium, Point{X: 3 - d, Y: 3 - d}, Point{X: 3 + d, Y: 3 + d})
	p.stroke(medium, Point{X: 3 - d, Y: 3 + d}, Point{X: 3 + d, Y: 3 - d})
}

// A bell: half a circle on its flat side, with waves when it sounds.
func paintBuzzer(p *pen) {
	p.lead("e1", 1.4)
	origin := p.at(Point{X: 3, Y: 3})
	shift := func(points []Point) []Point {
		for i := range points {
			points[i] = Point{X: points[i].X + origin.X, Y: points[i].Y + origin.Y}
		}
		return points
	}
	fill := p.body_
	if p.state.On {
		fill = p.look.Palette.Lamp
	}
	dome := shift(arc(Point{Y: 1}, 2, math.Pi, 2*math.Pi))
	p.surface.Poly(dome, true, Style{Stroke: p.ink, Fill: fill, Width: p.width(medium)})
	p.surface.Poly(shift([]Point{{X: -2.4, Y: 1}, {X: 2.4, Y: 1}}), false, Style{Stroke: p.ink, Width: p.width(thick)})
	if p.state.On {
		for _, r := range []float64{2.5, 2.95} {
			p.surface.Poly(shift(arc(Point{Y: 1}, r, math.Pi*1.25, math.Pi*1.75)), false, Style{Stroke: p.ink, Width: p.width(thin)})
		}
	}
}
