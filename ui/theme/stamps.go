package theme

import (
	"image"
	"image/color"
	"sync"

	"gioui.org/font"
	"gioui.org/op"
	"gioui.org/op/clip"
	"gioui.org/op/paint"
)

// A Stamp names a small picture that the processor draws once: words, an icon, a corner. Showing it again costs little even
// where there is no graphics card, while a shape or word drawn as a path costs its whole area every time. What differs in
// anything is another stamp.
type Stamp struct {
	What   string // the words, or the name of a shape
	Of     any    // what else tells shapes apart
	Size   int    // of type or shape, px
	Width  int    // at which words are wrapped; 0 for one line
	Lines  int
	Align  uint8
	Weight font.Weight
	Color  color.NRGBA
	Edge   color.NRGBA
}

// mostStamps is how much memory they may take; then all are drawn anew when they are next wanted.
const mostStamps = 24 << 20

var stamps struct {
	sync.Mutex
	kept  map[Stamp]paint.ImageOp
	bytes int
}

// Stamped gives the picture for a key, drawn if it is not there yet.
func Stamped(key Stamp, draw func(Stamp) *image.RGBA) paint.ImageOp {
	stamps.Lock()
	defer stamps.Unlock()
	if o, ok := stamps.kept[key]; ok {
		return o
	}
	img := draw(key)
	if stamps.kept == nil || stamps.bytes+len(img.Pix) > mostStamps {
		stamps.kept, stamps.bytes = map[Stamp]paint.ImageOp{}, 0
	}
	stamps.bytes += len(img.Pix)
	o := paint.NewImageOp(img)
	o.Filter = paint.FilterNearest
	stamps.kept[key] = o
	return o
}

// Put shows a picture with its upper left corner at a pixel.
func Put(ops *op.Ops, img paint.ImageOp, at image.Point) {
	move := op.Offset(at).Push(ops)
	area := clip.Rect{Max: img.Size()}.Push(ops)
	img.Add(ops)
	paint.PaintOp{}.Add(ops)
	area.Pop()
	move.Pop()
}
