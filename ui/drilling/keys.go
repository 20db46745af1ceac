package drilling

import (
	"image"

	"airpath/circuit"
	"airpath/ui/canvas"
)

// sheet that is shown; nil where the face has none.
func (a *Area) sheet() *canvas.Sheet {
	if a.face == atMaking {
		return &a.making.sheet
	}
	return nil
}

// FocusSheet gives the keyboard to the sheet, where there is one.
func (a *Area) FocusSheet(gtx ctx) {
	if a.face == atWork {
		a.work.area.FocusSheet(gtx)
	} else if s := a.sheet(); s != nil {
		s.Focus(gtx)
	}
}

// Zoom enlarges the sheet around its middle.
func (a *Area) Zoom(factor float64) {
	if a.face == atWork {
		a.work.area.Zoom(factor)
	} else if s := a.sheet(); s != nil {
		s.ZoomBy(factor)
	}
}

// FitSheet shows the whole sheet.
func (a *Area) FitSheet() {
	if a.face == atWork {
		a.work.area.FitSheet()
	} else if s := a.sheet(); s != nil {
		s.FitAll()
	}
}

// WhereIs is the place of a component or line in the area's pixels; empty where it is not in sight.
func (a *Area) WhereIs(id string) image.Rectangle {
	var where image.Rectangle
	switch {
	case a.face == atWork:
		where = a.work.area.WhereIs(id)
	case a.sheet() != nil:
		where = a.sheet().Where(id)
	}
	if where.Empty() {
		return where
	}
	return where.Add(image.Pt(0, a.top)) // below the notice
}

// Circuit on the sheet; nil where none is shown.
func (a *Area) Circuit() *circuit.Circuit {
	switch a.face {
	case atWork:
		return a.work.lesson.Circuit
	case atMaking:
		return a.making.Circuit
	}
	return nil
}

// Typing reports whether letters go into a field.
func (a *Area) Typing(gtx ctx) bool {
	switch a.face {
	case atWork:
		return a.work.area.Typing(gtx)
	case atMaking:
		return a.making.typing(gtx)
	case atMarks:
		return a.marks.typing(gtx)
	}
	return a.start.name.Focused(gtx) || a.start.path.Focused(gtx)
}

// Escape closes what is on top; at last, the face.
func (a *Area) Escape(gtx ctx) {
	switch {
	case a.trouble+a.said != "":
		a.trouble, a.said = "", ""
	case a.face == atWork && a.work.open:
		a.work.open = false
	case a.face == atWork && (a.work.area.Doing() != nil || a.work.area.OpenPart() != ""):
		a.work.area.Escape(gtx)
	case a.face == atMaking && a.making.part != "":
		a.making.part = ""
	default:
		a.face = atStart
	}
}

// Undo takes the last deed back.
func (a *Area) Undo() {
	switch a.face {
	case atWork:
		a.work.lesson.Undo()
	case atMaking:
		a.making.Undo()
	}
}

// Redo does it again.
func (a *Area) Redo() {
	switch a.face {
	case atWork:
		a.work.lesson.Redo()
	case atMaking:
		a.making.Redo()
	}
}

// CanUndo says what would be undone, and what would be done again; "" for nothing.
func (a *Area) CanUndo() (undo, redo string) {
	switch a.face {
	case atWork:
		return a.work.lesson.CanUndo()
	case atMaking:
		return a.making.CanUndo()
	}
	return "", ""
}

// ChooseTest opens the list of tests of the exercise.
func (a *Area) ChooseTest() {
	if a.face == atWork && a.work.area.Doing() == nil {
		a.work.open = !a.work.open
	}
}

// Titles are what is open, and what is going on with it.
func (a *Area) Titles() (title, second string) {
	switch a.face {
	case atWork:
		second = a.work.lesson.LastDeed()
		if second == "" {
			second = "“" + a.work.lesson.Exercise.Complaint + "”"
		}
		return a.work.lesson.Exercise.Title, second
	case atMaking:
		return a.making.Circuit.Title, "an exercise being made"
	case atMarks:
		if m := a.marks.marking; m != nil {
			return m.Exercise.Title, "marked with its key"
		}
		return "Marks", "nothing is open"
	}
	return "Drill", "exercises with hidden faults"
}
