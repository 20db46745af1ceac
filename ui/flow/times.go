package flow

import (
	"fmt"
	"image"
	"math"

	"gioui.org/io/event"
	"gioui.org/io/key"
	"gioui.org/io/pointer"
	"gioui.org/io/semantic"
	"gioui.org/layout"
	"gioui.org/op/clip"

	"airpath/ui/engine"
	"airpath/ui/theme"
	"airpath/ui/widgets"
)

// timeStrip is the time line with what the gauges have shown, and what makes time run, stand and go back.
type timeStrip struct {
	play, step, back, slower, faster widgets.Button
	begin, empty                     widgets.Button
	line                             int // tag of the time line
	held, focused                    bool
	rect                             image.Rectangle
	filters                          []event.Filter
	plot                             plot
	clock                            clockWords
}

type clockWords struct {
	tenth int
	words string
}

func (t *timeStrip) height(gtx ctx, a *Area) int {
	if a.set.Prefs.Curves {
		return gtx.Dp(200)
	}
	return gtx.Dp(54)
}

func (t *timeStrip) update(gtx ctx, a *Area) {
	if t.play.Clicked(gtx) {
		a.Play(!a.frame.Playing)
	}
	if t.step.Clicked(gtx) {
		a.Step(1)
	}
	if t.back.Clicked(gtx) {
		a.Step(-1)
	}
	if t.slower.Clicked(gtx) {
		a.Faster(-1)
	}
	if t.faster.Clicked(gtx) {
		a.Faster(1)
	}
	if t.begin.Clicked(gtx) {
		a.Begin(true)
	}
	if t.empty.Clicked(gtx) {
		a.Begin(false)
	}
	if t.filters == nil {
		t.filters = []event.Filter{
			pointer.Filter{Target: &t.line, Kinds: pointer.Press | pointer.Drag | pointer.Release | pointer.Cancel},
			key.FocusFilter{Target: &t.line},
			key.Filter{Focus: &t.line, Name: key.NameLeftArrow}, key.Filter{Focus: &t.line, Name: key.NameRightArrow},
			key.Filter{Focus: &t.line, Name: key.NameHome}, key.Filter{Focus: &t.line, Name: key.NameEnd},
		}
	}
	for {
		ev, ok := gtx.Event(t.filters...)
		if !ok {
			break
		}
		f := a.frame
		switch e := ev.(type) {
		case key.FocusEvent:
			t.focused = e.Focus
		case key.Event:
			if e.State != key.Press {
				continue
			}
			step := max(1, (f.End-f.Begin)/60)
			switch e.Name {
			case key.NameLeftArrow:
				a.Seek(f.Now.Time - step)
			case key.NameRightArrow:
				a.Seek(f.Now.Time + step)
			case key.NameHome:
				a.Seek(f.Begin)
			case key.NameEnd:
				a.Seek(f.End)
			}
		case pointer.Event:
			switch e.Kind {
			case pointer.Press:
				t.held = true
				gtx.Execute(key.FocusCmd{Tag: &t.line})
				a.Seek(t.timeAt(f, e.Position.X))
			case pointer.Drag:
				if t.held {
					a.Seek(t.timeAt(f, e.Position.X))
				}
			default:
				t.held = false
			}
		}
	}
}

func (t *timeStrip) timeAt(f *engine.Frame, x float32) float64 {
	share := float64(x) / math.Max(1, float64(t.rect.Dx()))
	return f.Begin + min(max(share, 0), 1)*(f.End-f.Begin)
}

func (t *timeStrip) layout(gtx ctx, a *Area) dims {
	th, size := a.set.Theme, gtx.Constraints.Max
	defer ground(gtx, th).Pop()
	widgets.Rect(gtx, th.Rule, image.Rect(0, 0, size.X, 1))
	x := gtx.Dp(theme.Step)
	top := gtx.Dp(5)
	button := func(b *widgets.Button, k widgets.ButtonLook) {
		k.Above = true
		at(gtx, image.Pt(x, top), func() {
			g := gtx
			g.Constraints = layout.Constraints{Max: image.Pt(gtx.Dp(150), gtx.Dp(theme.Touch))}
			d := b.Layout(g, th, k)
			x += d.Size.X + gtx.Dp(2)
		})
	}
	f := a.frame
	play := widgets.ButtonLook{Icon: widgets.IconPlay, Label: "Let time run", Rank: widgets.Primary}
	if f.Playing {
		play = widgets.ButtonLook{Icon: widgets.IconPause, Label: "Let time stand", Rank: widgets.Primary}
	}
	button(&t.back, widgets.ButtonLook{Icon: widgets.IconStepBack, Label: "A second back", Rank: widgets.Quiet, Off: f.Now.Time <= f.Begin})
	button(&t.play, play)
	button(&t.step, widgets.ButtonLook{Icon: widgets.IconStep, Label: "A second on", Rank: widgets.Quiet})
	x += gtx.Dp(theme.Half)
	button(&t.slower, widgets.ButtonLook{Icon: widgets.IconMinus, Label: "Slower", Rank: widgets.Quiet, Off: f.Pace <= engine.Paces[0]})
	at(gtx, image.Pt(x, top+gtx.Dp(4)), func() {
		g := gtx
		w := gtx.Sp(62)
		g.Constraints = layout.Constraints{Min: image.Pt(w, 0), Max: image.Pt(w, gtx.Sp(44))}
		widgets.Text{Words: sayPace(f), Weight: theme.Strong, Align: middle, Lines: 1}.Layout(g, th)
		at(g, image.Pt(0, gtx.Sp(19)), func() {
			widgets.Text{Words: t.clock.say(f.Now.Time - f.Begin), Size: theme.Small, Color: th.Soft, Align: middle, Lines: 1}.Layout(g, th)
		})
		x += w
	})
	button(&t.faster, widgets.ButtonLook{Icon: widgets.IconPlus, Label: "Faster", Rank: widgets.Quiet, Off: f.Pace >= engine.Paces[len(engine.Paces)-1]})
	x += gtx.Dp(theme.Step)
	right := size.X - gtx.Dp(theme.Step)
	end := right - gtx.Sp(150)
	keep := x
	x = end + gtx.Dp(theme.Step)
	button(&t.begin, widgets.ButtonLook{Words: "Charged", Label: "Begin again, charged", Small: true, Rank: widgets.Quiet})
	button(&t.empty, widgets.ButtonLook{Words: "Empty", Label: "Begin again, without air", Small: true, Rank: widgets.Quiet})
	x = keep
	if end-x > gtx.Dp(60) {
		t.layoutLine(gtx, a, image.Rect(x, gtx.Dp(5), end, size.Y-gtx.Dp(4)))
	}
	return dims{Size: size}
}

func sayPace(f *engine.Frame) string {
	words := fmt.Sprintf("%g×", f.Pace)
	if f.Playing && f.Actual > 0 && f.Actual < 0.8*f.Pace {
		words = fmt.Sprintf("%.2g of %g×", f.Actual, f.Pace)
	}
	return words
}

// say a time since the beginning, in tenths of a second, then in seconds, then in minutes.
func (c *clockWords) say(seconds float64) string {
	tenth := int(math.Round(seconds * 10))
	if tenth == c.tenth && c.words != "" {
		return c.words
	}
	c.tenth = tenth
	switch {
	case seconds < 60:
		c.words = fmt.Sprintf("%.1f s", seconds)
	default:
		whole := int(seconds)
		c.words = fmt.Sprintf("%d:%02d min", whole/60, whole%60)
	}
	return c.words
}

// layoutLine draws what the gauges have shown, the deeds, and where we are.
func (t *timeStrip) layoutLine(gtx ctx, a *Area, rect image.Rectangle) {
	th, f := a.set.Theme, a.frame
	t.rect = image.Rectangle{Max: rect.Size()}
	at(gtx, rect.Min, func() {
		area := clip.Rect(t.rect).Push(gtx.Ops)
		defer area.Pop()
		semantic.LabelOp("Time line: what the gauges showed").Add(gtx.Ops)
		semantic.DescriptionOp(t.clock.say(f.Now.Time - f.Begin)).Add(gtx.Ops)
		tagged := clip.Rect(t.rect).Push(gtx.Ops)
		defer tagged.Pop()
		event.Op(gtx.Ops, &t.line)
		pointer.CursorColResize.Add(gtx.Ops)
		widgets.Rect(gtx, th.Edge, t.rect)
		inner := t.rect.Inset(1)
		widgets.Rect(gtx, th.Sunk, inner)
		t.plot.layout(gtx, a, inner)
		span := max(f.End-f.Begin, 1e-9)
		place := func(time float64) int { return inner.Min.X + int((time-f.Begin)/span*float64(inner.Dx()-2)) }
		for _, d := range f.Deeds {
			x := place(d.Time)
			widgets.Rect(gtx, th.Select, image.Rect(x, inner.Max.Y-gtx.Dp(7), x+gtx.Dp(2), inner.Max.Y))
		}
		x := place(f.Now.Time)
		widgets.Rect(gtx, th.Ink, image.Rect(x, inner.Min.Y, x+gtx.Dp(2), inner.Max.Y))
		widgets.Rect(gtx, th.Ink, image.Rect(x-gtx.Dp(4), inner.Min.Y, x+gtx.Dp(6), inner.Min.Y+gtx.Dp(5)))
		if t.focused {
			widgets.Ring(gtx, th, t.rect.Size())
		}
	})
}
