package tracing

import (
	"path/filepath"

	"gioui.org/layout"

	"airpath/circuit"
	"airpath/ui/model"
	"airpath/ui/theme"
	"airpath/ui/widgets"
)

// logging adds a gauge log to the case: the CSV file that a logger wrote while the test was done.
type logging struct {
	path    widgets.Field
	add     widgets.Button
	press   map[string]*widgets.Press
	typed   string
	entries []model.Entry
	trouble string
}

// mostLogs of a folder are offered while a path is typed.
const mostLogs = 6

func (l *logging) update(gtx ctx, a *Area, d *doing) {
	submitted, _ := l.path.Update(gtx)
	if l.typed != l.path.Text() {
		l.typed, l.entries, l.trouble = l.path.Text(), nil, ""
		if l.typed != "" {
			l.entries = model.Browse(l.typed, mostLogs, ".csv", ".txt")
		}
	}
	for _, e := range l.entries {
		if p := l.press[e.Path]; p != nil && p.Clicked(gtx) {
			l.path.SetText(e.Path)
			l.path.SetCaret(l.path.Len(), l.path.Len())
			l.path.Focus(gtx)
			submitted = submitted || !e.Folder
		}
	}
	if l.add.Clicked(gtx) || submitted {
		if err := a.session.AttachLog(d.procedure, l.path.Text()); err != nil {
			l.trouble = err.Error()
			return
		}
		l.path.SetText("")
		l.typed, l.entries, l.trouble = "", nil, ""
	}
}

func (l *logging) rows(a *Area) []layout.Widget {
	th := a.set.Theme
	rows := []layout.Widget{
		head(th, "Or a gauge log", nil),
		inset(widgets.Note(th, "A logger's CSV file of this test, from its first step on: a column of time, a column for each gauge, named with their units.").In(th)),
		inset(func(gtx ctx) dims {
			return layout.Flex{Alignment: layout.Middle}.Layout(gtx,
				layout.Flexed(1, func(gtx ctx) dims {
					return l.path.Layout(gtx, th, widgets.FieldLook{Label: "Gauge log file", Hint: "Path of the CSV file", Bad: l.trouble != ""})
				}),
				widgets.Space(theme.Step),
				layout.Rigid(func(gtx ctx) dims {
					return l.add.Layout(gtx, th, widgets.ButtonLook{Words: "Add", Label: "Add the gauge log"})
				}))
		}),
	}
	if l.trouble != "" {
		rows = append(rows, inset(widgets.Text{Words: l.trouble, Size: theme.Small, Color: th.Broken}.In(th)))
	}
	for _, e := range l.entries {
		if l.press == nil {
			l.press = map[string]*widgets.Press{}
		}
		p, ok := l.press[e.Path]
		if !ok {
			p = &widgets.Press{}
			l.press[e.Path] = p
		}
		rows = append(rows, inset(func(gtx ctx) dims {
			return p.Layout(gtx, th, "File: "+e.Name, false, func(gtx ctx) dims {
				return widgets.Card(gtx, th, th.Card, th.Rule, func(gtx ctx) dims {
					gtx.Constraints.Min.X = gtx.Constraints.Max.X
					name := e.Name
					if e.Folder {
						name += string(filepath.Separator)
					}
					return widgets.Text{Words: name, Lines: 1}.Layout(gtx, th)
				})
			})
		}))
	}
	return rows
}

// logCards are the gauge logs of the case, among what was found.
func (w *wrongPart) logCards(a *Area) []layout.Widget {
	th := a.set.Theme
	var rows []layout.Widget
	for _, l := range a.session.Case().Logs {
		rows = append(rows, inset(func(gtx ctx) dims { return w.logCard(gtx, th, a, l) }))
	}
	return rows
}

func (w *wrongPart) logCard(gtx ctx, th *theme.Theme, a *Area, l circuit.Log) dims {
	title := l.Procedure
	for _, p := range a.session.Procedures() {
		if p.ID == l.Procedure {
			title = p.Title
		}
	}
	second, c := "Fitted: see the curves below.", th.Soft
	if words := a.session.LogTrouble(l.ID); words != "" {
		second, c = "Does not count: "+words, th.Broken
	}
	return widgets.Card(gtx, th, th.Card, th.Rule, func(gtx ctx) dims {
		return layout.Flex{Alignment: layout.Middle}.Layout(gtx,
			layout.Flexed(1, func(gtx ctx) dims {
				return widgets.Column(gtx,
					layout.Rigid(widgets.Text{Words: title, Lines: 2}.In(th)),
					layout.Rigid(widgets.Text{Words: "Gauge log " + filepath.Base(l.File), Weight: theme.Strong, Lines: 1}.In(th)),
					layout.Rigid(widgets.Text{Words: second, Size: theme.Small, Color: c, Lines: 3}.In(th)))
			}),
			layout.Rigid(func(gtx ctx) dims {
				return buttonIn(w.logs, l.ID).Layout(gtx, th, widgets.ButtonLook{Icon: widgets.IconErase, Label: "Take this gauge log out: " + filepath.Base(l.File), Rank: widgets.Quiet})
			}))
	})
}
