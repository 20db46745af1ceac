package symbol

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"image/color"
	"slices"
	"strconv"
	"strings"

	"airpath/circuit"
	"airpath/circuit/symbol/typeface"
)

// A grid step on paper is 2.5 mm, so that a whole truck fits A3 across; within the file it counts 8, because some readers
// set type badly whose size is near one.
const (
	svgStep  = 2.5
	svgUnits = 8
)

// SVG draws a circuit as an SVG file of its own, in mm, with a group and title for every component and line. A look's
// Scale says how large the type is beside the drawing; zero means one step of the grid to 8 dp.
func SVG(c *circuit.Circuit, look Look, marks Marks) []byte {
	sh := NewSheet(c)
	if look.Palette == nil {
		look.Palette = Light
	}
	s := NewSVG(sh.Bounds(), look.Palette.Paper, c.Title)
	sh.Draw(s, look, marks)
	return s.File()
}

// An SVGSurface writes SVG. Numbers have three decimals at most, so that pictures made on different machines are equal.
type SVGSurface struct {
	head, body bytes.Buffer
}

// NewSVG begins a picture of a part of the sheet on paper of a colour.
func NewSVG(bounds Box, paper color.NRGBA, title string) *SVGSurface {
	s := &SVGSurface{}
	fmt.Fprintf(&s.head, `<svg xmlns="http://www.w3.org/2000/svg" width="%smm" height="%smm" viewBox="%s %s %s %s" font-family="'%s', 'Liberation Sans', Arial, sans-serif" stroke-linejoin="round">`+"\n",
		decimal(bounds.Width()*svgStep), decimal(bounds.Height()*svgStep),
		units(bounds.Min.X), units(bounds.Min.Y), units(bounds.Width()), units(bounds.Height()), typeface.Family)
	if title != "" {
		fmt.Fprintf(&s.head, "<title>%s</title>\n", escaped(title))
	}
	if paper.A > 0 {
		fmt.Fprintf(&s.body, `<rect x="%s" y="%s" width="%s" height="%s"%s/>`+"\n",
			units(bounds.Min.X), units(bounds.Min.Y), units(bounds.Width()), units(bounds.Height()), paint("fill", paper))
	}
	return s
}

// Bytes is the picture so far, to be put into a page that brings the typeface.
func (s *SVGSurface) Bytes() []byte { return s.with("") }

// File is the picture so far as a file of its own, with the typeface in it: names and boxes are measured by it, and another that is
// wider would run out of them.
func (s *SVGSurface) File() []byte {
	return s.with("<style>\n" + typeface.CSS(s.body.String()) + "</style>\n")
}

func (s *SVGSurface) with(style string) []byte {
	return slices.Concat(s.head.Bytes(), []byte(style), s.body.Bytes(), []byte("</svg>\n"))
}

// Begin opens a group.
func (s *SVGSurface) Begin(id, title string) {
	fmt.Fprintf(&s.body, `<g data-id="%s">`, escaped(id))
	if title != "" {
		fmt.Fprintf(&s.body, "<title>%s</title>", escaped(title))
	}
	s.body.WriteByte('\n')
}

// End closes it.
func (s *SVGSurface) End() { s.body.WriteString("</g>\n") }

// Poly writes a polyline or polygon.
func (s *SVGSurface) Poly(points []Point, closed bool, style Style) {
	if len(points) < 2 {
		return
	}
	s.body.WriteString(`<path d="`)
	for i, p := range points {
		if i == 0 {
			s.body.WriteByte('M')
		} else {
			s.body.WriteByte('L')
		}
		s.body.WriteString(units(p.X))
		s.body.WriteByte(' ')
		s.body.WriteString(units(p.Y))
	}
	if closed {
		s.body.WriteByte('Z')
	}
	s.body.WriteString(`"` + paint("fill", style.Fill))
	if style.Stroke.A == 0 || style.Width <= 0 {
		s.body.WriteString(` stroke="none"`) // the default, but not every reader knows it
	} else {
		s.body.WriteString(paint("stroke", style.Stroke) + ` stroke-width="` + units(style.Width) + `"`)
		if len(style.Dash) > 0 {
			parts := make([]string, len(style.Dash))
			for i, d := range style.Dash {
				parts[i] = units(d)
			}
			s.body.WriteString(` stroke-dasharray="` + strings.Join(parts, " ") + `"`)
		}
	}
	s.body.WriteString("/>\n")
}

// Text writes one line.
func (s *SVGSurface) Text(at Point, text string, font Font) {
	fmt.Fprintf(&s.body, `<text x="%s" y="%s" font-size="%s"`, units(at.X), units(at.Y), units(font.Size))
	if font.Bold {
		s.body.WriteString(` font-weight="600"`)
	}
	switch font.Anchor {
	case Middle:
		s.body.WriteString(` text-anchor="middle"`)
	case End:
		s.body.WriteString(` text-anchor="end"`)
	}
	fmt.Fprintf(&s.body, "%s stroke=\"none\">%s</text>\n", paint("fill", font.Color), escaped(text))
}

func paint(what string, c color.NRGBA) string {
	if c.A == 0 {
		return ` ` + what + `="none"`
	}
	s := fmt.Sprintf(` %s="#%02x%02x%02x"`, what, c.R, c.G, c.B)
	if c.A < 0xff {
		s += fmt.Sprintf(` %s-opacity="%s"`, what, decimal(float64(c.A)/0xff))
	}
	return s
}

// units is a length in the file's own.
func units(v float64) string { return decimal(v * svgUnits) }

func decimal(v float64) string {
	s := strconv.FormatFloat(v, 'f', 3, 64)
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	if s == "-0" {
		return "0"
	}
	return s
}

func escaped(s string) string {
	var b bytes.Buffer
	// A bytes.Buffer never fails to write.
	_ = xml.EscapeText(&b, []byte(s))
	return b.String()
}
