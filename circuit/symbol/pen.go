package symbol

import (
	"image/color"
	"math"
	"sync"

	"airpath/circuit"
)

// A pen paints one symbol. Its points are those of the unturned drawing; it turns and moves them onto the sheet.
type pen struct {
	surface Surface
	comp    *circuit.Component
	drawing Drawing
	origin  Point // of the turned box
	look    Look
	state   State
	known   map[string]float64 // Pa absolute by room, of what the state does not say
	ports   map[string]Port    // where each port is fastened, unturned
	grey    bool               // the part is ruled out

	ink, faint, body_ color.NRGBA
	scratch, ring     []Point // memory that is used again
}

// pens are used again: a symbol may be drawn some hundred times a second.
var pens = sync.Pool{New: func() any { return new(pen) }}

// take the pen for a part.
func (p *pen) take(s Surface, part *part, look Look) {
	*p = pen{surface: s, comp: part.comp, drawing: part.drawing, origin: part.box.Min, look: look, ports: part.ports, scratch: p.scratch, ring: p.ring}
}

// Widths in grid steps, and the least in dp.
const (
	thin   = 0.13
	medium = 0.2
	thick  = 0.34
	heavy  = 0.5
)

func (p *pen) width(w float64) float64 {
	switch {
	case w <= thin:
		return p.look.stroke(w, 0.9)
	case w <= medium:
		return p.look.stroke(w, 1.25)
	}
	return p.look.stroke(w, 1.9)
}

// at puts a point of the drawing on the sheet.
func (p *pen) at(v Point) Point {
	t := p.drawing.turned(v, p.comp.Turn)
	return Point{X: p.origin.X + t.X, Y: p.origin.Y + t.Y}
}

func (p *pen) poly(points []Point, closed bool, s Style) {
	p.scratch = p.scratch[:0]
	for _, v := range points {
		p.scratch = append(p.scratch, p.at(v))
	}
	p.surface.Poly(p.scratch, closed, s)
}

// stroke draws an open polyline of ink.
func (p *pen) stroke(w float64, points ...Point) {
	p.poly(points, false, Style{Stroke: p.ink, Width: p.width(w)})
}

// shape draws a closed outline, filled like the inside of a body.
func (p *pen) shape(points ...Point) {
	p.poly(points, true, Style{Stroke: p.ink, Fill: p.body_, Width: p.width(medium)})
}

// solid fills a closed outline with ink.
func (p *pen) solid(points ...Point) { p.poly(points, true, Style{Fill: p.ink}) }

// fill fills a closed outline with a colour, without a stroke.
func (p *pen) fill(c color.NRGBA, points ...Point) { p.poly(points, true, Style{Fill: c}) }

// body is the square or rectangle of a valve.
func (p *pen) body(min, max Point) { p.shape(corners(min, max)...) }

func corners(lo, hi Point) []Point {
	return []Point{lo, {X: hi.X, Y: lo.Y}, hi, {X: lo.X, Y: hi.Y}}
}

// circle with the stroke and fill of a body.
func (p *pen) circle(center Point, r float64) { p.shape(p.round(center, r)...) }

// round is a whole circle, until the next one.
func (p *pen) round(center Point, r float64) []Point {
	p.ring = appendEllipse(p.ring[:0], center, r, r, 0, 2*math.Pi)
	return p.ring
}

// disc is a small filled circle.
func (p *pen) disc(c color.NRGBA, center Point, r float64) {
	p.fill(c, p.round(center, r)...)
}

// arc is a polyline around a centre from one angle to another, in radians, x to the right and y down.
func arc(center Point, r, from, to float64) []Point { return ellipse(center, r, r, from, to) }

func ellipse(center Point, rx, ry, from, to float64) []Point {
	return appendEllipse(nil, center, rx, ry, from, to)
}

func appendEllipse(points []Point, center Point, rx, ry, from, to float64) []Point {
	// A chord may stand off the curve by 1/50 of a grid step: a quarter of a pixel at the largest zoom in use.
	n := int(math.Ceil(math.Abs(to-from) / (2 * math.Acos(1-min(0.5, 0.02/max(rx, ry))))))
	n = max(n, 6)
	whole := math.Abs(to-from) > 2*math.Pi-1e-9
	if whole {
		n = (n + 3) &^ 3 // the same in every quarter, so that turning changes nothing
	}
	if points == nil {
		points = make([]Point, 0, n+1)
	}
	for i := range n {
		sin, cos := math.Sincos(from + (to-from)*float64(i)/float64(n))
		points = append(points, Point{X: center.X + rx*cos, Y: center.Y + ry*sin})
	}
	if !whole {
		sin, cos := math.Sincos(to)
		points = append(points, Point{X: center.X + rx*cos, Y: center.Y + ry*sin})
	}
	return points
}

// text writes upright whatever the turn, its middle at a point of the drawing.
func (p *pen) text(at Point, s string, size float64, bold bool, c color.NRGBA) {
	t := p.at(at)
	p.surface.Text(Point{X: t.X, Y: t.Y + size*capHalf}, s, Font{Size: size, Bold: bold, Color: c, Anchor: Middle})
}

// capHalf is half the height of capitals, as a share of the size: what text is lowered by to be centred.
const capHalf = 0.35

// pressure of a room: what the state says, else what the sheet knows.
func (p *pen) pressure(room string) float64 {
	if v, ok := p.state.Pressure[room]; ok {
		return v
	}
	if len(p.known) > 0 {
		if v, ok := p.known[p.comp.ID+"."+room]; ok {
			return v
		}
	}
	return math.NaN()
}

// airColor of a room, as its lines have it.
func (p *pen) airColor(room string) color.NRGBA {
	if p.grey {
		return p.look.Palette.Cleared
	}
	if room == circuit.Atmosphere {
		return p.look.Palette.Pressure(circuit.AtmospherePressure)
	}
	return p.look.Palette.Pressure(p.pressure(room))
}

// air is the pale tint of a chamber that holds a room's air.
func (p *pen) air(room string) color.NRGBA {
	pa := p.pressure(room)
	if math.IsNaN(pa) || p.grey {
		return p.body_
	}
	return p.look.Palette.tint(p.body_, pa)
}

// open tells how far a passage stands open: the state, or the part at rest.
func (p *pen) open(passage string) float64 {
	if v, ok := p.state.Open[passage]; ok {
		return v
	}
	return p.drawing.Rest[passage]
}
