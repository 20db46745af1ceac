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
	v := sh.viewOf(s, look, marks)
	for _, l := range Layers {
		v.layer(l)
	}
}

// DrawLayer draws one layer.
func (sh *Sheet) DrawLayer(s Surface, layer Layer, look Look, marks Marks) {
	v := sh.viewOf(s, look, marks)
	v.layer(layer)
}

func (v *view) layer(layer Layer) {
	switch layer {
	case GhostLayer:
		v.ghost()
	case CasingLayer:
		v.casings()
	case LineLayer:
		v.lines(nil)
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
	if len(path) == 0 {
		return nil
	}
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

// lines draws those that are asked for; nil asks for all.
func (v *view) lines(which func(*circuit.Line) bool) {
	pal := v.look.Palette
	for i := range v.sh.lines {
		r := &v.sh.lines[i]
		if !v.shown(boxAround(r.points).Grow(1)) || which != nil && !which(r.line) {
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
			v.s.Poly(r.drawn, false, Style{Stroke: tint(pal.Wire), Width: v.look.stroke(0.11, 0.8)})
		default:
			pa := v.linePressure(r.line)
			style := Style{Stroke: tint(pal.Pressure(pa)), Width: airWidth(v.look, pa, r.pilot)}
			if r.pilot {
				style.Dash = []float64{1.1, 0.7}
			}
			v.s.Poly(r.drawn, false, style)
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
		v.digits(p)
		v.s.End()
	}
}

func partTitle(c *circuit.Component) string {
	if c.Name != "" {
		return c.Name
	}
	return c.ID
}

// DrawSymbol draws one component by itself, where its At says, with its ports in their usual places: for a palette of
// parts or an icon.
func DrawSymbol(s Surface, c *circuit.Component, look Look, state State) {
	if look.Palette == nil {
		look.Palette = Light
	}
	if look.Scale <= 0 {
		look.Scale = 8
	}
	p := part{comp: c, drawing: drawingOf(c), box: BoxOf(c), ports: map[string]Port{}}
	taken := map[Point]bool{}
	for _, spec := range c.Kind.Ports {
		for _, place := range p.drawing.Ports[spec.Name] {
			if !taken[place.At] && (!spec.Optional || len(p.drawing.Ports[spec.Name]) == 1) {
				taken[place.At] = true
				p.ports[spec.Name] = place
				break
			}
		}
	}
	v := view{s: s, look: look, marks: Marks{State: map[string]State{c.ID: state}}}
	s.Begin(c.ID, partTitle(c))
	v.paint(&p)
	v.digits(&p)
	s.End()
}

func (v *view) paint(p *part) {
	pen := pens.Get().(*pen)
	defer pens.Put(pen)
	v.ready(pen, p)
	p.drawing.Paint(pen)
}

func (v *view) digits(p *part) {
	if v.look.detail() == Full {
		pen := pens.Get().(*pen)
		defer pens.Put(pen)
		v.ready(pen, p)
		pen.digits()
	}
}

// ready is the pen for a part as it is shown.
func (v *view) ready(pen *pen, p *part) {
	pal := v.look.Palette
	pen.take(v.s, p, v.look)
	pen.state, pen.known, pen.grey = v.marks.State[p.comp.ID], v.marks.Pressure, v.marks.Cleared[p.comp.ID]
	pen.ink, pen.faint, pen.body_ = pal.Ink, pal.Faint, pal.Body
	if pen.grey {
		pen.ink, pen.faint = pal.Cleared, pal.ClearedText
	}
}

func boxAround(points []Point) Box {
	b := Box{points[0], points[0]}
	for _, p := range points[1:] {
		b = b.Union(Box{p, p})
	}
	return b
}
