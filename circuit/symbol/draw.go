package symbol

import (
	"image/color"
	"math"

	"airpath/circuit"
)

// Layer is a part of the picture, drawn in this order. A window may keep the layers that do not change.
type Layer int

const (
	GhostLayer  Layer = iota // rails, axles, wheels, cab
	CasingLayer              // under the lines: the lit path, selection and suspicion of lines
	LineLayer                // lines with their bridges
	SymbolLayer              // components with their outlines of suspicion and selection
	LabelLayer               // names and values
	MarkLayer                // percentages, steps, pins
)

// Layers is every layer in drawing order.
var Layers = []Layer{GhostLayer, CasingLayer, LineLayer, SymbolLayer, LabelLayer, MarkLayer}

// DrawSheet lays a circuit out and draws all of it. Who draws more than once keeps the Sheet.
func DrawSheet(s Surface, c *circuit.Circuit, look Look, marks Marks) {
	NewSheet(c).Draw(s, look, marks)
}

// Draw the whole sheet. The paper itself is the surface's.
func (sh *Sheet) Draw(s Surface, look Look, marks Marks) {
	for _, l := range Layers {
		sh.DrawLayer(s, l, look, marks)
	}
}

// DrawLayer draws one layer.
func (sh *Sheet) DrawLayer(s Surface, layer Layer, look Look, marks Marks) {
	if look.Palette == nil {
		look.Palette = Light
	}
	if look.Scale <= 0 {
		look.Scale = 8
	}
	v := view{sh: sh, s: s, look: look, marks: marks, path: pathSteps(marks.Path)}
	switch layer {
	case GhostLayer:
		v.ghost()
	case CasingLayer:
		v.casings()
	case LineLayer:
		v.lines()
	case SymbolLayer:
		v.symbols()
	case LabelLayer:
		v.names()
	case MarkLayer:
		v.badges()
	}
}

// A view is one drawing of a sheet under way.
type view struct {
	sh    *Sheet
	s     Surface
	look  Look
	marks Marks
	path  map[string]int // step by id, from 1
}

func pathSteps(path []string) map[string]int {
	steps := map[string]int{}
	for i, id := range path {
		if _, seen := steps[id]; !seen {
			steps[id] = i + 1
		}
	}
	return steps
}

func (v *view) shown(b Box) bool {
	return v.look.View == (Box{}) || v.look.View.Overlaps(b.Grow(0.01))
}

func (v *view) pressureOf(component, room string) float64 {
	if s, ok := v.marks.State[component]; ok {
		if pa, ok := s.Pressure[room]; ok {
			return pa
		}
	}
	if pa, ok := v.marks.Pressure[component+"."+room]; ok {
		return pa
	}
	return math.NaN()
}

func (v *view) linePressure(l *circuit.Line) float64 {
	sum, n := 0.0, 0
	for _, ref := range []circuit.PortRef{l.From, l.To} {
		spec, ok := v.sh.kindOf(ref.Component).Port(ref.Port)
		if !ok || spec.Medium != circuit.Air {
			continue
		}
		if pa := v.pressureOf(ref.Component, spec.Room); !math.IsNaN(pa) {
			sum, n = sum+pa, n+1
		}
	}
	if n == 0 {
		return math.NaN()
	}
	return sum / float64(n)
}

// casings are the bands under lines: what is lit, chosen, or suspected.
func (v *view) casings() {
	pal := v.look.Palette
	for i := range v.sh.lines {
		r := &v.sh.lines[i]
		if !v.shown(boxAround(r.points).Grow(2)) {
			continue
		}
		id := r.line.ID
		band := func(c color.NRGBA, steps, least float64) {
			v.s.Poly(r.points, false, Style{Stroke: c, Width: v.look.stroke(steps, least)})
		}
		_, lit := v.path[id]
		p, suspect := v.marks.Suspect[id]
		if !lit && !suspect && id != v.marks.Selected && id != v.marks.Hover {
			continue
		}
		v.s.Begin(id, r.line.Name)
		if id == v.marks.Hover {
			band(mix(pal.Paper, pal.Select, 0.22), 1.6, 10)
		}
		if id == v.marks.Selected {
			band(pal.Select, 1.25, 8)
			band(pal.Paper, 0.85, 5.2)
		}
		switch {
		case lit:
			band(pal.PathEdge, 1.15, 7)
			band(pal.PathBand, 0.85, 5)
		case suspect && !v.marks.Cleared[id]:
			w := suspectWidth(p)
			band(pal.Suspect, 0.5+2*w, 2.8+6*w)
			band(pal.Paper, 0.44, 2.6)
		}
		v.s.End()
	}
}

// suspectWidth is the weight of a warm outline in grid steps; it grows evenly with probability.
func suspectWidth(p float64) float64 { return 0.14 + 0.5*min(1, max(0, p)) }

func (v *view) lines() {
	pal := v.look.Palette
	for i := range v.sh.lines {
		r := &v.sh.lines[i]
		if !v.shown(boxAround(r.points).Grow(1)) {
			continue
		}
		v.s.Begin(r.line.ID, lineTitle(r.line))
		cleared := v.marks.Cleared[r.line.ID]
		tint := func(c color.NRGBA) color.NRGBA {
			if cleared {
				return pal.Cleared
			}
			return c
		}
		switch r.line.Type.Medium() {
		case circuit.Motion:
			w := v.look.stroke(0.7, 4)
			v.s.Poly(r.points, false, Style{Stroke: tint(pal.Ink), Width: w})
			v.s.Poly(r.points, false, Style{Stroke: pal.Paper, Width: w - 2*v.look.stroke(thin, 0.9)})
		case circuit.Current:
			v.s.Poly(r.bridged(), false, Style{Stroke: tint(pal.Wire), Width: v.look.stroke(0.11, 0.8)})
		default:
			pa := v.linePressure(r.line)
			style := Style{Stroke: tint(pal.Pressure(pa)), Width: airWidth(v.look, pa, r.pilot)}
			if r.pilot {
				style.Dash = []float64{1.1, 0.7}
			}
			v.s.Poly(r.bridged(), false, style)
		}
		v.s.End()
	}
}

func lineTitle(l *circuit.Line) string {
	if l.Name != "" {
		return l.Name
	}
	return l.ID
}

func (v *view) symbols() {
	for i := range v.sh.parts {
		p := &v.sh.parts[i]
		if !v.shown(p.box.Grow(1.5)) {
			continue
		}
		v.s.Begin(p.comp.ID, partTitle(p.comp))
		v.halo(p)
		v.paint(p)
		v.s.End()
	}
}

func partTitle(c *circuit.Component) string {
	if c.Name != "" {
		return c.Name
	}
	return c.ID
}

// halo is what surrounds a symbol: the lit path, selection, suspicion.
func (v *view) halo(p *part) {
	pal, id := v.look.Palette, p.comp.ID
	frame := func(grow float64, c color.NRGBA, w float64) {
		b := p.box.Grow(grow)
		v.s.Poly(corners(b.Min, b.Max), true, Style{Stroke: c, Width: w})
	}
	if id == v.marks.Hover {
		b := p.box.Grow(0.5)
		v.s.Poly(corners(b.Min, b.Max), true, Style{Fill: mix(pal.Paper, pal.Select, 0.16)})
	}
	if _, lit := v.path[id]; lit {
		b := p.box.Grow(0.35)
		v.s.Poly(corners(b.Min, b.Max), true, Style{Fill: mix(pal.Paper, pal.PathBand, 0.55), Stroke: pal.PathEdge, Width: v.look.stroke(thin, 1)})
	}
	if q, ok := v.marks.Suspect[id]; ok && !v.marks.Cleared[id] {
		w := max(suspectWidth(q), v.look.dp(1.2+3.2*q))
		frame(0.25+w/2, pal.Suspect, w)
	}
	if id == v.marks.Selected {
		// Four corners, so that the selection differs from suspicion in shape too.
		b := p.box.Grow(1.15)
		arm := min(2.2, 0.32*min(b.Width(), b.Height()))
		w := v.look.stroke(0.32, 2.2)
		for _, c := range []struct{ at, x, y Point }{
			{b.Min, Point{X: arm}, Point{Y: arm}},
			{Point{X: b.Max.X, Y: b.Min.Y}, Point{X: -arm}, Point{Y: arm}},
			{b.Max, Point{X: -arm}, Point{Y: -arm}},
			{Point{X: b.Min.X, Y: b.Max.Y}, Point{X: arm}, Point{Y: -arm}},
		} {
			v.s.Poly([]Point{
				{X: c.at.X + c.x.X, Y: c.at.Y}, c.at, {X: c.at.X, Y: c.at.Y + c.y.Y},
			}, false, Style{Stroke: pal.Select, Width: w})
		}
	}
}

func (v *view) paint(p *part) {
	pal := v.look.Palette
	pen := pen{
		surface: v.s, comp: p.comp, drawing: p.drawing, origin: p.box.Min, look: v.look,
		state: v.marks.State[p.comp.ID], ports: p.ports, grey: v.marks.Cleared[p.comp.ID],
		room: func(name string) float64 { return v.pressureOf(p.comp.ID, name) },
		ink:  pal.Ink, faint: pal.Faint, body_: pal.Body,
	}
	if pen.grey {
		pen.ink, pen.faint = pal.Cleared, pal.ClearedText
	}
	p.drawing.Paint(&pen)
	if v.look.detail() == Full {
		pen.digits()
	}
}

// digits write the ISO 6786 number of each air port beside it, just outside the border on the port's right.
func (p *pen) digits() {
	size := min(p.look.text(smallType), 1.25)
	for _, spec := range p.comp.Kind.Ports {
		place, ok := p.ports[spec.Name]
		if !ok || spec.Medium != circuit.Air || p.drawing.Minor {
			continue
		}
		at := p.at(place.At)
		o := p.drawing.turnedSide(place.Out, p.comp.Turn)
		font := Font{Size: size, Color: p.faint, Anchor: Start}
		switch o {
		case Right:
			at = Point{X: at.X + 0.25, Y: at.Y - 0.35}
		case Left:
			at = Point{X: at.X - 0.25, Y: at.Y - 0.35}
			font.Anchor = End
		case Up:
			at = Point{X: at.X + 0.35, Y: at.Y - 0.3}
		case Down:
			at = Point{X: at.X + 0.35, Y: at.Y + 0.2 + size*0.72}
		}
		p.surface.Text(at, spec.Name, font)
	}
}

func boxAround(points []Point) Box {
	b := Box{points[0], points[0]}
	for _, p := range points[1:] {
		b = b.Union(Box{p, p})
	}
	return b
}
