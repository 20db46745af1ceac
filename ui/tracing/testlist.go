package tracing

import (
	"fmt"
	"strings"

	"gioui.org/layout"

	"airpath/circuit/airflow/procedure"
	"airpath/ui/model"
	"airpath/ui/widgets"
)

// Groups of tests, by what one does: so that a long list stays short.
var testGroups = []string{"All", "Gauges", "Listen", "Look", "Measure"}

// groupOf a test is what most of it is done with: the first reading decides.
func groupOf(p *procedure.Procedure) int {
	for i := range p.Readings {
		switch p.Readings[i].Sense {
		case procedure.Needle, procedure.Watch:
			if strings.Contains(p.Readings[i].Instrument, "gauge") || strings.Contains(p.Readings[i].Instrument, "stopwatch") {
				return 1
			}
			return 4
		case procedure.Ear:
			return 2
		case procedure.Eye, procedure.Hand:
			if p.Readings[i].Form == procedure.Measured {
				return 4
			}
			return 3
		}
	}
	return 4
}

// fits tells whether a test has all the words that are looked for: in its title, in what it tells, its tools or its readings.
func fits(p *procedure.Procedure, words string) bool {
	text := strings.ToLower(p.Title + " " + p.About + " " + strings.Join(p.Tools, " "))
	for i := range p.Readings {
		text += " " + strings.ToLower(p.Readings[i].Title)
	}
	for _, w := range strings.Fields(strings.ToLower(words)) {
		if !strings.Contains(text, w) {
			return false
		}
	}
	return true
}

// list is every test: those that tell something first, by worth, then the rest in the order of the book.
func (n *nextPart) list(a *Area, best []model.Next) []layout.Widget {
	th := a.set.Theme
	rows := []layout.Widget{
		inset(func(gtx ctx) dims {
			return n.search.Layout(gtx, th, widgets.FieldLook{Label: "Find a test", Hint: "Find a test: a word of it, a tool, a part"})
		}),
		inset(func(gtx ctx) dims { return n.sort.Layout(gtx, th, "tests", testGroups, n.group) }),
	}
	wanted := func(p *procedure.Procedure) bool {
		return (n.group == 0 || groupOf(p) == n.group) && fits(p, n.search.Text())
	}
	shown := 0
	done := map[string]bool{}
	for _, x := range best {
		done[x.Procedure.ID] = true
		if wanted(x.Procedure) {
			shown++
			rows = append(rows, n.listRow(a, x.Procedure, fmt.Sprintf("%s · %s", model.Minutes(x.Minutes), worth(x.Bits))))
		}
	}
	first := true
	for _, p := range a.session.Procedures() {
		if done[p.ID] || !wanted(p) {
			continue
		}
		if first && len(best) > 0 {
			rows = append(rows, inset(widgets.Note(th, "These would hardly tell the suspects apart now:").In(th)))
		}
		first = false
		shown++
		rows = append(rows, n.listRow(a, p, model.Minutes(p.SetUp+p.Minutes)))
	}
	if shown == 0 {
		rows = append(rows, inset(widgets.Note(th, "No test of this vehicle fits. Take a word away, or choose All.").In(th)))
	}
	return rows
}

func (n *nextPart) listRow(a *Area, p *procedure.Procedure, second string) layout.Widget {
	th := a.set.Theme
	return inset(func(gtx ctx) dims {
		return n.row(p.ID).Layout(gtx, th, "Test: "+p.Title, false, func(gtx ctx) dims {
			return widgets.Card(gtx, th, th.Card, th.Rule, func(gtx ctx) dims {
				gtx.Constraints.Min.X = gtx.Constraints.Max.X
				return widgets.Column(gtx,
					layout.Rigid(widgets.Text{Words: p.Title, Lines: 2}.In(th)),
					layout.Rigid(widgets.Note(th, second).In(th)))
			})
		})
	})
}
