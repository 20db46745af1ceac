package symbol

import (
	"image/color"
	"math"

	"airpath/circuit"
)

// DrawLegend explains the sheet's colours and strokes, its upper left corner at a point, and returns the box that it takes.
// Its size is in dp like all type, so it keeps its size at any zoom.
func DrawLegend(s Surface, at Point, look Look) Box {
	if look.Palette == nil {
		look.Palette = Light
	}
	if look.Scale <= 0 {
		look.Scale = 8
	}
	l := legend{s: s, look: look, x: at.X, y: at.Y, right: at.X}
	s.Begin("legend", "legend")
	l.pressure()
	l.strokes()
	l.marks()
	s.End()
	return Box{at, Point{X: l.right, Y: l.y}}
}

// A legend is being written, row by row.
type legend struct {
	s     Surface
	look  Look
	x, y  float64 // where the next row begins
	right float64
}

const (
	legendRow    = 18 // dp
	legendSample = 30 // dp wide
)

// row leaves room for a sample and writes what it means; it returns the sample's middle line.
func (l *legend) row(text string) (from, to Point) {
	size := l.look.text(smallType + 0.5)
	y := l.y + l.look.text(legendRow)/2
	from, to = Point{X: l.x, Y: y}, Point{X: l.x + l.look.text(legendSample), Y: y}
	font := Font{Size: size, Color: l.look.Palette.Ink}
	x := to.X + l.look.text(8)
	l.s.Text(Point{X: x, Y: y + size*capHalf}, text, font)
	l.right = max(l.right, x+font.Width(text))
	l.y += l.look.text(legendRow)
	return from, to
}

// pressure is the colour scale, with numbers at its ends and its middle.
func (l *legend) pressure() {
	const steps = 13
	size := l.look.text(smallType)
	w, h := l.look.text(11), l.look.text(9)
	font := Font{Size: size, Color: l.look.Palette.Ink, Anchor: Start}
	y := l.y + size*1.3
	pressure := func(t float64) float64 { return circuit.AtmospherePressure + t*FullPressure }
	end := l.x + steps*w
	for i := range steps { // each to the end, the next over it: no seams
		c := l.look.Palette.Pressure(pressure(float64(i) / (steps - 1)))
		x := l.x + float64(i)*w
		l.s.Poly(corners(Point{X: x, Y: y}, Point{X: end, Y: y + h}), true, Style{Fill: c})
	}
	l.s.Text(Point{X: l.x, Y: l.y + size}, l.look.pressureNumber(pressure(0)), font)
	font.Anchor = Middle
	l.s.Text(Point{X: l.x + steps*w/2, Y: l.y + size}, l.look.pressureNumber(pressure(0.5)), font)
	font.Anchor = End
	l.s.Text(Point{X: end, Y: l.y + size}, l.look.pressureText(pressure(1)), font)
	l.right = max(l.right, end)
	l.y = y + h + l.look.text(6)
}

func (l *legend) strokes() {
	pal := l.look.Palette
	line := func(text string, c color.NRGBA, w float64, dash []float64) {
		from, to := l.row(text)
		l.s.Poly([]Point{from, to}, false, Style{Stroke: c, Width: w, Dash: dash})
	}
	w := airWidth(l.look, math.NaN(), false)
	line("air line", pal.Line, w, nil)
	line("control line", pal.Line, w*0.8, []float64{l.look.text(6), l.look.text(4)})
	line("wire", pal.Wire, l.look.stroke(0.11, 0.8), nil)
	from, to := l.row("push-rod")
	rod := l.look.stroke(0.7, 4)
	l.s.Poly([]Point{from, to}, false, Style{Stroke: pal.Ink, Width: rod})
	l.s.Poly([]Point{from, to}, false, Style{Stroke: pal.Paper, Width: rod - 2*l.look.stroke(thin, 0.9)})
}

func (l *legend) marks() {
	pal := l.look.Palette
	half := l.look.text(6)
	frame := func(text string, s Style) (mid Point) {
		from, to := l.row(text)
		mid = Point{X: (from.X + to.X) / 2, Y: from.Y}
		l.s.Poly(corners(Point{X: mid.X - half, Y: mid.Y - half}, Point{X: mid.X + half, Y: mid.Y + half}), true, s)
		return mid
	}
	frame("may be at fault: the heavier, the likelier", Style{Stroke: pal.Suspect, Width: l.look.dp(3)})
	mid := frame("ruled out so far", Style{Stroke: pal.Cleared, Width: l.look.dp(1.2)})
	u := l.look.dp(1)
	l.s.Poly([]Point{{X: mid.X - 2.4*u, Y: mid.Y + 0.2*u}, {X: mid.X - 0.6*u, Y: mid.Y + 2*u}, {X: mid.X + 2.6*u, Y: mid.Y - 2*u}}, false,
		Style{Stroke: pal.ClearedText, Width: 1.5 * u})
	from, to := l.row("path from fault to symptom")
	l.s.Poly([]Point{from, to}, false, Style{Stroke: pal.PathEdge, Width: l.look.dp(7)})
	l.s.Poly([]Point{from, to}, false, Style{Stroke: pal.PathBand, Width: l.look.dp(5)})
	l.s.Poly([]Point{from, to}, false, Style{Stroke: pal.Line, Width: l.look.dp(1.6)})
}
