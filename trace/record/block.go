package record

import (
	"fmt"

	"airpath/circuit/symbol"
)

const (
	measure   = 150.0 // the widest that running text goes: longer lines are hard to follow
	nameWidth = 36.0  // of the names of facts
	gapBlock  = 1.8   // between blocks
	gapPart   = 5.0   // before a chapter
)

// slabs of one block, in a width.
func slabsOf(b Block, width float64) []slab {
	switch b := b.(type) {
	case Text:
		return b.slabs(width)
	case Facts:
		return b.slabs(width)
	case List:
		return b.slabs(width)
	case Table:
		return b.slabs(width)
	case Frame:
		return b.slabs(width)
	case Signatures:
		return b.slabs(width)
	}
	panic(fmt.Sprintf("record: a %T is no block that is laid among others", b)) // the interface is closed; a drawing has its own page
}

// slabs keep the first two lines together, and a lead that stands alone with what it leads to.
func (t Text) slabs(width float64) []slab {
	width = min(width, measure)
	lines := t.lines(width)
	out := make([]slab, len(lines))
	for i, l := range lines {
		out[i] = slab{height: lineStep, keep: i == 0 && len(lines) > 1 || t.leads || t.Words == "" && !t.Blank, draw: func(s symbol.Surface, left, top float64) {
			l.draw(s, left, top, width)
		}}
	}
	return out
}

func (f Facts) slabs(width float64) []slab {
	var out []slab
	for _, fact := range f {
		out = append(out, fact.slabs(nameWidth, min(width, measure+nameWidth/2))...)
	}
	if len(out) <= mostTogether {
		for i := range out[:max(0, len(out)-1)] {
			out[i].keep = true
		}
	}
	return out
}

// mostTogether is how many lines of facts stay on one page.
const mostTogether = 14

// slabs of a fact: its name in the first column, its text in the second.
func (f Fact) slabs(name, width float64) []slab {
	text := Text{Words: f.Text, Blank: f.Text == ""}.lines(width - name)
	label := Text{Words: f.Name, Faint: true}.lines(name - 2)
	out := make([]slab, max(len(text), len(label)))
	for i := range out {
		out[i] = slab{height: lineStep, keep: i == 0 && len(out) > 1, draw: func(s symbol.Surface, left, top float64) {
			if i < len(label) {
				label[i].draw(s, left, top, name)
			}
			if i < len(text) {
				text[i].draw(s, left+name, top, width-name)
			}
		}}
		if f.Text == "" {
			out[i].height = lineStep * 1.5 // a hand needs more room than type
		}
	}
	return out
}

const listIndent = 6.5

func (l List) slabs(width float64) []slab {
	width = min(width, measure)
	var out []slab
	for n, it := range l.Items {
		sign := "•"
		if l.Numbered {
			sign = fmt.Sprintf("%d", n+1)
		}
		lines := it.lines(width - listIndent)
		for i, ln := range lines {
			out = append(out, slab{height: lineStep, keep: i == 0 && len(lines) > 1, draw: func(s symbol.Surface, left, top float64) {
				if i == 0 {
					s.Text(symbol.Point{X: left + listIndent - 2.2, Y: top + lineStep*0.73}, sign, symbol.Font{Size: bodyType, Color: faint, Anchor: symbol.End})
				}
				ln.draw(s, left+listIndent, top, width-listIndent)
			}})
		}
	}
	return out
}

const framePad = 2.6

// slabs of a frame are one: it is meant for little.
func (f Frame) slabs(width float64) []slab {
	var inner []slab
	height := 2 * framePad
	for i, b := range f {
		if i > 0 {
			inner = append(inner, space(gapBlock))
		}
		inner = append(inner, slabsOf(b, width-2*framePad)...)
	}
	for _, s := range inner {
		height += s.height
	}
	return []slab{{height: height, draw: func(s symbol.Surface, left, top float64) {
		plate(s, left, top, width, height, wash)
		plate(s, left, top, 1.1, height, ink)
		y := top + framePad
		for _, in := range inner {
			if in.draw != nil {
				in.draw(s, left+framePad+0.6, y)
			}
			y += in.height
		}
	}}}
}

func (g Signatures) slabs(width float64) []slab {
	var out []slab
	const high = 17.0
	for _, role := range g.Roles {
		out = append(out, slab{height: high, draw: func(s symbol.Surface, left, top float64) {
			line := top + high - 5.5
			at := left
			for i, what := range []string{role + ": name", "date", "signature"} {
				w := width * []float64{0.4, 0.2, 0.4}[i]
				horizontal(s, at, at+w-5, line, 0.2, ink)
				s.Text(symbol.Point{X: at, Y: line + 3.3}, what, symbol.Font{Size: smallType, Color: faint})
				at += w
			}
		}})
	}
	for i := range out[:max(0, len(out)-1)] {
		out[i].keep = true
	}
	return out
}
