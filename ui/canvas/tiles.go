package canvas

import (
	"image"
	"image/color"
	"image/draw"

	"gioui.org/op"
	"gioui.org/op/clip"
	"gioui.org/op/paint"
)

// tiles is a picture of a part of the sheet that the processor has drawn, cut into pieces, so that where a little of it
// changes only that piece has to be handed to the screen again.
type tiles struct {
	at    image.Rectangle // in pixels of the sheet at its scale
	cells []cell
	wide  int
}

type cell struct {
	rect image.Rectangle
	img  *image.RGBA
	op   paint.ImageOp
	live bool // op shows img as it is

	empty bool // it is of one colour all over

	version uint64 // rises whenever img is drawn on
}

func (c *cell) changed() {
	c.live = false
	c.version++
}

// side of a piece in pixels.
const side = 128

// reset makes room for a picture. What was in it is lost.
func (t *tiles) reset(at image.Rectangle) {
	if t.at == at {
		for i := range t.cells {
			t.cells[i].changed()
		}
		return
	}
	old := t.cells
	t.at, t.cells, t.wide = at, nil, (at.Dx()+side-1)/side
	for y := at.Min.Y; y < at.Max.Y; y += side {
		for x := at.Min.X; x < at.Max.X; x += side {
			r := image.Rect(x, y, x+side, y+side).Intersect(at)
			c := cell{rect: r}
			for i := range old { // memory that fits is used again
				if old[i].img != nil && old[i].img.Rect.Size() == r.Size() {
					c.img, old[i].img = old[i].img, nil
					break
				}
			}
			if c.img == nil {
				c.img = image.NewRGBA(image.Rectangle{Max: r.Size()})
			}
			t.cells = append(t.cells, c)
		}
	}
}

// put copies a part of a picture whose upper left corner is at a pixel of the sheet.
func (t *tiles) put(from *image.RGBA, at image.Point) {
	to := image.Rectangle{Min: at, Max: at.Add(from.Rect.Size())}
	for i := range t.cells {
		c := &t.cells[i]
		r := to.Intersect(c.rect)
		if r.Empty() {
			continue
		}
		draw.Draw(c.img, r.Sub(c.rect.Min), from, r.Min.Sub(at).Add(from.Rect.Min), draw.Src)
		c.changed()
	}
}

// take copies a part of the picture out; what lies outside it is left as it is.
func (t *tiles) take(to *image.RGBA, at image.Point) {
	from := image.Rectangle{Min: at, Max: at.Add(to.Rect.Size())}
	for i := range t.cells {
		c := &t.cells[i]
		if r := from.Intersect(c.rect); !r.Empty() {
			draw.Draw(to, r.Sub(at).Add(to.Rect.Min), c.img, r.Min.Sub(c.rect.Min), draw.Src)
		}
	}
}

// fill with one colour.
func (t *tiles) fill(c color.NRGBA) {
	for i := range t.cells {
		draw.Draw(t.cells[i].img, t.cells[i].img.Rect, image.NewUniform(c), image.Point{}, draw.Src)
		t.cells[i].changed()
	}
}

// blank tells whether a piece is of one colour all over.
func (c *cell) blank(ground color.NRGBA) bool {
	for i := 0; i < len(c.img.Pix); i += 4 {
		if p := c.img.Pix[i : i+3 : i+3]; p[0] != ground.R || p[1] != ground.G || p[2] != ground.B {
			return false
		}
	}
	return true
}

// show draws the pieces that are in sight, moved by an offset; blank ones as a plain rectangle.
func (t *tiles) show(ops *op.Ops, off image.Point, view image.Rectangle, ground color.NRGBA) {
	for i := range t.cells {
		c := &t.cells[i]
		at := c.rect.Add(off)
		if !at.Overlaps(view) {
			continue
		}
		if !c.live {
			c.live = true
			if c.empty = c.blank(ground); !c.empty {
				c.op = paint.NewImageOp(c.img)
				c.op.Filter = paint.FilterNearest
			}
		}
		if c.empty {
			paint.FillShape(ops, ground, clip.Rect(at).Op())
			continue
		}
		move := op.Offset(at.Min).Push(ops)
		area := clip.Rect{Max: c.rect.Size()}.Push(ops)
		c.op.Add(ops)
		paint.PaintOp{}.Add(ops)
		area.Pop()
		move.Pop()
	}
}
