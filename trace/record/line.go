package record

import (
	"image/color"
	"strings"
	"unicode/utf8"

	"airpath/circuit/symbol"
)

// Inks of a record: black, a grey that is still 4.5 : 1 on white, and two that only carry shapes.
var (
	ink   = color.NRGBA{R: 0x16, G: 0x1a, B: 0x1d, A: 0xff}
	faint = color.NRGBA{R: 0x5a, G: 0x60, B: 0x64, A: 0xff}
	rule  = color.NRGBA{R: 0x9a, G: 0x9f, B: 0xa3, A: 0xff}
	wash  = color.NRGBA{R: 0xf0, G: 0xf1, B: 0xf2, A: 0xff}
	white = color.NRGBA{R: 0xff, G: 0xff, B: 0xff, A: 0xff}
)

// A run is words of one look on a line.
type run struct {
	x    float64 // from the left of the line
	text string
	font symbol.Font
	flag bool // light on dark
}

// A line of a paragraph; a blank one is a rule to write on.
type line struct {
	runs  []run
	blank bool
}

// lines breaks a paragraph for a width in mm.
func (t Text) lines(width float64) []line {
	if t.Blank {
		return []line{{blank: true}}
	}
	body := symbol.Font{Size: bodyType, Color: ink}
	if t.Faint {
		body.Size, body.Color = smallType, faint
	}
	lead := body
	lead.Bold, lead.Color = true, ink
	b := breaker{width: width}
	if t.Lead != "" {
		if t.Flag {
			lead.Color = white
			b.flag(t.Lead, lead)
		} else {
			b.words(t.Lead, lead)
		}
	}
	if t.Words != "" {
		if t.Lead != "" && !t.Flag {
			b.x += body.Width(" ") * 0.6 // a little more than between words
		}
		b.words(t.Words, body)
	}
	return b.end()
}

// A breaker fills lines word by word.
type breaker struct {
	width float64
	x     float64 // where the next word goes
	now   line
	done  []line
}

func (b *breaker) end() []line {
	if len(b.now.runs) > 0 || len(b.done) == 0 {
		b.done = append(b.done, b.now)
	}
	return b.done
}

func (b *breaker) wrap() {
	b.done = append(b.done, b.now)
	b.now, b.x = line{}, 0
}

func (b *breaker) words(text string, font symbol.Font) {
	gap := font.Width(" ")
	for _, paragraph := range strings.Split(strings.TrimSpace(text), "\n") {
		for _, word := range symbol.Unbroken(paragraph) {
			w := font.Width(word)
			if len(b.now.runs) > 0 && b.x+gap+w > b.width {
				b.wrap()
			}
			for w > b.width { // a word that is too long for any line
				part := fitting(word, font, b.width)
				b.now.runs = append(b.now.runs, run{text: part, font: font})
				b.wrap()
				word = word[len(part):]
				w = font.Width(word)
			}
			b.add(word, w, gap, font)
		}
		if len(b.now.runs) > 0 && strings.Contains(text, "\n") {
			b.wrap()
		}
	}
}

// add puts a word at the end of the line, into the run before it where that looks the same: searching and copying a text
// wants whole lines, not single words.
func (b *breaker) add(word string, width, gap float64, font symbol.Font) {
	n := len(b.now.runs)
	switch {
	case n > 0 && b.now.runs[n-1].font == font && !b.now.runs[n-1].flag:
		b.now.runs[n-1].text += " " + word
		b.x += gap + width
	case n > 0:
		b.now.runs = append(b.now.runs, run{x: b.x + gap, text: word, font: font})
		b.x += gap + width
	default:
		b.now.runs = append(b.now.runs, run{x: b.x, text: word, font: font})
		b.x += width
	}
}

// flagPad is what a flag's plate sticks out beside its words, in mm.
const flagPad = 0.9

func (b *breaker) flag(text string, font symbol.Font) {
	b.now.runs = append(b.now.runs, run{x: flagPad, text: text, font: font, flag: true})
	b.x = font.Width(text) + 2*flagPad
}

// fitting is as much of a word's beginning as a width takes, one letter at least.
func fitting(word string, font symbol.Font, width float64) string {
	end := 0
	for i, r := range word {
		next := i + utf8.RuneLen(r)
		if end > 0 && font.Width(word[:next]) > width {
			break
		}
		end = next
	}
	return word[:end]
}

// draw sets a line whose upper edge is at top.
func (l line) draw(s symbol.Surface, left, top, width float64) {
	base := top + lineStep*0.73
	if l.blank {
		horizontal(s, left, left+width-1, base+0.6, 0.15, rule)
		return
	}
	for _, r := range l.runs {
		at := symbol.Point{X: left + r.x, Y: base}
		if r.flag {
			w := r.font.Width(r.text)
			plate(s, at.X-flagPad, base-r.font.Size*0.86, w+2*flagPad, r.font.Size*1.16, ink)
		}
		s.Text(at, r.text, r.font)
	}
}

func horizontal(s symbol.Surface, from, to, y, width float64, c color.NRGBA) {
	s.Poly([]symbol.Point{{X: from, Y: y}, {X: to, Y: y}}, false, symbol.Style{Stroke: c, Width: width})
}

// plate is a filled rectangle.
func plate(s symbol.Surface, x, y, w, h float64, c color.NRGBA) {
	s.Poly([]symbol.Point{{X: x, Y: y}, {X: x + w, Y: y}, {X: x + w, Y: y + h}, {X: x, Y: y + h}}, true, symbol.Style{Fill: c})
}
