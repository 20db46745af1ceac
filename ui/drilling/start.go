package drilling

import (
	"fmt"
	"os"
	"strings"

	"gioui.org/layout"

	"airpath/circuits"
	"airpath/trace/drill"
	"airpath/ui/model"
	"airpath/ui/theme"
	"airpath/ui/tracing"
	"airpath/ui/widgets"
)

// startFace is where an exercise is chosen, or the instructor's work begun.
type startFace struct {
	name   widgets.Field
	path   widgets.Field
	open   widgets.Button
	resume widgets.Button
	make   widgets.Button
	mark   widgets.Button
	rows_  presses
	titles map[string]*drill.Exercise // of the library, read once
	levels map[string]string          // of the library's exercises, from their keys
	abouts map[string]string          // what may be known of them before they are begun
	scroll widgets.Scroll
}

// library's exercises, by name.
func (f *startFace) library() map[string]*drill.Exercise {
	if f.titles == nil {
		f.titles, f.levels, f.abouts = map[string]*drill.Exercise{}, map[string]string{}, map[string]string{}
		for _, n := range circuits.Drills() {
			if e, err := drill.ReadExercise(n, circuits.Drill(n)); err == nil {
				f.titles[n], f.abouts[n] = e, about(e)
			}
			if k, err := drill.ReadKey(n, circuits.DrillKey(n)); err == nil {
				f.levels[n] = k.Difficulty.Level
			}
		}
	}
	return f.titles
}

func (f *startFace) update(gtx ctx, a *Area) {
	f.name.Update(gtx)
	submitted, _ := f.path.Update(gtx)
	if f.open.Clicked(gtx) || submitted {
		a.Begin(strings.TrimSpace(f.path.Text()))
		return
	}
	for _, n := range circuits.Drills() {
		if f.rows_.at(n).Clicked(gtx) {
			a.Begin(n)
			return
		}
	}
	if f.resume.Clicked(gtx) && a.work != nil {
		a.to(atWork)
	}
	if f.make.Clicked(gtx) {
		a.Make()
	}
	if f.mark.Clicked(gtx) {
		a.to(atMarks)
	}
}

// Begin an exercise of the library by its name, or any by its path; or go on with what was kept of the work on it.
func (a *Area) Begin(nameOrPath string) {
	if nameOrPath == "" {
		a.trouble = "Give the path of an exercise's file, or choose one of the list."
		return
	}
	o, err := a.open(nameOrPath)
	if !a.attempt(err) {
		return
	}
	var kept *drill.Work
	if text, err := os.ReadFile(a.shop.Place.KeptWork(o.exercise)); err == nil {
		if kept, err = drill.ReadWork("the work that was kept", text); err != nil {
			a.trouble = err.Error() + "; it is begun afresh"
		}
	}
	trainee := strings.TrimSpace(a.start.name.Text())
	var attempt *drill.Attempt
	if kept != nil && (trainee == "" || trainee == kept.Trainee) {
		if attempt, err = drill.Resume(o.exercise, kept); err != nil {
			a.trouble = err.Error()
		}
	}
	switch {
	case attempt != nil:
		a.said = fmt.Sprintf("The work of %s was kept and goes on where it stopped.", kept.Trainee)
	case trainee == "":
		a.trouble = "Whose work is it? Write your name above the list first."
		return
	default:
		attempt = drill.Begin(o.exercise, trainee)
	}
	if a.work != nil {
		a.work.close()
	}
	a.work = newWork(a, o, attempt)
	a.face = atWork
}

// Make goes to the instructor's face, for the vehicle on the bench.
func (a *Area) Make() {
	c, vehicle := a.shop.Bench()
	if c == nil {
		a.trouble = "Open a vehicle first: the exercise is about the one on the bench."
		return
	}
	if a.making != nil && a.making.Circuit == c {
		a.to(atMaking)
		return
	}
	e, err := a.shop.Engine(c, vehicle)
	if !a.attempt(err) {
		return
	}
	i, ok := e.(model.Instructor)
	if !ok {
		a.trouble = "This vehicle's engine makes no exercises."
		return
	}
	if a.making != nil {
		a.making.Stop()
	}
	a.making = newMaking(model.NewMaking(c, vehicle, i, a.shop.Wake))
	a.to(atMaking)
}

func (f *startFace) rows(a *Area) []layout.Widget {
	th := a.set.Theme
	button := func(b *widgets.Button, words string, rank widgets.Rank) layout.Widget {
		return func(gtx ctx) dims { return b.Layout(gtx, th, widgets.ButtonLook{Words: words, Rank: rank}) }
	}
	rows := []layout.Widget{
		tracing.Head(th, "Exercises", nil),
		words(th, "Something is wrong with each of these vehicles, and you don't see what. Do the tests that tell most for their minutes, see to safety first, say which parts are good, and name what is at fault."),
	}
	if a.work != nil {
		rows = append(rows, line(widgets.Text{Words: "Open: " + a.work.lesson.Exercise.Title}.In(th), button(&f.resume, "Go on with it", widgets.Primary)))
	}
	rows = append(rows, field(th, &f.name, "Your name", "as it is to stand on your work"))
	for _, n := range circuits.Drills() {
		e := f.library()[n]
		if e == nil {
			continue
		}
		rows = append(rows, pressBeside(th, f.rows_.at(n), "Begin: "+e.Title+", "+f.levels[n], e.Title, f.abouts[n], upper(f.levels[n]), false))
	}
	return append(rows,
		tracing.Head(th, "An exercise from a file", nil),
		line(func(gtx ctx) dims {
			return f.path.Layout(gtx, th, widgets.FieldLook{Label: "Path of the exercise", Hint: "Path of a file, NAME" + model.ExerciseEnding})
		}, button(&f.open, "Begin", widgets.Plain)),
		tracing.Head(th, "For instructors", nil),
		line(widgets.Words("Hide faults in the vehicle on the bench, and see how hard that is.").In(th), button(&f.make, "Make an exercise", widgets.Plain)),
		line(widgets.Words("Mark what trainees handed in, step by step.").In(th), button(&f.mark, "Mark works", widgets.Plain)),
		func(gtx ctx) dims { return layout.Spacer{Height: theme.Gap}.Layout(gtx) })
}

// about an exercise: what may be known before it is begun.
func about(e *drill.Exercise) string {
	parts := "1 part to name"
	if e.Parts != 1 {
		parts = fmt.Sprintf("%d parts to name", e.Parts)
	}
	vehicle := e.Circuit
	if c, err := circuits.Load(e.Circuit); err == nil {
		vehicle, _, _ = strings.Cut(c.Title, ":")
	}
	much := fmt.Sprintf("%s · %d tests", parts, len(e.Allowed))
	if e.Hints {
		much += " · with hints"
	}
	return fmt.Sprintf("%s · “%s” · %s", vehicle, e.Complaint, strings.ReplaceAll(much, " ", "\u00a0")) // kept together
}
