package model

import (
	"slices"

	"airpath/circuit"
	"airpath/circuit/airflow/procedure"
)

// What a vehicle came in for counts for more than what was read in the workshop: of all that its fault shows, somebody noticed just
// this. What is marked first, and is plainly out of order, is taken for it, until the person says otherwise.

// Reported is the id of the finding that the vehicle came in for; "" where nobody knows.
func (s *Session) Reported() string { return s.Case().Reported }

// Report says which finding the vehicle came in for; "" says that it is none of them.
func (s *Session) Report(id string) {
	if id == s.Reported() {
		return
	}
	deed := "Came in for none of what was found"
	if id != "" {
		i := slices.IndexFunc(s.Case().Findings, func(f circuit.Finding) bool { return f.ID == id })
		if i < 0 {
			return
		}
		deed = "Came in for: " + s.Say(s.Case().Findings[i])
	}
	s.change(deed, func(w *work) { w.file.Reported = id })
}

// chooseReported after findings were entered or cleared; before are those that there were.
func (s *Session) chooseReported(cs *circuit.Case, before []circuit.Finding) {
	was := func(id string) (circuit.Finding, bool) {
		i := slices.IndexFunc(before, func(f circuit.Finding) bool { return f.ID == id })
		if i < 0 {
			return circuit.Finding{}, false
		}
		return before[i], true
	}
	if cs.Reported != "" {
		i := slices.IndexFunc(cs.Findings, func(f circuit.Finding) bool { return f.ID == cs.Reported })
		if i < 0 {
			cs.Reported = ""
		} else if old, ok := was(cs.Reported); ok && old.Result != cs.Findings[i].Result && !s.plainlyWrong(cs.Findings[i]) {
			cs.Reported = "" // it was read wrongly
		}
		return
	}
	if len(cs.Repairs) > 0 {
		return
	}
	for _, f := range cs.Findings {
		if old, ok := was(f.ID); ok && old.Result == f.Result {
			return // not the first
		}
	}
	for _, f := range cs.Findings {
		if old, ok := was(f.ID); s.plainlyWrong(f) && !(ok && s.plainlyWrong(old)) {
			cs.Reported = f.ID
			return
		}
	}
}

// plainlyWrong tells that a finding is out of order by itself: air is heard, a limit is missed, or what was waited for never came.
// Whether another yes or no is as it should be depends on the test.
func (s *Session) plainlyWrong(f circuit.Finding) bool {
	_, r, e, err := procedure.BindUnder(s.Jurisdiction(), s.Procedures(), f)
	if err != nil {
		return false
	}
	switch e.Kind {
	case circuit.Yes:
		return r.Amiss()
	case circuit.Never:
		return true
	case circuit.Number, circuit.Range:
		for _, l := range r.LimitsIn(s.Jurisdiction()) {
			if !l.Meets(e.Low) || !l.Meets(e.High) {
				return true
			}
		}
	}
	return false
}

// leaveAs notes how the vehicle stands after something was entered: as the test left it that was carried out. What was marked on the
// sheet was found in some state of the controls, and who knows how the vehicle was left after that. A reading that is only put right
// changes nothing.
func leaveAs(cs *circuit.Case, before, set []circuit.Finding, carried string) {
	isNew := func(f circuit.Finding) bool {
		return !slices.ContainsFunc(before, func(g circuit.Finding) bool { return g.ID == f.ID })
	}
	elsewhere := func(f circuit.Finding) bool { return f.Procedure != cs.Last }
	if carried != "" || slices.ContainsFunc(cs.Findings, isNew) && slices.ContainsFunc(set, elsewhere) {
		cs.Last = carried
	}
}

// SharedSetUp is how many of a test's minutes of preparation are saved because the last test left the vehicle as it stands.
func (s *Session) SharedSetUp(p *procedure.Procedure) float64 {
	last := s.procedure(s.Case().Last)
	if last == nil {
		return 0
	}
	return p.SetUp - p.SetUpAfter(last.Leaves())
}
