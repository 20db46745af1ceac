package model

import (
	"fmt"
	"slices"
	"strings"

	"airpath/circuit"
	"airpath/circuit/airflow/procedure"
)

// A Session is one case on one vehicle, as it is being worked on.
type Session struct {
	Circuit *circuit.Circuit
	Engine  Engine
	Origin  Origin

	history *History[*work]
	job     job
	curves  curveJob

	units     Units // that answers speak in
	revision  int   // rises with every change of the case
	choice    string
	noticed   string // what was done last, in words
	cards     cardCache
	story     storyCache
	offered   offer
	aside     asides
	keyed     int // revision that keyText belongs to
	keyText   string
	less      map[string]*circuit.Case // by what is left out
	savedWork *work
}

// Origin is where the case came from, and where saving puts it.
type Origin struct {
	Path    string // of the case file; empty for a case that was never saved
	Vehicle string // name or path of the circuit, as case files write it
}

// work is one state of what can be undone. Nobody changes one after it entered the history.
type work struct {
	file    *circuit.Case
	skipped []string // procedures put off, by id
	refused []string // procedures that could not be done, by id
}

func (w *work) clone() *work {
	c := *w.file
	c.Findings, c.Repairs, c.Logs = slices.Clone(c.Findings), slices.Clone(c.Repairs), slices.Clone(c.Logs)
	return &work{file: &c, skipped: slices.Clone(w.skipped), refused: slices.Clone(w.refused)}
}

// NewSession starts work on a case. Wake is called from other goroutines whenever Collect has something to take.
func NewSession(c *circuit.Circuit, engine Engine, cs *circuit.Case, origin Origin, u Units, wake func()) *Session {
	first := &work{file: cs}
	s := &Session{Circuit: c, Engine: engine, Origin: origin, history: NewHistory(first), savedWork: first, units: u}
	s.job.wake, s.curves.wake, s.aside.wake = wake, wake, wake
	s.changed()
	return s
}

// Case is the case as it is now; the caller must not change it.
func (s *Session) Case() *circuit.Case { return s.history.Now().file }

// Procedures of this vehicle; the caller must not change them.
func (s *Session) Procedures() []*procedure.Procedure { return s.Engine.Procedures() }

// Revision rises with every change of the case.
func (s *Session) Revision() int { return s.revision }

// Dirty reports whether the case differs from its file.
func (s *Session) Dirty() bool { return s.history.Now() != s.savedWork }

// MarkUnsaved says that the case is in no file as it is now: it was brought back from the autosave.
func (s *Session) MarkUnsaved() { s.savedWork = nil }

// SpeakIn sets the unit that answers speak of pressures in; a change asks anew, which is quick.
func (s *Session) SpeakIn(u Units) {
	if u != s.units {
		s.units = u
		s.AskAgain()
	}
}

// Close stops the background work.
func (s *Session) Close() {
	s.job.stop()
	s.curves.stop()
	s.aside.drop()
}

// change makes a new state by way of edit.
func (s *Session) change(deed string, edit func(w *work)) {
	w := s.history.Now().clone()
	edit(w)
	s.history.Do(deed, w)
	s.noticed = deed
	s.changed()
}

func (s *Session) changed() {
	s.revision++
	s.aside.drop()
	s.job.start(s.Engine, s.Case(), s.units)
}

// Undo takes the last deed back.
func (s *Session) Undo() bool {
	deed, ok := s.history.Undo()
	if ok {
		s.noticed = "Taken back: " + deed
		s.changed()
	}
	return ok
}

// Redo does again what was undone.
func (s *Session) Redo() bool {
	deed, ok := s.history.Redo()
	if ok {
		s.noticed = "Done again: " + deed
		s.changed()
	}
	return ok
}

// CanUndo and CanRedo name the deed in question.
func (s *Session) CanUndo() (string, bool) { return s.history.CanUndo() }

// CanRedo names the deed that Redo would do again.
func (s *Session) CanRedo() (string, bool) { return s.history.CanRedo() }

// LastDeed is what was done last, in words.
func (s *Session) LastDeed() string { return s.noticed }

// SetComplaint changes the driver's words.
func (s *Session) SetComplaint(text string) {
	text = strings.TrimSpace(text)
	if text == s.Case().Complaint {
		return
	}
	s.change("Complaint changed", func(w *work) { w.file.Complaint = text })
}

// Enter records what was marked on the sheet as one deed. A reading taken before at the same place in the same procedure is replaced
// and keeps its id. Readings that cannot be understood are refused, all of them together, so that nothing is half entered.
func (s *Session) Enter(findings ...circuit.Finding) error { return s.enterAll(findings, nil, "") }

// Record enters what a test gave that was carried out, and clears other readings, as one deed.
func (s *Session) Record(set []circuit.Finding, drop []string) error {
	carried := ""
	if len(set) > 0 {
		carried = set[0].Procedure
	}
	return s.enterAll(set, drop, carried)
}

// PutRight enters readings in place of those that were entered wrongly, and clears others, as one deed.
func (s *Session) PutRight(set []circuit.Finding, drop []string) error {
	return s.enterAll(set, drop, "")
}

func (s *Session) enterAll(set []circuit.Finding, drop []string, carried string) error {
	for _, f := range set {
		if err := s.Check(f); err != nil {
			return err
		}
	}
	if len(set) == 0 {
		s.Remove(drop...)
		return nil
	}
	deed := "Entered: " + s.Say(set[0])
	if n := len(set) + len(drop) - 1; n > 0 {
		deed = fmt.Sprintf("%s and %d more", deed, n)
	}
	s.change(deed, func(w *work) {
		before := slices.Clone(w.file.Findings)
		w.file.Findings = slices.DeleteFunc(w.file.Findings, func(f circuit.Finding) bool { return slices.Contains(drop, f.ID) })
		for _, f := range set {
			s.enter(w.file, f)
		}
		s.chooseReported(w.file, before)
		leaveAs(w.file, before, set, carried)
	})
	return nil
}

func (s *Session) enter(cs *circuit.Case, f circuit.Finding) {
	_, r := s.Reading(f)
	if f.After == "" {
		f.After = lastRepair(cs)
	}
	same := func(g circuit.Finding) bool {
		_, old := s.Reading(g)
		return (old == r || f.Procedure != "" && g.Procedure == f.Procedure && g.Reading == f.Reading && g.Place == f.Place) && g.After == f.After
	}
	if i := slices.IndexFunc(cs.Findings, same); i >= 0 {
		f.ID, f.Note = cs.Findings[i].ID, cs.Findings[i].Note
		cs.Findings[i] = f
		return
	}
	f.ID = freeID(cs)
	cs.Findings = append(cs.Findings, f)
}

func freeID(cs *circuit.Case) string {
	for n := len(cs.Findings) + 1; ; n++ {
		id := fmt.Sprintf("f%d", n)
		if !slices.ContainsFunc(cs.Findings, func(f circuit.Finding) bool { return f.ID == id }) {
			return id
		}
	}
}

// Remove clears findings, as one deed.
func (s *Session) Remove(ids ...string) {
	gone := func(f circuit.Finding) bool { return slices.Contains(ids, f.ID) }
	i := slices.IndexFunc(s.Case().Findings, gone)
	if i < 0 {
		return
	}
	deed := "Cleared: " + s.Say(s.Case().Findings[i])
	if len(ids) > 1 {
		deed = fmt.Sprintf("%s and %d more", deed, len(ids)-1)
	}
	s.change(deed, func(w *work) {
		before := slices.Clone(w.file.Findings)
		w.file.Findings = slices.DeleteFunc(w.file.Findings, gone)
		s.chooseReported(w.file, before)
	})
}

// Finding of one reading on the vehicle as it is now, if there is one: what was found before a repair is about another vehicle.
func (s *Session) Finding(r *procedure.Reading) (circuit.Finding, bool) {
	now := lastRepair(s.Case())
	for _, f := range s.Case().Findings {
		if _, is := s.Reading(f); (is == r || s.notedAt(f) == r) && f.After == now {
			return f, true
		}
	}
	return circuit.Finding{}, false
}

// notedAt is the reading that a finding was noted at: bubbles that were seen on a round by ear say something of the round with soap, and are
// noted on the round by ear all the same. It is nil where the finding names none.
func (s *Session) notedAt(f circuit.Finding) *procedure.Reading {
	p := s.procedure(f.Procedure)
	if p == nil {
		return nil
	}
	i, ok := p.Reading(f.Reading, f.Place)
	if !ok {
		return nil
	}
	return &p.Readings[i]
}

// Skip puts a test off: the next best one is proposed.
func (s *Session) Skip(p *procedure.Procedure) {
	s.change("Skipped: "+p.Title, func(w *work) { w.skipped = append(w.skipped, p.ID) })
}

// Refuse says that a test could not be done on this vehicle.
func (s *Session) Refuse(p *procedure.Procedure) {
	s.change("Could not do: "+p.Title, func(w *work) {
		w.refused = append(w.refused, p.ID)
		w.file.Last = "" // who knows how far it was begun
	})
}

// Left is what was put off, to be kept.
func (s *Session) Left() Left {
	w := s.history.Now()
	return Left{Skipped: w.skipped, Refused: w.refused}
}

// Remember puts off what had been put off when the case was last on the bench; it comes before anything is done.
func (s *Session) Remember(l Left) {
	w := s.history.Now()
	w.skipped, w.refused = l.Skipped, l.Refused
}

// Refused are the titles of the tests that could not be done.
func (s *Session) Refused() []string { return s.titles(s.history.Now().refused) }

// Skipped are the titles of the tests that were put off.
func (s *Session) Skipped() []string { return s.titles(s.history.Now().skipped) }

// Reoffer takes back every skip and every "could not do".
func (s *Session) Reoffer() {
	s.change("Every test offered again", func(w *work) { w.skipped, w.refused = nil, nil })
}

func (s *Session) titles(ids []string) []string {
	var out []string
	for _, p := range s.Procedures() {
		if slices.Contains(ids, p.ID) {
			out = append(out, p.Title)
		}
	}
	return out
}

// Proposals are the procedures worth doing now, best first, without those put off or refused; the caller must not change them.
func (s *Session) Proposals() []Next {
	a, _ := s.Answer()
	if a == nil {
		return nil
	}
	if s.offered.answer == a && s.offered.revision == s.revision {
		return s.offered.list
	}
	w := s.history.Now()
	var out []Next
	for _, n := range a.Next {
		if !slices.Contains(w.skipped, n.Procedure.ID) && !slices.Contains(w.refused, n.Procedure.ID) {
			out = append(out, n)
		}
	}
	s.offered = offer{a, s.revision, out}
	return out
}

// An offer is kept for as long as what it follows from stays the same.
type offer struct {
	answer   *Answer
	revision int
	list     []Next
}

// Reading finds the procedure and the reading that a finding is about; nil where this vehicle has no such reading, or the
// result can't be read.
func (s *Session) Reading(f circuit.Finding) (*procedure.Procedure, *procedure.Reading) {
	p, r, _, err := procedure.BindUnder(s.Jurisdiction(), s.Procedures(), f)
	if err != nil {
		return nil, nil
	}
	return p, r
}

// DefaultJurisdiction holds where nobody has said another.
const DefaultJurisdiction = "US"

// procedure by its id; nil where this vehicle has none.
func (s *Session) procedure(id string) *procedure.Procedure {
	for _, p := range s.Procedures() {
		if p.ID == id {
			return p
		}
	}
	return nil
}

// Jurisdiction whose limits apply.
func (s *Session) Jurisdiction() string {
	if j := s.Case().Jurisdiction; j != "" {
		return j
	}
	return DefaultJurisdiction
}

// SetJurisdiction holds the findings against the limits of another country, state or province.
func (s *Session) SetJurisdiction(j string) {
	if j != s.Jurisdiction() {
		s.change("Limits of "+SayJurisdiction(j), func(w *work) { w.file.Jurisdiction = j })
	}
}

// SayJurisdiction puts one into words: "Canada, Ontario".
func SayJurisdiction(j string) string {
	switch j {
	case "US":
		return "United States"
	case "UN":
		return "UN regulations (Europe and others)"
	}
	country, part, found := strings.Cut(j, "/")
	if !found {
		return j
	}
	if country == "US" {
		country = "United States"
	}
	return country + ", " + part
}

// Check says why a finding does not count; nil when it does.
func (s *Session) Check(f circuit.Finding) error {
	_, _, _, err := procedure.BindUnder(s.Jurisdiction(), s.Procedures(), f)
	return err
}
