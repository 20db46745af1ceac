package widgets

import (
	"gioui.org/io/semantic"
	"gioui.org/layout"
	"gioui.org/op"
	"gioui.org/op/clip"
)

// A name is what a control is called, for tests and, where the system has one, a screen reader. It hangs on an area of its
// own around the control: on the control's own area it would be lost to whoever only looks on, for there the toolkit keeps
// it for as long as somebody asks for that area's events.
type name struct {
	class semantic.ClassOp
	label string
	desc  string
	state bool // it can be chosen, and chosen says whether it is
	down  bool
	off   bool
}

// named lays a control out under its name.
func named(gtx layout.Context, n name, w layout.Widget) layout.Dimensions {
	m := op.Record(gtx.Ops)
	dims := w(gtx)
	call := m.Stop()
	area := clip.Rect{Max: dims.Size}.Push(gtx.Ops)
	n.class.Add(gtx.Ops)
	semantic.LabelOp(n.label).Add(gtx.Ops)
	if n.desc != "" {
		semantic.DescriptionOp(n.desc).Add(gtx.Ops)
	}
	if n.state {
		semantic.SelectedOp(n.down).Add(gtx.Ops)
	}
	if n.off {
		semantic.EnabledOp(false).Add(gtx.Ops)
	}
	call.Add(gtx.Ops)
	area.Pop()
	return dims
}
