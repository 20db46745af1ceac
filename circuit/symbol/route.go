package symbol

import "airpath/circuit"

// route gives every line its corners: those of the file where it has some, else those that the router finds. Lines with
// corners go first, so that the others keep clear of them.
func (sh *Sheet) route(lines []*circuit.Line) {
	sh.lines = make([]run, len(lines))
	for i, l := range lines {
		from, _ := sh.PortAt(l.From)
		to, _ := sh.PortAt(l.To)
		sh.lineAt[l.ID] = i
		sh.lines[i] = run{line: l, from: from, to: to, pilot: isPilot(l, lines, sh.kindOf)}
		if len(l.Route) > 0 {
			sh.lines[i].points = throughCorners(from, l.Route, to)
		} else if straight(from, to) && sh.free(from.At, to.At) {
			sh.lines[i].points = []Point{from.At, to.At}
		}
	}
	var grid *router
	for i := range sh.lines {
		if sh.lines[i].points != nil {
			continue
		}
		if grid == nil {
			grid = newRouter(sh)
		}
		points := grid.find(sh.lines[i].from, sh.lines[i].to)
		if points == nil { // walled in: an honest straight elbow through whatever is there
			points = throughCorners(sh.lines[i].from, nil, sh.lines[i].to)
		}
		sh.lines[i].points = points
		grid.occupy(points)
	}
}

// free tells whether no symbol stands between two points in line.
func (sh *Sheet) free(a, b Point) bool {
	for i := range sh.parts {
		if lengthInside(a, b, sh.parts[i].box.Grow(-0.01)) > 0 {
			return false
		}
	}
	return true
}

// straight tells whether two ports look at each other along the grid.
func straight(from, to Port) bool {
	o := from.Out.Step()
	d := Point{X: to.At.X - from.At.X, Y: to.At.Y - from.At.Y}
	ahead, aside := d.X*o.X+d.Y*o.Y, d.X*o.Y-d.Y*o.X
	return aside == 0 && ahead >= 0 && from.Out == (to.Out+2)&3
}

// throughCorners joins two ports by way of corners with legs along the grid. Where two corners are not in line an elbow
// is put between them: the line goes on in its direction first, and arrives at its end the way the port looks.
func throughCorners(from Port, corners []Point, to Port) []Point {
	points := []Point{from.At}
	heading := from.Out
	for _, c := range corners {
		points, heading = legTo(points, c, heading.horizontal())
	}
	last := points[len(points)-1]
	if last.X != to.At.X && last.Y != to.At.Y {
		points, _ = legTo(points, to.At, !to.Out.horizontal())
	} else {
		points = append(points, to.At)
	}
	return simplified(points)
}

// legTo goes on to a point, level first or upright first where it takes two legs.
func legTo(points []Point, to Point, levelFirst bool) ([]Point, Direction) {
	last := points[len(points)-1]
	if last.X != to.X && last.Y != to.Y {
		elbow := Point{X: to.X, Y: last.Y}
		if !levelFirst {
			elbow = Point{X: last.X, Y: to.Y}
		}
		points = append(points, elbow)
		last = elbow
	}
	return append(points, to), directionOf(Point{X: to.X - last.X, Y: to.Y - last.Y})
}

// simplified leaves out repeated points and points within a straight leg.
func simplified(points []Point) []Point {
	out := points[:0:0]
	for _, p := range points {
		if n := len(out); n > 0 && out[n-1] == p {
			continue
		}
		if n := len(out); n > 1 && (out[n-2].X == out[n-1].X && out[n-1].X == p.X || out[n-2].Y == out[n-1].Y && out[n-1].Y == p.Y) {
			out[n-1] = p
			continue
		}
		out = append(out, p)
	}
	return out
}
