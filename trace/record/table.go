package record

import "airpath/circuit/symbol"

const (
	cellGap = 3.0 // between columns
	rowPad  = 0.9 // over and under a row's text
)

// slabs of a table: its head, kept with the first row and repeated on every page, and a slab for each row. A row that is
// tall comes in pieces.
func (t Table) slabs(width float64) []slab {
	left, wide := t.columns(width)
	head := slab{height: lineStep + 2*rowPad, keep: true, draw: func(s symbol.Surface, x, top float64) {
		for i, c := range t.Columns {
			s.Text(symbol.Point{X: x + left[i], Y: top + rowPad + lineStep*0.73}, c.Title, symbol.Font{Size: smallType, Bold: true, Color: faint})
		}
		horizontal(s, x, x+width, top+lineStep+2*rowPad, 0.35, ink)
	}}
	out := []slab{head}
	const tallest, piece = 14, 6 // lines of a row that stays whole, and of the pieces of a taller one
	for _, row := range t.Rows {
		cells := make([][]line, len(row))
		most := 1
		for i, c := range row {
			for _, paragraph := range c {
				cells[i] = append(cells[i], paragraph.lines(wide[i])...)
			}
			most = max(most, len(cells[i]))
		}
		// A cell without a word belongs to the row above: no rule between.
		joined := len(row) > 0 && len(row[0]) == 0
		step := most
		if most > tallest {
			step = piece
		}
		for from := 0; from < most; from += step {
			to := min(most, from+step)
			if most-to < 3 {
				to = most // no line or two alone
			}
			first, last := from == 0, to == most
			s := slab{height: float64(to-from) * lineStep, head: &head}
			above := 0.0
			if first {
				above = rowPad
			}
			s.height += above
			if last {
				s.height += rowPad
			}
			s.draw = func(on symbol.Surface, x, top float64) {
				if first && !joined {
					horizontal(on, x, x+width, top, 0.12, rule)
				}
				for i, lines := range cells {
					for k := from; k < min(to, len(lines)); k++ {
						lines[k].draw(on, x+left[i], top+above+float64(k-from)*lineStep, wide[i])
					}
				}
			}
			out = append(out, s)
			if last {
				break
			}
		}
	}
	end := slab{height: 0.1, draw: func(s symbol.Surface, x, top float64) { horizontal(s, x, x+width, top, 0.35, ink) }}
	if n := len(out); n > 1 {
		out[n-1].keep = true
	}
	return append(out, end)
}

// columns are where they begin, from the left of the table, and how wide their text may be. A column takes its share, but
// never less than its title.
func (t Table) columns(width float64) (left, wide []float64) {
	font := symbol.Font{Size: smallType, Bold: true}
	room := width - cellGap*float64(len(t.Columns)-1)
	wide = make([]float64, len(t.Columns))
	for settled := false; !settled; {
		settled = true
		free, shares := room, 0.0
		for i, c := range t.Columns {
			if wide[i] > 0 {
				free -= wide[i]
			} else {
				shares += c.Share
			}
		}
		for i, c := range t.Columns {
			if least := font.Width(c.Title); wide[i] == 0 && free*c.Share/shares < least {
				wide[i] = least
				settled = false
			}
		}
		if !settled {
			continue
		}
		for i, c := range t.Columns {
			if wide[i] == 0 {
				wide[i] = free * c.Share / shares
			}
		}
	}
	x := 0.0
	for _, w := range wide {
		left = append(left, x)
		x += w + cellGap
	}
	return left, wide
}
