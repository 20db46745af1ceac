package drill

import (
	"fmt"
	"slices"
	"strings"

	"airpath/circuit"
	"airpath/circuit/airflow/procedure"
)

// An Attempt is a trainee at work on an exercise.
type Attempt struct {
	Exercise *Exercise
	work     Work
	undone   []Step // the newest last
}

// Begin an attempt.
func Begin(e *Exercise, trainee string) *Attempt {
	return &Attempt{Exercise: e, work: Work{Airpath: version, Exercise: e.Seal(), Trainee: strings.TrimSpace(trainee)}}
}

// Resume an attempt that was put away with [Attempt.HandIn] before it was finished.
func Resume(e *Exercise, w *Work) (*Attempt, error) {
	if err := w.Fits(e); err != nil {
		return nil, err
	}
	a := &Attempt{Exercise: e, work: *w}
	a.work.Steps = slices.Clone(w.Steps)
	return a, nil
}

// Prepare notes that something was seen to before a procedure: an id of [procedure.Preparations].
func (a *Attempt) Prepare(id string) error {
	known := procedure.Preparations()
	if !slices.ContainsFunc(known, func(p procedure.Preparation) bool { return p.ID == id }) {
		var ids []string
		for _, p := range known {
			ids = append(ids, p.ID)
		}
		return fmt.Errorf("no preparation %q; %s", id, circuit.Suggest(id, ids))
	}
	a.add(Step{Prepare: id})
	return nil
}

// Do carries out a procedure and gives its results: at the places given on a round, else all of them.
func (a *Attempt) Do(id string, places ...string) ([]Observed, error) {
	allowed := a.Exercise.Allows(id)
	if allowed == nil {
		var ids []string
		for _, x := range a.Exercise.Allowed {
			ids = append(ids, x.Procedure)
		}
		return nil, fmt.Errorf("procedure %q is not allowed in this exercise; %s", id, circuit.Suggest(id, ids))
	}
	if !allowed.Round {
		places = nil
	}
	for _, place := range places {
		if !slices.ContainsFunc(allowed.Results, func(o Observed) bool { return o.Place == place }) {
			return nil, fmt.Errorf("%s takes nothing at %q; %s", id, place, circuit.Suggest(place, allowed.places()))
		}
	}
	a.add(Step{Do: &Taken{id, places, allowed.Cost(places)}})
	return allowed.At(places), nil
}

func (a *Allowed) places() []string {
	var out []string
	for _, o := range a.Results {
		if !slices.Contains(out, o.Place) {
			out = append(out, o.Place)
		}
	}
	return out
}

// Clear says that a part is held to be good; Doubt takes it back.
func (a *Attempt) Clear(part string) { a.add(Step{Clear: part}) }

// Doubt takes back that a part is held to be good.
func (a *Attempt) Doubt(part string) { a.add(Step{Doubt: part}) }

// Fit a part on trial. Whether it helped is not told before the marking.
func (a *Attempt) Fit(n Named) { a.add(Step{Fit: &n}) }

// Name the faulty parts: the answer, until another is given. No parts takes it back.
func (a *Attempt) Name(parts ...Named) { a.add(Step{Name: append([]Named{}, parts...)}) }

func (a *Attempt) add(s Step) {
	a.work.Steps = append(a.work.Steps, s)
	a.undone = nil
}

// CanUndo gives the step that Undo would take back. A procedure and a part fitted are never taken back: their minutes are spent.
func (a *Attempt) CanUndo() (Step, bool) {
	n := len(a.work.Steps)
	if n == 0 || a.work.Steps[n-1].Do != nil || a.work.Steps[n-1].Fit != nil {
		return Step{}, false
	}
	return a.work.Steps[n-1], true
}

// CanRedo gives the step that Redo would take again.
func (a *Attempt) CanRedo() (Step, bool) {
	if len(a.undone) == 0 {
		return Step{}, false
	}
	return a.undone[len(a.undone)-1], true
}

// Undo the last step; false where it stays.
func (a *Attempt) Undo() bool {
	last, ok := a.CanUndo()
	if ok {
		a.work.Steps = a.work.Steps[:len(a.work.Steps)-1]
		a.undone = append(a.undone, last)
	}
	return ok
}

// Redo the step that was undone last; false where there is none.
func (a *Attempt) Redo() bool {
	s, ok := a.CanRedo()
	if ok {
		a.undone = a.undone[:len(a.undone)-1]
		a.work.Steps = append(a.work.Steps, s)
	}
	return ok
}

// Trainee whose work it is.
func (a *Attempt) Trainee() string { return a.work.Trainee }

// Answer that was given last; nil where there is none.
func (a *Attempt) Answer() []Named { return a.work.Answer() }

// Opinion of a part: held to be good, or doubtful again after that, or neither.
func (a *Attempt) Opinion(part string) (good, doubtful bool) {
	for _, s := range a.work.Steps {
		switch part {
		case s.Clear:
			good, doubtful = true, false
		case s.Doubt:
			good, doubtful = false, true
		}
	}
	return good, doubtful
}

// Opinions are the parts that anything was said of, in the order in which that was first said.
func (a *Attempt) Opinions() []string {
	var out []string
	for _, s := range a.work.Steps {
		for _, part := range []string{s.Clear, s.Doubt} {
			if part != "" && !slices.Contains(out, part) {
				out = append(out, part)
			}
		}
	}
	return out
}

// Prepared tells whether a preparation was made, and still holds: what does not last is used up by charging the system.
func (a *Attempt) Prepared(id string, all []*procedure.Procedure) bool {
	return slices.Contains(preparedAfter(a.work.Steps, all), id)
}

// preparedAfter some steps, on a vehicle with these procedures.
func preparedAfter(steps []Step, all []*procedure.Procedure) []string {
	var out []string
	for _, s := range steps {
		switch {
		case s.Prepare != "":
			out = append(out, s.Prepare)
		case s.Do != nil:
			i := slices.IndexFunc(all, func(p *procedure.Procedure) bool { return p.ID == s.Do.Procedure })
			if i < 0 || !all[i].Charges() {
				continue
			}
			out = slices.DeleteFunc(out, func(id string) bool {
				return slices.ContainsFunc(procedure.Preparations(), func(q procedure.Preparation) bool { return q.ID == id && !q.Lasts })
			})
		}
	}
	return out
}

// Steps so far.
func (a *Attempt) Steps() []Step { return a.work.Steps }

// Minutes spent so far on procedures.
func (a *Attempt) Minutes() float64 {
	var m float64
	for _, s := range a.work.Steps {
		if s.Do != nil {
			m += s.Do.Minutes
		}
	}
	return m
}

// Cleared parts at this moment, in the order in which they were cleared.
func (a *Attempt) Cleared() []string { return clearedAfter(a.work.Steps) }

func clearedAfter(steps []Step) []string {
	var out []string
	for _, s := range steps {
		switch {
		case s.Clear != "" && !slices.Contains(out, s.Clear):
			out = append(out, s.Clear)
		case s.Doubt != "":
			out = slices.DeleteFunc(out, func(part string) bool { return part == s.Doubt })
		}
	}
	return out
}

// Case of what was found so far.
func (a *Attempt) Case() *circuit.Case { return caseOf(a.Exercise, a.work.Steps) }

// caseOf the results that some steps gave. A procedure done again is the same results again, and adds nothing.
func caseOf(e *Exercise, steps []Step) *circuit.Case {
	k := &circuit.Case{Circuit: e.Circuit, Title: e.Title, Complaint: e.Complaint, Jurisdiction: e.Jurisdiction}
	type at struct{ procedure, reading, place string }
	var seen []at
	for _, s := range steps {
		if s.Do == nil {
			continue
		}
		allowed := e.Allows(s.Do.Procedure)
		if allowed == nil {
			continue
		}
		for _, o := range allowed.At(s.Do.Places) {
			this := at{s.Do.Procedure, o.Reading, o.Place}
			if slices.Contains(seen, this) {
				continue
			}
			seen = append(seen, this)
			k.Findings = append(k.Findings, o.finding(fmt.Sprintf("f%d", len(seen)), s.Do.Procedure))
		}
	}
	return k
}

// HandIn gives the sealed work.
func (a *Attempt) HandIn() *Work {
	w := a.work
	w.Steps = slices.Clone(a.work.Steps)
	w.Seal = w.seal()
	return &w
}
