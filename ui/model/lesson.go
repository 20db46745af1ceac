package model

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuit/airflow/procedure"
	"airpath/trace/drill"
)

// A Lesson is an exercise that a trainee works on. It belongs to one goroutine, the window's.
type Lesson struct {
	Circuit  *circuit.Circuit
	Exercise *drill.Exercise
	Session  *Session // of what the trainee's procedures showed

	attempt  *drill.Attempt
	all      []*procedure.Procedure // of the vehicle
	revision int                    // rises with every step, taken or taken back
	said     string                 // the last deed, in words
	handed   int                    // revision that was handed in last; -1 for none
}

// NewLesson begins the work on an exercise, or goes on with what was kept of it. The engine knows the exercise's procedures only.
func NewLesson(c *circuit.Circuit, engine Engine, e *drill.Exercise, a *drill.Attempt, u Units, wake func()) *Lesson {
	l := &Lesson{Circuit: c, Exercise: e, attempt: a, all: engine.Procedures(), handed: -1}
	l.Session = NewSession(c, engine, a.Case(), Origin{Vehicle: e.Circuit}, u, wake)
	return l
}

// Follow lays another case on the bench. What was done before can't be undone any more.
func (s *Session) Follow(cs *circuit.Case, deed string) {
	first := &work{file: cs}
	s.history, s.savedWork, s.noticed = NewHistory(first), first, deed
	s.changed()
}

func (l *Lesson) stepped(deed string, found bool) {
	l.revision++
	l.said = deed
	if found {
		l.Session.Follow(l.attempt.Case(), deed)
	}
}

// Revision rises with every step.
func (l *Lesson) Revision() int { return l.revision }

// Trainee who works on it.
func (l *Lesson) Trainee() string { return l.attempt.Trainee() }

// Minutes spent so far.
func (l *Lesson) Minutes() float64 { return l.attempt.Minutes() }

// LastDeed is what was done last, in words.
func (l *Lesson) LastDeed() string { return l.said }

// Steps so far.
func (l *Lesson) Steps() []drill.Step { return l.attempt.Steps() }

// Prepared tells whether a preparation was made and still holds.
func (l *Lesson) Prepared(id string) bool { return l.attempt.Prepared(id, l.all) }

// Prepare notes that something was seen to.
func (l *Lesson) Prepare(q procedure.Preparation) error {
	if err := l.attempt.Prepare(q.ID); err != nil {
		return err
	}
	l.stepped("Seen to: "+q.Words, false)
	return nil
}

// Do carries out a procedure; on a round, at the places given.
func (l *Lesson) Do(p *procedure.Procedure, places ...string) error {
	if _, err := l.attempt.Do(p.ID, places...); err != nil {
		return err
	}
	l.stepped("Done: "+p.Title, true)
	return nil
}

// Shown are the results that a procedure has given so far.
func (l *Lesson) Shown(p *procedure.Procedure) []drill.Observed {
	allowed := l.Exercise.Allows(p.ID)
	if allowed == nil {
		return nil
	}
	var out []drill.Observed
	for _, s := range l.attempt.Steps() {
		if s.Do == nil || s.Do.Procedure != p.ID {
			continue
		}
		for _, o := range allowed.At(s.Do.Places) {
			if !slices.Contains(out, o) {
				out = append(out, o)
			}
		}
	}
	return out
}

// Done tells how often a procedure was carried out.
func (l *Lesson) Done(p *procedure.Procedure) int {
	n := 0
	for _, s := range l.attempt.Steps() {
		if s.Do != nil && s.Do.Procedure == p.ID {
			n++
		}
	}
	return n
}

// Cost of a procedure in minutes, at the places given on a round.
func (l *Lesson) Cost(p *procedure.Procedure, places ...string) float64 {
	allowed := l.Exercise.Allows(p.ID)
	if allowed == nil {
		return 0
	}
	return allowed.Cost(places)
}

// Undone says why a procedure can't be carried out on this vehicle; "" where it can.
func (l *Lesson) Undone(p *procedure.Procedure) string {
	if allowed := l.Exercise.Allows(p.ID); allowed != nil {
		return allowed.Undone
	}
	return ""
}

// Places that a round goes to; nil for a procedure that is none.
func (l *Lesson) Places(p *procedure.Procedure) []string {
	allowed := l.Exercise.Allows(p.ID)
	if allowed == nil || !allowed.Round {
		return nil
	}
	var out []string
	for _, o := range allowed.Results {
		if !slices.Contains(out, o.Place) {
			out = append(out, o.Place)
		}
	}
	return out
}

// Opinion of a part: held to be good, doubtful, or neither.
func (l *Lesson) Opinion(part string) (good, doubtful bool) { return l.attempt.Opinion(part) }

// Opinions are the parts that something was said of.
func (l *Lesson) Opinions() []string { return l.attempt.Opinions() }

// Clear says that a part is held to be good; Doubt that it is not.
func (l *Lesson) Clear(part string) {
	l.attempt.Clear(part)
	l.stepped("Held to be good: "+l.Session.PlaceName(part), false)
}

// Doubt says that a part is doubtful.
func (l *Lesson) Doubt(part string) {
	l.attempt.Doubt(part)
	l.stepped("Doubtful: "+l.Session.PlaceName(part), false)
}

// Fit a part on trial.
func (l *Lesson) Fit(part, mode string) {
	l.attempt.Fit(drill.Named{Part: part, Mode: mode})
	l.stepped("Fitted: "+l.Session.PlaceName(part), false)
}

// Fitted are the parts that were fitted on trial.
func (l *Lesson) Fitted() []drill.Named {
	var out []drill.Named
	for _, s := range l.attempt.Steps() {
		if s.Fit != nil {
			out = append(out, *s.Fit)
		}
	}
	return out
}

// Answer that was given so far.
func (l *Lesson) Answer() []drill.Named { return l.attempt.Answer() }

// Name a part as at fault, in place of what was said of it before. The oldest makes room where more are named than there are.
func (l *Lesson) Name(part, mode, repair string) {
	named := slices.DeleteFunc(slices.Clone(l.Answer()), func(n drill.Named) bool { return n.Part == part })
	named = append(named, drill.Named{Part: part, Mode: mode, Repair: strings.TrimSpace(repair)})
	if more := len(named) - l.Exercise.Parts; more > 0 {
		named = named[more:]
	}
	l.attempt.Name(named...)
	l.stepped("Named: "+l.Session.PlaceName(part)+", "+mode, false)
}

// Unname takes a part out of the answer.
func (l *Lesson) Unname(part string) {
	named := slices.DeleteFunc(slices.Clone(l.Answer()), func(n drill.Named) bool { return n.Part == part })
	l.attempt.Name(append([]drill.Named{}, named...)...)
	l.stepped("No longer named: "+l.Session.PlaceName(part), false)
}

// Modes in which a component or line can fail, in the order of its kind.
func (l *Lesson) Modes(part string) []string { return ModesOf(l.Circuit, part) }

// ModesOf lists in which ways a component or line can fail.
func ModesOf(c *circuit.Circuit, part string) []string {
	var out []string
	for _, f := range airflow.Catalogue(c) {
		if f.Target == part {
			out = append(out, f.Mode)
		}
	}
	return out
}

// CanUndo names the steps that Undo would take back and Redo would take again; "" for none.
func (l *Lesson) CanUndo() (undo, redo string) {
	if s, ok := l.attempt.CanUndo(); ok {
		undo = l.SayStep(s)
	}
	if s, ok := l.attempt.CanRedo(); ok {
		redo = l.SayStep(s)
	}
	return undo, redo
}

// Undo takes the last step back, where it can be: minutes once spent are spent.
func (l *Lesson) Undo() {
	if s, ok := l.attempt.CanUndo(); ok && l.attempt.Undo() {
		l.stepped("Taken back: "+l.SayStep(s), false)
	}
}

// Redo takes the step again that was taken back last.
func (l *Lesson) Redo() {
	if s, ok := l.attempt.CanRedo(); ok && l.attempt.Redo() {
		l.stepped("Done again: "+l.SayStep(s), false)
	}
}

// SayStep puts a step into words.
func (l *Lesson) SayStep(s drill.Step) string {
	name := l.Session.PlaceName
	switch {
	case s.Prepare != "":
		for _, q := range procedure.Preparations() {
			if q.ID == s.Prepare {
				return q.Words
			}
		}
		return s.Prepare
	case s.Do != nil:
		for _, p := range l.all {
			if p.ID == s.Do.Procedure {
				return p.Title
			}
		}
		return s.Do.Procedure
	case s.Clear != "":
		return name(s.Clear) + " held to be good"
	case s.Doubt != "":
		return name(s.Doubt) + " doubtful"
	case s.Fit != nil:
		return name(s.Fit.Part) + " fitted"
	case len(s.Name) == 0:
		return "nothing named"
	}
	var parts []string
	for _, n := range s.Name {
		parts = append(parts, name(n.Part))
	}
	return strings.Join(parts, ", ") + " named"
}

// Text of the work as it stands, sealed.
func (l *Lesson) Text() []byte { return l.attempt.HandIn().Write() }

// Finished says what is still missing before the work can be handed in; "" when nothing is.
func (l *Lesson) Finished() string {
	if n := len(l.Answer()); n < l.Exercise.Parts {
		return fmt.Sprintf("%d of %d parts named.", n, l.Exercise.Parts)
	}
	return ""
}

// HandIn writes the sealed work to a file.
func (l *Lesson) HandIn(path string) error {
	if err := circuit.Save(path, l.Text()); err != nil {
		return err
	}
	l.handed = l.revision
	return nil
}

// HandedIn tells whether the work as it stands has been handed in.
func (l *Lesson) HandedIn() bool { return l.handed == l.revision }

// WorkName is a file name for the work: of the exercise and the trainee.
func (l *Lesson) WorkName() string {
	return FileName(l.Exercise.Title+" "+l.Trainee()) + ".work.json"
}

// FileName makes words into a plain file name: "A dark lamp" is "a-dark-lamp".
func FileName(words string) string {
	return strings.Join(strings.FieldsFunc(strings.ToLower(words), func(r rune) bool {
		return !(r >= 'a' && r <= 'z' || r >= '0' && r <= '9')
	}), "-")
}

// KeptWork is where the work on an exercise is kept until it is handed in.
func (p Place) KeptWork(e *drill.Exercise) string {
	return filepath.Join(p.State, "drills", e.Seal()[:16]+".work.json")
}

// NewWorkKeeper keeps the work on an exercise as it goes. Fail is told, from another goroutine, when it cannot be written.
func (p Place) NewWorkKeeper(e *drill.Exercise, fail func(error)) *Keeper {
	return newKeeper(p, p.KeptWork(e), fail)
}
