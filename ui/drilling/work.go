package drilling

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"

	"gioui.org/layout"

	"airpath/circuit/airflow/procedure"
	"airpath/circuit/symbol"
	"airpath/trace/drill"
	"airpath/ui/engine"
	"airpath/ui/model"
	"airpath/ui/theme"
	"airpath/ui/tracing"
	"airpath/ui/widgets"
)

// workFace is the trainee's: the Trace area with a lesson in it.
type workFace struct {
	lesson *model.Lesson
	area   *tracing.Area
	drill  *Area
	keeper *model.Keeper
	kept   int // revision that the keeper has
	failed chan error

	tests   presses // by procedure
	choose  widgets.Button
	open    bool // the list of tests is shown
	handIn  widgets.Button
	leave   widgets.Button
	path    widgets.Field
	ticks   presses // preparations
	places  presses // of the round that is open
	chosen  map[string]bool
	round   string // procedure whose places are chosen
	carry   widgets.Button
	all     widgets.Button
	good    widgets.Button
	doubt   widgets.Button
	fit     widgets.Button
	name    widgets.Button
	repair  widgets.Field
	modes   presses
	mode    string // chosen on the card of part
	part    string
	unnames map[string]*widgets.Button
	shows   presses // parts in the column, to show them on the sheet
}

var _ tracing.Lesson = (*workFace)(nil)

func newWork(a *Area, o *opened, attempt *drill.Attempt) *workFace {
	w := &workFace{drill: a, failed: make(chan error, 1), chosen: map[string]bool{}, unnames: map[string]*widgets.Button{}}
	w.lesson = model.NewLesson(o.circuit, engine.Lesson(o.engine, o.exercise), o.exercise, attempt, a.set.Prefs.Units, a.shop.Wake)
	w.area = tracing.NewLesson(w.lesson.Session, w)
	dir, err := os.Getwd()
	if err != nil {
		dir = ""
	}
	w.path.SetText(filepath.Join(dir, w.lesson.WorkName()))
	failed, wake := w.failed, a.shop.Wake
	w.keeper = a.shop.Place.NewWorkKeeper(o.exercise, func(err error) {
		select {
		case failed <- err:
			wake()
		default:
		}
	})
	return w
}

func (w *workFace) close() {
	w.lesson.Session.Close()
	w.keeper.Close()
}

// collect takes in what the background has, and keeps what is new.
func (w *workFace) collect(a *Area) {
	w.lesson.Session.Collect()
	w.lesson.Session.SpeakIn(a.set.Prefs.Units)
	select {
	case err := <-w.failed:
		a.trouble = err.Error()
	default:
	}
	if w.kept != w.lesson.Revision() {
		w.kept = w.lesson.Revision()
		w.keeper.Keep(w.lesson.Text())
	}
}

// Update implements tracing.Lesson.
func (w *workFace) Update(gtx layout.Context, ta *tracing.Area) {
	a, l := w.drill, w.lesson
	if w.choose.Clicked(gtx) {
		w.open = !w.open
	}
	if w.leave.Clicked(gtx) {
		a.to(atStart)
	}
	submitted, _ := w.path.Update(gtx)
	if w.handIn.Clicked(gtx) || submitted {
		w.hand(a)
	}
	for _, p := range l.Session.Procedures() {
		if w.tests.at(p.ID).Clicked(gtx) {
			w.open = false
			ta.CarryOut(p.ID)
		}
	}
	for _, part := range w.listed() {
		if w.shows.at(part).Clicked(gtx) {
			ta.Open(part)
		}
		if b := w.unnames[part]; b != nil && b.Clicked(gtx) {
			l.Unname(part)
		}
	}
	if p := ta.Doing(); p != nil {
		w.updateDoing(gtx, ta, p)
	}
	if part := ta.OpenPart(); part != "" {
		w.updatePart(gtx, part)
	}
}

// hand in the sealed work.
func (w *workFace) hand(a *Area) {
	if missing := w.lesson.Finished(); missing != "" {
		a.trouble = missing + " Click a part on the sheet, choose what is the matter with it, and name it."
		return
	}
	path := w.path.Text()
	if a.attempt(w.lesson.HandIn(path)) {
		a.said = "Handed in: " + path
	}
}

// Hints implements tracing.Lesson.
func (w *workFace) Hints() bool { return w.lesson.Exercise.Hints }

// Opinion implements tracing.Lesson.
func (w *workFace) Opinion() int { return w.lesson.Revision() }

// Marks implements tracing.Lesson.
func (w *workFace) Marks(m *symbol.Marks) {
	for _, part := range w.lesson.Opinions() {
		good, doubtful := w.lesson.Opinion(part)
		if good {
			m.Cleared[part] = true
		}
		if doubtful {
			m.Pins = append(m.Pins, symbol.Pin{Place: part, Kind: symbol.NotePin, Text: "doubtful"})
		}
	}
	for _, n := range w.lesson.Fitted() {
		m.Pins = append(m.Pins, symbol.Pin{Place: n.Part, Kind: symbol.NotePin, Text: "fitted"})
	}
	for _, n := range w.lesson.Answer() {
		delete(m.Cleared, n.Part)
		m.Pins = append(m.Pins, symbol.Pin{Place: n.Part, Kind: symbol.NotePin, Text: "at fault", Bad: true})
	}
}

// Typing implements tracing.Lesson.
func (w *workFace) Typing(gtx layout.Context) bool {
	return w.path.Focused(gtx) || w.repair.Focused(gtx)
}

// listed are the parts that the column names.
func (w *workFace) listed() []string {
	out := slices.Clone(w.lesson.Opinions())
	for _, n := range append(w.lesson.Answer(), w.lesson.Fitted()...) {
		if !slices.Contains(out, n.Part) {
			out = append(out, n.Part)
		}
	}
	return out
}

// Rows implements tracing.Lesson.
func (w *workFace) Rows(ta *tracing.Area) []layout.Widget {
	th, l := ta.Setting().Theme, w.lesson
	rows := []layout.Widget{tracing.Head(th, "What you think of it", nil)}
	if len(l.Opinions())+len(l.Fitted()) == 0 {
		rows = append(rows, note(th, "Click a part on the sheet to say that it is good or doubtful, to fit a new one, or to name it as at fault."))
	}
	for _, part := range l.Opinions() {
		word := "good"
		if good, _ := l.Opinion(part); !good {
			word = "doubtful"
		}
		rows = append(rows, w.partRow(th, part, word, nil))
	}
	for _, n := range l.Fitted() {
		rows = append(rows, w.partRow(th, n.Part, "fitted on trial: "+n.Mode, nil))
	}
	head := "What is at fault"
	if l.Exercise.Parts > 1 {
		head = fmt.Sprintf("What is at fault: %d parts", l.Exercise.Parts)
	}
	rows = append(rows, tracing.Head(th, head, nil))
	if len(l.Answer()) == 0 {
		rows = append(rows, note(th, "Nothing named yet."))
	}
	for _, n := range l.Answer() {
		words := n.Mode
		if n.Repair != "" {
			words += "; " + n.Repair
		}
		b := w.unnames[n.Part]
		if b == nil {
			b = &widgets.Button{}
			w.unnames[n.Part] = b
		}
		rows = append(rows, w.partRow(th, n.Part, words, b))
	}
	return rows
}

func (w *workFace) partRow(th *theme.Theme, part, says string, remove *widgets.Button) layout.Widget {
	name := w.lesson.Session.PlaceName(part)
	card := press(th, w.shows.at(part), name+": "+says, upper(name), says, false)
	if remove == nil {
		return card
	}
	return row(func(gtx ctx) dims {
		return layout.Flex{Alignment: layout.Middle}.Layout(gtx, layout.Flexed(1, card), layout.Rigid(func(gtx ctx) dims {
			return remove.Layout(gtx, th, widgets.ButtonLook{Icon: widgets.IconErase, Label: "No longer name the " + name, Rank: widgets.Quiet})
		}))
	})
}

// Foot implements tracing.Lesson.
func (w *workFace) Foot(ta *tracing.Area) []layout.Widget {
	th, l := ta.Setting().Theme, w.lesson
	spent := func(gtx ctx) dims {
		return widgets.Text{Words: fmt.Sprintf("%.0f min so far", l.Minutes()), Weight: theme.Strong, Lines: 1}.Layout(gtx, th)
	}
	rows := []layout.Widget{tracing.Head(th, "What to do next", spent)}
	label := "Choose a test"
	if w.open {
		label = "Back"
	}
	rows = append(rows, row(func(gtx ctx) dims {
		return w.choose.Layout(gtx, th, widgets.ButtonLook{Words: label, Rank: widgets.Primary, Wide: true})
	}))
	if w.open {
		return append(rows, w.testRows(th)...)
	}
	rows = append(rows, line(
		func(gtx ctx) dims {
			return w.path.Layout(gtx, th, widgets.FieldLook{Label: "File to hand in", Hint: "path of your work's file"})
		},
		func(gtx ctx) dims { return w.handIn.Layout(gtx, th, widgets.ButtonLook{Words: "Hand in"}) }))
	state := l.Trainee() + ". Kept as you go."
	if l.HandedIn() {
		state = l.Trainee() + ". Handed in as it stands."
	}
	return append(rows, line(widgets.Note(th, state).In(th), func(gtx ctx) dims {
		return w.leave.Layout(gtx, th, widgets.ButtonLook{Words: "Leave", Label: "Leave the exercise", Rank: widgets.Quiet})
	}))
}

func (w *workFace) testRows(th *theme.Theme) []layout.Widget {
	var rows []layout.Widget
	for _, p := range w.lesson.Session.Procedures() {
		second := model.Minutes(w.lesson.Cost(p))
		if len(w.lesson.Places(p)) > 0 {
			second = "up to " + second + ", place by place"
		}
		if w.lesson.Done(p) > 0 {
			second += " · done"
		}
		rows = append(rows, press(th, w.tests.at(p.ID), "Test: "+p.Title, p.Title, second, false))
	}
	return rows
}

// testsAt are the procedures in which something is read at a part.
func (w *workFace) testsAt(part string) []*procedure.Procedure {
	var out []*procedure.Procedure
	for _, p := range w.lesson.Session.Procedures() {
		if slices.ContainsFunc(p.Readings, func(r procedure.Reading) bool {
			return model.ComponentOf(r.Place) == part || r.Gauge == part
		}) {
			out = append(out, p)
		}
	}
	return out
}
