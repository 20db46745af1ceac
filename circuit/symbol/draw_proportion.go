package symbol

import "airpath/circuit"

// Kinds that change, on the way to the brakes, how much of the air gets there.
var proportionDrawings = map[string]Drawing{
	"limiting-valve": {
		Width: 8, Height: 8,
		Ports: map[string][]Port{"1": leftSide(4), "2": rightSide(4, 8)},
		Rest:  map[string]float64{"inlet": 1},
		Paint: func(p *pen) {
			paintThrottled(p, "inlet")
			p.pilot("2", Point{X: 7.5, Y: 4}, Point{X: 7.5, Y: 7.2}, Point{X: 4, Y: 7.2}, Point{X: 4, Y: 6})
			p.arrow(Point{X: 2.6, Y: 1.9}, Point{X: 5.6, Y: 0.4})
		},
	},
	"ratio-valve": {
		Width: 8, Height: 8,
		Ports: map[string][]Port{"1": leftSide(4), "2": rightSide(4, 8), "3": bottom(5, 8)},
		Rest:  map[string]float64{"exhaust": 1},
		Paint: paintRatio,
	},
	"spring-brake-valve": {
		Width: 12, Height: 8,
		Ports: map[string][]Port{"1": leftSide(5), "2": rightSide(5, 12), "3": bottom(8, 8), "41": top(4), "42": top(8)},
		Rest:  map[string]float64{"inlet": 1},
		Paint: paintSpringValve,
	},
	"anti-lock-modulator": {
		Width: 8, Height: 8,
		Ports: map[string][]Port{"1": leftSide(4), "2": rightSide(4, 8), "3": bottom(5, 8)},
		Rest:  map[string]float64{"inlet": 1},
		Paint: func(p *pen) {
			paintThreeWay(p, "inlet", "exhaust", "2")
			for _, x := range []float64{1.4, 4.6} { // the two magnets
				p.body(Point{X: x, Y: 0.3}, Point{X: x + 2, Y: 2})
				p.stroke(thin, Point{X: x + 0.5, Y: 2}, Point{X: x + 1.5, Y: 0.3})
			}
		},
	},
}

// paintThreeWay is a square with a way in from the left, a way out below, and the delivery to the right.
func paintThreeWay(p *pen, inlet, exhaust, delivery string) {
	p.body(Point{X: 1, Y: 2}, Point{X: 7, Y: 7})
	p.duct("1", Point{X: 0, Y: 4}, Point{X: 1.4, Y: 4})
	p.way(inlet, "1", delivery, Point{X: 1.4, Y: 4}, Point{X: 5, Y: 4})
	p.way(exhaust, delivery, circuit.Atmosphere, Point{X: 5, Y: 4}, Point{X: 5, Y: 7})
	p.duct(delivery, Point{X: 5, Y: 4}, Point{X: 8, Y: 4})
	p.vent("3", false)
}

// A stepped piston over a three-way valve: the wide end under the delivery, the narrow one under what comes in.
func paintRatio(p *pen) {
	paintThreeWay(p, "inlet", "exhaust", "2")
	p.shape(Point{X: 2.2, Y: 0.3}, Point{X: 5.8, Y: 0.3}, Point{X: 5.8, Y: 1.1}, Point{X: 4.8, Y: 1.1}, Point{X: 4.8, Y: 2},
		Point{X: 3.2, Y: 2}, Point{X: 3.2, Y: 1.1}, Point{X: 2.2, Y: 1.1})
}

// A piston between two controls, over a valve that gives and takes the springs' air.
func paintSpringValve(p *pen) {
	p.body(Point{X: 1, Y: 2.4}, Point{X: 11, Y: 7})
	p.shape(Point{X: 2.6, Y: 2.4}, Point{X: 2.6, Y: 0.9}, Point{X: 9.4, Y: 0.9}, Point{X: 9.4, Y: 2.4})
	p.stroke(heavy, Point{X: 6, Y: 1.1}, Point{X: 6, Y: 2.4})
	p.stroke(medium, Point{X: 6, Y: 2.4}, Point{X: 6, Y: 3.4})
	p.pilot("41", Point{X: 4, Y: 0}, Point{X: 4, Y: 1.9})
	p.pilot("42", Point{X: 8, Y: 0}, Point{X: 8, Y: 1.9})
	p.duct("1", Point{X: 0, Y: 5}, Point{X: 2.4, Y: 5})
	p.way("inlet", "1", "2", Point{X: 2.4, Y: 5}, Point{X: 8, Y: 5})
	p.way("exhaust", "2", circuit.Atmosphere, Point{X: 8, Y: 5}, Point{X: 8, Y: 7})
	p.duct("2", Point{X: 8, Y: 5}, Point{X: 12, Y: 5})
	p.vent("3", false)
}
