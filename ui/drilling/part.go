package drilling

import (
	"gioui.org/layout"

	"airpath/ui/model"
	"airpath/ui/theme"
	"airpath/ui/tracing"
	"airpath/ui/widgets"
)

// updatePart handles the card of a part that is open on the sheet.
func (w *workFace) updatePart(gtx ctx, part string) {
	l := w.lesson
	if w.part != part {
		w.part, w.mode = part, ""
		w.repair.SetText("")
		for _, n := range l.Answer() {
			if n.Part == part {
				w.mode = n.Mode
				w.repair.SetText(n.Repair)
			}
		}
	}
	if w.good.Clicked(gtx) {
		l.Clear(part)
	}
	if w.doubt.Clicked(gtx) {
		l.Doubt(part)
	}
	for _, m := range l.Modes(part) {
		if w.modes.at(m).Clicked(gtx) {
			w.mode = m
		}
	}
	submitted, _ := w.repair.Update(gtx)
	if (w.name.Clicked(gtx) || submitted) && w.mode != "" {
		l.Name(part, w.mode, w.repair.Text())
	}
	if w.fit.Clicked(gtx) && w.mode != "" {
		l.Fit(part, w.mode)
	}
}

// PartRows implements tracing.Lesson.
func (w *workFace) PartRows(ta *tracing.Area, part string) []layout.Widget {
	th, l := ta.Setting().Theme, w.lesson
	good, doubtful := l.Opinion(part)
	name := l.Session.PlaceName(part)
	rows := []layout.Widget{row(func(gtx ctx) dims {
		return layout.Flex{}.Layout(gtx,
			layout.Flexed(1, func(gtx ctx) dims {
				return w.good.Layout(gtx, th, widgets.ButtonLook{Words: "It is good", Label: "It is good: " + name, Icon: widgets.IconTick, Down: good, Wide: true})
			}),
			widgets.Space(theme.Step),
			layout.Flexed(1, func(gtx ctx) dims {
				return w.doubt.Layout(gtx, th, widgets.ButtonLook{Words: "Doubtful", Label: "Doubtful: " + name, Down: doubtful, Wide: true})
			}))
	})}
	if modes := l.Modes(part); len(modes) > 0 {
		rows = append(rows, row(widgets.Text{Words: "If it is at fault, what is the matter with it?", Size: theme.Small, Weight: theme.Strong}.In(th)))
		for _, m := range modes {
			rows = append(rows, press(th, w.modes.at(m), "The matter: "+m, m, "", m == w.mode))
		}
	}
	if w.mode != "" && w.part == part {
		rows = append(rows, field(th, &w.repair, "Repair", "what is to be done about it"), row(func(gtx ctx) dims {
			return layout.Flex{}.Layout(gtx,
				layout.Flexed(1, func(gtx ctx) dims {
					return w.name.Layout(gtx, th, widgets.ButtonLook{Words: "Name it", Label: "Name it as at fault: " + name, Rank: widgets.Primary, Wide: true})
				}),
				widgets.Space(theme.Step),
				layout.Flexed(1, func(gtx ctx) dims {
					return w.fit.Layout(gtx, th, widgets.ButtonLook{Words: "Fit on trial", Label: "Fit a new one on trial: " + name, Wide: true})
				}))
		}), note(th, "A part fitted on trial costs its minutes, and whether it helped is told at the marking."))
	}
	if tests := w.testsAt(part); len(tests) > 0 {
		rows = append(rows, row(widgets.Text{Words: "Tests that look at it", Size: theme.Small, Weight: theme.Strong}.In(th)))
		for _, p := range tests {
			rows = append(rows, press(th, w.tests.at(p.ID), "Test: "+p.Title, p.Title, model.Minutes(l.Cost(p)), false))
		}
	}
	return rows
}
