package canvas

import (
	"image"
	"image/color"
	"math"
	"time"

	"gioui.org/layout"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuit/symbol"
	"airpath/ui/theme"
)

// A Motion shows a vehicle's sheet with its air in motion. The processor draws symbols into a picture that is
// kept, and again only those symbols that look otherwise than before, a few in each frame; lines and the dashes that run along them
// are plain rectangles over it, anew each time: see [strokes]. Numbers follow a few times a second.
type Motion struct {
	network *airflow.Network
	sheet   *symbol.Sheet
	showing showing
	pipes   []symbol.Pipe
	vents   []vent

	key    groundKey
	ground tiles // wires, ghost
	front  tiles // with the symbols
	drawn  []uint64
	flags  []uint8
	next   int // where to go on looking for changed symbols
	behind bool

	run     []float64 // how far the dashes of each pipe have run, dp
	blow    []float64 // the same of each vent
	last    time.Time
	hops    hopList
	stretch float64 // of dashes
	strokes strokes
	made    uint64 // picturelets
	sprites map[spriteKey]*picturelet
	values  values
	names   []placedName
	marks   symbol.Marks
	work    scratch
}

type groundKey struct {
	scale, density, text float64
	unit                 string
	palette              *symbol.Palette
	letters              bool
}

// A vent is a place where air can be seen leaving.
type vent struct {
	index int // in the glance
	at    symbol.Point
	out   symbol.Direction
	part  bool // a leak in a part or line, not a port
}

// How many symbols are drawn again in one frame, and on how many pixels: what is behind catches up in the next.
const (
	symbolsPerFrame = 10
	pixelsPerFrame  = 40_000
)

// NewMotion prepares a vehicle.
func NewMotion(n *airflow.Network, sheet *symbol.Sheet) *Motion {
	m := &Motion{sprites: map[spriteKey]*picturelet{}, network: n, sheet: sheet, showing: newShowing(n, sheet), pipes: sheet.Pipes()}
	m.drawn, m.flags = make([]uint64, len(m.showing.parts)), make([]uint8, len(m.showing.parts))
	m.run = make([]float64, len(m.pipes))
	for i, place := range n.Vents() {
		m.vents = append(m.vents, m.ventAt(i, place))
	}
	m.blow = make([]float64, len(m.vents))
	m.values.of = m.dials(n)
	return m
}

func (m *Motion) ventAt(index int, place string) vent {
	v := vent{index: index, out: symbol.Up, part: true}
	v.at, _ = m.sheet.Anchor(place)
	for i := len(place) - 1; i > 0; i-- {
		if place[i] == '.' {
			if p, ok := m.sheet.Vent(place[:i], place[i+1:]); ok {
				v.at, v.out, v.part = p.At, p.Out, false
			}
			break
		}
	}
	return v
}

// A Show is what is to be seen in one frame.
type Show struct {
	Glance    *airflow.Glance
	Path      []string // components and lines that are lit, in order
	Numbered  bool     // the order is told by numbers
	Selected  string
	Moving    bool // the dashes run; otherwise they stand
	Unit      string
	TextScale float64
}

// LayoutMotion draws the sheet in motion in place of its still picture. It asks for no further frames: who shows new
// glances does.
func (s *Sheet) LayoutMotion(gtx layout.Context, th *theme.Theme, scene *Scene, m *Motion, show *Show) layout.Dimensions {
	return s.layout(gtx, th, scene, func(gtx layout.Context) { m.draw(gtx, s, th, show) })
}

func (m *Motion) draw(gtx layout.Context, s *Sheet, th *theme.Theme, show *Show) {
	view := image.Rectangle{Max: s.size}
	look := symbol.Look{Palette: th.Sheet, Scale: s.cam.Scale / s.density, TextScale: show.TextScale, Unit: show.Unit, Letters: s.letters.prepare(s, th, show.TextScale)}
	m.marks.Hover, m.marks.Selected, m.marks.Path = s.hover, show.Selected, show.Path
	if s.ring && s.cursor != "" {
		m.marks.Hover = s.cursor
	}
	m.prepare(s, th, look, show)
	m.stretch = stretched(look.Scale)
	m.advance(gtx.Now, show)
	m.strokes.clear()
	still := Camera{Scale: s.cam.Scale}
	m.casings(still, look)
	m.drawPipes(still, th, look, show.Glance, view.Sub(s.cam.Off))
	m.drawVents(still, th, show.Glance)
	for _, n := range m.names {
		m.strokes.names = stamped(m.strokes.names, n.img, n.at)
	}
	s.paperAround(gtx.Ops, m.front.at.Add(s.cam.Off), th.Paper)
	if s.frozen || s.size.X*s.size.Y > mostAtOnce {
		m.strokes.handOver(gtx.Ops, &m.front, s.cam.Off, view, th.Paper, s.frozen)
	} else {
		m.strokes.show(gtx.Ops, &m.front, s.cam.Off, view, th.Paper)
	}
	s.letters.draw(gtx)
	p := surface{ops: gtx.Ops, shaper: th.Shaper, cam: s.cam}
	m.values.draw(gtx, m, s, th, look, show.Glance, show.Moving)
	if show.Numbered {
		m.badges(&p, look)
	}
	if m.marks.Hover != "" || m.marks.Selected != "" {
		m.sheet.DrawNameplates(&p, look, symbol.Marks{Hover: m.marks.Hover, Selected: m.marks.Selected})
	}
	p.flush()
}

// Behind says whether some symbols have not been brought up to date yet.
func (m *Motion) Behind() bool { return m.behind }

// prepare sees that the picture of the symbols is there and, but for a few, up to date.
func (m *Motion) prepare(s *Sheet, th *theme.Theme, look symbol.Look, show *Show) {
	key := groundKey{s.cam.Scale, s.density, show.TextScale, show.Unit, th.Sheet, look.Letters}
	bounds := pixels(m.sheet.Bounds().Grow(1), s.cam.Scale)
	view := image.Rectangle{Max: s.size}.Sub(s.cam.Off).Intersect(bounds)
	unit := writtenStep(show.Unit)
	if m.key != key || !view.In(m.ground.at) && !s.frozen {
		m.key = key
		room := max(view.Dx(), view.Dy()) / 3
		m.drawGround(view.Inset(-room).Intersect(bounds), th, look, s.cam.Scale)
		for i := range m.showing.parts {
			m.drawPart(i, s, th, look, show, unit)
		}
		m.behind = false
		return
	}
	m.behind = false
	left, room := symbolsPerFrame, pixelsPerFrame
	for k := range m.showing.parts {
		i := (m.next + k) % len(m.showing.parts)
		p := &m.showing.parts[i]
		if m.drawn[i] == p.look(show.Glance, unit) && m.flags[i] == m.flagsOf(p.id) {
			continue
		}
		if left == 0 || room <= 0 {
			m.behind, m.next = true, i
			return
		}
		left--
		room -= m.drawPart(i, s, th, look, show, unit)
	}
}

// writtenStep is what the last digit of a written pressure is worth, Pa.
func writtenStep(unit string) float64 {
	switch unit {
	case "bar":
		return 1e4
	case "kPa":
		return 1e3
	}
	return circuit.PSI
}

// pixels that a box of the sheet covers at a scale.
func pixels(b symbol.Box, scale float64) image.Rectangle {
	return image.Rect(int(math.Floor(b.Min.X*scale)), int(math.Floor(b.Min.Y*scale)), int(math.Ceil(b.Max.X*scale)), int(math.Ceil(b.Max.Y*scale)))
}

func (m *Motion) drawGround(at image.Rectangle, th *theme.Theme, look symbol.Look, scale float64) {
	m.ground.reset(at)
	m.front.reset(at)
	m.ground.fill(th.Paper)
	m.placeNames(look, scale, th.Paper)
	for i := range m.ground.cells {
		c := &m.ground.cells[i]
		r := symbol.NewRaster(c.img, scale, symbol.Point{X: float64(c.rect.Min.X) / scale, Y: float64(c.rect.Min.Y) / scale})
		look.View = symbol.Box{Min: symbol.Point{X: float64(c.rect.Min.X) / scale, Y: float64(c.rect.Min.Y) / scale},
			Max: symbol.Point{X: float64(c.rect.Max.X) / scale, Y: float64(c.rect.Max.Y) / scale}}
		m.sheet.DrawLayer(r, symbol.GhostLayer, look, symbol.Marks{})
		m.sheet.DrawFixedLines(r, look, symbol.Marks{})
		m.sheet.DrawDigits(r, look)
		m.front.put(c.img, c.rect.Min)
	}
}

// Flags of a part that change how it is drawn.
const (
	hovered uint8 = 1 << iota
	chosen
	onPath
	drawnOnce
)

func (m *Motion) flagsOf(id string) uint8 {
	f := drawnOnce
	if id == m.marks.Hover {
		f |= hovered
	}
	if id == m.marks.Selected {
		f |= chosen
	}
	for _, p := range m.marks.Path {
		if p == id {
			f |= onPath
		}
	}
	return f
}

// around is how far a part's drawing and what surrounds it reach beyond its box, grid steps.
const around = 1.6

// drawPart draws one symbol into the picture, and what it covers or is covered by. It tells on how many pixels.
func (m *Motion) drawPart(i int, s *Sheet, th *theme.Theme, look symbol.Look, show *Show, unit float64) int {
	p := &m.showing.parts[i]
	box, ok := m.sheet.BoxOf(p.id)
	if !ok {
		return 0
	}
	flags := m.flagsOf(p.id)
	reach := 0.3
	if (flags|m.flags[i])&^drawnOnce != 0 {
		reach = around
	}
	m.drawn[i], m.flags[i] = p.look(show.Glance, unit), flags
	at := pixels(box.Grow(reach), s.cam.Scale)
	if !at.Overlaps(m.ground.at) {
		return 0
	}
	img := m.work.picture(at.Size())
	m.ground.take(img, at.Min)
	origin := symbol.Point{X: float64(at.Min.X) / s.cam.Scale, Y: float64(at.Min.Y) / s.cam.Scale}
	r := m.work.raster(img, s.cam.Scale, origin)
	m.marks.State = m.work.states(len(m.showing.parts))
	for k := range m.showing.parts {
		q := &m.showing.parts[k]
		if other, ok := m.sheet.BoxOf(q.id); k != i && (!ok || !other.Grow(0.3).Overlaps(box.Grow(reach))) {
			continue
		}
		m.marks.State[q.id] = q.state(show.Glance)
		m.sheet.DrawPart(r, q.id, look, m.marks)
	}
	m.front.put(img, at.Min)
	return at.Dx() * at.Dy()
}

// advance lets the dashes run on.
func (m *Motion) advance(now time.Time, show *Show) {
	passed := now.Sub(m.last).Seconds()
	m.last = now
	if !show.Moving || passed <= 0 {
		return
	}
	passed = min(passed, 0.2)
	for i := range m.pipes {
		if k := m.showing.pipes[i].flow; k >= 0 {
			m.run[i] = math.Mod(m.run[i]+speed(show.Glance.Flow[k])*passed, dashPeriod*dashHeads*1000*m.stretch)
		}
	}
	for i := range m.vents {
		m.blow[i] = math.Mod(m.blow[i]+1.4*speed(show.Glance.Vent[m.vents[i].index])*passed, puffPeriod*1000)
	}
}

// slowest is the flow, kg/s, from which on dashes are shown: a tenth of a litre of free air a minute.
const slowest = 2e-6

// speed of dashes for a flow, dp/s: it grows with the logarithm, so that a leak is seen to move and a purge does not flash.
func speed(flow float64) float64 {
	f := math.Abs(flow)
	if f < slowest {
		return 0
	}
	return math.Copysign(10+16*math.Log10(1+f/1e-5), flow)
}

// scratch is memory that is used again from one symbol to the next.
type scratch struct {
	img   *image.RGBA
	pen   *symbol.Raster
	state map[string]symbol.State
}

func (w *scratch) picture(size image.Point) *image.RGBA {
	n := 4 * size.X * size.Y
	if w.img == nil || cap(w.img.Pix) < n {
		w.img = &image.RGBA{Pix: make([]uint8, n)}
	}
	w.img.Pix, w.img.Stride, w.img.Rect = w.img.Pix[:n], 4*size.X, image.Rectangle{Max: size}
	return w.img
}

func (w *scratch) raster(img *image.RGBA, scale float64, origin symbol.Point) *symbol.Raster {
	if w.pen == nil {
		w.pen = symbol.NewRaster(img, scale, origin)
	}
	w.pen.Onto(img, scale, origin)
	return w.pen
}

func (w *scratch) states(n int) map[string]symbol.State {
	if w.state == nil {
		w.state = make(map[string]symbol.State, n)
	}
	clear(w.state)
	return w.state
}

// casings are the bands around lines that are lit, chosen or under the pointer.
func (m *Motion) casings(cam Camera, look symbol.Look) {
	pal := look.Palette
	for i := range m.pipes {
		id := m.pipes[i].Line.ID
		switch {
		case contains(m.marks.Path, id):
			m.band(cam, i, pal.PathEdge, max(7, 1.15*look.Scale))
			m.band(cam, i, pal.PathBand, max(5, 0.85*look.Scale))
		case id == m.marks.Selected:
			m.band(cam, i, pal.Select, max(7, 1.1*look.Scale))
		case id == m.marks.Hover:
			m.band(cam, i, theme.Mix(pal.Paper, pal.Select, 0.22), max(10, 1.6*look.Scale))
		}
	}
}

func contains(list []string, id string) bool {
	for _, v := range list {
		if v == id {
			return true
		}
	}
	return false
}

func (m *Motion) band(cam Camera, i int, c color.NRGBA, dp float64) {
	w := int(math.Round(dp * m.key.density))
	pts := m.pipes[i].Corners
	for k := 0; k+1 < len(pts); k++ {
		t := trackOf(cam, pts[k], pts[k+1], w, k+2 < len(pts), k > 0)
		m.strokes.fill(t.rect(t.from, t.to, 0, w), c)
	}
}
