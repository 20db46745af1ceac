package canvas

import (
	"cmp"
	"image"
	"image/color"
	"slices"

	"gioui.org/f32"
	"gioui.org/op"
	"gioui.org/op/clip"
	"gioui.org/op/paint"
)

// handOver draws the picture, and each stroke by itself. While the whole is shown enlarged, what moves is left out.
func (s *strokes) handOver(ops *op.Ops, under *tiles, off image.Point, view image.Rectangle, ground color.NRGBA, still bool) {
	s.over = tiles{} // on a screen of this size its memory is much
	under.show(ops, off, view, ground)
	if still {
		s.moving = s.moving[:0]
	}
	for _, list := range [...][]stroke{s.list, s.moving, s.hops, s.names} {
		handOver(ops, list, off, view)
	}
}

// handOver draws rectangles, then shapes, then pictures, equal ones one after the other: to change from one to the other costs more than
// to draw. Of the strokes of one list that is right, for those of different kinds do not lie over each other.
func handOver(ops *op.Ops, list []stroke, off image.Point, view image.Rectangle) {
	pictures := list[:0]
	var last color.NRGBA // that a rectangle was painted in; nothing else came since
	for i := 0; i < len(list); i++ {
		x := &list[i]
		switch at := x.at.Add(off); {
		case x.shape:
			n := 1
			for i+n < len(list) && list[i+n].shape && list[i+n].fan == x.fan {
				n++
			}
			fan(ops, list[i:i+n], off, view)
			i += n - 1
			last = color.NRGBA{}
		case !at.Overlaps(view):
		case x.stamp != nil:
			pictures = append(pictures, *x)
		default:
			if x.color != last {
				last = x.color
				paint.ColorOp{Color: last}.Add(ops)
			}
			area := clip.Rect(at.Intersect(view)).Push(ops)
			paint.PaintOp{}.Add(ops)
			area.Pop()
		}
	}
	slices.SortStableFunc(pictures, func(a, b stroke) int { return cmp.Compare(a.stamp.number, b.stamp.number) })
	for i := range pictures {
		stamp(ops, pictures[i].stamp.op, pictures[i].at.Min.Add(off))
	}
}

// fan draws shapes that blow out of one place as one.
func fan(ops *op.Ops, list []stroke, off image.Point, view image.Rectangle) {
	var around image.Rectangle
	for i := range list {
		around = around.Union(list[i].at)
	}
	if !around.Add(off).Overlaps(view) {
		return
	}
	var p clip.Path
	p.Begin(ops)
	for i := range list {
		for k, at := range list[i].quad {
			if at := f32.Pt(float32(at.X)+float32(off.X), float32(at.Y)+float32(off.Y)); k == 0 {
				p.MoveTo(at)
			} else {
				p.LineTo(at)
			}
		}
		p.Close()
	}
	paint.FillShape(ops, list[0].color, clip.Outline{Path: p.End()}.Op())
}
