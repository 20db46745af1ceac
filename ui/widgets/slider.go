package widgets

import (
	"image"
	"math"

	"gioui.org/io/event"
	"gioui.org/io/key"
	"gioui.org/io/pointer"
	"gioui.org/io/semantic"
	"gioui.org/layout"
	"gioui.org/op/clip"

	"airpath/ui/theme"
)

// A Slider sets a share from 0 to 1: by dragging, by pressing anywhere on it, by the wheel, by the arrow keys, Home and End.
type Slider struct {
	held    bool
	focused bool
	hovered bool
	filters []event.Filter
	width   int
}

// A SliderLook is how it appears in this frame.
type SliderLook struct {
	Label string // said by a screen reader, and asked for by tests
	Value string // the present value in words, for the same
	Share float64
	Step  float64 // of a key or a turn of the wheel; 0.05 when zero
	Stops []float64
	Off   bool
}

// Held says whether it is being dragged.
func (s *Slider) Held() bool { return s.held }

// Update reports the share that was set since the last frame.
func (s *Slider) Update(gtx layout.Context, share, step float64) (float64, bool) {
	if step <= 0 {
		step = 0.05
	}
	if s.filters == nil {
		s.filters = []event.Filter{
			pointer.Filter{Target: s, Kinds: pointer.Press | pointer.Drag | pointer.Release | pointer.Cancel | pointer.Scroll | pointer.Enter | pointer.Leave,
				ScrollY: pointer.ScrollRange{Min: -1 << 20, Max: 1 << 20}},
			key.FocusFilter{Target: s},
			key.Filter{Focus: s, Name: key.NameLeftArrow}, key.Filter{Focus: s, Name: key.NameRightArrow},
			key.Filter{Focus: s, Name: key.NameDownArrow}, key.Filter{Focus: s, Name: key.NameUpArrow},
			key.Filter{Focus: s, Name: key.NameHome}, key.Filter{Focus: s, Name: key.NameEnd},
		}
	}
	changed := false
	set := func(v float64) { share, changed = min(max(v, 0), 1), true }
	for {
		ev, ok := gtx.Event(s.filters...)
		if !ok {
			break
		}
		switch e := ev.(type) {
		case key.FocusEvent:
			s.focused = e.Focus
		case key.Event:
			if e.State != key.Press {
				continue
			}
			switch e.Name {
			case key.NameLeftArrow, key.NameDownArrow:
				set(snap(share-step, step))
			case key.NameRightArrow, key.NameUpArrow:
				set(snap(share+step, step))
			case key.NameHome:
				set(0)
			case key.NameEnd:
				set(1)
			}
		case pointer.Event:
			switch e.Kind {
			case pointer.Enter:
				s.hovered = true
			case pointer.Leave:
				s.hovered = false
			case pointer.Press:
				if e.Buttons.Contain(pointer.ButtonPrimary) {
					s.held = true
					gtx.Execute(key.FocusCmd{Tag: s})
					set(s.at(gtx, float64(e.Position.X)))
				}
			case pointer.Drag:
				if s.held {
					set(s.at(gtx, float64(e.Position.X)))
				}
			case pointer.Release, pointer.Cancel:
				s.held = false
			case pointer.Scroll:
				set(snap(share-math.Copysign(step, float64(e.Scroll.Y)), step))
			}
		}
	}
	return share, changed
}

// snap takes a share to a whole number of steps.
func snap(v, step float64) float64 { return math.Round(v/step) * step }

// at is the share at a place along the slider.
func (s *Slider) at(gtx layout.Context, x float64) float64 {
	pad := float64(gtx.Dp(sliderPad))
	return (x - pad) / max(1, float64(s.width)-2*pad)
}

const sliderPad = 11

// Layout draws the slider across the width that it is given.
func (s *Slider) Layout(gtx layout.Context, th *theme.Theme, k SliderLook) layout.Dimensions {
	size := image.Pt(gtx.Constraints.Max.X, gtx.Dp(theme.Touch))
	s.width = size.X
	if k.Off {
		gtx = gtx.Disabled()
	}
	defer clip.Rect{Max: size}.Push(gtx.Ops).Pop() // for its name: see name
	semantic.Switch.Add(gtx.Ops)
	semantic.LabelOp(k.Label).Add(gtx.Ops)
	semantic.DescriptionOp(k.Value).Add(gtx.Ops)
	defer clip.Rect{Max: size}.Push(gtx.Ops).Pop()
	event.Op(gtx.Ops, s)
	pointer.CursorPointer.Add(gtx.Ops)
	share := min(max(k.Share, 0), 1)
	pad, mid := gtx.Dp(sliderPad), size.Y/2
	span := size.X - 2*pad
	x := pad + int(share*float64(span)+0.5)
	half := gtx.Dp(4)
	Rect(gtx, th.Edge, image.Rect(pad-1, mid-half-1, size.X-pad+1, mid+half+1))
	Rect(gtx, th.Sunk, image.Rect(pad, mid-half, size.X-pad, mid+half))
	fill := th.Accent
	if k.Off {
		fill = th.Edge
	}
	Rect(gtx, fill, image.Rect(pad, mid-half, x, mid+half))
	for _, stop := range k.Stops {
		at := pad + int(stop*float64(span)+0.5)
		Rect(gtx, th.Edge, image.Rect(at, mid+half+2, at+max(1, gtx.Dp(1)), mid+half+gtx.Dp(7)))
	}
	grip := image.Rect(x-gtx.Dp(10), mid-gtx.Dp(14), x+gtx.Dp(10), mid+gtx.Dp(14))
	edge := th.Edge
	if s.hovered || s.held {
		edge = th.Ink
	}
	Rect(gtx, edge, grip)
	Rect(gtx, th.Card, grip.Inset(max(1, gtx.Dp(2))))
	Rect(gtx, edge, image.Rect(x-gtx.Dp(1), grip.Min.Y+gtx.Dp(7), x+gtx.Dp(1), grip.Max.Y-gtx.Dp(7)))
	if s.focused {
		Ring(gtx, th, size)
	}
	return layout.Dimensions{Size: size}
}
