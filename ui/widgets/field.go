package widgets

import (
	"image"

	"gioui.org/font"
	"gioui.org/io/key"
	"gioui.org/io/semantic"
	"gioui.org/layout"
	"gioui.org/op"
	"gioui.org/op/clip"
	"gioui.org/widget"

	"airpath/ui/theme"
)

// A Field takes one line of text or a number.
type Field struct {
	widget.Editor
}

// A FieldLook is how the field appears in this frame.
type FieldLook struct {
	Label string // said by a screen reader, and asked for by tests
	Hint  string // in the empty field
	Unit  string // after the number
	Bad   bool   // what is in it cannot be read
	Large bool
}

// Typing is what a field says of itself while the keyboard is in it.
const Typing = "the keyboard is here"

// Update reports that Return was pressed in the field.
func (f *Field) Update(gtx layout.Context) (submitted, changed bool) {
	f.SingleLine, f.Submit = true, true
	for {
		ev, ok := f.Editor.Update(gtx)
		if !ok {
			return submitted, changed
		}
		switch ev.(type) {
		case widget.SubmitEvent:
			submitted = true
		case widget.ChangeEvent:
			changed = true
		}
	}
}

// Focus puts the keyboard into the field.
func (f *Field) Focus(gtx layout.Context) { gtx.Execute(key.FocusCmd{Tag: &f.Editor}) }

// Focused reports whether the keyboard is in the field.
func (f *Field) Focused(gtx layout.Context) bool { return gtx.Focused(&f.Editor) }

// Layout draws the field across the width that it is given.
func (f *Field) Layout(gtx layout.Context, th *theme.Theme, k FieldLook) layout.Dimensions {
	f.SingleLine, f.Submit = true, true
	size := image.Pt(gtx.Constraints.Max.X, gtx.Dp(theme.Touch))
	edge := th.Edge
	if k.Bad {
		edge = th.Broken
	}
	defer clip.Rect{Max: size}.Push(gtx.Ops).Pop()
	semantic.Editor.Add(gtx.Ops)
	semantic.LabelOp(k.Label).Add(gtx.Ops)
	Box(gtx, size, th.Sunk, edge, 1)
	if k.Bad {
		outline(gtx, size, edge, 2)
	}
	if f.Focused(gtx) {
		semantic.DescriptionOp(Typing).Add(gtx.Ops)
		Ring(gtx, th, size)
	}
	type C = layout.Context
	text := theme.Body
	weight := theme.Normal
	if k.Large {
		text, weight = theme.Large, theme.Strong
	}
	gtx.Constraints = layout.Exact(size)
	layout.Inset{Left: 10, Right: 10}.Layout(gtx, func(gtx C) layout.Dimensions {
		return layout.Flex{Alignment: layout.Middle}.Layout(gtx,
			layout.Flexed(1, func(gtx C) layout.Dimensions {
				gtx.Constraints.Min.Y = 0
				m := op.Record(gtx.Ops)
				d := f.Editor.Layout(gtx, th.Shaper, font.Font{Weight: weight}, text, ink(gtx.Ops, th.Ink), ink(gtx.Ops, theme.Mix(th.Sunk, th.Focus, 0.35)))
				call := m.Stop()
				if f.Editor.Len() == 0 && k.Hint != "" {
					Text{Words: k.Hint, Size: text, Color: th.Soft, Lines: 1}.Layout(gtx, th)
				}
				call.Add(gtx.Ops)
				return d
			}),
			layout.Rigid(func(gtx C) layout.Dimensions {
				if k.Unit == "" {
					return layout.Dimensions{}
				}
				gtx.Constraints.Min = image.Point{}
				return layout.Inset{Left: 8}.Layout(gtx, Text{Words: k.Unit, Size: text, Color: th.Soft, Lines: 1}.In(th))
			}))
	})
	return layout.Dimensions{Size: size}
}
