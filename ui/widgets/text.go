package widgets

import (
	"image/color"

	"gioui.org/font"
	"gioui.org/layout"
	"gioui.org/op"
	"gioui.org/op/paint"
	"gioui.org/text"
	"gioui.org/unit"

	"airpath/ui/theme"
)

// Text draws words. The zero size is the body size; the zero colour is ink.
type Text struct {
	Words  string
	Size   unit.Sp
	Weight font.Weight
	Color  color.NRGBA
	Lines  int // at most; 0 means as many as it takes
	Align  text.Alignment
}

// Layout draws the text within the constraints and wraps it there.
func (x Text) Layout(gtx layout.Context, th *theme.Theme) layout.Dimensions {
	if x.Size == 0 {
		x.Size = theme.Body
	}
	if x.Color == (color.NRGBA{}) {
		x.Color = th.Ink
	}
	return x.print(gtx, th)
}

// In makes a widget of the text.
func (x Text) In(th *theme.Theme) layout.Widget {
	return func(gtx layout.Context) layout.Dimensions { return x.Layout(gtx, th) }
}

// Words is text of body size.
func Words(s string) Text { return Text{Words: s} }

// Note is small text of second rank; it needs the theme for its colour.
func Note(th *theme.Theme, s string) Text {
	return Text{Words: s, Size: theme.Small, Color: th.Soft}
}

// Title is strong text of body size.
func Title(s string) Text { return Text{Words: s, Weight: theme.Strong} }

func ink(ops *op.Ops, c color.NRGBA) op.CallOp {
	m := op.Record(ops)
	paint.ColorOp{Color: c}.Add(ops)
	return m.Stop()
}
