package widgets

import (
	"image"

	"gioui.org/io/semantic"
	"gioui.org/layout"
	"gioui.org/op"
	"gioui.org/op/clip"
	"gioui.org/op/paint"
	"gioui.org/widget"

	"airpath/ui/theme"
)

// A Scroll is a column longer than its place, with a bar at its right that shows how far it goes.
type Scroll struct {
	list widget.List
}

// together is how many rows are one child of the list. The keyboard goes on from what is in sight to the child after it, which the
// list lays out unseen: were that a heading alone, with nothing that takes the keyboard, Tab would never get past it.
const together = 3

// Begun adds empty rows, so that the next one can be brought to the very top.
func Begun(rows []layout.Widget) []layout.Widget {
	for len(rows)%together != 0 {
		rows = append(rows, func(layout.Context) layout.Dimensions { return layout.Dimensions{} })
	}
	return rows
}

// To brings a row into sight.
func (s *Scroll) To(row int) { s.list.ScrollTo(row / together) }

// Reveal brings a row into sight where it is not.
func (s *Scroll) Reveal(row int) {
	row /= together
	if p := s.list.Position; row <= p.First || row >= p.First+p.Count-1 {
		s.list.ScrollTo(max(row-1, 0))
	}
}

// Layout draws the rows that are in sight.
func (s *Scroll) Layout(gtx layout.Context, th *theme.Theme, rows []layout.Widget) layout.Dimensions {
	s.list.Axis = layout.Vertical
	bar := gtx.Dp(10)
	outer := gtx.Constraints
	gtx.Constraints.Max.X = max(0, gtx.Constraints.Max.X-bar)
	gtx.Constraints.Min.X = 0
	children := (len(rows) + together - 1) / together
	dims := s.list.List.Layout(gtx, children, func(gtx layout.Context, i int) layout.Dimensions {
		return below(gtx, rows[i*together:min((i+1)*together, len(rows))])
	})
	dims.Size.X = outer.Max.X
	s.bar(gtx, th, image.Pt(outer.Max.X-bar, 0), image.Pt(bar, dims.Size.Y), children)
	return dims
}

// below lays rows out one below the other, each with the constraints that it would have alone.
func below(gtx layout.Context, rows []layout.Widget) layout.Dimensions {
	var all layout.Dimensions
	for _, row := range rows {
		at := op.Offset(image.Pt(0, all.Size.Y)).Push(gtx.Ops)
		d := row(gtx)
		at.Pop()
		all.Size = image.Pt(max(all.Size.X, d.Size.X), all.Size.Y+d.Size.Y)
	}
	return all
}

func (s *Scroll) bar(gtx layout.Context, th *theme.Theme, where, size image.Point, rows int) {
	pos := s.list.Position
	if rows == 0 || pos.Count == 0 || pos.Length <= size.Y {
		return
	}
	start := (float32(pos.First)*float32(pos.Length)/float32(rows) + float32(pos.Offset)) / float32(pos.Length)
	end := start + float32(size.Y)/float32(pos.Length)
	if !pos.BeforeEnd {
		end = 1
	}
	start, end = min(max(start, 0), 1), min(max(end, 0), 1)
	s.list.Scrollbar.Update(gtx, layout.Vertical, start, end)
	if d := s.list.Scrollbar.ScrollDistance(); d != 0 {
		s.list.List.ScrollBy(d * float32(rows))
	}
	defer op.Offset(where).Push(gtx.Ops).Pop()
	area := clip.Rect{Max: size}.Push(gtx.Ops)
	semantic.LabelOp("scroll bar").Add(gtx.Ops)
	s.list.Scrollbar.AddDrag(gtx.Ops)
	s.list.Scrollbar.AddTrack(gtx.Ops)
	area.Pop()
	c := th.Edge
	if s.list.Scrollbar.IndicatorHovered() || s.list.Scrollbar.Dragging() {
		c = th.Ink
	}
	y0, y1 := int(start*float32(size.Y)), int(end*float32(size.Y))
	y1 = max(y1, y0+gtx.Dp(16))
	thumb := image.Rect(gtx.Dp(3), y0, size.X-gtx.Dp(1), y1)
	paint.FillShape(gtx.Ops, c, clip.Rect(thumb).Op())
	grip := clip.Rect(image.Rect(0, y0, size.X, y1)).Push(gtx.Ops)
	s.list.Scrollbar.AddIndicator(gtx.Ops)
	grip.Pop()
}
