package tracing

import (
	"fmt"
	"image"
	"image/color"

	"gioui.org/layout"
	"gioui.org/op"
	"gioui.org/op/clip"
	"gioui.org/op/paint"

	"airpath/ui/model"
	"airpath/ui/theme"
	"airpath/ui/widgets"
)

type (
	ctx  = layout.Context
	dims = layout.Dimensions
)

// An Area is the Trace work area on one session.
type Area struct {
	session *model.Session
	lesson  Lesson // nil for the usual work
	set     Setting

	sheet   sheetView
	wrong   wrongPart
	canBe   canBePart
	next    nextPart
	doing   *doing // a procedure that is being carried out; nil when none is
	path    *pathView
	mending *mending
	checks  checking
	spot    *spot // the card on the sheet; nil when none is open
	curves  curveStrip

	column widgets.Scroll
	fold   widgets.Choice // on a small screen: sheet or reasoning
	folded int
	hints  widgets.Button // puts the hints of the first start away

	coldAsked bool // somebody wants to say how cold it was
}

// AskedHowCold tells, once, that somebody wants to say how cold it was.
func (a *Area) AskedHowCold() bool {
	asked := a.coldAsked
	a.coldAsked = false
	return asked
}

// A Setting is what the whole window has decided.
type Setting struct {
	Theme *theme.Theme
	Prefs *model.Preferences // changed here where the area owns the preference
	Saved func()             // preferences changed
}

func (s Setting) units() model.Units { return s.Prefs.Units }

// New makes the area for a session.
func New(s *model.Session) *Area { return &Area{session: s} }

// Narrow is the width in dp below which the column folds over the sheet.
const narrow = 820

// Layout draws the area and handles what happened to its controls.
func (a *Area) Layout(gtx ctx, set Setting) dims {
	a.set = set
	a.update(gtx)
	size := gtx.Constraints.Max
	if size.X < gtx.Dp(narrow) {
		a.layoutFolded(gtx, size)
	} else {
		a.layoutWide(gtx, size)
	}
	return dims{Size: size}
}

func (a *Area) update(gtx ctx) {
	if a.lesson != nil {
		a.lesson.Update(gtx, a)
	}
	a.wrong.update(gtx, a)
	a.canBe.update(gtx, a)
	a.next.update(gtx, a)
	if a.doing != nil {
		a.doing.update(gtx, a)
	}
	if a.path != nil {
		a.path.update(gtx, a)
	}
	if a.mending != nil {
		a.mending.update(gtx, a)
	}
	a.checks.update(gtx, a)
	if a.spot != nil {
		a.spot.update(gtx, a)
	}
	a.curves.update(gtx, a)
	if a.hints.Clicked(gtx) {
		a.set.Prefs.HintsSeen = true
		a.set.Saved()
	}
	if i, ok := a.fold.Update(gtx); ok {
		a.folded = i
	}
}

// layoutWide puts the column beside the sheet: the sheet has at least 60 % of the width.
func (a *Area) layoutWide(gtx ctx, size image.Point) {
	column := min(max(size.X*36/100, gtx.Dp(330)), gtx.Dp(560), size.X*40/100)
	left := image.Pt(size.X-column, size.Y)
	a.layoutLeft(within(gtx, left))
	defer op.Offset(image.Pt(left.X, 0)).Push(gtx.Ops).Pop()
	a.layoutColumn(within(gtx, image.Pt(column, size.Y)))
}

func (a *Area) layoutLeft(gtx ctx) dims {
	size := gtx.Constraints.Max
	strip := a.curves.height(gtx, size)
	a.sheet.layout(within(gtx, image.Pt(size.X, size.Y-strip)), a)
	defer op.Offset(image.Pt(0, size.Y-strip)).Push(gtx.Ops).Pop()
	a.curves.layout(within(gtx, image.Pt(size.X, strip)), a)
	return dims{Size: size}
}

// layoutFolded shows the sheet or the reasoning, with a switch below.
func (a *Area) layoutFolded(gtx ctx, size image.Point) {
	th := a.set.Theme
	bar := min(gtx.Dp(theme.Touch)+gtx.Dp(theme.Step), size.Y)
	main := within(gtx, image.Pt(size.X, size.Y-bar))
	if a.folded == 0 {
		a.layoutLeft(main)
	} else {
		a.layoutColumn(main)
	}
	defer op.Offset(image.Pt(0, size.Y-bar)).Push(gtx.Ops).Pop()
	g := within(gtx, image.Pt(size.X, bar))
	paint.FillShape(g.Ops, th.Panel, clip.Rect{Max: g.Constraints.Max}.Op())
	layout.Center.Layout(g, func(gtx ctx) dims {
		return a.fold.Layout(gtx, th, "show", []string{"Sheet", "Reasoning"}, a.folded)
	})
}

// layoutColumn draws the reasoning, or the procedure that is being carried out.
func (a *Area) layoutColumn(gtx ctx) dims {
	th, size := a.set.Theme, gtx.Constraints.Max
	defer clip.Rect{Max: size}.Push(gtx.Ops).Pop()
	paint.Fill(gtx.Ops, th.Panel)
	widgets.Fill(gtx, th.Rule, image.Pt(gtx.Dp(1), size.Y))
	inset := layout.Inset{Left: theme.Gap, Right: theme.Half}
	switch {
	case a.mending != nil:
		return inset.Layout(gtx, func(gtx ctx) dims { return a.mending.layout(gtx, a) })
	case a.path != nil && a.doing == nil:
		return inset.Layout(gtx, func(gtx ctx) dims { return a.path.layout(gtx, a) })
	}
	if a.doing != nil {
		d := inset.Layout(gtx, func(gtx ctx) dims { return a.doing.layout(gtx, a) })
		a.doing.space(gtx)
		return d
	}
	return layout.Flex{Axis: layout.Vertical}.Layout(gtx,
		layout.Flexed(1, func(gtx ctx) dims {
			return inset.Layout(gtx, func(gtx ctx) dims {
				rows := widgets.Begun(a.wrong.rows(a))
				above := len(rows)
				if a.hinted() {
					rows = append(rows, a.canBe.rows(a)...)
				}
				if a.lesson != nil {
					rows = append(rows, a.lesson.Rows(a)...)
				}
				switch {
				case a.canBe.reveal && a.canBe.chosenAt >= 0:
					a.column.Reveal(above + a.canBe.chosenAt)
				case a.canBe.fresh:
					a.column.To(above)
				}
				a.canBe.reveal, a.canBe.fresh = false, false
				return a.column.Layout(gtx, th, rows)
			})
		}),
		layout.Rigid(func(gtx ctx) dims {
			gtx.Constraints.Max.Y = size.Y * 6 / 10
			return a.next.layout(gtx, a)
		}))
}

// within gives a part of the window exactly this size.
func within(gtx ctx, size image.Point) ctx {
	size.X, size.Y = max(size.X, 0), max(size.Y, 0)
	gtx.Constraints = layout.Exact(size)
	return gtx
}

// head is the title of a part of the column, with something at its right.
func head(th *theme.Theme, words string, more layout.Widget) layout.Widget {
	return func(gtx ctx) dims {
		return layout.Inset{Top: theme.Step, Bottom: theme.Half, Right: theme.Step}.Layout(gtx, func(gtx ctx) dims {
			children := []layout.FlexChild{layout.Flexed(1, widgets.Text{Words: words, Size: theme.Large, Weight: theme.Strong}.In(th))}
			if more != nil {
				children = append(children, layout.Rigid(more))
			}
			return layout.Flex{Alignment: layout.Middle}.Layout(gtx, children...)
		})
	}
}

// hint is one of the three short hints of the first start.
func (a *Area) hint(i int, words string) []layout.Widget {
	if a.set.Prefs.HintsSeen || a.lesson != nil {
		return nil
	}
	th := a.set.Theme
	return []layout.Widget{inset(func(gtx ctx) dims {
		return widgets.Labelled(gtx, fmt.Sprintf("Hint %d: %s", i+1, words), "", func(gtx ctx) dims {
			children := []layout.FlexChild{
				layout.Rigid(func(gtx ctx) dims { return disc(gtx, th, i+1, th.Select, th.Card) }),
				widgets.Space(theme.Step),
				layout.Flexed(1, widgets.Text{Words: words, Size: theme.Small}.In(th)),
			}
			if i == 0 {
				children = append(children, layout.Rigid(func(gtx ctx) dims {
					return a.hints.Layout(gtx, th, widgets.ButtonLook{Words: "Got it", Label: "Got it: put the hints away", Rank: widgets.Quiet, Small: true})
				}))
			}
			return layout.Flex{Alignment: layout.Middle}.Layout(gtx, children...)
		})
	})}
}

// disc is a number in a filled circle.
func disc(gtx ctx, th *theme.Theme, n int, ground, front color.NRGBA) dims {
	side := gtx.Sp(20)
	widgets.Disc(gtx, ground, side)
	layout.Center.Layout(within(gtx, image.Pt(side, side)), widgets.Text{Words: fmt.Sprint(n), Size: 11, Weight: theme.Strong, Color: front, Lines: 1}.In(th))
	return dims{Size: image.Pt(side, side)}
}
