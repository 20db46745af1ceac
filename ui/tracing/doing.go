package tracing

import (
	"slices"

	"gioui.org/io/key"
	"gioui.org/layout"
	"gioui.org/op"

	"airpath/circuit"
	"airpath/circuit/airflow/procedure"
	"airpath/ui/theme"
	"airpath/ui/widgets"
)

// doing is a procedure being carried out: cautions first, then the steps, then a form for what was read.
type doing struct {
	procedure *procedure.Procedure
	putsRight bool // it was opened to change what had been entered, not to be carried out
	entries   []*entry
	safe      bool // the cautions were read
	trouble   string
	focus     goal // where the keyboard goes in the next frame
	steps     stepList
	watch     widgets.Stopwatch
	log       logging
	pinned    bool // the fields are in sight whatever step is looked at

	back   widgets.Button
	read   widgets.Button
	quiet  widgets.Button
	pads   widgets.Button
	padFor *entry
	pad    widgets.Keypad
	record widgets.Button
	refuse widgets.Button
	skip   widgets.Button
	scroll widgets.Scroll
}

// goal is where the keyboard is to go.
type goal int

const (
	stay goal = iota
	toCautions
	soon      // once the fields have found their place
	toEntries // brings the first field into sight
	toField   // and then puts the keyboard there
)

// carryOut opens a procedure in the column.
func (a *Area) carryOut(id string) {
	for _, p := range a.session.Procedures() {
		if p.ID != id {
			continue
		}
		d := &doing{procedure: p, focus: toCautions}
		for i := range p.Readings {
			if a.lesson != nil {
				break // it is not for the person to say what was read
			}
			d.entries = append(d.entries, newEntry(a.session, a.set.units(), p, &p.Readings[i]))
		}
		unit := string(a.set.units())
		for _, s := range p.Start.All() {
			d.steps.words = append(d.steps.words, s.Words(unit))
		}
		d.steps.ready = len(d.steps.words)
		for _, s := range p.Steps {
			d.steps.words = append(d.steps.words, s.Words(unit))
		}
		a.doing, a.mending, a.spot, a.folded = d, nil, nil, 1
		return
	}
}

// putRight opens a procedure that was done, to change what was entered.
func (a *Area) putRight(id string) {
	if a.carryOut(id); a.doing != nil {
		a.doing.putsRight = true
	}
}

func (d *doing) update(gtx ctx, a *Area) {
	if d.back.Clicked(gtx) {
		a.doing = nil
		return
	}
	d.steps.update(gtx)
	if a.lesson != nil {
		if d.focus != stay {
			gtx.Execute(key.FocusCmd{Tag: &d.back.Clickable})
		}
		d.focus = stay
		return
	}
	if d.read.Clicked(gtx) {
		if d.safe = !d.safe; d.safe {
			d.focus = soon
		}
	}
	if d.procedure.Plots() {
		d.log.update(gtx, a, d)
	}
	if d.watch.Update(gtx) {
		d.stopped(gtx)
	}
	submitted := false
	for _, e := range d.entries {
		typed := e.field.Text()
		sent, _ := e.update(gtx)
		submitted = submitted || sent
		if e.field.Text() != typed && !d.inFoot(e) {
			d.scroll.Reveal(e.row) // what is being typed must be seen
		}
		if e.field.Focused(gtx) && d.padFor != nil {
			d.padFor = e
		}
	}
	if d.quiet.Clicked(gtx) {
		for _, e := range d.entries {
			if e.yesNo() && e.kind == "" {
				e.kind = circuit.No
			}
		}
	}
	if d.pads.Clicked(gtx) {
		d.togglePad(gtx)
	}
	if d.padFor != nil && d.pad.Update(gtx, &d.padFor.field) {
		d.padFor.kind, d.padFor.bad = "", ""
	}
	if d.refuse.Clicked(gtx) {
		a.session.Refuse(d.procedure)
		a.doing = nil
		return
	}
	if d.skip.Clicked(gtx) {
		a.session.Skip(d.procedure)
		a.doing = nil
		return
	}
	if d.record.Clicked(gtx) || submitted {
		d.enter(a)
	}
	switch d.focus {
	case toCautions:
		gtx.Execute(key.FocusCmd{Tag: &d.read.Clickable})
	case soon:
		d.focus = toEntries
		gtx.Execute(op.InvalidateCmd{})
		return
	case toEntries, toField:
		for _, e := range d.entries {
			if e.yesNo() {
				continue
			}
			if d.focus == toField {
				e.field.Focus(gtx)
				break
			}
			if !d.inFoot(e) {
				d.scroll.Reveal(e.row)
			}
			d.focus = toField
			gtx.Execute(op.InvalidateCmd{})
			return
		}
	}
	d.focus = stay
}

func (d *doing) togglePad(gtx ctx) {
	if d.padFor != nil {
		d.padFor = nil
		return
	}
	for _, e := range d.entries {
		if !e.yesNo() && (d.padFor == nil || e.field.Focused(gtx)) {
			d.padFor = e
		}
	}
}

// enter records what was filled in, and drops what was emptied, as one deed.
func (d *doing) enter(a *Area) {
	d.trouble = ""
	var set []circuit.Finding
	var drop []string
	for _, e := range d.entries {
		if !e.filled() {
			if e.held != "" {
				drop = append(drop, e.held)
			}
			continue
		}
		f, err := e.finding(a.set.units())
		if err == nil {
			err = a.session.Check(f)
		}
		if err != nil {
			e.bad = err.Error()
			d.trouble = "One reading can't be understood; see above."
			continue
		}
		set = append(set, f)
	}
	switch {
	case d.trouble != "":
	case len(set)+len(drop) == 0:
		d.trouble = "Nothing entered yet: fill in at least one reading, or press Could not do."
	default:
		enter := a.session.Record
		if d.putsRight {
			enter = a.session.PutRight
		}
		if err := enter(set, drop); err != nil {
			d.trouble = err.Error()
			return
		}
		a.doing, a.canBe.fresh = nil, true
	}
}

// pinnable is how many fields are kept in sight below the steps, where there is room for them; more are a list of their own.
const (
	pinnable = 2
	pinRoom  = 600 // dp
)

func (d *doing) layout(gtx ctx, a *Area) dims {
	th := a.set.Theme
	seen := d.safe || len(d.procedure.Cautions) == 0 // until then the cautions have the room
	d.pinned = seen && gtx.Constraints.Max.Y >= gtx.Dp(pinRoom) && d.kept() > 0
	return layout.Flex{Axis: layout.Vertical}.Layout(gtx,
		layout.Rigid(func(gtx ctx) dims {
			return layout.Inset{Top: theme.Step, Bottom: theme.Half}.Layout(gtx, func(gtx ctx) dims {
				return layout.Flex{Alignment: layout.Middle}.Layout(gtx,
					layout.Rigid(func(gtx ctx) dims {
						return d.back.Layout(gtx, th, widgets.ButtonLook{Icon: widgets.IconLeft, Label: "Back from this test", Rank: widgets.Quiet})
					}),
					layout.Flexed(1, widgets.Text{Words: d.procedure.Title, Size: theme.Large, Weight: theme.Strong, Lines: 2}.In(th)))
			})
		}),
		layout.Flexed(1, func(gtx ctx) dims { return d.scroll.Layout(gtx, th, d.rows(a)) }),
		layout.Rigid(func(gtx ctx) dims { return widgets.Rule(gtx, th) }),
		layout.Rigid(func(gtx ctx) dims { return d.foot(gtx, a) }))
}

// kept is how many fields stand in the foot: the measured ones that lead the list.
func (d *doing) kept() int {
	n := 0
	for n < len(d.entries) && n < pinnable && !d.entries[n].yesNo() {
		n++
	}
	return n
}

// inFoot tells whether a field is in sight whatever step is looked at.
func (d *doing) inFoot(e *entry) bool {
	return d.pinned && slices.Contains(d.entries[:d.kept()], e)
}

func (d *doing) foot(gtx ctx, a *Area) dims {
	th := a.set.Theme
	return layout.Inset{Top: theme.Step, Bottom: theme.Step, Right: theme.Step}.Layout(gtx, func(gtx ctx) dims {
		if a.lesson != nil {
			return a.lesson.Carry(gtx, a, d.procedure)
		}
		rows := []layout.FlexChild{}
		if d.pinned {
			for _, w := range d.readings(a, 0, d.entries[:d.kept()]) {
				rows = append(rows, layout.Rigid(w))
			}
		}
		if d.trouble != "" {
			rows = append(rows, layout.Rigid(widgets.Text{Words: d.trouble, Size: theme.Small, Color: th.Broken}.In(th)), widgets.Space(theme.Half))
		}
		rows = append(rows, layout.Rigid(func(gtx ctx) dims {
			return layout.Flex{Alignment: layout.Middle}.Layout(gtx,
				layout.Flexed(1, func(gtx ctx) dims {
					return d.record.Layout(gtx, th, widgets.ButtonLook{Words: "Enter readings", Rank: widgets.Primary, Wide: true})
				}),
				widgets.Space(theme.Half),
				layout.Rigid(func(gtx ctx) dims {
					return d.skip.Layout(gtx, th, widgets.ButtonLook{Words: "Skip", Label: "Skip this test for now", Rank: widgets.Quiet})
				}),
				layout.Rigid(func(gtx ctx) dims {
					return d.refuse.Layout(gtx, th, widgets.ButtonLook{Words: "Could not do", Label: "Could not do this test", Rank: widgets.Quiet})
				}))
		}))
		return layout.Flex{Axis: layout.Vertical}.Layout(gtx, rows...)
	})
}

func (d *doing) rows(a *Area) []layout.Widget {
	th := a.set.Theme
	p := d.procedure
	rows := []layout.Widget{
		inset(widgets.Text{Words: p.About}.In(th)),
		inset(widgets.Note(th, costs(p, p.SetUp+p.Minutes)).In(th)),
	}
	if a.lesson != nil {
		rows = append(rows, a.lesson.Before(a, p)...)
	} else {
		rows = append(rows, inset(func(gtx ctx) dims { return d.cautions(gtx, a) }))
	}
	rows = append(rows, head(th, "Steps", nil))
	start := ""
	if p.Start != nil {
		start = p.Start.Title
	}
	rows = append(rows, d.steps.rows(a, start)...)
	if a.lesson != nil {
		return append(rows, a.lesson.After(a, p)...)
	}
	switch {
	case !d.pinned:
		rows = append(rows, d.readings(a, len(rows), d.entries)...)
	case len(d.entries) > d.kept():
		rows = append(rows, head(th, "What else may be read", nil))
		rows = append(rows, d.fields(a, len(rows), d.entries[d.kept():])...)
	}
	if p.Plots() {
		rows = append(rows, d.log.rows(a)...)
	}
	return rows
}

// readings are the stopwatch, where there is something to time, and some of the fields; the first row is number so many.
func (d *doing) readings(a *Area, at int, entries []*entry) []layout.Widget {
	th := a.set.Theme
	rows := []layout.Widget{head(th, "What you read", func(gtx ctx) dims { return d.formTools(gtx, a) })}
	if d.timed() {
		rows = append(rows, inset(func(gtx ctx) dims { return d.watch.Layout(gtx, th) }), inset(widgets.Note(th, "Space starts and stops it; the time goes into the field.").In(th)))
	}
	return append(rows, d.fields(a, at+len(rows), entries)...)
}

func (d *doing) fields(a *Area, at int, entries []*entry) []layout.Widget {
	th := a.set.Theme
	var rows []layout.Widget
	for _, e := range entries {
		title := e.reading.Title
		if e.reading.Place != "" && e.yesNo() {
			title = placed(a, e.reading)
		}
		e.row = at + len(rows)
		rows = append(rows, inset(func(gtx ctx) dims { return e.layout(gtx, a, upper(title), false) }))
		if d.padFor == e {
			rows = append(rows, inset(func(gtx ctx) dims { return d.pad.Layout(gtx, th) }))
		}
	}
	return rows
}
