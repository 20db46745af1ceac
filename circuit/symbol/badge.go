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
	v.plates()
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
	b := v.pillBox(mid, text, bold)
	v.s.Poly(rounded(b, size*0.72), true, Style{Fill: fill, Stroke: edge, Width: v.look.dp(1)})
	v.s.Text(Point{X: mid.X, Y: mid.Y + size*capHalf}, text, font)
	return b
}

func (v *view) pillBox(mid Point, text string, bold bool) Box {
	size := v.look.text(smallType + 0.5)
	w := max(Font{Size: size, Bold: bold}.Width(text)+size*0.8, size*1.5)
	return Box{Point{X: mid.X - w/2, Y: mid.Y - size*0.72}, Point{X: mid.X + w/2, Y: mid.Y + size*0.72}}
}

// placePercentages at a corner of their symbol, on their line or close beside it, where they cover least. What is looked at does not
// change where they stand: the sheet may be moved under a window.
func (v *view) placePercentages(sp *space) []pillAt {
	if len(v.marks.Suspect) == 0 {
		return nil
	}
	var out []pillAt
	doubted := func(id string) bool {
		_, ok := v.marks.Suspect[id]
		return ok && !v.marks.Cleared[id]
	}
	put := func(id string, own int, places []Point) {
		text := percent(v.marks.Suspect[id])
		out = append(out, pillAt{sp.best(places, func(at Point) Box { return v.pillBox(at, text, true) }, own), text})
	}
	for i := range v.sh.parts {
		if p := &v.sh.parts[i]; doubted(p.comp.ID) {
			sp.places = v.corners(sp.places[:0], p)
			put(p.comp.ID, i, sp.places)
		}
	}
	for i := range v.sh.lines {
		if r := &v.sh.lines[i]; doubted(r.line.ID) {
			sp.places = besideRun(alongRun(sp.places[:0], r.points), r.points, v.look.text(15))
			put(r.line.ID, -1, sp.places)
		}
	}
	return out
}

func (v *view) percentages() {
	pal := v.look.Palette
	for _, p := range v.arranged().pills {
		if v.shown(v.pillBox(p.mid, p.text, true)) {
			v.pill(p.mid, p.text, true, pal.Body, pal.Suspect, pal.SuspectText)
		}
	}
}

// corners are the places for a number at a symbol, the best first; the upper left is left to the steps of the lit path.
func (v *view) corners(to []Point, p *part) []Point {
	up, down := p.box.Min.Y-v.look.dp(2), p.box.Max.Y+v.look.dp(2)
	left, right, mid := p.box.Min.X, p.box.Max.X, p.box.Center()
	out := v.look.text(14)
	for _, at := range [...]Point{
		{X: right, Y: up}, {X: right, Y: down}, {X: left, Y: down}, {X: mid.X, Y: up - out/3}, {X: mid.X, Y: down + out/3},
		{X: right + out, Y: mid.Y}, {X: left - out, Y: mid.Y}, {X: right + out, Y: up}, {X: right + out, Y: down}, {X: left - out, Y: down}, {X: left - out, Y: up},
	} {
		to = append(to, at)
	}
	return to
}

// A step is where the number of one thing on the lit path stands.
type step struct {
	number int
	at     Point
}

// placeSteps numbers the lit path from the fault to the symptom: a part at its upper left corner, a line where the number
// covers least.
func (v *view) placeSteps(sp *space) []step {
	var out []step
	r := v.look.text(7)
	disc := func(at Point) Box { return Box{at, at}.Grow(r) }
	seen := make(map[string]bool, len(v.marks.Path))
	for _, id := range v.marks.Path {
		if seen[id] {
			continue
		}
		seen[id] = true
		n := len(seen)
		if i, ok := v.sh.partAt[id]; ok {
			at := v.sh.parts[i].box.Min
			sp.take(disc(at))
			out = append(out, step{n, at})
		}
		if i, ok := v.sh.lineAt[id]; ok {
			out = append(out, step{n, sp.best(alongRun(nil, v.sh.lines[i].points), disc, -1)})
		}
	}
	return out
}

func (v *view) steps() {
	pal := v.look.Palette
	for _, s := range v.arranged().steps {
		v.s.Poly(arc(s.at, v.look.text(7), 0, 2*math.Pi), true, Style{Fill: pal.PathEdge, Stroke: pal.Paper, Width: v.look.dp(1)})
		size := v.look.text(smallType)
		v.s.Text(Point{X: s.at.X, Y: s.at.Y + size*capHalf}, strconv.Itoa(s.number), Font{Size: size, Bold: true, Color: pal.PathText, Anchor: Middle})
	}
}
