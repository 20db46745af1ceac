package chart

import (
	"fmt"
	"time"

	"airpath/circuit/symbol"
)

// Pages of a chart, ready to be drawn: the cover, the tree, repairs, tests.
type Pages struct {
	chart  *Chart
	sheets []*sheet
	prose  []*prose // the cover first
	pageOf map[*Node]int
}

// Pages sets the chart out.
func (c *Chart) Pages() *Pages {
	p := &Pages{chart: c, sheets: c.layOut(), pageOf: map[*Node]int{}}
	p.prose = append(p.prose, &prose{title: "Read first", columns: c.cover()})
	p.prose = append(p.prose, flow("Repairs", c.repairLines())...)
	p.prose = append(p.prose, flow("Where to listen", c.placeLines())...)
	p.prose = append(p.prose, flow("How each test is done", c.testLines())...)
	for i, s := range p.sheets {
		s.settle()
		for _, r := range s.roots {
			p.note(r, i+2)
		}
	}
	return p
}

func (p *Pages) note(b *block, page int) {
	if b.node != nil && b.box.refers == nil {
		if _, ok := p.pageOf[b.node]; !ok {
			p.pageOf[b.node] = page
		}
	}
	for _, k := range b.children {
		p.note(k, page)
	}
}

// Count of the pages.
func (p *Pages) Count() int { return len(p.sheets) + len(p.prose) }

// Draw one page, from 1, in mm.
func (p *Pages) Draw(s symbol.Surface, page int) {
	s.Begin(fmt.Sprintf("page-%d", page), fmt.Sprintf("Page %d", page))
	defer s.End()
	rect(s, 0, 0, pageWidth, pageHeight, symbol.Style{Fill: white})
	title := "The chart"
	at := page - 2
	switch {
	case page == 1:
		title = p.prose[0].title
		p.drawProse(s, p.prose[0])
	case at < len(p.sheets):
		for _, r := range p.sheets[at].roots {
			p.drawBlock(s, r)
		}
	default:
		pr := p.prose[at-len(p.sheets)+1]
		title = pr.title
		p.drawProse(s, pr)
	}
	text := func(x, y, size float64, bold bool, anchor symbol.Anchor, words string) {
		color := ink
		if size < typeSize {
			color = faint
		}
		s.Text(symbol.Point{X: x, Y: y}, words, symbol.Font{Size: size, Bold: bold, Color: color, Anchor: anchor})
	}
	text(margin, 11.5, headSize, true, symbol.Start, "Troubleshooting chart: "+p.chart.Heading())
	text(margin, 16.5, 3.1, false, symbol.Start, p.chart.Title)
	text(pageWidth-margin, 11.5, 3.6, true, symbol.End, title)
	text(pageWidth-margin, 16.5, 3.1, false, symbol.End, fmt.Sprintf("page %d of %d", page, p.Count()))
	stroke(s, rule, 0.3, margin, 18.5, pageWidth-margin, 18.5)
	text(margin, pageHeight-7, smallSize, false, symbol.Start, "Level ground, wheels chocked, eye and ear protection; read page 1 before any work. "+bounds)
}

// drawBlock draws a box, the links to its answers, and those.
func (p *Pages) drawBlock(s symbol.Surface, b *block) {
	p.drawBox(s, b.box)
	if len(b.children) > 0 {
		x := b.box.x + boxWidth
		trunk := x + boxGap*0.45
		own := b.box.y + b.box.height()/2
		top, bottom := own, own
		for _, k := range b.children {
			y := k.box.y + stripMiddle(k.box)
			top, bottom = min(top, y), max(bottom, y)
			stroke(s, ink, 0.3, trunk, y, k.box.x, y)
			arrow(s, k.box.x, y)
		}
		stroke(s, ink, 0.3, x, own, trunk, own)
		stroke(s, ink, 0.3, trunk, top, trunk, bottom)
	}
	for _, k := range b.children {
		p.drawBlock(s, k)
	}
}

// stripMiddle is the height at which a link meets a box: the middle of its answer.
func stripMiddle(b *box) float64 {
	return (float64(len(b.answer))*lineHeight + padding) / 2
}

func (p *Pages) drawBox(s symbol.Surface, b *box) {
	h := b.height()
	width := 0.45
	if b.node == nil && b.refers == nil {
		width = 0.25
	}
	rect(s, b.x, b.y, boxWidth, h, symbol.Style{Fill: body})
	y := b.y
	if len(b.answer) > 0 {
		head := float64(len(b.answer))*lineHeight + padding
		rect(s, b.x, y, boxWidth, head, symbol.Style{Fill: strip})
		setLines(s, b.answer, b.x+padding, y+padding/2)
		y += head
	}
	lines := b.lines
	if b.refers != nil {
		lines = append([]line{}, lines...)
		lines[0].text = fmt.Sprintf("Go on at %d, page %d", b.refers.Number, p.pageOf[b.refers])
	}
	setLines(s, lines, b.x+padding, y+padding)
	rect(s, b.x, b.y, boxWidth, h, symbol.Style{Stroke: b.edge, Width: width})
}

func (p *Pages) drawProse(s symbol.Surface, pr *prose) {
	for i, lines := range pr.columns {
		setLines(s, lines, margin+float64(i)*(proseWidth+proseGap), topEdge)
	}
}

// setLines one under the other, the first's top at y.
func setLines(s symbol.Surface, lines []line, x, y float64) {
	for _, l := range lines {
		base := y + lineHeight*0.77
		if l.hang != "" {
			s.Text(symbol.Point{X: x, Y: base}, l.hang, symbol.Font{Size: l.size, Bold: true, Color: l.color})
		}
		if l.text != "" {
			s.Text(symbol.Point{X: x + l.indent, Y: base}, l.text, symbol.Font{Size: l.size, Bold: l.bold, Color: l.color})
		}
		y += lineHeight
	}
}

func rect(s symbol.Surface, x, y, w, h float64, style symbol.Style) {
	s.Poly([]symbol.Point{{X: x, Y: y}, {X: x + w, Y: y}, {X: x + w, Y: y + h}, {X: x, Y: y + h}}, true, style)
}

func stroke(s symbol.Surface, c colorOf, width, x1, y1, x2, y2 float64) {
	s.Poly([]symbol.Point{{X: x1, Y: y1}, {X: x2, Y: y2}}, false, symbol.Style{Stroke: c, Width: width})
}

func arrow(s symbol.Surface, x, y float64) {
	s.Poly([]symbol.Point{{X: x, Y: y}, {X: x - 1.8, Y: y - 0.8}, {X: x - 1.8, Y: y + 0.8}}, true, symbol.Style{Fill: ink})
}

// PDF of the chart, a page a page, with links from box to box.
func (p *Pages) PDF() ([]byte, error) {
	d := symbol.NewPDF("Troubleshooting chart: "+p.chart.Heading(), time.Time{})
	for page := 1; page <= p.Count(); page++ {
		d.Page(pageWidth, pageHeight)
		p.Draw(d.Surface(symbol.Point{}, symbol.Point{}, 1), page)
		at := page - 2
		switch {
		case page == 1:
			d.Bookmark("Read first", 0, 0)
		case at < len(p.sheets):
			if at == 0 {
				d.Bookmark("The chart", 0, 0)
			}
			for _, r := range p.sheets[at].roots {
				link(d, r)
			}
		default:
			if pr := p.prose[at-len(p.sheets)+1]; pr.title != p.prose[at-len(p.sheets)].title {
				d.Bookmark(pr.title, 0, 0)
			}
		}
	}
	return d.Bytes()
}

func link(d *symbol.PDFDocument, b *block) {
	if r := b.box.refers; r != nil {
		d.Link(symbol.Box{Min: symbol.Point{X: b.box.x, Y: b.box.y}, Max: symbol.Point{X: b.box.x + boxWidth, Y: b.box.y + b.box.height()}}, fmt.Sprintf("box-%d", r.Number))
	} else if b.node != nil {
		d.Anchor(fmt.Sprintf("box-%d", b.node.Number), b.box.y)
	}
	for _, k := range b.children {
		link(d, k)
	}
}

// svgGap lies between pages that stand one under the other in an SVG file, mm.
const svgGap = 6.0

// SVG of the chart: its pages one under the other.
func (p *Pages) SVG() []byte {
	const step = 1 / 2.5 // grid steps to a mm
	n := float64(p.Count())
	bounds := symbol.Box{Max: symbol.Point{X: pageWidth * step, Y: (n*pageHeight + (n-1)*svgGap) * step}}
	s := symbol.NewSVG(bounds, symbol.Light.Trace, "Troubleshooting chart: "+p.chart.Heading())
	for page := 1; page <= p.Count(); page++ {
		p.Draw(&moved{s, step, float64(page-1) * (pageHeight + svgGap)}, page)
	}
	return s.File()
}
