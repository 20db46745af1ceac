package symbol

import (
	"math"

	"airpath/circuit"
	"airpath/circuit/symbol/typeface"
)

// Kinds that keep the air and keep it from going back.
var storageDrawings = map[string]Drawing{
	"three-compartment-tank": {
		Width: 40, Height: 10,
		Ports: map[string][]Port{
			// Each compartment has what comes in on its front side, what goes out behind it, and its drain below.
			"11": leftSide(5), "23": top(4), "212": top(7), "21": top(10), "24": bottom(2, 10), "31": bottom(9, 10), "22": bottom(13, 10),
			"12": top(18), "28": top(20), "27": top(22), "25": top(24), "26": top(26), "32": bottom(20, 10),
			"13": bottom(31, 10), "210": top(31), "29": top(34), "211": bottom(34, 10), "33": bottom(37, 10),
		},
		Inside: Box{Point{X: 14.4, Y: 7}, Point{X: 27.4, Y: 9.6}},
		Paint:  paintTank,
	},
	"check-valve": {
		Width: 6, Height: 4,
		Ports: map[string][]Port{"1": leftSide(2), "2": rightSide(2, 6)},
		Paint: func(p *pen) {
			p.duct("1", Point{X: 0, Y: 2}, Point{X: 1.9, Y: 2})
			p.duct("2", Point{X: 4.1, Y: 2}, Point{X: 6, Y: 2})
			p.ball("seat", Point{X: 1.9, Y: 2}, Point{X: 1}, 1)
		},
	},
	"drain-valve": {
		Width: 4, Height: 6,
		Ports: map[string][]Port{"1": top(2), "3": bottom(2, 6)},
		Paint: paintDrain,
	},
}

// tankWalls are where the inner walls stand, and the ends of the shell.
var tankWalls = [4]float64{0, 14, 28, 40}

// A reservoir: the capsule, with two bulged inner walls. Its compartments are tinted by their pressure.
func paintTank(p *pen) {
	const bulge = 2.6
	end := func(x, side float64) []Point { // from the upper edge to the lower one
		return ellipse(Point{X: x - side*bulge, Y: 5}, bulge*abs(side), 5, -math.Pi/2, -math.Pi/2+side*math.Pi)
	}
	var shell []Point
	right := end(40, 1)
	left := end(0, -1)
	shell = append(shell, right...)
	for i := len(left) - 1; i >= 0; i-- {
		shell = append(shell, left[i])
	}
	p.shape(shell...)
	wall := func(x float64) []Point { return ellipse(Point{X: x - 1.1, Y: 5}, 1.1, 5, -math.Pi/2, math.Pi/2) }
	rooms := [3]string{"supply", "primary", "secondary"}
	for i, room := range rooms {
		a, b := wall(tankWalls[i]), wall(tankWalls[i+1])
		if i == 0 {
			a = left
		}
		if i == 2 {
			b = right
		}
		outline := append([]Point{}, a...)
		for j := len(b) - 1; j >= 0; j-- {
			outline = append(outline, b[j])
		}
		if c := p.air(room); c != p.body_ {
			p.fill(c, outline...)
		}
	}
	p.poly(shell, true, Style{Stroke: p.ink, Width: p.width(medium)})
	p.stroke(medium, wall(tankWalls[1])...)
	p.stroke(medium, wall(tankWalls[2])...)
	// Far out the longest of the three names would run into its neighbour; then none is written.
	named := typeface.Width("secondary", false)*p.look.text(smallType) < 0.9*(tankWalls[3]-tankWalls[2])
	for i, room := range rooms {
		mid := Point{X: (tankWalls[i]+tankWalls[i+1])/2 - 0.5*float64(i), Y: 4.2}
		pa := p.pressure(room)
		name := room
		size := p.look.text(smallType)
		if !named {
			name = ""
		}
		if math.IsNaN(pa) {
			p.text(mid, name, size, false, p.faint)
			continue
		}
		ink := p.look.Palette.on(p.air(room))
		p.text(Point{X: mid.X, Y: mid.Y - size*0.75}, name, size, false, ink)
		p.text(Point{X: mid.X, Y: mid.Y + size*0.75}, p.look.pressureText(pa), p.look.text(normalType), true, ink)
	}
}

// ball is a check: a ball in a seat that opens along u; open, the ball stands off its seat.
func (p *pen) ball(passage string, seat, u Point, r float64) {
	at := func(t, side float64) Point {
		return Point{X: seat.X + u.X*t - u.Y*side, Y: seat.Y + u.Y*t + u.X*side}
	}
	p.stroke(medium, at(1.15*r, 1.3*r), at(0, 0), at(1.15*r, -1.3*r))
	off := 1.32 * r
	if p.open(passage) > openEnough {
		off = 1.95 * r
	}
	p.poly(arc(at(off, 0), r*0.9, 0, 2*math.Pi), true, Style{Stroke: p.ink, Fill: p.body_, Width: p.width(medium)})
}

// A cock: two triangles tip to tip, hollow when open and solid when shut, under a handle that lies along the way when open.
func paintDrain(p *pen) {
	p.duct("1", Point{X: 2, Y: 0}, Point{X: 2, Y: 1})
	mid := Point{X: 2, Y: 2.9}
	open := p.open("cock") > openEnough || p.state.Control > openEnough
	for _, end := range []float64{-1.9, 1.9} {
		points := []Point{mid, {X: mid.X - 1.2, Y: mid.Y + end}, {X: mid.X + 1.2, Y: mid.Y + end}}
		if open {
			p.shape(points...)
		} else {
			p.poly(points, true, Style{Stroke: p.ink, Fill: p.ink, Width: p.width(thin)})
		}
	}
	if open {
		p.stroke(medium, mid, Point{X: 3.6, Y: mid.Y})
		p.stroke(thick, Point{X: 3.6, Y: mid.Y - 1.1}, Point{X: 3.6, Y: mid.Y + 1.1})
	} else {
		p.stroke(medium, mid, Point{X: 3.5, Y: mid.Y})
		p.stroke(thick, Point{X: 2.9, Y: mid.Y}, Point{X: 3.8, Y: mid.Y})
	}
	p.duct(circuit.Atmosphere, Point{X: 2, Y: 4.8}, Point{X: 2, Y: 5})
	p.vent("3", false)
}
