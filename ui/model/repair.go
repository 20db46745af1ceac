package model

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"airpath/circuit"
	"airpath/circuit/airflow/procedure"
)

// Today is the day that repairs and records bear: "2026-01-14". Tests put another in its place.
var Today = func() string { return time.Now().Format("2006-01-02") }

// lastRepair is the id of the newest repair, "" where none was done.
func lastRepair(cs *circuit.Case) string {
	if n := len(cs.Repairs); n > 0 {
		return cs.Repairs[n-1].ID
	}
	return ""
}

// Repair records what was done to a part because of a fault in it; mode is "" where none was proven. What is found from then
// on is about the mended vehicle.
func (s *Session) Repair(part, mode, done string) {
	s.change("Repaired: "+s.PlaceName(part), func(w *work) {
		w.file.Repairs = append(w.file.Repairs, circuit.Repair{ID: freeRepair(w.file), Part: part, Mode: mode, Done: strings.TrimSpace(done), Date: Today()})
		w.skipped, w.refused = nil, nil // a mended vehicle asks for other tests
		w.file.Last = ""                // it has been bled and opened
	})
}

func freeRepair(cs *circuit.Case) string {
	for n := len(cs.Repairs) + 1; ; n++ {
		id := fmt.Sprintf("r%d", n)
		if !slices.ContainsFunc(cs.Repairs, func(r circuit.Repair) bool { return r.ID == id }) {
			return id
		}
	}
}

// TakeBackRepair removes a repair that was not done after all, with what was found since it.
func (s *Session) TakeBackRepair(id string) {
	at := slices.IndexFunc(s.Case().Repairs, func(r circuit.Repair) bool { return r.ID == id })
	if at < 0 {
		return
	}
	s.change("Repair taken back: "+s.PlaceName(s.Case().Repairs[at].Part), func(w *work) {
		gone := w.file.Repairs[at:]
		w.file.Findings = slices.DeleteFunc(w.file.Findings, func(f circuit.Finding) bool {
			return slices.ContainsFunc(gone, func(r circuit.Repair) bool { return r.ID == f.After })
		})
		w.file.Repairs = slices.Clip(w.file.Repairs[:at])
		w.file.Last = ""
	})
}

// A Recheck is a test that is to be done again after a repair.
type Recheck struct {
	Procedure *procedure.Procedure
	Before    string // what was found before the repair
	Done      bool
	Bad       bool   // done, and still not in order
	Now       string // what was found since
}

// Rechecks are the tests to do again after the newest repair: those that it names, else those whose findings were out of order
// before, else all that were done.
func (s *Session) Rechecks() []Recheck {
	cs := s.Case()
	if len(cs.Repairs) == 0 {
		return nil
	}
	newest := cs.Repairs[len(cs.Repairs)-1]
	var bad, all []string
	before, now := map[string]string{}, map[string]Card{}
	for _, c := range s.Cards() {
		if c.Trouble != "" {
			continue
		}
		if c.Stage == len(cs.Repairs) {
			if old, ok := now[c.Procedure]; !ok || !old.Bad {
				now[c.Procedure] = c
			}
			continue
		}
		all = append(all, c.Procedure)
		if c.Bad {
			bad = append(bad, c.Procedure)
		}
		if _, ok := before[c.Procedure]; !ok || c.Bad {
			before[c.Procedure] = c.Result
		}
	}
	wanted := newest.Recheck
	if len(wanted) == 0 {
		wanted = bad
	}
	if len(wanted) == 0 {
		wanted = all
	}
	var out []Recheck
	for _, p := range s.Procedures() {
		if slices.Contains(wanted, p.ID) {
			c, done := now[p.ID]
			out = append(out, Recheck{Procedure: p, Before: before[p.ID], Done: done, Bad: c.Bad, Now: c.Result})
		}
	}
	return out
}
