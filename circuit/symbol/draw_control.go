package symbol

import (
	"image/color"
	"math"

	"airpath/circuit"
)

// Kinds that send the air to the brakes and let it go again. What works a valve is drawn outside its body and tells it
// from the others: a pedal, a knob, a diaphragm under a control line, or nothing but the air itself.
var controlDrawings = map[string]Drawing{
	"foot-valve": {
		Width: 14, Height: 10,
		Ports: map[string][]Port{"11": bottom(5, 10), "12": bottom(11, 10), "21": top(5), "22": rightSide(3, 14), "3": bottom(8, 10)},
		Rest:  map[string]float64{"primary exhaust": 1, "secondary exhaust": 1},
		Paint: paintFootValve,
	},
	"park-control": {
		Width: 10, Height: 8,
		Ports: map[string][]Port{"1": bottom(6, 8), "2": rightSide(4, 10), "3": top(6)},
		Rest:  map[string]float64{"exhaust": 1},
		Paint: paintParkControl,
	},
	"relay-valve": {
		Width: 10, Height: 8,
		Ports: map[string][]Port{
			"1": top(2), "4": top(6), "21": leftSide(5), "22": rightSide(5, 10), "3": bottom(6, 8), "23": bottom(2, 8),
		},
		Rest:  map[string]float64{"exhaust seat": 1},
		Paint: paintRelay,
	},
	"quick-release-valve": {
		Width: 8, Height: 8,
		Ports: map[string][]Port{"1": top(4), "21": leftSide(4), "22": rightSide(4, 8), "3": bottom(4, 8), "23": bottom(7, 8)},
		Rest:  map[string]float64{"exhaust": 1},
		Paint: paintQuickRelease,
	},
	"double-check-valve": {
		Width: 8, Height: 6,
		Ports: map[string][]Port{"11": leftSide(4), "12": rightSide(4, 8), "2": top(4)},
		Rest:  map[string]float64{"first seat": 1, "second seat": 1},
		Paint: paintDoubleCheck,
	},
}

// Two valves side by side under one pedal, each let out through the hollow middle that both share.
func paintFootValve(p *pen) {
	p.body(Point{X: 3, Y: 1}, Point{X: 13, Y: 9})
	// The pedal, hinged below, and the double line of its push.
	swing := 0.28 * p.state.Control
	hinge := Point{X: 0.6, Y: 8.2}
	sin, cos := math.Sincos(-0.16 + swing)
	toe := Point{X: hinge.X + 6.4*sin, Y: hinge.Y - 6.4*cos}
	push := Point{X: hinge.X + 3.6*sin, Y: hinge.Y - 3.6*cos}
	push.X = max(push.X, 0.4)
	toe.X = max(toe.X, 0.3)
	p.link(Point{X: push.X, Y: 4.7}, Point{X: 3, Y: 4.7}, 0.7)
	p.stroke(heavy, hinge, toe)
	p.disc(p.ink, hinge, 0.42)
	// The hollow middle.
	p.stroke(thin, Point{X: 8, Y: 1}, Point{X: 8, Y: 2.2})
	p.poly(corners(Point{X: 7.3, Y: 2.4}, Point{X: 8.7, Y: 9}), true, Style{Fill: p.airShade(circuit.Atmosphere), Stroke: p.ink, Width: p.width(thin)})
	valve := func(x, side float64, supply, delivery, inlet, exhaust string) {
		p.duct(supply, Point{X: x, Y: 10}, Point{X: x, Y: 8})
		p.way(inlet, supply, delivery, Point{X: x, Y: 8}, Point{X: x, Y: 3})
		p.way(exhaust, delivery, circuit.Atmosphere, Point{X: x, Y: 3}, Point{X: 8 - side*0.7, Y: 3})
	}
	valve(5, 1, "11", "21", "primary inlet", "primary exhaust")
	valve(11, -1, "12", "22", "secondary inlet", "secondary exhaust")
	p.duct("21", Point{X: 5, Y: 3}, Point{X: 5, Y: 0})
	p.duct("22", Point{X: 11, Y: 3}, Point{X: 14, Y: 3})
	p.vent("3", false)
}

// airShade is the inside of something that is open to the atmosphere.
func (p *pen) airShade(room string) color.NRGBA {
	if room == circuit.Atmosphere {
		return p.look.Palette.Paper
	}
	return p.air(room)
}

// A three-way valve with a knob to push and pull.
func paintParkControl(p *pen) {
	p.body(Point{X: 3, Y: 1}, Point{X: 9, Y: 7})
	in := 1.1 * p.state.Control
	p.link(Point{X: 1 + in, Y: 4}, Point{X: 3, Y: 4}, 0.7)
	p.shape(Point{X: 0.3 + in, Y: 2.4}, Point{X: 1.1 + in, Y: 2.4}, Point{X: 1.1 + in, Y: 5.6}, Point{X: 0.3 + in, Y: 5.6})
	p.duct("1", Point{X: 6, Y: 8}, Point{X: 6, Y: 6.8})
	p.way("inlet", "1", "2", Point{X: 6, Y: 6.8}, Point{X: 6, Y: 4})
	p.way("exhaust", "2", circuit.Atmosphere, Point{X: 6, Y: 4}, Point{X: 6, Y: 1})
	p.duct("2", Point{X: 6, Y: 4}, Point{X: 10, Y: 4})
	p.vent("3", false)
}

// A wide diaphragm under the control port, over a delivery that is filled from the supply beside it or emptied below.
func paintRelay(p *pen) {
	p.body(Point{X: 1, Y: 2.4}, Point{X: 9, Y: 7})
	// The relay's head: wider than any other valve's, that is what tells it.
	p.shape(Point{X: 3.2, Y: 2.4}, Point{X: 3.2, Y: 1.5}, Point{X: 4.2, Y: 0.8}, Point{X: 7.8, Y: 0.8}, Point{X: 8.8, Y: 1.5}, Point{X: 8.8, Y: 2.4})
	if c := p.air("4"); c != p.body_ {
		p.fill(c, Point{X: 3.35, Y: 2.25}, Point{X: 3.35, Y: 1.6}, Point{X: 4.3, Y: 0.95}, Point{X: 7.7, Y: 0.95}, Point{X: 8.65, Y: 1.6}, Point{X: 8.65, Y: 2.25})
	}
	p.pilot("4", Point{X: 6, Y: 0}, Point{X: 6, Y: 1.6})
	sag := 0.5 * p.open("inlet seat")
	p.stroke(thick, Point{X: 3.4, Y: 2.4}, Point{X: 4.4, Y: 2.4 + sag}, Point{X: 7.6, Y: 2.4 + sag}, Point{X: 8.6, Y: 2.4})
	p.stroke(thin, Point{X: 6, Y: 2.4 + sag}, Point{X: 6, Y: 5})
	p.duct("2", Point{X: 0, Y: 5}, Point{X: 10, Y: 5})
	p.duct("1", Point{X: 2, Y: 0}, Point{X: 2, Y: 2.6})
	p.way("inlet seat", "1", "2", Point{X: 2, Y: 2.6}, Point{X: 2, Y: 5})
	p.way("exhaust seat", "2", circuit.Atmosphere, Point{X: 6, Y: 5}, Point{X: 6, Y: 7})
	p.spare("23", "2", Point{X: 2, Y: 7}, Point{X: 2, Y: 8})
	p.vent("3", false)
}

// spare is the stub of a port that may be plugged: with a line it is a duct, without it stays off.
func (p *pen) spare(port, room string, from, to Point) {
	if _, used := p.ports[port]; used {
		p.duct(room, from, to)
	}
}

// A soft disc in a round body: pressed down by the supply it shuts the exhaust and lets air past its rim; lifted by the
// brakes' air it opens it.
func paintQuickRelease(p *pen) {
	mid := Point{X: 4, Y: 4}
	p.shape(Point{X: 2.6, Y: 1}, Point{X: 5.4, Y: 1}, Point{X: 7, Y: 2.6}, Point{X: 7, Y: 5.4}, Point{X: 5.4, Y: 7}, Point{X: 2.6, Y: 7}, Point{X: 1, Y: 5.4}, Point{X: 1, Y: 2.6})
	p.duct("1", Point{X: 4, Y: 0}, Point{X: 4, Y: 2})
	p.duct("2", Point{X: 0, Y: 4}, Point{X: 1.6, Y: 4})
	p.duct("2", Point{X: 6.4, Y: 4}, Point{X: 8, Y: 4})
	exhausting := p.open("exhaust") > openEnough
	filling := p.open("inlet") > openEnough
	rim, crown := 4.2, 3.5 // the disc at rest: an umbrella
	switch {
	case filling:
		rim, crown = 4.9, 5.1
	case exhausting:
		rim, crown = 3.5, 2.5
	}
	delivery, exhaust := p.airColor("2"), p.airColor(circuit.Atmosphere)
	w := p.airWidth("2")
	side := func(s float64) {
		x := mid.X + s*2.4
		switch {
		case filling:
			p.poly([]Point{{X: mid.X, Y: 2}, {X: mid.X + s*1.2, Y: 3}, {X: x, Y: 4}}, false, Style{Stroke: p.airColor("1"), Width: p.airWidth("1")})
		case exhausting:
			p.poly([]Point{{X: x, Y: 4}, {X: mid.X + s*1.2, Y: 5}, {X: mid.X, Y: 6}}, false, Style{Stroke: delivery, Width: w})
		}
	}
	side(-1)
	side(1)
	// The exhaust seat: two lips around the hole below.
	p.stroke(medium, Point{X: 3.2, Y: 5.4}, Point{X: 3.2, Y: 7})
	p.stroke(medium, Point{X: 4.8, Y: 5.4}, Point{X: 4.8, Y: 7})
	p.poly([]Point{{X: 4, Y: 6}, {X: 4, Y: 7}}, false, Style{Stroke: exhaust, Width: p.airWidth(circuit.Atmosphere)})
	p.stroke(heavy, Point{X: 1.9, Y: rim}, Point{X: 2.9, Y: (rim + crown*2) / 3}, Point{X: 4, Y: crown}, Point{X: 5.1, Y: (rim + crown*2) / 3}, Point{X: 6.1, Y: rim})
	p.spare("23", "2", Point{X: 7, Y: 5.4}, Point{X: 7, Y: 8})
	p.vent("3", false)
}

// A ball between two seats: the higher inlet throws it over.
func paintDoubleCheck(p *pen) {
	p.body(Point{X: 1, Y: 2}, Point{X: 7, Y: 6})
	p.duct("11", Point{X: 0, Y: 4}, Point{X: 2, Y: 4})
	p.duct("12", Point{X: 8, Y: 4}, Point{X: 6, Y: 4})
	p.duct("2", Point{X: 4, Y: 3}, Point{X: 4, Y: 0})
	p.stroke(medium, Point{X: 3, Y: 2.7}, Point{X: 2, Y: 4}, Point{X: 3, Y: 5.3})
	p.stroke(medium, Point{X: 5, Y: 2.7}, Point{X: 6, Y: 4}, Point{X: 5, Y: 5.3})
	x := 4.0
	first, second := p.open("first seat") > openEnough, p.open("second seat") > openEnough
	switch {
	case first && !second:
		x = 4.95
	case second && !first:
		x = 3.05
	}
	p.poly(arc(Point{X: x, Y: 4}, 0.85, 0, 2*math.Pi), true, Style{Stroke: p.ink, Fill: p.body_, Width: p.width(medium)})
}
