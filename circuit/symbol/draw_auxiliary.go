package symbol

// Kinds that use air for something else than braking.
var auxiliaryDrawings = map[string]Drawing{
	"levelling-valve": {
		Width: 8, Height: 8,
		Ports: map[string][]Port{"1": leftSide(4), "21": top(6), "22": rightSide(4, 8), "3": bottom(5, 8)},
		Paint: func(p *pen) {
			paintThreeWay(p, "inlet", "exhaust", "2")
			if _, used := p.ports["21"]; used {
				p.duct("2", Point{X: 6, Y: 0}, Point{X: 6, Y: 4})
			}
			// The arm to the axle.
			p.link(Point{X: 3, Y: 1.1}, Point{X: 3, Y: 2}, 0.6)
			p.stroke(thick, Point{X: 3, Y: 1.1}, Point{X: 0.7, Y: 0.6})
			p.disc(p.ink, Point{X: 3, Y: 1.1}, 0.4)
			p.circle(Point{X: 0.7, Y: 0.6}, 0.35)
		},
	},
	"bellows": {
		Width: 8, Height: 8, Handed: true,
		Ports: map[string][]Port{"1": leftSide(4)},
		Paint: paintBellows,
	},
	"auxiliary-consumer": {
		Width: 6, Height: 6,
		Ports: map[string][]Port{"1": leftSide(3), "3": rightSide(3, 6)},
		Paint: paintConsumer,
	},
	"plug": {
		Width: 2, Height: 2, Minor: true,
		Ports: map[string][]Port{"1": onEverySide(2, 2)},
		Paint: func(p *pen) {
			if place, ok := p.ports["1"]; ok {
				p.duct("1", place.At, Point{X: 1, Y: 1})
			}
			p.stroke(medium, Point{X: 0.4, Y: 0.4}, Point{X: 1.6, Y: 1.6})
			p.stroke(medium, Point{X: 0.4, Y: 1.6}, Point{X: 1.6, Y: 0.4})
		},
	},
}

// A bag with three folds between two plates; it stands the taller the more it holds.
func paintBellows(p *pen) {
	var left, right []Point
	for _, y := range []float64{1.2, 3.2, 5.2} {
		left = append(left, Point{X: 2.4, Y: y}, Point{X: 1.5, Y: y + 0.5}, Point{X: 1.5, Y: y + 1.3}, Point{X: 2.4, Y: y + 1.8})
		right = append(right, Point{X: 5.6, Y: y}, Point{X: 6.5, Y: y + 0.5}, Point{X: 6.5, Y: y + 1.3}, Point{X: 5.6, Y: y + 1.8})
	}
	outline := append([]Point{}, left...)
	for i := len(right) - 1; i >= 0; i-- {
		outline = append(outline, right[i])
	}
	p.duct("1", Point{X: 0, Y: 4}, Point{X: 1.6, Y: 4})
	p.shape(outline...)
	if c := p.air("1"); c != p.body_ {
		p.poly(outline, true, Style{Fill: c, Stroke: p.ink, Width: p.width(medium)})
	}
	p.stroke(heavy, Point{X: 1.8, Y: 0.9}, Point{X: 6.2, Y: 0.9})
	p.stroke(heavy, Point{X: 1.8, Y: 7.3}, Point{X: 6.2, Y: 7.3})
}

// A large circle that takes air in and gives motion or noise: the solid triangle points inwards.
func paintConsumer(p *pen) {
	mid := Point{X: 3, Y: 3}
	p.duct("1", Point{X: 0, Y: 3}, Point{X: 1, Y: 3})
	p.circle(mid, 2)
	if c := p.air("1"); c != p.body_ {
		p.disc(c, mid, 1.8)
	}
	p.shape(Point{X: 1.2, Y: 2}, Point{X: 2.8, Y: 3}, Point{X: 1.2, Y: 4})
	if p.open("use") > openEnough || p.state.Control > openEnough {
		p.solid(Point{X: 1.2, Y: 2}, Point{X: 2.8, Y: 3}, Point{X: 1.2, Y: 4})
		p.arrow(Point{X: 3.2, Y: 3}, Point{X: 4.9, Y: 3})
	}
	p.vent("3", false)
}
