package flow

import (
	"image"
	"slices"

	"airpath/ui/engine"
)

// Play lets time run, or stand.
func (a *Area) Play(on bool) { a.do(func(w *engine.Worked) { w.Play(on) }) }

// Step lets a second go by, or takes one back.
func (a *Area) Step(by float64) {
	if by < 0 {
		if a.frame != nil && a.frame.Now != nil {
			a.Seek(a.frame.Now.Time + by)
		}
		return
	}
	a.do(func(w *engine.Worked) { w.Step(by) })
}

// Seek goes to a time of the time line.
func (a *Area) Seek(t float64) { a.do(func(w *engine.Worked) { w.Seek(t) }) }

// Faster lets time run at the next pace up, or down.
func (a *Area) Faster(by int) {
	if a.frame == nil {
		return
	}
	i := slices.Index(engine.Paces, a.frame.Pace)
	p := engine.Paces[min(max(i+by, 0), len(engine.Paces)-1)]
	a.do(func(w *engine.Worked) { w.Pace(p) })
}

// Begin again, charged or without air.
func (a *Area) Begin(charged bool) { a.do(func(w *engine.Worked) { w.Begin(charged) }) }

// Undo goes back to before the last deed.
func (a *Area) Undo() { a.do(func(w *engine.Worked) { w.Undo() }) }

// Redo goes on to after the next deed.
func (a *Area) Redo() { a.do(func(w *engine.Worked) { w.Redo() }) }

// CanUndo says what would be undone, and what would be done again.
func (a *Area) CanUndo() (undo, redo string) {
	if a.frame == nil {
		return "", ""
	}
	return a.frame.CanUndo, a.frame.CanRedo
}

// Playing says whether time runs.
func (a *Area) Playing() bool { return a.frame != nil && a.frame.Playing }

// Work moves the nth control on the dash, counted from 1, to its other end.
func (a *Area) Work(n int) {
	if a.frame == nil || a.dash.index == nil {
		return
	}
	for _, c := range a.controls {
		if c.cab {
			if n--; n == 0 {
				c.turn(a)
				return
			}
		}
	}
}

// Press lets everything that springs back be worked, or let go.
func (a *Area) Press() {
	if a.frame == nil || a.dash.index == nil {
		return
	}
	for _, c := range a.controls {
		if c.cab && c.spec.Sprung {
			c.turn(a)
		}
	}
}

// Ignite turns the ignition on by one stage, or back to off.
func (a *Area) Ignite() {
	if a.frame != nil && a.dash.index != nil {
		a.ignite((a.dash.stage(a) + 1) % len(stages))
	}
}

// Show turns to a page of the panel by its name, and says whether there is one.
func (a *Area) Show(page string) bool {
	i := slices.Index(pageNames, page)
	if i >= 0 {
		a.panel.page = i
	}
	return i >= 0
}

// Look at a part or line.
func (a *Area) Look(id string) {
	if a.panel.book != nil {
		a.look(id)
	}
}

// FocusSheet gives the keyboard to the sheet.
func (a *Area) FocusSheet(gtx ctx) {
	a.folded = false
	a.sheet.Focus(gtx)
}

// Zoom enlarges the sheet around its middle.
func (a *Area) Zoom(factor float64) { a.sheet.ZoomBy(factor) }

// FitSheet shows the whole sheet.
func (a *Area) FitSheet() { a.sheet.FitAll() }

// WhereIs is the place of a component or line in the area's pixels; empty where it is not in sight.
func (a *Area) WhereIs(id string) image.Rectangle {
	return a.sheet.Where(id).Add(image.Pt(0, a.above))
}

// Escape closes what is on top.
func (a *Area) Escape(gtx ctx) { a.panel.escape(a) }

// Typing reports whether letters go into a field.
func (a *Area) Typing(gtx ctx) bool { return false }
