package tracing

import (
	"gioui.org/layout"

	"airpath/circuit/airflow/procedure"
	"airpath/ui/model"
	"airpath/ui/theme"
	"airpath/ui/widgets"
)

// forks tells whether it can be said beforehand what each answer would leave.
func (n *nextPart) forks(a *Area) bool {
	_, can := a.session.Engine.(model.Forker)
	return can && len(a.session.Case().Findings) > 0
}

// cost is what the test takes, with the way to what it may bring.
func (n *nextPart) cost(gtx ctx, a *Area, x model.Next) dims {
	th := a.set.Theme
	cost := costs(x.Procedure, x.Minutes)
	if saved := a.session.SharedSetUp(x.Procedure); saved >= 1 {
		cost += " · " + model.Minutes(saved) + " saved: it stands ready from the last test"
	}
	words := layout.Flexed(1, widgets.Text{Words: cost, Size: theme.Small, Color: th.Soft, Lines: 2}.In(th))
	if !n.forks(a) {
		return layout.Flex{}.Layout(gtx, words)
	}
	look := widgets.ButtonLook{Words: "What it may tell", Label: "What each answer would leave", Icon: widgets.IconDown, Rank: widgets.Quiet, Small: true}
	if n.forked {
		look.Icon = widgets.IconUp
	}
	return layout.Flex{Alignment: layout.Middle}.Layout(gtx, words, layout.Rigid(func(gtx ctx) dims { return n.fork.Layout(gtx, th, look) }))
}

// outcomes is the map of what remains after each answer that the proposed test may give.
func (n *nextPart) outcomes(a *Area, p *procedure.Procedure) []layout.Widget {
	th := a.set.Theme
	if !n.forked || !n.forks(a) {
		return nil
	}
	rows := []layout.Widget{inset(widgets.Title("What each answer would leave").In(th))}
	list, known := a.session.Outcomes(p)
	if !known {
		return append(rows, inset(widgets.Note(th, "Working out what may come of it …").In(th)))
	}
	if len(list) == 0 {
		return append(rows, inset(widgets.Note(th, "It can't be told beforehand what would remain.").In(th)))
	}
	for i := range list {
		rows = append(rows, inset(func(gtx ctx) dims { return outcome(gtx, a, &list[i]) }))
	}
	return rows
}

func outcome(gtx ctx, a *Area, o *model.Outcome) dims {
	th := a.set.Theme
	left := "working out what would be left …"
	if l := a.session.Weigh(o.Key, o.Case); l != nil {
		left = sayLeaders(l)
	}
	return widgets.Labelled(gtx, "Answer: "+o.Words, left, func(gtx ctx) dims {
		return widgets.Card(gtx, th, th.Card, th.Rule, func(gtx ctx) dims {
			gtx.Constraints.Min.X = gtx.Constraints.Max.X
			return widgets.Column(gtx,
				layout.Rigid(func(gtx ctx) dims {
					return layout.Flex{Alignment: layout.Baseline}.Layout(gtx,
						layout.Flexed(1, widgets.Text{Words: upper(o.Words), Weight: theme.Strong}.In(th)),
						widgets.Space(theme.Step),
						layout.Rigid(widgets.Text{Words: model.Percent(o.Chance), Weight: theme.Strong, Color: th.Soft, Lines: 1}.In(th)))
				}),
				widgets.Space(theme.Half),
				layout.Rigid(func(gtx ctx) dims { return widgets.Bar(gtx, th, o.Chance, th.Accent, 5) }),
				widgets.Space(theme.Half),
				layout.Rigid(widgets.Text{Words: "Leaves " + left, Size: theme.Small, Color: th.Suspect}.In(th)))
		})
	})
}
