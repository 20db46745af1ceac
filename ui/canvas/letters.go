package canvas

import (
	"image"
	"math"

	"gioui.org/layout"
	"gioui.org/op/paint"

	"airpath/circuit/symbol"
	"airpath/ui/theme"
)

// A long vehicle seen whole has no room for every name. Where there is room beside the sheet, what is left without one has a letter on the
// sheet, and its name stands there.

// letters are the names beside the sheet, drawn once.
type letters struct {
	key  lettersKey
	on   bool
	at   image.Point // of the picture, in the view
	list paint.ImageOp
}

type lettersKey struct {
	sheet   *symbol.Sheet
	cam     Camera
	size    image.Point
	density float64
	text    float64
	palette *symbol.Palette
}

// Sizes of the list, dp.
const (
	letterType = 10.5
	letterHigh = 15 // of a line
	letterWide = 18 // of the letter before a name
	letterGap  = 14 // between columns
)

// A list of names beside the sheet: where each stands in it, and where it stands.
type listing struct {
	names []string
	cells []image.Point
	size  image.Point
	at    image.Point
	shift image.Point // by which the sheet has to make room for it
}

// listed finds room for the names that have none on the sheet: below it in columns or, where that takes too much, in lines; or right of it.
func (s *Sheet) listed(textScale float64) (l listing, ok bool) {
	l.names = s.drawn.Lettered(symbol.Look{Scale: s.cam.Scale / s.density, TextScale: textScale})
	if len(l.names) == 0 {
		return l, false
	}
	k := s.letterScale(textScale)
	widths, widest := make([]int, len(l.names)), 0
	for i, name := range l.names {
		widths[i] = int(math.Ceil(symbol.Font{Size: letterType * k}.Width(name) + (letterWide+letterGap)*k))
		widest = max(widest, widths[i])
	}
	high, margin := int(math.Round(letterHigh*k)), int(float64(theme.Step)*s.density)
	sheet := pixels(s.drawn.Bounds(), s.cam.Scale).Add(s.cam.Off)
	room := s.size.Sub(image.Pt(2*margin, 2*margin))
	for _, set := range []func(){func() { l.inColumns(widest, high, room.X) }, func() { l.inLines(widths, high, room.X) }} {
		if set(); l.size.X <= room.X && sheet.Dy()+l.size.Y <= room.Y {
			l.shift.Y = -max(0, l.size.Y+margin-(s.size.Y-sheet.Max.Y))
			l.at = image.Pt((s.size.X-l.size.X)/2, (sheet.Max.Y+l.shift.Y+s.size.Y-l.size.Y)/2)
			return l, true
		}
	}
	if l.inColumns(widest, high, widest); sheet.Dx()+l.size.X <= room.X && l.size.Y <= room.Y {
		l.shift.X = -max(0, l.size.X+margin-(s.size.X-sheet.Max.X))
		l.at = image.Pt((sheet.Max.X+l.shift.X+s.size.X-l.size.X)/2, (s.size.Y-l.size.Y)/2)
		return l, true
	}
	return l, false
}

// inColumns sets the list in columns of one width, as even as can be.
func (l *listing) inColumns(wide, high, room int) {
	rows := (len(l.names) + max(1, room/wide) - 1) / max(1, room/wide)
	l.cells, l.size = l.cells[:0], image.Point{}
	for i := range l.names {
		l.put(image.Pt(i/rows*wide, i%rows*high), wide, high)
	}
}

// inLines sets it in lines, one name after the other.
func (l *listing) inLines(widths []int, high, room int) {
	l.cells, l.size = l.cells[:0], image.Point{}
	at := image.Point{}
	for _, w := range widths {
		if at.X > 0 && at.X+w > room {
			at = image.Pt(0, at.Y+high)
		}
		l.put(at, w, high)
		at.X += w
	}
}

func (l *listing) put(at image.Point, wide, high int) {
	l.cells = append(l.cells, at)
	l.size = image.Pt(max(l.size.X, at.X+wide), max(l.size.Y, at.Y+high))
}

// letterScale is how many pixels a dp of the list is.
func (s *Sheet) letterScale(textScale float64) float64 {
	if textScale > 0 {
		return s.density * textScale
	}
	return s.density
}

// shrunk is how many times the sheet is made a little smaller, so that the list has room beside it: by a step of the scale at which names
// are placed anew.
const shrunk = 3

// makeRoom moves the sheet, seen whole, so that the list has room beside it. Where a little is missing the sheet is made smaller.
func (s *Sheet) makeRoom(textScale float64) {
	whole := s.cam
	for range shrunk + 1 {
		l, ok := s.listed(textScale)
		if ok {
			s.cam = s.cam.Pan(l.shift)
			return
		}
		if len(l.names) == 0 {
			break
		}
		s.cam = s.cam.Zoom(float64(s.size.X)/2, float64(s.size.Y)/2, math.Exp2(-1.0/12), s.density)
	}
	s.cam = whole
}

// prepare tells whether letters are shown.
func (n *letters) prepare(s *Sheet, th *theme.Theme, textScale float64) bool {
	key := lettersKey{s.drawn, s.cam, s.size, s.density, textScale, th.Sheet}
	if n.key == key {
		return n.on
	}
	n.key, n.on = key, false
	if !s.whole || s.frozen {
		return false
	}
	l, ok := s.listed(textScale)
	if !ok || l.shift != (image.Point{}) {
		return false
	}
	k := s.letterScale(textScale)
	img := image.NewRGBA(image.Rectangle{Max: l.size})
	fillWith(img, th.Paper)
	r := symbol.NewRaster(img, 1, symbol.Point{})
	font := symbol.Font{Size: letterType * k, Color: th.Sheet.Ink}
	letter := font
	letter.Bold, letter.Anchor = true, symbol.End
	for i, name := range l.names {
		x, y := float64(l.cells[i].X), float64(l.cells[i].Y)+0.75*math.Round(letterHigh*k)
		r.Text(symbol.Point{X: x + (letterWide-5)*k, Y: y}, symbol.Letter(i+1), letter)
		r.Text(symbol.Point{X: x + letterWide*k, Y: y}, name, font)
	}
	n.on, n.list, n.at = true, sprite(img), l.at
	return true
}

func (n *letters) draw(gtx layout.Context) {
	if n.on {
		stamp(gtx.Ops, n.list, n.at)
	}
}
