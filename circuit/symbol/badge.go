package symbol

import (
	"image/color"
	"math"
	"strconv"
)

// badges are what stands on top of everything: percentages of suspects, ticks of what is cleared, the numbers of the lit
// path, the names of lines that are asked for, and pins.
func (v *view) badges() {
	v.s.Begin("marks", "marks")
	defer v.s.End()
	v.ticks()
	v.percentages()
	v.steps()
	v.lineNames()
	v.pins()
}

func (v *view) ticks() {
	pal := v.look.Palette
	tick := func(at Point) {
		u := v.look.dp(1)
		v.s.Poly(arc(at, 5*u, 0, 2*math.Pi), true, Style{Fill: pal.Paper, Stroke: pal.Cleared, Width: u})
		v.s.Poly([]Point{{X: at.X - 2.4*u, Y: at.Y + 0.2*u}, {X: at.X - 0.6*u, Y: at.Y + 2*u}, {X: at.X + 2.6*u, Y: at.Y - 2*u}}, false,
			Style{Stroke: pal.ClearedText, Width: 1.5 * u})
	}
	for i := range v.sh.parts {
		p := &v.sh.parts[i]
		if v.marks.Cleared[p.comp.ID] && v.shown(p.box) && !p.drawing.Minor {
			tick(Point{X: p.box.Max.X - 0.3, Y: p.box.Min.Y + 0.3})
		}
	}
}

// pill is a rounded plate with a text in its middle.
func (v *view) pill(mid Point, text string, bold bool, fill, edge, ink color.NRGBA) Box {
	size := v.look.text(smallType + 0.5)
	font := Font{Size: size, Bold: bold, Color: ink, Anchor: Middle}
	w := max(font.Width(text)+size*0.8, size*1.5)
	b := Box{Point{X: mid.X - w/2, Y: mid.Y - size*0.72}, Point{X: mid.X + w/2, Y: mid.Y + size*0.72}}
	v.s.Poly(rounded(b, size*0.72), true, Style{Fill: fill, Stroke: edge, Width: v.look.dp(1)})
	v.s.Text(Point{X: mid.X, Y: mid.Y + size*capHalf}, text, font)
	return b
}

func (v *view) percentages() {
	pal := v.look.Palette
	if len(v.marks.Suspect) == 0 {
		return
	}
	show := func(id string, at Point) {
		q, ok := v.marks.Suspect[id]
		if !ok || v.marks.Cleared[id] {
			return
		}
		v.pill(at, percent(q), true, pal.Body, pal.Suspect, pal.SuspectText)
	}
	labels := v.sh.placedLabels(v.look)
	for i := range v.sh.parts {
		p := &v.sh.parts[i]
		if _, ok := v.marks.Suspect[p.comp.ID]; ok && v.shown(p.box.Grow(2)) {
			show(p.comp.ID, v.freeCorner(p, labels))
		}
	}
	for i := range v.sh.lines {
		r := &v.sh.lines[i]
		if v.shown(boxAround(r.points).Grow(2)) {
			show(r.line.ID, middleOf(r.points))
		}
	}
}

// freeCorner is the corner of a symbol where a number covers least; the upper left is left to the steps of the lit path.
func (v *view) freeCorner(p *part, labels []label) Point {
	up, down := p.box.Min.Y-v.look.dp(2), p.box.Max.Y+v.look.dp(2)
	best, at := math.Inf(1), Point{}
	for _, c := range []Point{{X: p.box.Max.X, Y: up}, {X: p.box.Max.X, Y: down}, {X: p.box.Min.X, Y: down}} {
		room := Box{c, c}.Grow(v.look.text(10))
		cost := 0.0
		for _, l := range labels {
			cost += overlap(l.box, room)
		}
		for i := range v.sh.parts {
			if q := &v.sh.parts[i]; q != p {
				cost += overlap(q.box, room)
			}
		}
		if cost < best {
			best, at = cost, c
		}
	}
	return at
}

// steps number the lit path from the fault to the symptom.
func (v *view) steps() {
	pal := v.look.Palette
	seen := map[string]bool{}
	n := 0
	for _, id := range v.marks.Path {
		if seen[id] {
			continue
		}
		seen[id] = true
		n++
		var at Point
		if i, ok := v.sh.partAt[id]; ok {
			b := v.sh.parts[i].box
			at = Point{X: b.Min.X, Y: b.Min.Y}
		} else if i, ok := v.sh.lineAt[id]; ok {
			at = middleOf(v.sh.lines[i].points)
			if _, suspected := v.marks.Suspect[id]; suspected {
				at.Y -= v.look.dp(15)
			}
		} else {
			continue
		}
		r := v.look.text(7)
		v.s.Poly(arc(at, r, 0, 2*math.Pi), true, Style{Fill: pal.PathEdge, Stroke: pal.Paper, Width: v.look.dp(1)})
		size := v.look.text(smallType)
		v.s.Text(Point{X: at.X, Y: at.Y + size*capHalf}, strconv.Itoa(n), Font{Size: size, Bold: true, Color: pal.PathText, Anchor: Middle})
	}
}

func (v *view) lineNames() {
	pal := v.look.Palette
	for i := range v.sh.lines {
		r := &v.sh.lines[i]
		id := r.line.ID
		if id != v.marks.Selected && id != v.marks.Hover && !v.marks.Names[id] {
			continue
		}
		edge := pal.Trace
		if id == v.marks.Selected {
			edge = pal.Select
		}
		at := middleOf(r.points)
		at.Y += v.look.dp(16)
		v.pill(at, lineTitle(r.line), false, pal.Body, edge, pal.Ink)
	}
}
