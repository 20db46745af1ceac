package symbol

import "math"

// Kinds that make, limit and dry the air.
var supplyDrawings = map[string]Drawing{
	"compressor": {
		Width: 10, Height: 10,
		Ports: map[string][]Port{"0": leftSide(5), "2": rightSide(5, 10), "4": top(5)},
		Rest:  map[string]float64{"pump": 1},
		Paint: paintCompressor,
	},
	"governor": {
		Width: 8, Height: 8,
		Ports: map[string][]Port{"1": rightSide(5, 8), "2": leftSide(5), "3": bottom(4, 8)},
		Rest:  map[string]float64{"exhaust": 1},
		Paint: paintGovernor,
	},
	"air-dryer": {
		Width: 10, Height: 12,
		Ports: map[string][]Port{"1": leftSide(5), "2": rightSide(5, 10), "3": bottom(5, 12), "4": leftSide(10)},
		Rest:  map[string]float64{},
		Paint: paintDryer,
	},
	"relief-valve": {
		Width: 6, Height: 6,
		Ports: map[string][]Port{"1": top(3), "3": bottom(3, 6)},
		Paint: paintRelief,
	},
}

// Energy conversion: the large circle, with the open triangle of a gas machine pointing to the delivery, and the double
// line of its drive.
func paintCompressor(p *pen) {
	mid := Point{X: 5, Y: 5}
	p.link(Point{X: 5, Y: 9}, Point{X: 5, Y: 10}, 0.8)
	p.stroke(medium, Point{X: 4, Y: 9.9}, Point{X: 6, Y: 9.9})
	p.duct("head", Point{X: 9, Y: 5}, Point{X: 10, Y: 5})
	p.pilot("4", Point{X: 5, Y: 0}, Point{X: 5, Y: 1})
	p.vent("0", true)
	p.circle(mid, 4)
	triangle := []Point{{X: 8.7, Y: 5}, {X: 5.3, Y: 3}, {X: 5.3, Y: 7}}
	if p.state.On {
		p.poly(triangle, true, Style{Fill: p.airColor("head"), Stroke: p.ink, Width: p.width(medium)})
	} else {
		p.shape(triangle...)
	}
	// The unloader: a plunger that holds the intake valve off while there is air on it.
	lift := 0.0
	if pa := p.pressure("4"); !math.IsNaN(pa) {
		lift = fullness(pa)
	}
	y := 2.4 + 0.9*lift
	p.stroke(thin, Point{X: 5, Y: 1}, Point{X: 5, Y: y})
	p.stroke(medium, Point{X: 3.9, Y: y}, Point{X: 6.1, Y: y})
}

// A three-way valve worked by its own inlet against a spring that can be set.
func paintGovernor(p *pen) {
	p.body(Point{X: 1.2, Y: 2.6}, Point{X: 6.8, Y: 7})
	p.spring(Point{X: 4, Y: 2.6}, Point{X: 4, Y: 0.2}, 3, 0.8, thin)
	p.arrow(Point{X: 2.7, Y: 2.3}, Point{X: 5.4, Y: 0.3})
	p.pilot("1", Point{X: 7.5, Y: 5}, Point{X: 7.5, Y: 3.4}, Point{X: 6.8, Y: 3.4})
	p.duct("1", Point{X: 8, Y: 5}, Point{X: 6.6, Y: 5})
	p.way("inlet", "1", "2", Point{X: 6.6, Y: 5}, Point{X: 4, Y: 5})
	p.duct("2", Point{X: 4, Y: 5}, Point{X: 0, Y: 5})
	p.way("exhaust", "2", "atmosphere", Point{X: 4, Y: 5}, Point{X: 4, Y: 7})
	p.vent("3", false)
}

// Conditioning: the diamond, its dashed filter, the bed's grains, and a sump that the purge valve opens. The outlet check
// sits on the right, the purge valve below, worked by the pilot line.
func paintDryer(p *pen) {
	p.duct("1", Point{X: 0, Y: 5}, Point{X: 0.6, Y: 5})
	p.shape(Point{X: 0.5, Y: 5}, Point{X: 4.75, Y: 0.75}, Point{X: 9, Y: 5}, Point{X: 4.75, Y: 9.25})
	p.fill(p.air("purge"), Point{X: 2.1, Y: 3.7}, Point{X: 4.75, Y: 1.05}, Point{X: 7.4, Y: 3.7})
	p.stroke(thin, Point{X: 1.8, Y: 3.7}, Point{X: 7.7, Y: 3.7})
	p.stroke(thin, Point{X: 2.4, Y: 6.9}, Point{X: 7.1, Y: 6.9})
	for i, x := range []float64{2.6, 3.7, 4.8, 5.9, 7} {
		p.disc(p.ink, Point{X: x, Y: 4.6}, 0.17)
		if i < 4 {
			p.disc(p.ink, Point{X: x + 0.55, Y: 5.3}, 0.17)
		}
		p.disc(p.ink, Point{X: x, Y: 6}, 0.17)
	}
	p.duct("2", Point{X: 9, Y: 5}, Point{X: 10, Y: 5})
	p.ball("outlet check", Point{X: 8.75, Y: 5}, Point{X: 1}, 0.42)
	p.way("purge valve", "1", "atmosphere", Point{X: 4.75, Y: 9.25}, Point{X: 4.75, Y: 11})
	p.pilot("4", Point{X: 0, Y: 10}, Point{X: 3.6, Y: 10})
	p.solid(Point{X: 4.1, Y: 10}, Point{X: 3.4, Y: 9.6}, Point{X: 3.4, Y: 10.4})
	p.vent("3", false)
}

// A single way held shut by a spring that can be set, opened by the pressure before it.
func paintRelief(p *pen) {
	p.body(Point{X: 1.2, Y: 1}, Point{X: 4.8, Y: 5})
	p.duct("1", Point{X: 3, Y: 0}, Point{X: 3, Y: 1.2})
	p.pilot("1", Point{X: 3, Y: 0.5}, Point{X: 0.5, Y: 0.5}, Point{X: 0.5, Y: 3}, Point{X: 1.2, Y: 3})
	p.way("seat", "1", "atmosphere", Point{X: 3, Y: 1.2}, Point{X: 3, Y: 5})
	p.spring(Point{X: 4.8, Y: 3}, Point{X: 6, Y: 3}, 2, 0.7, thin)
	p.vent("3", false)
}
