package chart

import (
	"fmt"
	"image/color"
	"strings"

	"airpath/circuit/symbol"
)

// A page is A4 across, in mm.
const (
	pageWidth  = 297.0
	pageHeight = 210.0
	margin     = 11.0
	topEdge    = 22.0  // under the heading
	bottomEdge = 197.0 // over the footing

	boxWidth = 62.0
	boxGap   = 9.0 // between columns
	between  = 2.6 // boxes of a column
	columns  = 4
	padding  = 1.6

	typeSize   = 2.75 // mm, some 8 points
	smallSize  = 2.45
	headSize   = 5.0
	lineHeight = 3.55
)

// The chart is printed: dark ink on white, colour only where words say the same.
var (
	white  = color.NRGBA{255, 255, 255, 255}
	ink    = symbol.Light.Ink
	faint  = symbol.Light.Faint
	rule   = symbol.Light.Line
	strip  = color.NRGBA{0xE3, 0xEA, 0xEE, 255} // an answer
	body   = color.NRGBA{0xFD, 0xFD, 0xFB, 255}
	repair = symbol.Light.Good
	goes   = symbol.Light.PathEdge
)

// A line of text in a box.
type line struct {
	text   string
	bold   bool
	color  color.NRGBA
	indent float64
	size   float64
	hang   string // set at the left edge, before the indented text
}

// fill breaks text into lines that fit a width.
func fill(text string, l line, width float64) []line {
	font := symbol.Font{Size: l.size, Bold: l.bold}
	var out []line
	current := ""
	for _, word := range symbol.Unbroken(text) {
		longer := strings.TrimSpace(current + " " + word)
		if current != "" && font.Width(longer) > width-l.indent {
			next := l
			next.text = current
			out = append(out, next)
			l.hang = ""
			longer = word
		}
		current = longer
	}
	if current != "" {
		l.text = current
		out = append(out, l)
	}
	return out
}

// A box is a node of the tree on its page.
type box struct {
	node   *Node // nil for an end
	answer []line
	lines  []line
	edge   color.NRGBA
	refers *Node // it goes on at this node, on another page
	x, y   float64
}

func (b *box) height() float64 {
	h := 2*padding + float64(len(b.lines))*lineHeight
	if len(b.answer) > 0 {
		h += float64(len(b.answer))*lineHeight + padding
	}
	return h
}

const inner = boxWidth - 2*padding

// boxOf a branch. from says which answer leads there.
func (c *Chart) boxOf(n *Node, from string) *box {
	b := &box{node: n, edge: ink}
	if from != "" {
		b.answer = fill(from, line{bold: true, color: ink, size: smallSize}, inner)
	}
	plain := line{color: ink, size: typeSize}
	soft := line{color: faint, size: smallSize}
	head := line{bold: true, color: ink, size: typeSize, indent: 6.5, hang: fmt.Sprint(n.Number)}
	if n.Leaf != nil {
		b.edge = repair
		if n.Leaf.Cut {
			b.edge = goes
		}
		b.lines = append(b.lines, fill(n.Leaf.advice(), head, inner)...)
		for _, l := range n.Leaf.Likely {
			r := c.Repairs[l.Repair-1]
			item := plain
			item.indent, item.hang = 9, fmt.Sprintf("R%d", l.Repair)
			b.lines = append(b.lines, fill(fmt.Sprintf("%s (%s)", shortly(r.Title), Percent(l.Probability)), item, inner)...)
		}
		if rest := n.Leaf.restWords(); rest != "" {
			b.lines = append(b.lines, fill(rest, soft, inner)...)
		}
		return b
	}
	title := n.Ask.Procedure.Title
	if n.Ask.Minutes == 0 {
		title += ", the same again"
	}
	b.lines = append(b.lines, fill(title, head, inner)...)
	b.lines = append(b.lines, fill(n.reads(), plain, inner)...)
	meta := n.Ask.Procedure.ID
	if n.Ask.Minutes > 0 {
		meta += fmt.Sprintf(", %.0f min", n.Ask.Minutes)
	}
	if l := n.limitRefs(); l != "" {
		meta += ", limits " + l
	}
	b.lines = append(b.lines, fill(meta, soft, inner)...)
	return b
}

// endBox is for an answer after which nothing more is charted.
func endBox(from, end string) *box {
	b := &box{edge: rule, answer: fill(from, line{bold: true, color: ink, size: smallSize}, inner)}
	b.lines = fill(upper(end), line{color: ink, size: typeSize}, inner)
	return b
}

// refersTo is a box that says where the tree goes on; the page is filled in when it is known.
func refersTo(n *Node, from string) *box {
	b := &box{edge: goes, refers: n, answer: fill(from, line{bold: true, color: ink, size: smallSize}, inner)}
	b.lines = []line{{color: ink, size: typeSize, bold: true, text: fmt.Sprintf("Go on at %d", n.Number)}}
	return b
}

// shortly is the part of a title that says which fault, cut at the second clause.
func shortly(title string) string {
	if i := strings.Index(title, ", so that"); i > 0 {
		return title[:i]
	}
	return title
}

func upper(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

// answerWords of a branch for its box: with how often it is met. Long lists of places are cut short; the text has them all.
func answerWords(b *Branch) string {
	words := b.Words
	if parts := strings.Split(words, ", or at "); len(parts) > 3 {
		words = fmt.Sprintf("%s, or at %s, or at %d more of the places listed", parts[0], parts[1], len(parts)-2)
	}
	return fmt.Sprintf("%s  (%s)", words, Percent(b.Chance))
}
