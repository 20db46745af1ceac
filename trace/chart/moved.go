package chart

import (
	"image/color"

	"airpath/circuit/symbol"
)

type colorOf = color.NRGBA

// moved is a surface on which mm lie elsewhere and count otherwise.
type moved struct {
	on   symbol.Surface
	step float64 // of the surface to a mm
	down float64 // mm
}

func (m *moved) Begin(id, title string) { m.on.Begin(id, title) }
func (m *moved) End()                   { m.on.End() }

func (m *moved) at(p symbol.Point) symbol.Point {
	return symbol.Point{X: p.X * m.step, Y: (p.Y + m.down) * m.step}
}

func (m *moved) Poly(points []symbol.Point, closed bool, style symbol.Style) {
	out := make([]symbol.Point, len(points))
	for i, p := range points {
		out[i] = m.at(p)
	}
	style.Width *= m.step
	m.on.Poly(out, closed, style)
}

func (m *moved) Text(at symbol.Point, text string, font symbol.Font) {
	font.Size *= m.step
	m.on.Text(m.at(at), text, font)
}
