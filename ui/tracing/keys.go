package tracing

import (
	"image"

	"gioui.org/io/input"
)

// FocusSheet gives the keyboard to the sheet.
func (a *Area) FocusSheet(gtx ctx) {
	a.folded = 0
	a.sheet.focus(gtx)
}

// Zoom enlarges the sheet around its middle.
func (a *Area) Zoom(factor float64) { a.sheet.canvas.ZoomBy(factor) }

// FitSheet shows the whole sheet.
func (a *Area) FitSheet() { a.sheet.canvas.FitAll() }

// NextSuspect moves the choice along the list and lights the path.
func (a *Area) NextSuspect(by int) {
	a.session.SelectNext(by)
	if x := a.session.Selected(); x != nil {
		a.sheet.showPath(x)
		a.canBe.reveal = true
	}
}

// Choose lights the path of the nth suspect, counted from 1.
func (a *Area) Choose(n int) bool {
	answer, _ := a.session.Answer()
	if answer == nil || n < 1 || n > len(answer.Suspects) {
		return false
	}
	a.session.Select(answer.Suspects[n-1].Key)
	return true
}

// DoNext opens the best test.
func (a *Area) DoNext() {
	if best := a.session.Proposals(); len(best) > 0 && a.doing == nil {
		a.carryOut(best[0].Procedure.ID)
	}
}

// Typing reports whether letters go into a field.
func (a *Area) Typing(gtx ctx) bool {
	if a.wrong.complaint.Focused(gtx) || a.lesson != nil && a.lesson.Typing(gtx) {
		return true
	}
	if a.mending != nil && a.mending.done.Focused(gtx) || a.next.search.Focused(gtx) {
		return true
	}
	var entries []*entry
	if a.doing != nil {
		if a.doing.log.path.Focused(gtx) {
			return true
		}
		entries = append(entries, a.doing.entries...)
	}
	if a.spot != nil {
		entries = append(entries, a.spot.entries...)
	}
	for _, e := range entries {
		if e.field.Focused(gtx) {
			return true
		}
	}
	return false
}

// Escape closes what is on top: the card on the sheet, the procedure, the list of tests, the choice.
func (a *Area) Escape(gtx ctx) {
	switch {
	case a.spot != nil:
		a.closeSpot(gtx)
	case a.mending != nil:
		a.mending = nil
	case a.doing != nil:
		a.doing = nil
	case a.path != nil:
		a.path = nil
	case a.next.open:
		a.next.open = false
	default:
		a.session.Select("")
	}
}

// Changed makes open forms show the case as it is after an undo or redo.
func (a *Area) Changed() {
	if a.spot != nil {
		for _, e := range a.spot.entries {
			e.load(a.session, a.set.units())
		}
	}
	if a.doing != nil {
		for _, e := range a.doing.entries {
			e.load(a.session, a.set.units())
		}
	}
}

// WhereIs is the place of a component or line in the area's pixels; empty where it is not in sight.
func (a *Area) WhereIs(id string) image.Rectangle {
	return a.sheet.canvas.Where(id)
}

// PlaceOf is where a place such as a vent "dryer.3" is seen, in the area's pixels.
func (a *Area) PlaceOf(place string) (image.Point, bool) { return a.sheet.canvas.PlaceOf(place) }

// Cursor is the part of the sheet that the keyboard is on.
func (a *Area) Cursor() string { return a.sheet.canvas.Cursor() }

// LitPath is the path that is lit on the sheet.
func (a *Area) LitPath() []string { return a.sheet.scene.Marks.Path }

// FocusedSuspect is the title of the suspect whose row has the keyboard, or "".
func (a *Area) FocusedSuspect(source input.Source) string {
	answer, _ := a.session.Answer()
	if answer == nil {
		return ""
	}
	for i := range answer.Suspects {
		x := &answer.Suspects[i]
		if source.Focused(&a.canBe.controls(x.Key).press.Clickable) {
			return x.Title
		}
	}
	return ""
}

// Pan moves the sheet.
func (a *Area) Pan(by image.Point) { a.sheet.canvas.PanBy(by) }

// Open opens the card of a component, line or vent.
func (a *Area) Open(place string) { a.openSpot(place) }

// CarryOut opens a procedure in the column.
func (a *Area) CarryOut(id string) { a.carryOut(id) }

// Undo takes the last deed back.
func (a *Area) Undo() {
	if a.session.Undo() {
		a.Changed()
	}
}

// Redo does it again.
func (a *Area) Redo() {
	if a.session.Redo() {
		a.Changed()
	}
}

// CanUndo says what would be undone, and what would be done again; "" for nothing.
func (a *Area) CanUndo() (undo, redo string) {
	undo, _ = a.session.CanUndo()
	redo, _ = a.session.CanRedo()
	return undo, redo
}
