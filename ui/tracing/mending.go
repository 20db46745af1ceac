package tracing

import (
	"strings"

	"gioui.org/layout"

	"airpath/ui/model"
	"airpath/ui/theme"
	"airpath/ui/widgets"
)

// mending enters a repair: what was done to a part, because of which fault.
type mending struct {
	part, mode string
	title      string
	suggested  string
	cautions   []string
	fresh      bool
	trouble    string

	back   widgets.Button
	done   widgets.Field
	record widgets.Button
	scroll widgets.Scroll
}

// mend opens the form for a suspect that has been proven.
func (a *Area) mend(x *model.Suspect) {
	a.mending = &mending{part: x.Target, mode: x.Mode, title: x.Title, suggested: x.Repair, cautions: x.Cautions, fresh: true}
	a.doing, a.path, a.spot, a.folded = nil, nil, nil, 1
}

func (m *mending) update(gtx ctx, a *Area) {
	if m.back.Clicked(gtx) {
		a.mending = nil
		return
	}
	submitted, _ := m.done.Update(gtx)
	if m.fresh {
		m.fresh = false
		m.done.Focus(gtx)
	}
	if !m.record.Clicked(gtx) && !submitted {
		return
	}
	if strings.TrimSpace(m.done.Text()) == "" {
		m.trouble = "Say in a few words what was done: renewed, cleaned, tightened …"
		return
	}
	a.session.Repair(m.part, m.mode, m.done.Text())
	a.session.Select("")
	a.mending = nil
}

func (m *mending) layout(gtx ctx, a *Area) dims {
	th := a.set.Theme
	rows := []layout.Widget{
		inset(widgets.Text{Words: upper(m.title), Weight: theme.Strong}.In(th)),
		inset(labelled(th, "The usual repair", m.suggested)),
	}
	if len(m.cautions) > 0 {
		rows = append(rows, inset(func(gtx ctx) dims {
			return widgets.Notice(gtx, th, widgets.Danger, strings.Join(m.cautions, " "))
		}))
	}
	rows = append(rows,
		inset(widgets.Title("What was done").In(th)),
		inset(func(gtx ctx) dims {
			return m.done.Layout(gtx, th, widgets.FieldLook{Label: "What was done", Hint: "Renewed, cleaned, tightened …", Bad: m.trouble != ""})
		}))
	if m.trouble != "" {
		rows = append(rows, inset(widgets.Text{Words: m.trouble, Size: theme.Small, Color: th.Broken}.In(th)))
	}
	rows = append(rows,
		inset(widgets.Note(th, "What was found before stays in the case. From here on, readings are about the mended vehicle, and the tests that were out of order are asked for again.").In(th)),
		inset(func(gtx ctx) dims {
			return m.record.Layout(gtx, th, widgets.ButtonLook{Words: "Enter the repair", Rank: widgets.Primary, Wide: true})
		}))
	return layout.Flex{Axis: layout.Vertical}.Layout(gtx,
		layout.Rigid(func(gtx ctx) dims { return columnHead(gtx, th, &m.back, "Back to the suspects", "Repair") }),
		layout.Flexed(1, func(gtx ctx) dims { return m.scroll.Layout(gtx, th, rows) }))
}

// checking is what is to be done again after a repair, above the tests that tell suspects apart.
type checking struct {
	do map[string]*widgets.Button
}

func (c *checking) update(gtx ctx, a *Area) {
	for _, r := range a.session.Rechecks() {
		if c.button(r.Procedure.ID).Clicked(gtx) {
			a.carryOut(r.Procedure.ID)
		}
	}
}

func (c *checking) button(id string) *widgets.Button {
	if c.do == nil {
		c.do = map[string]*widgets.Button{}
	}
	return buttonIn(c.do, id)
}

// rows are the tests to do again; open tells that some are left.
func (c *checking) rows(a *Area) (rows []layout.Widget, open bool) {
	th := a.set.Theme
	list := a.session.Rechecks()
	if len(list) == 0 {
		return nil, false
	}
	bad := false
	for _, r := range list {
		open, bad = open || !r.Done, bad || r.Bad
	}
	words := "The repair is to be checked: do these again."
	switch {
	case bad:
		words = "Not in order yet. The repair did not cure all of it: look on with the suspects above."
	case !open:
		words = "The repair holds: what was out of order before is in order now. Write the work record."
	}
	rows = append(rows, inset(widgets.Words(words).In(th)))
	first := true
	for _, r := range list {
		rank := widgets.Plain
		if !r.Done && first {
			rank, first = widgets.Primary, false
		}
		rows = append(rows, inset(func(gtx ctx) dims { return c.row(gtx, a, r, rank) }))
	}
	return rows, open
}

func (c *checking) row(gtx ctx, a *Area, r model.Recheck, rank widgets.Rank) dims {
	th := a.set.Theme
	second, do := "Before: "+r.Before, "Do it again"
	if r.Done {
		second, do = second+". Now: "+r.Now, "Open again"
		if r.Bad {
			second += ", still not in order"
		} else {
			second += ", in order"
		}
	}
	return layout.Flex{Alignment: layout.Middle}.Layout(gtx,
		layout.Rigid(func(gtx ctx) dims {
			switch {
			case r.Bad:
				return widgets.IconWarning.Layout(gtx, th.Broken, 20)
			case r.Done:
				return widgets.IconTick.Layout(gtx, th.Met, 20)
			}
			return widgets.IconRight.Layout(gtx, th.Soft, 20)
		}),
		widgets.Space(theme.Step),
		layout.Flexed(1, func(gtx ctx) dims {
			return widgets.Column(gtx,
				layout.Rigid(widgets.Text{Words: r.Procedure.Title, Lines: 2}.In(th)),
				layout.Rigid(widgets.Note(th, second).In(th)))
		}),
		widgets.Space(theme.Step),
		layout.Rigid(func(gtx ctx) dims {
			return c.button(r.Procedure.ID).Layout(gtx, th, widgets.ButtonLook{Words: do, Label: do + ": " + r.Procedure.Title, Rank: rank})
		}))
}
