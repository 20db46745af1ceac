package widgets

import (
	"image"
	"math"
	"strings"

	"gioui.org/io/semantic"
	"gioui.org/layout"
	"gioui.org/op/clip"
	"gioui.org/text"

	"airpath/circuit/symbol"
	"airpath/circuit/symbol/typeface"
	"airpath/ui/theme"
)

// Words are set by us, in the one typeface that there is, and kept as pictures: see theme.Stamp.

// Shares of the size: how high a line is, and where its baseline lies in it.
const (
	lineHigh = 1.30
	baseline = 1.01
)

// set is a text broken into lines.
type set struct {
	lines []string
	width float64 // of the widest, px
}

// print draws the text within the constraints and wraps it there.
func (x Text) print(gtx layout.Context, th *theme.Theme) layout.Dimensions {
	px := max(1, gtx.Sp(x.Size))
	bold := x.Weight == theme.Strong
	wide := gtx.Constraints.Max.X
	key := theme.Stamp{What: x.Words, Size: px, Lines: x.Lines, Align: uint8(x.Align), Weight: x.Weight, Color: x.Color}
	natural := typeface.Width(x.Words, bold) * float64(px)
	if natural > float64(wide) || strings.IndexByte(x.Words, '\n') >= 0 {
		key.Width = max(wide, 1)
	}
	img := theme.Stamped(key, printed)
	size := img.Size()
	box := gtx.Constraints.Constrain(size)
	off := 0
	switch x.Align {
	case text.Middle:
		off = (box.X - size.X) / 2
	case text.End:
		off = box.X - size.X
	}
	area := clip.Rect{Max: box}.Push(gtx.Ops)
	semantic.LabelOp(x.Words).Add(gtx.Ops)
	if x.Words != "" {
		theme.Put(gtx.Ops, img, image.Pt(off, 0))
	}
	area.Pop()
	return layout.Dimensions{Size: box, Baseline: box.Y - int(math.Round(baseline*float64(px)))}
}

// printed draws the picture of a text.
func printed(key theme.Stamp) *image.RGBA {
	size, bold := float64(key.Size), key.Weight == theme.Strong
	s := breakLines(key.What, size, bold, key.Width, key.Lines)
	high := int(math.Round(lineHigh * size))
	img := image.NewRGBA(image.Rect(0, 0, max(1, int(math.Ceil(s.width))), high*len(s.lines)))
	r := symbol.NewRaster(img, 1, symbol.Point{})
	font := symbol.Font{Size: size, Bold: bold, Color: key.Color}
	for i, line := range s.lines {
		at := symbol.Point{Y: float64(i*high) + math.Round(baseline*size)}
		switch text.Alignment(key.Align) {
		case text.Middle:
			at.X = math.Round((s.width - font.Width(line)) / 2)
		case text.End:
			at.X = math.Round(s.width - font.Width(line))
		}
		r.Text(at, line, font)
	}
	return img
}

// breakLines wraps a text at a width (0: nowhere) into so many lines at most (0: as many as it takes); what is left out
// shows as an ellipsis.
func breakLines(words string, size float64, bold bool, width, most int) set {
	wide := func(s string) float64 { return typeface.Width(s, bold) * size }
	var out set
	for _, paragraph := range strings.Split(words, "\n") {
		line := ""
		for _, word := range strings.Split(paragraph, " ") {
			next := word
			if line != "" {
				next = line + " " + word
			}
			if width > 0 && line != "" && wide(next) > float64(width) {
				out.lines = append(out.lines, line)
				next = word
			}
			for width > 0 && wide(next) > float64(width) { // a word that no line holds
				n := fitting(next, float64(width), wide)
				if n == len(next) {
					break
				}
				out.lines, next = append(out.lines, next[:n]), next[n:]
			}
			line = next
		}
		out.lines = append(out.lines, line)
	}
	if most > 0 && len(out.lines) > most {
		rest := strings.Join(out.lines[most-1:], " ")
		out.lines = out.lines[:most]
		const more = "…"
		n := fitting(rest, float64(width)-wide(more), wide)
		out.lines[most-1] = strings.TrimRight(rest[:n], " ,;:") + more
	}
	for _, line := range out.lines {
		out.width = max(out.width, wide(line))
	}
	return out
}

// fitting is how many bytes of a text fit into a width: whole letters, one at least.
func fitting(s string, width float64, wide func(string) float64) int {
	last := 0
	for i := range s {
		if i > 0 && wide(s[:i]) > width {
			if last == 0 {
				return i
			}
			return last
		}
		last = i
	}
	if last > 0 && wide(s) > width {
		return last
	}
	return len(s)
}
