package drilling

import (
	"image"

	"gioui.org/layout"
	"gioui.org/op"
	"gioui.org/op/clip"
	"gioui.org/op/paint"

	"airpath/circuit"
	"airpath/ui/model"
	"airpath/ui/theme"
	"airpath/ui/tracing"
	"airpath/ui/widgets"
)

type (
	ctx  = layout.Context
	dims = layout.Dimensions
)

// A Setting is what the whole window has decided.
type Setting = tracing.Setting

// A Shop is what the area has from the window.
type Shop struct {
	Place  model.Place
	Wake   func()                                                         // asks for a new frame, from any goroutine
	Engine func(c *circuit.Circuit, vehicle string) (model.Engine, error) // of a vehicle, by the name or path of its file
	Bench  func() (c *circuit.Circuit, vehicle string)                    // what lies on the bench; nil for nothing
}

// The faces of the area.
type face int

const (
	atStart face = iota
	atWork
	atMaking
	atMarks
)

var faceNames = []string{"start", "work", "making", "marks"}

// An Area is the Drill work area.
type Area struct {
	shop    Shop
	set     Setting
	face    face
	start   startFace
	work    *workFace   // nil while no exercise is open
	making  *makingFace // nil until something is made
	marks   marksFace
	trouble string // what could not be done, in words
	said    string // what was done, in words
	away    widgets.Button
	top     int // height of the notice above the face
}

// New makes the area.
func New(shop Shop) *Area { return &Area{shop: shop} }

// Close stops the background work and sees that the trainee's work is kept.
func (a *Area) Close() {
	if a.work != nil {
		a.work.close()
	}
	if a.making != nil {
		a.making.Stop()
	}
	if a.marks.marking != nil {
		a.marks.marking.Stop()
	}
}

// Layout draws the face that is shown and handles what happened to it.
func (a *Area) Layout(gtx ctx, set Setting) dims {
	a.set = set
	size := gtx.Constraints.Max
	if a.away.Clicked(gtx) {
		a.trouble, a.said = "", ""
	}
	if a.work != nil {
		a.work.collect(a)
	}
	if a.making != nil {
		a.making.Collect()
	}
	if a.marks.marking != nil {
		a.marks.marking.Collect()
	}
	switch a.face {
	case atStart:
		a.start.update(gtx, a)
	case atMaking:
		a.making.update(gtx, a)
	case atMarks:
		a.marks.update(gtx, a)
	}
	paint.Fill(gtx.Ops, set.Theme.Panel)
	a.top = a.layoutNotice(gtx, size)
	defer op.Offset(image.Pt(0, a.top)).Push(gtx.Ops).Pop()
	rest := image.Pt(size.X, max(0, size.Y-a.top))
	defer clip.Rect{Max: rest}.Push(gtx.Ops).Pop()
	g := gtx
	g.Constraints = layout.Exact(rest)
	switch a.face {
	case atWork:
		a.work.area.Layout(g, set)
	case atMaking:
		a.making.layout(g, a)
	case atMarks:
		a.page(g, &a.marks.scroll, a.marks.rows(a))
	default:
		a.page(g, &a.start.scroll, a.start.rows(a))
	}
	return dims{Size: size}
}

// layoutNotice says what could not be done, or what was, above everything else.
func (a *Area) layoutNotice(gtx ctx, size image.Point) int {
	words, tone := a.said, widgets.Hint
	if a.trouble != "" {
		words, tone = a.trouble, widgets.Trouble
	}
	if words == "" {
		return 0
	}
	gtx.Constraints = layout.Constraints{Min: image.Pt(size.X, 0), Max: image.Pt(size.X, size.Y/3)}
	d := layout.UniformInset(theme.Half).Layout(gtx, func(gtx ctx) dims {
		return widgets.Labelled(gtx, words, "", func(gtx ctx) dims {
			return layout.Flex{Alignment: layout.Middle}.Layout(gtx,
				layout.Flexed(1, func(gtx ctx) dims { return widgets.Notice(gtx, a.set.Theme, tone, words) }),
				layout.Rigid(func(gtx ctx) dims {
					return a.away.Layout(gtx, a.set.Theme, widgets.ButtonLook{Icon: widgets.IconClose, Label: "Put this word away", Rank: widgets.Quiet})
				}))
		})
	})
	return d.Size.Y
}

// page lays rows down the middle of the window.
func (a *Area) page(gtx ctx, scroll *widgets.Scroll, rows []layout.Widget) dims {
	size := gtx.Constraints.Max
	width := min(size.X, gtx.Dp(860))
	defer op.Offset(image.Pt((size.X-width)/2, 0)).Push(gtx.Ops).Pop()
	gtx.Constraints = layout.Exact(image.Pt(width, size.Y))
	layout.Inset{Left: theme.Gap, Right: theme.Half}.Layout(gtx, func(gtx ctx) dims { return scroll.Layout(gtx, a.set.Theme, rows) })
	return dims{Size: size}
}

// attempt does something that may go wrong, and says so.
func (a *Area) attempt(err error) bool {
	a.trouble, a.said = "", ""
	if err != nil {
		a.trouble = err.Error()
	}
	return err == nil
}

// to goes to another face.
func (a *Area) to(f face) {
	a.face = f
	a.trouble, a.said = "", ""
}

// row of a page or column.
func row(w layout.Widget) layout.Widget { return tracing.Inset(w) }

// words is a row of text.
func words(th *theme.Theme, s string) layout.Widget { return row(widgets.Words(s).In(th)) }

// note is a row of small text.
func note(th *theme.Theme, s string) layout.Widget { return row(widgets.Note(th, s).In(th)) }

// field is a row that takes text, with its name before it.
func field(th *theme.Theme, f *widgets.Field, label, hint string) layout.Widget {
	return row(func(gtx ctx) dims {
		return widgets.Column(gtx,
			layout.Rigid(widgets.Text{Words: label, Size: theme.Small, Weight: theme.Strong}.In(th)),
			layout.Rigid(func(gtx ctx) dims { return f.Layout(gtx, th, widgets.FieldLook{Label: label, Hint: hint}) }))
	})
}

// line is a row of things side by side; the first takes what room there is.
func line(first layout.Widget, more ...layout.Widget) layout.Widget {
	return row(func(gtx ctx) dims {
		children := []layout.FlexChild{layout.Flexed(1, first)}
		for _, w := range more {
			children = append(children, widgets.Space(theme.Step), layout.Rigid(w))
		}
		return layout.Flex{Alignment: layout.Middle}.Layout(gtx, children...)
	})
}

// press is a card that is one control: a title, and a note below it.
func press(th *theme.Theme, p *widgets.Press, label, title, second string, chosen bool) layout.Widget {
	return pressBeside(th, p, label, title, second, "", chosen)
}

// pressBeside is such a card with a word at its right.
func pressBeside(th *theme.Theme, p *widgets.Press, label, title, second, beside string, chosen bool) layout.Widget {
	return row(func(gtx ctx) dims {
		return p.Layout(gtx, th, label, chosen, func(gtx ctx) dims {
			fill, edge := th.Card, th.Rule
			if chosen {
				fill, edge = theme.Mix(th.Card, th.Select, 0.10), th.Select
			}
			return widgets.Card(gtx, th, fill, edge, func(gtx ctx) dims {
				gtx.Constraints.Min.X = gtx.Constraints.Max.X
				rows := []layout.FlexChild{layout.Rigid(func(gtx ctx) dims {
					children := []layout.FlexChild{layout.Flexed(1, widgets.Text{Words: title, Lines: 2}.In(th))}
					if beside != "" {
						children = append(children, widgets.Space(theme.Step), layout.Rigid(func(gtx ctx) dims {
							gtx.Constraints.Min.X = 0
							return widgets.Text{Words: beside, Size: theme.Small, Weight: theme.Strong, Lines: 1}.Layout(gtx, th)
						}))
					}
					return layout.Flex{Alignment: layout.Baseline}.Layout(gtx, children...)
				})}
				if second != "" {
					rows = append(rows, layout.Rigid(widgets.Note(th, second).In(th)))
				}
				return widgets.Column(gtx, rows...)
			})
		})
	})
}

// presses are controls by name, made when they are first asked for.
type presses map[string]*widgets.Press

func (p *presses) at(key string) *widgets.Press {
	if *p == nil {
		*p = presses{}
	}
	x, ok := (*p)[key]
	if !ok {
		x = &widgets.Press{}
		(*p)[key] = x
	}
	return x
}
