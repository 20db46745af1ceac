package record

import (
	"airpath/circuit/symbol"
)

// A Paper is a size of sheet, upright, in mm.
type Paper struct {
	Name          string
	Width, Height float64
}

// The papers that a record is laid out for.
var (
	A4     = Paper{"A4", 210, 297}
	Letter = Paper{"letter", 215.9, 279.4}
)

// Papers by name.
func Papers() []Paper { return []Paper{A4, Letter} }

// Measures of a page, in mm. The left margin is the wider: records are punched and filed.
const (
	marginLeft   = 22.0
	marginRight  = 15.0
	marginTop    = 16.0
	marginBottom = 20.0
	footAt       = 11.0 // of the foot's baseline, from the lower edge
)

// Sizes of type in mm, and the one distance between lines that all of them keep.
const (
	titleType   = 7.0
	headingType = 4.3
	bodyType    = 3.2
	smallType   = 2.7
	lineStep    = 4.4
	capHeight   = 0.698 // of a size: how far capitals rise over the baseline
)

// A page is what lies on one sheet of paper.
type page struct {
	width, height float64
	items         []item
	bookmarks     []bookmark
}

// An item draws one thing; put gives a surface on which the point from of the drawing lies at the point at of the page, in
// mm, and a grid step is so many mm.
type item func(put placer)

type placer func(at, from symbol.Point, step float64) symbol.Surface

type bookmark struct {
	text string
	y    float64
}

// inMM is a surface whose steps are millimetres of the page.
func (put placer) inMM() symbol.Surface { return put(symbol.Point{}, symbol.Point{}, 1) }

// A slab is the least that stays together on a page: a line of text, a row of a table.
type slab struct {
	height   float64
	keep     bool  // on one page with the next
	head     *slab // of the table that it belongs to: repeated above it on a new page
	bookmark string
	draw     func(s symbol.Surface, left, top float64)
}

// A setter lays slabs out on pages, one under another.
type setter struct {
	paper   Paper
	pages   []*page
	y       float64
	waiting *figure // a drawing that takes the top of the next page
}

func (t *setter) width() float64 { return t.paper.Width - marginLeft - marginRight }

// depth of an upright page: how much of it takes slabs.
func (t *setter) depth() float64 { return t.paper.Height - marginTop - marginBottom }

// turn to the next page. A drawing that waits comes first; what follows stands under it if there is room.
func (t *setter) turn() {
	if f := t.waiting; f != nil {
		t.waiting = nil
		t.pages = append(t.pages, f.page)
		t.y = f.bottom
		return
	}
	t.pages = append(t.pages, &page{width: t.paper.Width, height: t.paper.Height})
	t.y = marginTop
}

// left is how much room there is on the page.
func (t *setter) left() float64 {
	if len(t.pages) == 0 {
		return 0
	}
	return t.paper.Height - marginBottom - t.y
}

// lay puts slabs down, turning the page where what belongs together does not fit any more.
func (t *setter) lay(slabs []slab) {
	for i := 0; i < len(slabs); i++ {
		need := 0.0
		for j := i; j < len(slabs); j++ {
			need += slabs[j].height
			if !slabs[j].keep {
				break
			}
		}
		turned := false
		for len(t.pages) == 0 || need > t.left() && t.y > marginTop {
			t.turn()
			turned = true
		}
		if h := slabs[i].head; h != nil && turned {
			t.put(*h)
		}
		// A page does not begin with empty space.
		if slabs[i].draw == nil && slabs[i].bookmark == "" && t.y == marginTop {
			continue
		}
		t.put(slabs[i])
	}
}

func (t *setter) put(s slab) {
	p := t.pages[len(t.pages)-1]
	if s.bookmark != "" {
		p.bookmarks = append(p.bookmarks, bookmark{s.bookmark, t.y})
	}
	if s.draw != nil {
		top := t.y
		p.items = append(p.items, func(put placer) { s.draw(put.inMM(), marginLeft, top) })
	}
	t.y += s.height
}

// space is an empty slab.
func space(height float64) slab { return slab{height: height} }
