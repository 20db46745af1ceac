package widgets

import (
	"image"
	"image/color"

	"gioui.org/font"
	"gioui.org/io/pointer"
	"gioui.org/io/semantic"
	"gioui.org/layout"
	"gioui.org/op"
	"gioui.org/op/clip"
	"gioui.org/text"
	"gioui.org/unit"
	"gioui.org/widget"

	"airpath/ui/theme"
)

// Rank says how much a button asks to be pressed.
type Rank int

const (
	Plain   Rank = iota // an outlined button
	Primary             // the one action of a panel
	Quiet               // words or an icon without a box
)

// A Button does something when it is pressed by pointer, Return or Space.
type Button struct {
	widget.Clickable
}

// A ButtonLook is how one button appears in this frame.
type ButtonLook struct {
	Words string // verb first
	Label string // what a screen reader or a test calls it; Words if empty
	Icon  Icon
	Rank  Rank
	Off   bool // cannot be pressed now
	Down  bool // is chosen
	Wide  bool // as wide as there is room
	Small bool // small type
	Above bool // what the button is called shows above it when the pointer is on it, not below
}

// Layout draws the button.
func (b *Button) Layout(gtx layout.Context, th *theme.Theme, k ButtonLook) layout.Dimensions {
	if k.Off {
		gtx = gtx.Disabled()
	}
	label := k.Label
	if label == "" {
		label = k.Words
	}
	ground, edge, front := th.Card, th.Edge, th.Ink
	switch {
	case k.Rank == Primary:
		ground, edge, front = th.Accent, th.Accent, th.OnAccent
	case k.Rank == Quiet:
		ground, edge = color.NRGBA{}, color.NRGBA{}
		if k.Words != "" {
			front = th.Accent // words without a box must show that they can be pressed
		}
	}
	if k.Down {
		ground, edge, front = theme.Mix(th.Card, th.Select, 0.14), th.Select, th.Ink
	}
	if k.Off {
		front = theme.Mix(front, th.Panel, 0.45)
		if k.Rank == Primary {
			ground, edge, front = th.Sunk, th.Rule, th.Soft
		}
	} else if b.Pressed() {
		ground = theme.Mix(over(ground, th.Panel), th.Ink, 0.16)
	} else if b.Hovered() {
		ground = theme.Mix(over(ground, th.Panel), th.Ink, 0.07)
	}
	n := name{class: semantic.Button, label: label, state: k.Down, down: k.Down, off: k.Off}
	return named(gtx, n, func(gtx layout.Context) layout.Dimensions {
		return b.Clickable.Layout(gtx, func(gtx layout.Context) layout.Dimensions {
			if !k.Off {
				pointer.CursorPointer.Add(gtx.Ops)
			}
			touch := gtx.Dp(theme.Touch)
			least := image.Pt(touch, touch)
			if k.Wide {
				least.X = gtx.Constraints.Max.X
			}
			inner := gtx
			inner.Constraints.Min = image.Point{}
			m := op.Record(gtx.Ops)
			dims := k.front(inner, th, front)
			draw := m.Stop()
			pad := gtx.Dp(12)
			if k.Words == "" || k.Rank == Quiet {
				pad = gtx.Dp(8)
			}
			size := image.Pt(max(least.X, min(dims.Size.X+2*pad, gtx.Constraints.Max.X)), max(least.Y, dims.Size.Y+gtx.Dp(12)))
			if ground.A > 0 {
				Box(gtx, size, ground, edge, 1)
			}
			if gtx.Focused(&b.Clickable) {
				Ring(gtx, th, size)
			}
			at(gtx, image.Pt((size.X-dims.Size.X)/2, (size.Y-dims.Size.Y)/2), func() { draw.Add(gtx.Ops) })
			if k.Words == "" && !k.Off && b.Hovered() {
				tip(gtx, th, label, size, k.Above)
			}
			return layout.Dimensions{Size: size}
		})
	})
}

// tip says what an icon means while the pointer is on it; it lies over everything else.
func tip(gtx layout.Context, th *theme.Theme, words string, size image.Point, above bool) {
	gtx.Constraints = layout.Constraints{Max: image.Pt(gtx.Dp(320), gtx.Dp(200))}
	pad := gtx.Dp(6)
	m := op.Record(gtx.Ops)
	d := Text{Words: words, Size: theme.Small}.Layout(gtx, th)
	text := m.Stop()
	box := d.Size.Add(image.Pt(2*pad, 2*pad))
	where := image.Pt(size.X-box.X, size.Y+gtx.Dp(2))
	if above {
		where.Y = -box.Y - gtx.Dp(2)
	}
	m = op.Record(gtx.Ops)
	at(gtx, where, func() {
		Box(gtx, box, th.Card, th.Edge, 1)
		at(gtx, image.Pt(pad, pad), func() { text.Add(gtx.Ops) })
	})
	op.Defer(gtx.Ops, m.Stop())
}

func (k ButtonLook) front(gtx layout.Context, th *theme.Theme, c color.NRGBA) layout.Dimensions {
	size := theme.Body
	if k.Small {
		size = theme.Small
	}
	weight := theme.Normal
	if k.Rank == Primary || k.Down {
		weight = theme.Strong
	}
	gtx.Constraints.Max.X = max(0, gtx.Constraints.Max.X-2*gtx.Dp(8))
	words := Text{Words: k.Words, Size: size, Weight: weight, Color: c, Lines: 2, Align: text.Middle}
	switch {
	case k.Icon == nil:
		return words.Layout(gtx, th)
	case k.Words == "":
		return k.Icon.Layout(gtx, c, 22)
	}
	return Row(gtx,
		layout.Rigid(func(gtx layout.Context) layout.Dimensions { return k.Icon.Layout(gtx, c, 20) }),
		Space(theme.Step),
		layout.Rigid(words.In(th)))
}

// over is the colour that a possibly clear colour shows on a ground.
func over(c, ground color.NRGBA) color.NRGBA {
	if c.A == 0 {
		return ground
	}
	return c
}

// A Press is a whole area that acts as one control: a card or a row. It draws a ring when focused and marks itself as chosen.
type Press struct {
	widget.Clickable
}

// Layout runs the content inside the area. The role and label are for tests and, where the system has one, a screen reader.
func (p *Press) Layout(gtx layout.Context, th *theme.Theme, label string, chosen bool, w layout.Widget) layout.Dimensions {
	return named(gtx, name{class: semantic.Button, label: label, state: true, down: chosen}, func(gtx layout.Context) layout.Dimensions {
		return p.Clickable.Layout(gtx, func(gtx layout.Context) layout.Dimensions {
			pointer.CursorPointer.Add(gtx.Ops)
			dims := w(gtx)
			if least := gtx.Dp(theme.Touch); dims.Size.Y < least {
				dims.Size.Y = least
			}
			if gtx.Focused(&p.Clickable) {
				Ring(gtx, th, dims.Size)
			}
			return dims
		})
	})
}

// Labelled gives an area that is no control a name: a picture, a region, a value.
func Labelled(gtx layout.Context, label, description string, w layout.Widget) layout.Dimensions {
	m := op.Record(gtx.Ops)
	dims := w(gtx)
	call := m.Stop()
	defer clip.Rect{Max: dims.Size}.Push(gtx.Ops).Pop()
	semantic.LabelOp(label).Add(gtx.Ops)
	if description != "" {
		semantic.DescriptionOp(description).Add(gtx.Ops)
	}
	call.Add(gtx.Ops)
	return dims
}

// measure is the size that text takes on one line.
func measure(gtx layout.Context, th *theme.Theme, s string, size unit.Sp, weight font.Weight) image.Point {
	m := op.Record(gtx.Ops)
	gtx.Constraints = layout.Constraints{Max: image.Pt(1<<20, 1<<20)}
	dims := Text{Words: s, Size: size, Weight: weight}.Layout(gtx, th)
	m.Stop()
	return dims.Size
}
