package symbol

import (
	"math"

	"airpath/circuit"
)

// Kinds that a trailer is worked and fed through.
var trailerDrawings = map[string]Drawing{
	"hand-control": {
		Width: 10, Height: 8,
		Ports: map[string][]Port{"1": bottom(6, 8), "2": rightSide(4, 10), "3": top(6)},
		Rest:  map[string]float64{"exhaust": 1},
		Paint: paintHandControl,
	},
	"trailer-supply-control": {
		Width: 10, Height: 8,
		Ports: map[string][]Port{"1": bottom(6, 8), "2": rightSide(4, 10), "3": top(6)},
		Rest:  map[string]float64{"exhaust": 1},
		Paint: paintTrailerSupply,
	},
	"tractor-protection-valve": {
		Width: 12, Height: 10,
		Ports: map[string][]Port{"1": leftSide(3), "21": rightSide(3, 12), "4": leftSide(7), "22": rightSide(7, 12), "3": bottom(8, 10)},
		Rest:  map[string]float64{"exhaust": 1},
		Paint: paintTractorProtection,
	},
	"gladhand": {
		Width: 6, Height: 6,
		Ports: map[string][]Port{"1": leftSide(3), "3": rightSide(3, 6)},
		Rest:  map[string]float64{"face": 1},
		Paint: paintGladhand,
	},
	"coupling": {
		Width: 14, Height: 12,
		Ports: map[string][]Port{"11": leftSide(3), "12": leftSide(8), "21": rightSide(3, 14), "22": rightSide(8, 14), "3": bottom(7, 12)},
		Rest:  map[string]float64{"supply joint": 1, "control joint": 1},
		Paint: paintCoupling,
	},
	"trailer-spring-valve": {
		Width: 12, Height: 10,
		Ports: map[string][]Port{"1": leftSide(5), "21": rightSide(3, 12), "22": rightSide(7, 12), "3": bottom(8, 10)},
		Paint: paintTrailerSpring,
	},
	"relay-emergency-valve": {
		Width: 14, Height: 10,
		Ports: map[string][]Port{
			"1": leftSide(8), "4": top(8), "20": bottom(4, 10), "21": leftSide(5), "22": rightSide(5, 14), "23": bottom(12, 10), "3": bottom(8, 10),
		},
		Rest:  map[string]float64{"inlet seat": 1},
		Paint: paintEmergency,
	},
}

// Half of a coupling. A workshop's hose on its face is the source of air in ISO 1219-1, a triangle that points into the line, behind a plate.
func paintGladhand(p *pen) {
	p.duct("1", Point{X: 0, Y: 3}, Point{X: 2.4, Y: 3})
	p.cup(Point{X: 4.6, Y: 3}, 1)
	switch {
	case p.state.Hose:
		p.stroke(heavy, Point{X: 4.7, Y: 1.3}, Point{X: 4.7, Y: 4.7})
		p.shape(Point{X: 4.9, Y: 3}, Point{X: 6, Y: 2.1}, Point{X: 6, Y: 3.9})
		return
	case p.state.Control > openEnough:
		p.stroke(heavy, Point{X: 4.2, Y: 1.6}, Point{X: 4.2, Y: 4.4})
	}
	p.vent("3", false)
}

// paintKnobValve is the body of a three-way valve worked from the left.
func paintKnobValve(p *pen) {
	p.body(Point{X: 3, Y: 1}, Point{X: 9, Y: 7})
	p.duct("1", Point{X: 6, Y: 8}, Point{X: 6, Y: 6.8})
	p.way("inlet", "1", "2", Point{X: 6, Y: 6.8}, Point{X: 6, Y: 4})
	p.way("exhaust", "2", circuit.Atmosphere, Point{X: 6, Y: 4}, Point{X: 6, Y: 1})
	p.duct("2", Point{X: 6, Y: 4}, Point{X: 10, Y: 4})
	p.vent("3", false)
}

// A lever, hinged below.
func paintHandControl(p *pen) {
	paintKnobValve(p)
	sin, cos := math.Sincos(-0.1 + 0.22*p.state.Control)
	hinge := Point{X: 1.2, Y: 6.9}
	at := func(r float64) Point { return Point{X: hinge.X + r*sin, Y: hinge.Y - r*cos} }
	push := at(2.9)
	p.link(Point{X: push.X, Y: 4}, Point{X: 3, Y: 4}, 0.7)
	p.stroke(thick, hinge, at(5.6))
	p.circle(at(5.8), 0.5)
	p.disc(p.ink, hinge, 0.4)
}

// The trailer's knob is eight-sided, so that it is not mistaken for the park's.
func paintTrailerSupply(p *pen) {
	paintKnobValve(p)
	mid := Point{X: 1.25 + 0.6*p.state.Control, Y: 4}
	p.link(Point{X: mid.X + 0.9, Y: 4}, Point{X: 3, Y: 4}, 0.7)
	var knob []Point
	for i := range 8 {
		sin, cos := math.Sincos(math.Pi/8 + float64(i)*math.Pi/4)
		knob = append(knob, Point{X: mid.X + 1.1*cos, Y: mid.Y + 1.1*sin})
	}
	p.shape(knob...)
}

// Two ways through one body, the upper one open for good and guarding the lower one.
func paintTractorProtection(p *pen) {
	p.body(Point{X: 1, Y: 1}, Point{X: 11, Y: 9})
	p.duct("1", Point{X: 0, Y: 3}, Point{X: 6, Y: 3})
	p.duct("21", Point{X: 6, Y: 3}, Point{X: 12, Y: 3})
	p.pilot("1", Point{X: 4.2, Y: 3}, Point{X: 4.2, Y: 5.9})
	p.duct("4", Point{X: 0, Y: 7}, Point{X: 2, Y: 7})
	p.way("service way", "4", "22", Point{X: 2, Y: 7}, Point{X: 8, Y: 7})
	p.way("exhaust", "22", circuit.Atmosphere, Point{X: 8, Y: 7}, Point{X: 8, Y: 9})
	p.duct("22", Point{X: 8, Y: 7}, Point{X: 12, Y: 7})
	p.vent("3", false)
}

// cup is one half of a coupling: a socket that is open to one side, 1 to the right and −1 to the left.
func (p *pen) cup(mouth Point, side float64) {
	p.shape(Point{X: mouth.X, Y: mouth.Y - 1.7}, Point{X: mouth.X - side*1.6, Y: mouth.Y - 1.7}, Point{X: mouth.X - side*2.2, Y: mouth.Y - 1.1},
		Point{X: mouth.X - side*2.2, Y: mouth.Y + 1.1}, Point{X: mouth.X - side*1.6, Y: mouth.Y + 1.7}, Point{X: mouth.X, Y: mouth.Y + 1.7},
		Point{X: mouth.X, Y: mouth.Y + 0.9}, Point{X: mouth.X - side*0.9, Y: mouth.Y + 0.9}, Point{X: mouth.X - side*0.9, Y: mouth.Y - 0.9}, Point{X: mouth.X, Y: mouth.Y - 0.9})
}

// Two pairs of cups, mouth to mouth: supply above, control below.
func paintCoupling(p *pen) {
	apart := 0.25
	if p.open("towed supply face") > openEnough {
		apart = 1.1
	}
	joint := func(y float64, from, to string) {
		p.duct(from, Point{X: 0, Y: y}, Point{X: 7 - apart - 2.2, Y: y})
		p.duct(to, Point{X: 14, Y: y}, Point{X: 7 + apart + 2.2, Y: y})
		p.cup(Point{X: 7 - apart, Y: y}, 1)
		p.cup(Point{X: 7 + apart, Y: y}, -1)
	}
	joint(3, "11", "21")
	joint(8, "12", "22")
	through := func(passage, room string, y, z float64) {
		if p.open(passage) > openEnough {
			p.duct(room, Point{X: 7 - apart - 1.6, Y: y}, Point{X: 7 + apart + 1.6, Y: z})
		}
	}
	through("supply joint", "11", 3, 3)
	through("control joint", "12", 8, 8)
	through("supply on control", "11", 3, 8)
	through("control on supply", "12", 8, 3)
	p.ballCock(Point{X: 2, Y: 3}, p.open("supply joint")+p.open("supply on control")+p.open("supply face") > openEnough)
	p.ballCock(Point{X: 2, Y: 8}, p.open("control joint")+p.open("control on supply")+p.open("control face") > openEnough)
	p.vent("3", false)
}

// ballCock is a ball in a level pipe, its bore along the pipe or across it.
func (p *pen) ballCock(at Point, open bool) {
	const r = 0.8
	p.circle(at, r)
	if open {
		p.stroke(medium, Point{X: at.X - r, Y: at.Y}, Point{X: at.X + r, Y: at.Y})
	} else {
		p.stroke(heavy, Point{X: at.X, Y: at.Y - r}, Point{X: at.X, Y: at.Y + r})
	}
}

// Two ways out of the supply: to the springs at once, to the reservoir past a protection and a check.
func paintTrailerSpring(p *pen) {
	p.body(Point{X: 1, Y: 1}, Point{X: 11, Y: 9})
	p.duct("1", Point{X: 0, Y: 5}, Point{X: 2.4, Y: 5})
	p.duct("1", Point{X: 2.4, Y: 3}, Point{X: 2.4, Y: 7})
	p.way("protection", "1", "gate", Point{X: 2.4, Y: 3}, Point{X: 6.4, Y: 3})
	p.ball("reservoir check", Point{X: 6.9, Y: 3}, Point{X: 1}, 0.8)
	p.duct("21", Point{X: 9.2, Y: 3}, Point{X: 12, Y: 3})
	p.way("hold-off way", "1", "22", Point{X: 2.4, Y: 7}, Point{X: 8, Y: 7})
	p.way("exhaust", "22", circuit.Atmosphere, Point{X: 8, Y: 7}, Point{X: 8, Y: 9})
	p.duct("22", Point{X: 8, Y: 7}, Point{X: 12, Y: 7})
	p.vent("3", false)
}

// A relay's head over a body that also holds the check to its reservoir.
func paintEmergency(p *pen) {
	p.body(Point{X: 1, Y: 2.4}, Point{X: 13, Y: 9})
	p.shape(Point{X: 5.2, Y: 2.4}, Point{X: 5.2, Y: 1.5}, Point{X: 6.2, Y: 0.8}, Point{X: 9.8, Y: 0.8}, Point{X: 10.8, Y: 1.5}, Point{X: 10.8, Y: 2.4})
	p.pilot("4", Point{X: 8, Y: 0}, Point{X: 8, Y: 1.6})
	sag := 0.5 * p.open("inlet seat")
	p.stroke(thick, Point{X: 5.4, Y: 2.4}, Point{X: 6.4, Y: 2.4 + sag}, Point{X: 9.6, Y: 2.4 + sag}, Point{X: 10.6, Y: 2.4})
	p.stroke(thin, Point{X: 8, Y: 2.4 + sag}, Point{X: 8, Y: 5})
	p.duct("2", Point{X: 0, Y: 5}, Point{X: 14, Y: 5})
	p.duct("1", Point{X: 0, Y: 8}, Point{X: 1.6, Y: 8})
	p.ball("reservoir check", Point{X: 1.6, Y: 8}, Point{X: 1}, 0.65)
	p.duct("tank", Point{X: 3.4, Y: 8}, Point{X: 4, Y: 8})
	p.duct("tank", Point{X: 4, Y: 10}, Point{X: 4, Y: 7.6})
	p.way("inlet seat", "tank", "2", Point{X: 4, Y: 7.6}, Point{X: 4, Y: 5})
	p.way("exhaust seat", "2", circuit.Atmosphere, Point{X: 8, Y: 5}, Point{X: 8, Y: 9})
	p.spare("23", "2", Point{X: 12, Y: 5}, Point{X: 12, Y: 10})
	p.vent("3", false)
}
