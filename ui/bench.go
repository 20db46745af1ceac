package ui

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"

	"airpath/circuit"
	"airpath/circuits"
	"airpath/ui/drilling"
	"airpath/ui/engine"
	"airpath/ui/model"
	"airpath/ui/tracing"
)

// The live example of the first start: a slow build-up on the first vehicle of the library.
const exampleVehicle = "gritter"

func exampleCase() *circuit.Case {
	return &circuit.Case{
		Circuit:   exampleVehicle,
		Title:     "slow build-up",
		Complaint: "Takes too long to build air in the morning",
		Reported:  "f1",
		Findings: []circuit.Finding{{
			ID: "f1", Procedure: "build-up-85-100", Reading: "time",
			Result: circuit.Result{Kind: circuit.Number, Text: "70 s"},
		}},
	}
}

// start opens what the options name, or what was last on the bench, or the example.
func (s *shell) start(path string) {
	if path != "" {
		s.open(path)
		return
	}
	b, ok := s.place.LoadBench()
	switch {
	case !ok:
		s.openExample()
	case b.Last.Path != "":
		s.open(b.Last.Path)
	default:
		s.openVehicle(b.Last.Vehicle)
	}
}

// open reads a circuit or a case, by path or by a library vehicle's name.
func (s *shell) open(path string) {
	if slices.Contains(circuits.Names(), path) {
		s.openVehicle(path)
		return
	}
	text, err := os.ReadFile(path)
	switch {
	case err != nil:
		s.fail(path, err)
	case drilling.IsExercise(text):
		s.openExercise(path)
	case circuit.IsCase(text):
		s.openCase(path, text)
	default:
		s.openVehicle(path)
	}
}

// openExercise goes to Drill with it; below it the bench has what was there last, or the example.
func (s *shell) openExercise(path string) {
	if s.session == nil {
		if b, ok := s.place.LoadBench(); ok {
			s.openVehicle(b.Last.Vehicle)
		}
		if s.session == nil {
			s.trouble = nil
			s.openExample()
		}
	}
	if s.session == nil {
		return // the trouble is told
	}
	s.showArea(drillArea)
	s.drillArea().Ready(path)
}

func (s *shell) fail(path string, err error) { s.trouble = &trouble{path: path, err: err} }

func (s *shell) openExample() { s.openNew(exampleVehicle, exampleCase()) }

// openVehicle begins a new case on a vehicle, or goes on with the one that was kept for it.
func (s *shell) openVehicle(nameOrPath string) {
	if !slices.Contains(circuits.Names(), nameOrPath) {
		nameOrPath = absolute(nameOrPath)
	}
	s.openNew(nameOrPath, s.newCase(nameOrPath))
}

func (s *shell) newCase(vehicle string) *circuit.Case {
	return &circuit.Case{Circuit: vehicle, Title: "new case", Jurisdiction: s.prefs.Limits}
}

func (s *shell) openNew(vehicle string, fresh *circuit.Case) {
	c, err := circuits.Load(vehicle)
	if err != nil {
		s.fail(vehicle, err)
		return
	}
	origin := model.Origin{Vehicle: vehicle}
	cs, brought := s.kept(origin, fresh)
	s.put(c, cs, origin, func() {
		if brought {
			s.session.MarkUnsaved()
			s.notice = notice{words: "Your last case on this vehicle was kept and is back on the bench.", do: "Start afresh", deed: func(s *shell) {
				s.keeper.KeepLeft(model.Left{})
				s.forget(origin)
				s.openNew(vehicle, s.newCase(vehicle))
			}}
		}
	})
}

// openCase goes on with a case file; what was changed after it was saved last comes back from the autosave.
func (s *shell) openCase(path string, text []byte) {
	path = absolute(path)
	cs, err := circuit.ReadCase(path, text)
	if err != nil {
		s.fail(path, err)
		return
	}
	c, err := vehicleOf(path, cs)
	var problems circuit.Problems
	if err == nil {
		problems = circuit.CheckCase(cs, c)
		err = problems.Err()
	}
	if err != nil {
		s.fail(path, err)
		return
	}
	origin := model.Origin{Path: path, Vehicle: cs.Circuit}
	now, brought := s.kept(origin, cs)
	s.put(c, now, origin, func() {
		if len(problems) > 0 {
			s.notice = notice{words: problems.Error()}
		}
		if brought {
			s.session.MarkUnsaved()
			s.notice = notice{words: "Changes that were not saved to the file are back.", do: "Go back to the file", deed: func(s *shell) {
				s.forget(origin)
				s.open(path)
			}}
		}
	})
}

// vehicleOf loads a case's circuit: from the library, or beside the case file.
func vehicleOf(path string, cs *circuit.Case) (*circuit.Circuit, error) {
	name := cs.Circuit
	if !slices.Contains(circuits.Names(), name) && !filepath.IsAbs(name) {
		name = filepath.Join(filepath.Dir(path), name)
	}
	c, err := circuits.Load(name)
	if err != nil {
		return nil, fmt.Errorf("the vehicle of this case: %w", err)
	}
	return c, nil
}

// kept is what the autosave has for an origin, where that differs from what is at hand. A damaged autosave is said, and
// left where it is.
func (s *shell) kept(o model.Origin, at *circuit.Case) (*circuit.Case, bool) {
	text, path, err := s.place.Kept(o)
	if err == nil && text == nil {
		return at, false
	}
	var old *circuit.Case
	if err == nil {
		old, err = circuit.ReadCase(path, text)
	}
	if err != nil {
		s.notice = notice{words: "What was kept of this case can't be read: " + err.Error()}
		return at, false
	}
	if string(circuit.WriteCase(old)) == string(circuit.WriteCase(at)) {
		return at, false
	}
	return old, len(old.Findings) > 0 || old.Complaint != at.Complaint
}

func (s *shell) forget(o model.Origin) {
	if s.keeper != nil {
		if err := s.keeper.Forget(); err != nil {
			s.notice = notice{words: err.Error()}
		}
		s.keeper = nil
	}
}

// build an engine for a vehicle.
func (s *shell) build(c *circuit.Circuit) (model.Engine, error) {
	if s.opts.Engine != nil {
		return s.opts.Engine(c)
	}
	return engine.New(c)
}

// put lays a case on the bench.
func (s *shell) put(c *circuit.Circuit, cs *circuit.Case, origin model.Origin, then func()) {
	e, err := s.build(c)
	if err != nil {
		s.fail(origin.Vehicle, err)
		return
	}
	s.clear()
	s.trouble = nil
	if s.session != nil {
		s.notice = notice{} // about what was on the bench before
	}
	logs := model.ReadLogs(cs, origin.Path)
	s.session = model.NewSession(c, e, cs, origin, s.prefs.Units, s.wake)
	if logs != nil {
		s.notice = notice{words: logs.Error()}
	}
	s.session.Remember(s.place.KeptLeft(origin))
	s.area = tracing.New(s.session)
	s.keepFor(origin)
	s.chosen = s.opts.Suspect == 0
	if err := s.place.SaveBench(origin); err != nil {
		s.notice = notice{words: err.Error()}
	}
	then()
}

// keepFor begins to keep the case of an origin. A new case is kept at once, one in a file from its first change on.
func (s *shell) keepFor(o model.Origin) {
	failures, wake := s.failures, s.wake
	s.keeper = s.place.NewKeeper(o, func(err error) {
		select {
		case failures <- err:
			wake()
		default: // one is waiting to be shown already
		}
	})
	s.keptRevision = 0
	if o.Path != "" {
		s.keptRevision = s.session.Revision()
	}
}

// keep hands the case to the keeper when it changed, and shows what went wrong with keeping.
func (s *shell) keep() {
	select {
	case err := <-s.failures:
		s.notice = notice{words: err.Error()}
	default:
	}
	if s.session == nil || s.keeper == nil || s.keptRevision == s.session.Revision() {
		return
	}
	if s.keptRevision > 0 && s.notice.do == "" {
		s.notice = notice{}
	}
	s.keptRevision = s.session.Revision()
	s.keeper.Keep(s.session.Text())
	s.keeper.KeepLeft(s.session.Left())
}

// save writes the case into its file; a new case gets one in the folder where the program was started.
func (s *shell) save() {
	if s.session == nil {
		return
	}
	before, path := s.session.Origin, s.session.Origin.Path
	if path == "" {
		var err error
		if path, err = freeName(s.session.Circuit.Name); err != nil {
			s.notice = notice{words: err.Error()}
			return
		}
	}
	if err := s.session.Save(path); err != nil {
		s.notice = notice{words: err.Error()}
		return
	}
	s.notice = notice{words: "Saved as " + path}
	s.forget(before) // the file has it now
	s.keepFor(s.session.Origin)
	s.keeper.KeepLeft(s.session.Left())
	if err := s.place.SaveBench(s.session.Origin); err != nil {
		s.notice = notice{words: err.Error()}
	}
}

// freeName is a path in the folder where the program was started that no file has yet.
func freeName(vehicle string) (string, error) {
	dir, err := os.Getwd()
	if err != nil {
		return "", fmt.Errorf("cannot tell which folder this is: %w", err)
	}
	return freePath(dir, vehicle+"-case", ".toml")
}

// freePath is a path in a folder that no file has yet.
func freePath(dir, stem, ext string) (string, error) {
	dir = absolute(dir)
	for n := 1; n < 1000; n++ {
		path := filepath.Join(dir, fmt.Sprintf("%s-%d%s", stem, n, ext))
		if _, err := os.Stat(path); errors.Is(err, os.ErrNotExist) {
			return path, nil
		}
	}
	return "", fmt.Errorf("%s is full of files named %s: remove some, or open the case from another folder", dir, stem)
}

func absolute(path string) string {
	if abs, err := filepath.Abs(path); err == nil {
		return abs
	}
	return path
}

func base(path string) string { return filepath.Base(path) }
