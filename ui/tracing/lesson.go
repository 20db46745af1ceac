package tracing

import (
	"gioui.org/layout"

	"airpath/circuit/airflow/procedure"
	"airpath/circuit/symbol"
	"airpath/ui/model"
	"airpath/ui/theme"
)

// A Lesson puts an exercise in the place of the person's own vehicle: procedures give what the exercise says, and what it can be
// is the person's to say. It draws what stands where the tracer's advice and the forms for readings stand otherwise.
type Lesson interface {
	// Update handles what happened to the lesson's controls, once a frame.
	Update(gtx layout.Context, a *Area)
	// Hints tells whether the tracer's suspects may be seen.
	Hints() bool
	// Rows of the column, in place of the suspects or after them.
	Rows(a *Area) []layout.Widget
	// Foot of the column, in place of the next test.
	Foot(a *Area) []layout.Widget
	// PartRows stand on the card of a component or line.
	PartRows(a *Area, part string) []layout.Widget
	// Before a procedure: what is to be seen to, in place of the cautions that are clicked away.
	Before(a *Area, p *procedure.Procedure) []layout.Widget
	// After it: what it showed, in place of the form.
	After(a *Area, p *procedure.Procedure) []layout.Widget
	// Carry is the foot of a procedure: how it is carried out.
	Carry(gtx layout.Context, a *Area, p *procedure.Procedure) layout.Dimensions
	// Marks puts on the sheet what the person thinks of its parts; they are asked for anew when Opinion differs.
	Marks(m *symbol.Marks)
	Opinion() int
	// Typing reports whether letters go into one of its fields.
	Typing(gtx layout.Context) bool
}

// NewLesson makes the area for an exercise.
func NewLesson(s *model.Session, l Lesson) *Area { return &Area{session: s, lesson: l} }

// Setting is what the whole window has decided, for a lesson that draws into the area.
func (a *Area) Setting() Setting { return a.set }

// Session is the case on the area's bench.
func (a *Area) Session() *model.Session { return a.session }

// Doing is the procedure that is open; nil when none is.
func (a *Area) Doing() *procedure.Procedure {
	if a.doing == nil {
		return nil
	}
	return a.doing.procedure
}

// OpenPart is the component or line whose card is open; "" when none is.
func (a *Area) OpenPart() string {
	if a.spot == nil {
		return ""
	}
	return a.spot.target
}

// LeaveProcedure goes back to the column.
func (a *Area) LeaveProcedure() { a.doing = nil }

// Inset is a row of the column.
func Inset(w layout.Widget) layout.Widget { return inset(w) }

// Head is the title of a part of the column, with something at its right.
func Head(th *theme.Theme, words string, more layout.Widget) layout.Widget {
	return head(th, words, more)
}

// hinted tells whether the tracer's answers may be shown.
func (a *Area) hinted() bool { return a.lesson == nil || a.lesson.Hints() }
