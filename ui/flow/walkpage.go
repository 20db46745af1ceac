package flow

import (
	"fmt"

	"gioui.org/io/key"
	"gioui.org/layout"

	"airpath/circuit/airflow/walk"
	"airpath/ui/engine"
	"airpath/ui/theme"
	"airpath/ui/widgets"
)

// walkPart is the page of guided walks: a list of those that can be taken on this vehicle, or the step of one.
type walkPart struct {
	walks   []*walk.Bound
	lacking string // why none can be taken
	taken   *walk.Bound
	step    int
	begun   float64 // time of the vehicle at which the step began
	done    bool    // what it expects has been seen
	version int
	focus   bool // the keyboard is to go to the first walk

	starts           []widgets.Press
	do, next, before widgets.Button
	end              widgets.Button
}

func (w *walkPart) attach(a *Area) {
	all, err := walk.All()
	if err != nil {
		w.lacking = err.Error()
		return
	}
	for _, k := range all {
		b, err := k.Bind(a.frame.Network)
		if err != nil {
			w.lacking = err.Error()
			continue
		}
		w.walks = append(w.walks, b)
	}
	w.starts = make([]widgets.Press, len(w.walks))
}

func (w *walkPart) update(gtx ctx, a *Area) {
	if w.focus && a.panel.page == walkPage && len(w.starts) > 0 {
		w.focus = false
		gtx.Execute(key.FocusCmd{Tag: &w.starts[0].Clickable})
	}
	for i := range w.starts {
		if w.starts[i].Clicked(gtx) {
			w.start(a, w.walks[i])
		}
	}
	if w.taken == nil {
		return
	}
	switch {
	case w.do.Clicked(gtx):
		w.carryOut(a)
	case w.next.Clicked(gtx):
		a.NextStep(1)
	case w.before.Clicked(gtx):
		a.NextStep(-1)
	case w.end.Clicked(gtx):
		w.leave(a)
	}
	if w.taken != nil {
		w.check(a)
	}
}

// start a walk: the vehicle is put to its beginning.
func (w *walkPart) start(a *Area, b *walk.Bound) {
	w.taken, w.step, w.done = b, 0, false
	w.version++
	a.Begin(!b.Empty)
	w.enter(a)
}

func (w *walkPart) leave(a *Area) {
	w.taken = nil
	w.version++
	a.Play(false)
}

// enter a step: time begins to count for it.
func (w *walkPart) enter(a *Area) {
	w.done = false
	w.begun = -1
	w.version++
	if s := w.taken.Steps[w.step]; s.Pace > 0 {
		a.do(func(x *engine.Worked) { x.Pace(s.Pace) })
	}
}

// carryOut does what the step asks for, and lets time run.
func (w *walkPart) carryOut(a *Area) {
	deeds, now := w.taken.Steps[w.step].Deeds, a.now
	a.do(func(x *engine.Worked) {
		x.Carry(deeds, now)
		x.Play(true)
	})
}

// check whether what the step expects has been seen. Once is enough: much of it passes.
func (w *walkPart) check(a *Area) {
	s := &w.taken.Steps[w.step]
	t := a.frame.Now.Time
	if w.begun < 0 || t < w.begun {
		w.begun = t
	}
	if w.done || t-w.begun < s.Wait || !w.acted(a) {
		return
	}
	for _, c := range s.Claims {
		if !a.frame.Holds(c) {
			return
		}
	}
	w.done = true
	w.version++
}

// acted says whether the controls stand as the step wants them.
func (w *walkPart) acted(a *Area) bool {
	for _, d := range w.taken.Steps[w.step].Deeds {
		for _, m := range d.Controls {
			i, ok := a.dash.index.Control[m.Control]
			if v := a.frame.Now.Control[i]; ok && (v < m.Value-0.1 || v > m.Value+0.1) && !a.frame.Now.Tripped[i] {
				return false
			}
		}
		if d.Weather != nil && (a.frame.Water.Temperature != d.Weather.Temperature || a.frame.Water.Humidity != d.Weather.Humidity) {
			return false
		}
	}
	return true
}

// NextStep of the walk, or the one before. Behind the last one the walk is over.
func (a *Area) NextStep(by int) {
	w := &a.panel.walks
	if w.taken == nil {
		return
	}
	switch n := w.step + by; {
	case n < 0:
	case n >= len(w.taken.Steps):
		w.leave(a)
	default:
		w.step = n
		w.enter(a)
	}
}

// ShowWalks turns to the walks, with the keyboard on the first.
func (a *Area) ShowWalks() {
	a.panel.page = walkPage
	a.panel.walks.focus = a.panel.walks.taken == nil
}

// DoStep does what the walk asks for now.
func (a *Area) DoStep() {
	if a.panel.walks.taken != nil {
		a.panel.walks.carryOut(a)
	}
}

// TakeWalk begins the nth walk, counted from 1.
func (a *Area) TakeWalk(n int) {
	if w := &a.panel.walks; n >= 1 && n <= len(w.walks) {
		a.panel.page = walkPage
		w.start(a, w.walks[n-1])
	}
}

func (w *walkPart) lit() []string {
	if w.taken == nil {
		return nil
	}
	return w.taken.Steps[w.step].Lit
}

func (w *walkPart) rows(a *Area, rows []layout.Widget) []layout.Widget {
	if w.taken != nil {
		return w.stepRows(a, rows)
	}
	rows = append(rows, a.head("Take a walk"), a.note("Each walk shows one thing, step by step, on this vehicle. The vehicle is put to the walk's beginning first."))
	for i, b := range w.walks {
		rows = append(rows, a.choose(&w.starts[i], "Walk: "+b.Title, b.Title, "", fmt.Sprintf("%d steps", len(b.Steps)), false), a.note(b.About))
	}
	if len(w.walks) == 0 {
		rows = append(rows, a.words("No walk can be taken on this vehicle: "+w.lacking+"."))
	}
	return rows
}

func (w *walkPart) stepRows(a *Area, rows []layout.Widget) []layout.Widget {
	th, s := a.set.Theme, w.taken.Steps[w.step]
	rows = append(rows,
		a.headed(w.taken.Title, &w.end, widgets.ButtonLook{Icon: widgets.IconClose, Label: "End the walk", Rank: widgets.Quiet}),
		a.note(fmt.Sprintf("Step %d of %d", w.step+1, len(w.taken.Steps))),
		a.title(s.Title), a.words(s.Text))
	acted := w.acted(a)
	for _, d := range s.Deeds {
		mark := "To do: "
		if acted {
			mark = "Done: "
		}
		rows = append(rows, a.row(widgets.Text{Words: mark + d.Words, Weight: theme.Strong}, theme.Half))
	}
	next := widgets.ButtonLook{Words: "Next", Label: "Next step"}
	if w.step == len(w.taken.Steps)-1 {
		next = widgets.ButtonLook{Words: "End the walk", Label: "Next step: end the walk"}
	}
	do := widgets.ButtonLook{Words: "Do it, and let time run", Label: "Do what the step says", Rank: widgets.Primary}
	if len(s.Deeds) == 0 {
		do.Words = "Let time run"
	}
	state, c := "Not seen yet.", th.Soft
	switch {
	case w.done:
		state, c = "Seen: it is as the step says.", th.Met
		next.Rank, do.Rank = widgets.Primary, widgets.Plain
	case acted && a.frame.Playing:
		state = "Watch: it has not come about yet."
	}
	rows = append(rows, a.gap(), a.row(widgets.Text{Words: state, Color: c, Weight: theme.Strong}, theme.Step), a.button(&w.do, do, theme.Step))
	return append(rows, spaced(theme.Gap, func(gtx ctx) dims {
		gtx.Constraints.Min = gtx.Constraints.Min.Mul(0)
		return layout.Flex{}.Layout(gtx,
			layout.Rigid(func(gtx ctx) dims {
				return w.before.Layout(gtx, th, widgets.ButtonLook{Words: "Back", Label: "The step before", Off: w.step == 0})
			}), widgets.Space(theme.Step),
			layout.Rigid(func(gtx ctx) dims { return w.next.Layout(gtx, th, next) }))
	}))
}
