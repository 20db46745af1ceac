package record

import (
	"fmt"
	"image"
	"image/draw"
	"math"

	"airpath/circuit/symbol"
)

// PDF lays the document out on paper and writes it as a PDF file with bookmarks, its typeface embedded.
func (d *Document) PDF(paper Paper) ([]byte, error) {
	pdf := symbol.NewPDF(d.Title+": "+d.Subject, d.Day)
	pages := d.lay(paper)
	for i, p := range pages {
		pdf.Page(p.width, p.height)
		put := func(at, from symbol.Point, step float64) symbol.Surface { return pdf.Surface(at, from, step) }
		for _, b := range p.bookmarks {
			pdf.Bookmark(b.text, 0, b.y)
		}
		d.print(p, i+1, len(pages), put)
	}
	return pdf.Bytes()
}

// Pictures draws the pages as images, so many dots to a millimetre.
func (d *Document) Pictures(paper Paper, perMM float64) []*image.RGBA {
	pages := d.lay(paper)
	out := make([]*image.RGBA, len(pages))
	for i, p := range pages {
		img := image.NewRGBA(image.Rect(0, 0, int(math.Round(p.width*perMM)), int(math.Round(p.height*perMM))))
		draw.Draw(img, img.Bounds(), image.White, image.Point{}, draw.Src)
		d.print(p, i+1, len(pages), func(at, from symbol.Point, step float64) symbol.Surface {
			return symbol.NewRaster(img, perMM*step, symbol.Point{X: from.X - at.X/step, Y: from.Y - at.Y/step})
		})
		out[i] = img
	}
	return out
}

// lay everything out on pages.
func (d *Document) lay(paper Paper) []*page {
	t := &setter{paper: paper}
	t.lay(d.headSlabs(t.width()))
	for _, part := range d.Parts {
		t.part(part)
	}
	t.flush()
	return t.pages
}

// print draws a page and its foot.
func (d *Document) print(p *page, number, of int, put placer) {
	for _, it := range p.items {
		it(put)
	}
	s := put.inMM()
	y := p.height - footAt
	horizontal(s, marginLeft, p.width-marginRight, y-4, 0.12, rule)
	font := symbol.Font{Size: smallType, Color: faint}
	count := fmt.Sprintf("%d of %d", number, of)
	room := p.width - marginLeft - marginRight - font.Width(count) - 6
	running := d.Title + " · " + d.Running
	if font.Width(running) > room {
		running = fitting(running, font, room-font.Width("…")) + "…"
	}
	s.Text(symbol.Point{X: marginLeft, Y: y}, running, font)
	font.Anchor = symbol.End
	s.Text(symbol.Point{X: p.width - marginRight, Y: y}, count, font)
}

// headSlabs are the title and the facts in two columns.
func (d *Document) headSlabs(width float64) []slab {
	title := symbol.Font{Size: titleType, Bold: true, Color: ink}
	subject := Text{Lead: d.Subject}.lines(width)
	out := []slab{{height: titleType * 1.35, keep: true, draw: func(s symbol.Surface, left, top float64) {
		s.Text(symbol.Point{X: left, Y: top + titleType*0.9}, d.Title, title)
	}}}
	for _, l := range subject {
		out = append(out, slab{height: lineStep * 1.15, keep: true, draw: func(s symbol.Surface, left, top float64) { l.draw(s, left, top, width) }})
	}
	out = append(out, slab{height: 2.5, keep: true, draw: func(s symbol.Surface, left, top float64) {
		horizontal(s, left, left+width, top+1.2, 0.5, ink)
	}})
	const names, between = 22.0, 6.0
	half := (width - between) / 2
	for i := 0; i < len(d.Facts); i += 2 {
		a := d.Facts[i].slabs(names, half)
		var b []slab
		if i+1 < len(d.Facts) {
			b = d.Facts[i+1].slabs(names, half)
		}
		for k := range max(len(a), len(b)) {
			row := slab{keep: true, draw: func(s symbol.Surface, left, top float64) {
				if k < len(a) {
					a[k].draw(s, left, top)
				}
				if k < len(b) {
					b[k].draw(s, left+half+between, top)
				}
			}}
			if k < len(a) {
				row.height = a[k].height
			}
			if k < len(b) {
				row.height = max(row.height, b[k].height)
			}
			out = append(out, row)
		}
	}
	return out
}

// part lays a chapter out; a drawing has the chapter's title on its own page.
func (t *setter) part(p Part) {
	heading := symbol.Font{Size: headingType, Bold: true, Color: ink}
	slabs := []slab{space(gapPart), {height: headingType*1.35 + 1.4, keep: true, bookmark: p.Title, draw: func(s symbol.Surface, left, top float64) {
		s.Text(symbol.Point{X: left, Y: top + headingType*0.95}, p.Title, heading)
	}}}
	for i, b := range p.Blocks {
		if d, ok := b.(Drawing); ok {
			t.drawing(p.Title, d)
			slabs = nil
			continue
		}
		if i > 0 {
			slabs = append(slabs, slab{height: gapBlock, keep: len(slabs) > 0 && slabs[len(slabs)-1].keep})
		}
		slabs = append(slabs, slabsOf(b, t.width())...)
	}
	t.lay(slabs)
}
