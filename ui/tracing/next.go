package tracing

import (
	"fmt"
	"image"
	"math"
	"strings"

	"gioui.org/layout"
	"gioui.org/op/clip"
	"gioui.org/op/paint"

	"airpath/circuit/airflow/procedure"
	"airpath/ui/model"
	"airpath/ui/theme"
	"airpath/ui/widgets"
)

// nextPart is the foot of the column: the one test that tells most for the least work, and the others on asking.
type nextPart struct {
	start   widgets.Button
	skip    widgets.Button
	refuse  widgets.Button
	others  widgets.Button
	reoffer widgets.Button
	open    bool
	fork    widgets.Button // what each answer would leave
	forked  bool
	search  widgets.Field
	sort    widgets.Choice
	group   int                       // of the list of tests, 0 for all
	rows    map[string]*widgets.Press // every procedure, by id
	scroll  widgets.Scroll
}

func (n *nextPart) row(id string) *widgets.Press {
	if n.rows == nil {
		n.rows = map[string]*widgets.Press{}
	}
	p, ok := n.rows[id]
	if !ok {
		p = &widgets.Press{}
		n.rows[id] = p
	}
	return p
}

func (n *nextPart) update(gtx ctx, a *Area) {
	s := a.session
	best := s.Proposals()
	if n.start.Clicked(gtx) && len(best) > 0 {
		a.carryOut(best[0].Procedure.ID)
	}
	if n.skip.Clicked(gtx) && len(best) > 0 {
		s.Skip(best[0].Procedure)
	}
	if n.refuse.Clicked(gtx) && len(best) > 0 {
		s.Refuse(best[0].Procedure)
	}
	if n.reoffer.Clicked(gtx) {
		s.Reoffer()
	}
	if n.others.Clicked(gtx) {
		n.open = !n.open
	}
	if n.fork.Clicked(gtx) {
		n.forked = !n.forked
	}
	n.search.Update(gtx)
	if i, ok := n.sort.Update(gtx); ok {
		n.group = i
	}
	for _, p := range s.Procedures() {
		if n.row(p.ID).Clicked(gtx) {
			n.open = false
			a.carryOut(p.ID)
		}
	}
}

func (n *nextPart) layout(gtx ctx, a *Area) dims {
	th := a.set.Theme
	ground := theme.Mix(th.Panel, th.Accent, 0.06)
	return layout.Background{}.Layout(gtx,
		func(gtx ctx) dims {
			size := gtx.Constraints.Min
			defer clip.Rect{Max: size}.Push(gtx.Ops).Pop()
			paint.Fill(gtx.Ops, ground)
			widgets.Fill(gtx, th.Rule, image.Pt(size.X, gtx.Dp(1)))
			widgets.Fill(gtx, th.Rule, image.Pt(gtx.Dp(1), size.Y))
			return dims{Size: size}
		},
		func(gtx ctx) dims {
			gtx.Constraints.Min.Y = 0
			return layout.Inset{Left: theme.Gap, Right: theme.Half, Bottom: theme.Step}.Layout(gtx, func(gtx ctx) dims {
				return n.scroll.Layout(gtx, th, n.content(a))
			})
		})
}

func (n *nextPart) content(a *Area) []layout.Widget {
	th, s := a.set.Theme, a.session
	best := s.Proposals()
	if a.lesson != nil {
		return a.lesson.Foot(a)
	}
	label := "Other tests"
	if n.open {
		label = "Back to the best one"
	}
	rows := []layout.Widget{head(th, "What to do next", func(gtx ctx) dims {
		return n.others.Layout(gtx, th, widgets.ButtonLook{Words: label, Rank: widgets.Quiet, Small: true})
	})}
	if n.open {
		return append(rows, n.list(a, best)...)
	}
	check, open := a.checks.rows(a)
	rows = append(rows, check...)
	if open {
		return rows // the repair is checked first; every other test is under Other tests
	}
	answer, current := s.Answer()
	work := s.Working()
	if len(best) > 0 {
		rows = append(rows, a.hint(2, "Do the test that tells most for the least work, and enter what you read.")...)
	}
	switch {
	case len(best) > 0:
		if !current && !work.Running {
			rows = append(rows, inset(widgets.Note(th, "Named before the newest finding was weighed.").In(th)))
		}
		rows = append(rows, n.best(a, best[0])...)
	case answer == nil && work.Err != nil:
		rows = append(rows, inset(widgets.Note(th, "No test can be named, since the findings could not be weighed. Any test can be chosen under Other tests.").In(th)))
	case answer == nil:
		rows = append(rows, inset(widgets.Note(th, "The best test is named as soon as the findings have been weighed. Any test can be chosen under Other tests.").In(th)))
	case answer.Early && work.Running:
		rows = append(rows, inset(widgets.Note(th, "What to do next is being worked out. Any test can be chosen under Other tests.").In(th)))
	case answer.Early:
		rows = append(rows, inset(widgets.Note(th, "What to do next has not been worked out. Any test can be chosen under Other tests.").In(th)))
	case answer.Stop != "":
		rows = append(rows, inset(widgets.Words(answer.Stop).In(th)))
	default:
		rows = append(rows, inset(widgets.Note(th, "No test left would tell the remaining suspects apart. Prove the likeliest by hand, as it says there.").In(th)))
	}
	if skipped, refused := s.Skipped(), s.Refused(); len(skipped)+len(refused) > 0 {
		rows = append(rows, inset(func(gtx ctx) dims {
			return layout.Flex{Alignment: layout.Middle}.Layout(gtx,
				layout.Flexed(1, widgets.Note(th, leftOut(skipped, refused)).In(th)),
				layout.Rigid(func(gtx ctx) dims {
					return n.reoffer.Layout(gtx, th, widgets.ButtonLook{Words: "Offer again", Rank: widgets.Quiet, Small: true})
				}))
		}))
	}
	return rows
}

func leftOut(skipped, refused []string) string {
	var parts []string
	if len(refused) > 0 {
		parts = append(parts, "Could not do: "+strings.Join(refused, ", ")+".")
	}
	if len(skipped) > 0 {
		parts = append(parts, "Skipped: "+strings.Join(skipped, ", ")+".")
	}
	return strings.Join(parts, " ")
}

func (n *nextPart) best(a *Area, x model.Next) []layout.Widget {
	th := a.set.Theme
	p := x.Procedure
	head, sides := x.Told()
	rows := []layout.Widget{
		inset(widgets.Text{Words: p.Title, Size: theme.Large, Weight: theme.Strong, Lines: 2}.In(th)),
		inset(widgets.Text{Words: upper(head) + stop(head)}.In(th)),
		inset(func(gtx ctx) dims { return n.cost(gtx, a, x) }),
		inset(func(gtx ctx) dims {
			return layout.Flex{Alignment: layout.Middle}.Layout(gtx,
				layout.Flexed(1, func(gtx ctx) dims {
					return n.start.Layout(gtx, th, widgets.ButtonLook{Words: "Do this test", Rank: widgets.Primary, Wide: true})
				}),
				widgets.Space(theme.Half),
				layout.Rigid(func(gtx ctx) dims {
					return n.skip.Layout(gtx, th, widgets.ButtonLook{Words: "Skip", Label: "Skip this test for now", Rank: widgets.Quiet})
				}),
				layout.Rigid(func(gtx ctx) dims {
					return n.refuse.Layout(gtx, th, widgets.ButtonLook{Words: "Could not do", Label: "Could not do this test", Rank: widgets.Quiet})
				}))
		}),
	}
	if n.forked || !n.forks(a) {
		rows = append(rows, tells(th, sides)...)
	}
	return append(rows, n.outcomes(a, p)...)
}

// stop ends a sentence that has none.
func stop(s string) string {
	if strings.HasSuffix(s, ".") {
		return ""
	}
	return "."
}

// tells is what each answer of a test speaks for, whoever it is that asks.
func tells(th *theme.Theme, sides []model.Side) []layout.Widget {
	var rows []layout.Widget
	for _, side := range sides {
		rows = append(rows, inset(func(gtx ctx) dims {
			return widgets.Column(gtx,
				layout.Rigid(widgets.Text{Words: upper(side.Answer), Size: theme.Small, Weight: theme.Strong}.In(th)),
				layout.Rigid(widgets.Text{Words: upper(side.For) + stop(side.For), Size: theme.Small, Color: th.Soft}.In(th)))
		}))
	}
	return rows
}

// costs are the minutes and the tools.
func costs(p *procedure.Procedure, minutes float64) string {
	text := model.Minutes(minutes)
	if len(p.Tools) > 0 {
		text += " · " + strings.Join(p.Tools, ", ")
	}
	return text
}

// worth puts information into words: how much the answer narrows things down.
func worth(bits float64) string {
	switch {
	case bits >= 1:
		return "cuts the doubt by more than half"
	case bits >= 0.05:
		return fmt.Sprintf("cuts the doubt by about %.0f %%", math.Round(100*(1-math.Exp2(-bits))))
	}
	return "tells little now"
}
