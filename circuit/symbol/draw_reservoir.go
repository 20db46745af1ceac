package symbol

import "math"

// Kinds that keep air in a vessel of its own, and that keep it back for the brakes.
var reservoirDrawings = map[string]Drawing{
	"reservoir": {
		Width: 18, Height: 8,
		Ports: map[string][]Port{
			"11": leftSide(4), "21": rightSide(4, 18),
			"12": top(4), "22": top(7), "23": top(10), "24": top(14),
			"25": bottom(4, 8), "26": bottom(7, 8), "31": bottom(12, 8),
		},
		Inside: Box{Point{X: 2, Y: 5}, Point{X: 16, Y: 7.6}},
		Paint:  paintReservoir,
	},
	"pressure-protection-valve": {
		Width: 8, Height: 8,
		Ports: map[string][]Port{"1": leftSide(4), "2": rightSide(4, 8)},
		Paint: func(p *pen) {
			paintThrottled(p, "valve")
			p.pilot("1", Point{X: 0.5, Y: 4}, Point{X: 0.5, Y: 7.2}, Point{X: 4, Y: 7.2}, Point{X: 4, Y: 6})
		},
	},
}

// A reservoir: the capsule, tinted by its pressure.
func paintReservoir(p *pen) {
	const bulge = 2.6
	var shell []Point
	shell = append(shell, ellipse(Point{X: 18 - bulge, Y: 4}, bulge, 4, -math.Pi/2, math.Pi/2)...)
	shell = append(shell, ellipse(Point{X: bulge, Y: 4}, bulge, 4, math.Pi/2, 3*math.Pi/2)...)
	p.shape(shell...)
	if c := p.air("air"); c != p.body_ {
		p.poly(shell, true, Style{Fill: c, Stroke: p.ink, Width: p.width(medium)})
	}
	if pa := p.pressure("air"); !math.IsNaN(pa) {
		p.text(Point{X: 9, Y: 3.2}, p.look.pressureText(pa), p.look.text(normalType), true, p.look.Palette.on(p.air("air")))
	}
}

// paintThrottled is a valve that a spring works against a pressure: its one way in a square, the spring above.
func paintThrottled(p *pen, passage string) {
	p.body(Point{X: 1, Y: 2}, Point{X: 7, Y: 6})
	p.duct("1", Point{X: 0, Y: 4}, Point{X: 1.6, Y: 4})
	p.way(passage, "1", "2", Point{X: 1.6, Y: 4}, Point{X: 6.4, Y: 4})
	p.duct("2", Point{X: 6.4, Y: 4}, Point{X: 8, Y: 4})
	p.spring(Point{X: 4, Y: 0.3}, Point{X: 4, Y: 2}, 2, 0.7, thin)
	p.stroke(medium, Point{X: 3.2, Y: 0.3}, Point{X: 4.8, Y: 0.3})
}
