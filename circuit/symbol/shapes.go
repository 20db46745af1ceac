package symbol

import (
	"image/color"
	"math"
)

// Shapes shared by many symbols, after ISO 1219-1's vocabulary.

// duct is a way inside a part that always stands open, in the colour of its room's air.
func (p *pen) duct(room string, points ...Point) {
	p.poly(points, false, Style{Stroke: p.airColor(room), Width: p.airWidth(room)})
}

// airWidth makes full ways thick and empty ones thin.
func (p *pen) airWidth(room string) float64 {
	return airWidth(p.look, p.pressure(room), false)
}

// airWidth of a line or duct at a pressure; small for pilot lines.
func airWidth(look Look, pa float64, pilot bool) float64 {
	w := 0.26
	if !math.IsNaN(pa) {
		w = 0.16 + 0.24*fullness(pa)
	}
	if pilot {
		w *= 0.8
	}
	return look.stroke(w, 1.3)
}

// way is a passage between two rooms along a straight run: an arrow where it is open, a bar across where it is shut.
func (p *pen) way(passage, fromRoom, toRoom string, from, to Point) {
	p.gate(p.open(passage), p.airColor(fromRoom), p.airColor(toRoom), p.airWidth(fromRoom), p.airWidth(toRoom), from, to)
}

const openEnough = 0.02 // below it a seat counts as shut

func (p *pen) gate(open float64, fromColor, toColor color.NRGBA, fromWidth, toWidth float64, from, to Point) {
	d := Point{X: to.X - from.X, Y: to.Y - from.Y}
	length := math.Hypot(d.X, d.Y)
	u := Point{X: d.X / length, Y: d.Y / length}
	along := func(t, side float64) Point {
		return Point{X: from.X + u.X*t - u.Y*side, Y: from.Y + u.Y*t + u.X*side}
	}
	if open > openEnough {
		tip := length * 0.5
		p.poly([]Point{from, along(tip, 0)}, false, Style{Stroke: fromColor, Width: fromWidth})
		p.poly([]Point{along(tip, 0), to}, false, Style{Stroke: toColor, Width: toWidth})
		p.solid(along(tip+0.62, 0), along(tip-0.5, 0.52), along(tip-0.5, -0.52))
		return
	}
	bar, rest := length*0.42, length*0.62
	p.poly([]Point{from, along(bar, 0)}, false, Style{Stroke: fromColor, Width: fromWidth})
	p.poly([]Point{along(rest, 0), to}, false, Style{Stroke: toColor, Width: toWidth})
	p.poly([]Point{along(bar, 0.8), along(bar, -0.8)}, false, Style{Stroke: p.ink, Width: p.width(heavy)})
}

// vent is the open triangle of an exhaust at a port, or of an intake, whose triangle points in.
func (p *pen) vent(port string, inward bool) {
	place := p.ports[port]
	o := place.Out.Step()
	side := Point{X: -o.Y, Y: o.X}
	tip, base := place.At, Point{X: place.At.X - o.X, Y: place.At.Y - o.Y}
	if inward {
		tip, base = base, tip
	}
	p.shape(tip, Point{X: base.X + side.X*0.62, Y: base.Y + side.Y*0.62}, Point{X: base.X - side.X*0.62, Y: base.Y - side.Y*0.62})
}

// pilot is a dashed way that only carries a command.
func (p *pen) pilot(room string, points ...Point) {
	w := p.width(thin)
	p.poly(points, false, Style{Stroke: p.airColor(room), Width: max(w, p.look.stroke(0.16, 1.1)), Dash: []float64{0.55, 0.4}})
}

// link is the double line of a mechanical connection.
func (p *pen) link(from, to Point, gap float64) {
	d := Point{X: to.X - from.X, Y: to.Y - from.Y}
	length := math.Hypot(d.X, d.Y)
	s := Point{X: -d.Y / length * gap / 2, Y: d.X / length * gap / 2}
	p.stroke(medium, Point{X: from.X + s.X, Y: from.Y + s.Y}, Point{X: to.X + s.X, Y: to.Y + s.Y})
	p.stroke(medium, Point{X: from.X - s.X, Y: from.Y - s.Y}, Point{X: to.X - s.X, Y: to.Y - s.Y})
}

// spring is a zigzag between two points.
func (p *pen) spring(from, to Point, turns int, half, w float64) {
	d := Point{X: to.X - from.X, Y: to.Y - from.Y}
	length := math.Hypot(d.X, d.Y)
	u := Point{X: d.X / length, Y: d.Y / length}
	n := 2 * turns
	points := append(make([]Point, 0, n+2), from)
	for i := range n {
		t := (float64(i) + 0.5) / float64(n) * length
		side := half
		if i%2 == 1 {
			side = -half
		}
		points = append(points, Point{X: from.X + u.X*t - u.Y*side, Y: from.Y + u.Y*t + u.X*side})
	}
	p.stroke(w, append(points, to)...)
}

// arrow is a thin straight arrow, as for something that can be set.
func (p *pen) arrow(from, to Point) {
	d := Point{X: to.X - from.X, Y: to.Y - from.Y}
	length := math.Hypot(d.X, d.Y)
	u := Point{X: d.X / length, Y: d.Y / length}
	p.stroke(thin, from, to)
	back := Point{X: to.X - u.X*0.8, Y: to.Y - u.Y*0.8}
	p.solid(to, Point{X: back.X - u.Y*0.3, Y: back.Y + u.X*0.3}, Point{X: back.X + u.Y*0.3, Y: back.Y - u.X*0.3})
}

// onEverySide are the places of a port that may be on any side of a box, bottom first.
func onEverySide(w, h float64) []Port {
	return []Port{
		{Point{X: w / 2, Y: h}, Down}, {Point{X: w, Y: h / 2}, Right},
		{Point{X: w / 2, Y: 0}, Up}, {Point{X: 0, Y: h / 2}, Left},
	}
}

func top(x float64) []Port          { return []Port{{Point{X: x, Y: 0}, Up}} }
func bottom(x, h float64) []Port    { return []Port{{Point{X: x, Y: h}, Down}} }
func leftSide(y float64) []Port     { return []Port{{Point{X: 0, Y: y}, Left}} }
func rightSide(y, w float64) []Port { return []Port{{Point{X: w, Y: y}, Right}} }
