package tracing

import (
	"fmt"

	"gioui.org/layout"

	"airpath/ui/model"
	"airpath/ui/theme"
	"airpath/ui/widgets"
)

// wrongPart is the top of the column: what is wrong. The complaint in the driver's words, then what was seen, heard and
// measured, as cards.
type wrongPart struct {
	complaint widgets.Field
	loaded    int // revision of the session that the field shows
	hearing   hearing
	logs      map[string]*widgets.Button // by id
	whole     widgets.Button
	cold      widgets.Button
	more      widgets.Button // all cards are shown, or those that matter most
	all       bool
	cards     map[string]*cardControls
}

type cardControls struct {
	light widgets.Press
	edit  widgets.Button
	clear widgets.Button
	doubt widgets.Button
	what  bool // what hangs on it is shown
	came  widgets.Button
	shown model.Card
}

func (w *wrongPart) update(gtx ctx, a *Area) {
	s := a.session
	if a.lesson != nil {
		w.updateCards(gtx, a)
		return
	}
	if w.whole.Clicked(gtx) {
		a.ShowPath()
	}
	if w.cold.Clicked(gtx) {
		a.coldAsked = true
	}
	w.hearing.update(gtx, a, &w.complaint)
	if w.logs == nil {
		w.logs = map[string]*widgets.Button{}
	}
	for _, l := range s.Case().Logs {
		if buttonIn(w.logs, l.ID).Clicked(gtx) {
			s.DropLog(l.ID)
		}
	}
	submitted, _ := w.complaint.Update(gtx)
	if submitted || (!w.complaint.Focused(gtx) && w.loaded == s.Revision() && w.complaint.Text() != s.Case().Complaint) {
		s.SetComplaint(w.complaint.Text())
	}
	if w.loaded != s.Revision() {
		w.loaded = s.Revision()
		if w.complaint.Text() != s.Case().Complaint {
			w.complaint.SetText(s.Case().Complaint)
		}
	}
	if w.more.Clicked(gtx) {
		w.all = !w.all
	}
	w.updateCards(gtx, a)
}

func (w *wrongPart) updateCards(gtx ctx, a *Area) {
	s := a.session
	for _, c := range s.Cards() {
		k := w.controls(c)
		if k.light.Clicked(gtx) && c.Place != "" {
			a.sheet.show(model.ComponentOf(c.Place))
			a.openSpot(c.Place)
		}
		if k.edit.Clicked(gtx) {
			a.putRight(c.Procedure)
		}
		if k.doubt.Clicked(gtx) {
			k.what = !k.what
		}
		if k.came.Clicked(gtx) {
			if c.Reported {
				s.Report("")
			} else {
				s.Report(c.Findings[0])
			}
		}
		if k.clear.Clicked(gtx) {
			s.Remove(c.Findings...)
		}
	}
}

func (w *wrongPart) controls(c model.Card) *cardControls {
	if w.cards == nil {
		w.cards = map[string]*cardControls{}
	}
	k, ok := w.cards[c.Findings[0]]
	if !ok {
		k = &cardControls{}
		w.cards[c.Findings[0]] = k
	}
	k.shown = c
	return k
}

func (w *wrongPart) rows(a *Area) []layout.Widget {
	th, s := a.set.Theme, a.session
	rows := []layout.Widget{head(th, "What is wrong", func(gtx ctx) dims { return w.tools(gtx, a) })}
	rows = append(rows, a.hint(0, "Click a gauge, a valve or a line on the sheet to mark what you found there.")...)
	nothing := "Nothing marked yet. Click on the sheet where you found something, or do the test below."
	if a.lesson != nil {
		nothing = "Nothing found yet. Do a test."
		rows = append(rows, inset(widgets.Text{Words: "“" + s.Case().Complaint + "”", Weight: theme.Strong}.In(th)))
	} else {
		rows = append(rows, func(gtx ctx) dims { return w.complaintField(gtx, th) })
		rows = append(rows, w.hearing.rows(a, &w.complaint)...)
	}
	cards := s.Cards()
	if len(cards) == 0 {
		rows = append(rows, inset(widgets.Note(th, nothing).In(th)))
	}
	if a.lesson == nil {
		rows = append(rows, w.logCards(a)...)
	}
	stage, hidden := 0, 0
	for i, c := range cards {
		if len(cards) > manyCards && !w.all && a.lesson == nil && !matters(c) && i < len(cards)-1 {
			hidden++
			continue
		}
		if c.Stage != stage {
			stage = c.Stage
			rows = append(rows, inset(widgets.Text{Words: afterRepair(a, stage), Size: theme.Small, Weight: theme.Strong, Color: th.Soft}.In(th)))
		}
		k := w.controls(c)
		rows = append(rows, inset(func(gtx ctx) dims { return k.layout(gtx, a, c) }))
		if k.what {
			rows = append(rows, inset(func(gtx ctx) dims { return k.ifWrong(gtx, a, c) }))
			if canBeReported(a, c) {
				rows = append(rows, inset(func(gtx ctx) dims { return k.cameInFor(gtx, th, c) }))
			}
		}
	}
	if hidden > 0 || w.all && len(cards) > manyCards {
		rows = append(rows, inset(func(gtx ctx) dims { return w.moreButton(gtx, th, hidden) }))
	}
	if n := len(s.Case().Repairs); n > stage {
		rows = append(rows, inset(widgets.Text{Words: afterRepair(a, n) + " Nothing found since.", Size: theme.Small, Weight: theme.Strong, Color: th.Soft}.In(th)))
	}
	return rows
}

// tools beside the title: how cold it was, and the path so far.
func (w *wrongPart) tools(gtx ctx, a *Area) dims {
	th, s := a.set.Theme, a.session
	if a.lesson != nil {
		return dims{}
	}
	words := model.SayAmbient(s.Case().Ambient)
	look := widgets.ButtonLook{Words: words, Label: "How cold it was: " + words, Rank: widgets.Quiet, Small: true}
	if words == "" {
		look.Words, look.Label = "How cold was it?", "How cold was it where the trouble showed?"
	}
	return layout.Flex{Alignment: layout.Middle}.Layout(gtx,
		layout.Rigid(func(gtx ctx) dims { return w.cold.Layout(gtx, th, look) }),
		layout.Rigid(func(gtx ctx) dims {
			if len(s.Story()) == 0 {
				return dims{}
			}
			return w.whole.Layout(gtx, th, widgets.ButtonLook{Words: "Whole path", Label: "The whole path so far", Rank: widgets.Quiet, Small: true})
		}))
}

// manyCards is how many are shown before those stand back that are in order and are not the newest: the verdict is not to be far below.
const manyCards = 3

// matters tells that a card is always shown.
func matters(c model.Card) bool { return c.Bad || c.Reported || c.Trouble != "" }

func (w *wrongPart) moreButton(gtx ctx, th *theme.Theme, hidden int) dims {
	look := widgets.ButtonLook{Words: "Show what matters most", Icon: widgets.IconUp, Rank: widgets.Quiet}
	if hidden > 0 {
		look = widgets.ButtonLook{Words: fmt.Sprintf("Show %d more that were found", hidden), Icon: widgets.IconDown, Rank: widgets.Quiet}
	}
	return w.more.Layout(gtx, th, look)
}

func (w *wrongPart) complaintField(gtx ctx, th *theme.Theme) dims {
	return layout.Inset{Right: theme.Step, Bottom: theme.Step}.Layout(gtx, func(gtx ctx) dims {
		return w.complaint.Layout(gtx, th, widgets.FieldLook{Label: "Complaint", Hint: "What does the driver say?"})
	})
}

// afterRepair heads what was found after a repair.
func afterRepair(a *Area, stage int) string {
	r := a.session.Case().Repairs[stage-1]
	return "After the repair of the " + a.session.PlaceName(r.Part) + ":"
}

// ifWrong says what would stand if this finding did not count.
func (k *cardControls) ifWrong(gtx ctx, a *Area, c model.Card) dims {
	words := "Working out what would stand without it …"
	if l := a.session.Without(c.Findings...); l != nil {
		words = "If this were wrong: " + sayLeaders(l) + "."
		if answer, _ := a.session.Answer(); answer != nil && l.Failed == "" && len(l.First) > 0 && len(answer.Suspects) > 0 {
			if l.First[0].Key == answer.Suspects[0].Key {
				words += " The same part would lead: much hangs on the other findings, not on this one."
			} else {
				words += " Another part would lead: take this reading once more before anything is taken apart."
			}
		}
	}
	return widgets.Notice(gtx, a.set.Theme, widgets.Hint, words)
}

// canBeReported tells that a vehicle may have come in for a finding: one of before any repair, and no silence.
func canBeReported(a *Area, c model.Card) bool {
	return a.lesson == nil && c.Stage == 0 && !c.Quiet && c.Trouble == ""
}

// cameInFor asks whether the driver brought the vehicle because of this finding, and says why that matters.
func (k *cardControls) cameInFor(gtx ctx, th *theme.Theme, c model.Card) dims {
	look := widgets.ButtonLook{Words: "It came in for this", Label: "The vehicle came in for this: " + c.Title, Rank: widgets.Plain, Down: c.Reported}
	words := "Press this if the driver noticed it first."
	if c.Reported {
		look.Icon = widgets.IconTick
		words = "Noticed first: a fault that shows in little else is likelier."
	}
	return layout.Flex{Alignment: layout.Middle}.Layout(gtx,
		layout.Rigid(func(gtx ctx) dims { return k.came.Layout(gtx, th, look) }),
		widgets.Space(theme.Step),
		layout.Flexed(1, widgets.Note(th, words).In(th)))
}

func inset(w layout.Widget) layout.Widget {
	return func(gtx ctx) dims {
		return layout.Inset{Right: theme.Step, Bottom: 6}.Layout(gtx, w)
	}
}

func (k *cardControls) layout(gtx ctx, a *Area, c model.Card) dims {
	th := a.set.Theme
	edge := th.Rule
	if c.Bad {
		edge = th.Broken
	}
	return layout.Background{}.Layout(gtx,
		func(gtx ctx) dims {
			widgets.Box(gtx, gtx.Constraints.Min, th.Card, edge, 1)
			return dims{Size: gtx.Constraints.Min}
		},
		func(gtx ctx) dims {
			return layout.Flex{Alignment: layout.Middle}.Layout(gtx,
				layout.Flexed(1, func(gtx ctx) dims {
					return k.light.Layout(gtx, th, "Finding: "+c.Title+": "+c.Result, false, func(gtx ctx) dims {
						gtx.Constraints.Min.X = gtx.Constraints.Max.X
						return layout.Inset{Left: 10, Right: 4, Top: 6, Bottom: 6}.Layout(gtx, func(gtx ctx) dims {
							return k.words(gtx, th, a.set.units(), c)
						})
					})
				}),
				layout.Rigid(func(gtx ctx) dims {
					if a.lesson != nil {
						return dims{} // what was found in an exercise stays as it is
					}
					return k.tools(gtx, th, c)
				}))
		})
}

func (k *cardControls) tools(gtx ctx, th *theme.Theme, c model.Card) dims {
	return layout.Flex{}.Layout(gtx,
		layout.Rigid(func(gtx ctx) dims {
			return k.doubt.Layout(gtx, th, widgets.ButtonLook{Icon: widgets.IconHelp, Label: "What if this were wrong: " + c.Title, Rank: widgets.Quiet, Off: c.Trouble != "", Down: k.what})
		}),
		layout.Rigid(func(gtx ctx) dims {
			return k.edit.Layout(gtx, th, widgets.ButtonLook{Icon: widgets.IconEdit, Label: "Change this finding: " + c.Title, Rank: widgets.Quiet, Off: c.Trouble != ""})
		}),
		layout.Rigid(func(gtx ctx) dims {
			return k.clear.Layout(gtx, th, widgets.ButtonLook{Icon: widgets.IconErase, Label: "Clear this finding: " + c.Title, Rank: widgets.Quiet})
		}))
}

func (k *cardControls) words(gtx ctx, th *theme.Theme, u model.Units, c model.Card) dims {
	second := c.State
	tone := th.Soft
	if c.Check != nil {
		if words := u.SayLimit(c.Check.Limit, c.Check.Limit.Dimension); words != "" {
			verdict := "Within the limit of "
			if !c.Check.Met {
				verdict = "Misses the limit of "
			}
			second = verdict + words + " (" + c.Check.Limit.Source + ")"
		}
	}
	if c.Trouble != "" {
		second, tone = "Does not count: "+c.Trouble, th.Broken
	}
	rows := []layout.FlexChild{layout.Rigid(func(gtx ctx) dims {
		if c.Several {
			return widgets.Column(gtx, layout.Rigid(widgets.Text{Words: c.Title, Lines: 2}.In(th)), layout.Rigid(widgets.Text{Words: upper(c.Result), Size: theme.Small, Weight: theme.Strong}.In(th)))
		}
		return layout.Flex{Alignment: layout.Middle}.Layout(gtx,
			layout.Flexed(1, widgets.Text{Words: c.Title, Lines: 2}.In(th)),
			widgets.Space(theme.Step),
			layout.Rigid(func(gtx ctx) dims {
				if c.Bad {
					return widgets.Tag(gtx, th, c.Result, th.Broken, th.OnBroken)
				}
				return widgets.Text{Words: c.Result, Weight: theme.Strong, Lines: 1}.Layout(gtx, th)
			}))
	})}
	if second != "" {
		rows = append(rows, layout.Rigid(widgets.Text{Words: second, Size: theme.Small, Color: tone, Lines: 2}.In(th)))
	}
	if c.Reported {
		rows = append(rows, layout.Rigid(widgets.Text{Words: "The vehicle came in for this", Size: theme.Small, Weight: theme.Strong, Lines: 1}.In(th)))
	}
	return layout.Flex{Axis: layout.Vertical}.Layout(gtx, rows...)
}
