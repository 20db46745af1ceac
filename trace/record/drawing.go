package record

import "airpath/circuit/symbol"

// nameType is how tall names on a printed sheet are, in mm: 6.5 points are still read at arm's length.
const nameType = 2.3

// Captions and headings around a drawing, in mm.
const (
	overDrawing  = 9.0
	underDrawing = 3.0
)

// A figure is a page with a drawing at its top.
type figure struct {
	page   *page
	bottom float64 // where what follows may stand
}

// drawing takes the top of the next page. Text goes on meanwhile on this one, as long as there is more than a little room.
func (t *setter) drawing(title string, d Drawing) {
	t.flush()
	t.waiting = t.figure(title, d)
	if t.left() < t.depth()/5 {
		t.turn()
	}
}

// flush puts down a drawing that still waits.
func (t *setter) flush() {
	if t.waiting != nil {
		t.turn()
	}
}

// figure draws a vehicle's sheet upright or across, whichever shows it larger.
func (t *setter) figure(title string, d Drawing) *figure {
	sheet := symbol.NewSheet(d.Circuit)
	bounds := sheet.Bounds()
	best, p, caption := 0.0, (*page)(nil), []line(nil)
	for _, turned := range []bool{false, true} {
		w, h := t.paper.Width, t.paper.Height
		if turned {
			w, h = h, w
		}
		width := w - marginLeft - marginRight
		lines := Text{Words: d.Caption, Faint: true}.lines(width)
		height := h - marginTop - marginBottom - overDrawing - underDrawing - float64(len(lines))*lineStep
		if step := min(width/bounds.Width(), height/bounds.Height()); step > best*1.05 {
			best, p, caption = step, &page{width: w, height: h}, lines
		}
	}
	width := p.width - marginLeft - marginRight
	p.bookmarks = []bookmark{{title, marginTop}}
	top := marginTop + overDrawing
	at := symbol.Point{X: marginLeft + (width-best*bounds.Width())/2, Y: top}
	// Type on a sheet is so many dp whatever the scale: 11 for names.
	look := symbol.Look{Palette: symbol.Print, Scale: 11 * best / nameType, Detail: symbol.Names, Unit: d.Unit}
	p.items = append(p.items, func(put placer) {
		s := put.inMM()
		s.Text(symbol.Point{X: marginLeft, Y: marginTop + headingType*0.95}, title, symbol.Font{Size: headingType, Bold: true, Color: ink})
		sheet.Draw(put(at, bounds.Min, best), look, d.Marks)
		y := top + best*bounds.Height() + underDrawing
		for i, l := range caption {
			l.draw(s, marginLeft, y+float64(i)*lineStep, width)
		}
	})
	bottom := top + best*bounds.Height() + underDrawing + float64(len(caption))*lineStep + gapPart
	if p.width != t.paper.Width {
		bottom = t.paper.Height // nothing upright stands on a page that is turned
	}
	return &figure{p, bottom}
}
