package symbol

import (
	"fmt"
	"image/color"
)

// A PDFSurface draws on a page of a [PDFDocument]. It may be used until the next page begins.
type PDFSurface struct {
	doc      *PDFDocument
	at, from Point // of the page in mm, of the drawing in grid steps: one lies on the other
	step     float64
}

// Begin does nothing: a page has no groups.
func (s *PDFSurface) Begin(id, title string) {}

// End does nothing.
func (s *PDFSurface) End() {}

// page is where a point of the drawing lies, in mm.
func (s *PDFSurface) page(p Point) (x, y float64) {
	return s.at.X + (p.X-s.from.X)*s.step, s.at.Y + (p.Y-s.from.Y)*s.step
}

// Poly fills and strokes.
func (s *PDFSurface) Poly(points []Point, closed bool, style Style) {
	if len(points) < 2 {
		return
	}
	fill := style.Fill.A > 0 && len(points) > 2
	stroke := style.Stroke.A > 0 && style.Width > 0
	switch {
	case fill && stroke && style.Fill.A == style.Stroke.A:
		s.fill(style.Fill)
		s.pen(style)
		s.path(points, closed, "FD")
	default:
		if fill {
			s.fill(style.Fill)
			s.path(points, true, "F")
		}
		if stroke {
			s.pen(style)
			s.path(points, closed, "D")
		}
	}
}

func (s *PDFSurface) path(points []Point, closed bool, how string) {
	for i, p := range points {
		x, y := s.page(p)
		if i == 0 {
			s.doc.pdf.MoveTo(x, y)
		} else {
			s.doc.pdf.LineTo(x, y)
		}
	}
	if closed {
		s.doc.pdf.ClosePath()
	}
	s.doc.pdf.DrawPath(how)
}

// Text sets one line.
func (s *PDFSurface) Text(at Point, text string, font Font) {
	if text == "" || font.Color.A == 0 {
		return
	}
	switch font.Anchor {
	case Middle:
		at.X -= font.Width(text) / 2
	case End:
		at.X -= font.Width(text)
	}
	d := s.doc
	if c := rgb(font.Color); d.now.text != c {
		d.now.text = c
		d.pdf.SetTextColor(int(font.Color.R), int(font.Color.G), int(font.Color.B))
	}
	s.alpha(font.Color)
	d.useFont(font.Bold, font.Size*s.step)
	x, y := s.page(at)
	d.pdf.Text(x, y, text)
}

func (s *PDFSurface) fill(c color.NRGBA) {
	if d := s.doc; d.now.fill != rgb(c) {
		d.now.fill = rgb(c)
		d.pdf.SetFillColor(int(c.R), int(c.G), int(c.B))
	}
	s.alpha(c)
}

// pen sets how a stroke looks.
func (s *PDFSurface) pen(style Style) {
	d := s.doc
	if c := style.Stroke; d.now.stroke != rgb(c) {
		d.now.stroke = rgb(c)
		d.pdf.SetDrawColor(int(c.R), int(c.G), int(c.B))
	}
	s.alpha(style.Stroke)
	if w := style.Width * s.step; d.now.width != w {
		d.now.width = w
		d.pdf.SetLineWidth(w)
	}
	dash := make([]float64, len(style.Dash))
	for i, v := range style.Dash {
		dash[i] = v * s.step
	}
	if key := fmt.Sprint(dash); d.now.dash != key {
		d.now.dash = key
		d.pdf.SetDashPattern(dash, 0)
	}
}

func (s *PDFSurface) alpha(c color.NRGBA) {
	if d := s.doc; d.now.alpha != int(c.A) {
		if d.now.alpha < 0 && c.A == 0xff { // a page begins with full colours
			d.now.alpha = 0xff
			return
		}
		d.now.alpha = int(c.A)
		d.pdf.SetAlpha(float64(c.A)/0xff, "Normal")
	}
}

func rgb(c color.NRGBA) int { return int(c.R)<<16 | int(c.G)<<8 | int(c.B) }
