package model

import (
	"slices"

	"airpath/circuit"
)

// A Chapter is one thing that happened in a case, as the person goes through it again: the complaint, a test, a repair.
type Chapter struct {
	Title     string
	Result    string
	Note      string // state of the controls, or the day of a repair
	Bad       bool
	Procedure string // to open again; "" where it was no test
	Repair    string // id
	Findings  []string
	Case      *circuit.Case // as it stood then; nil where nothing follows from it
	Key       string
}

type storyCache struct {
	revision int
	answer   *Answer
	chapters []Chapter
}

// Story of the case from its beginning; the caller must not change it.
func (s *Session) Story() []Chapter {
	a, _ := s.Answer()
	if s.story.revision != s.revision || s.story.answer != a || s.story.chapters == nil {
		s.story = storyCache{s.revision, a, s.tell()}
	}
	return s.story.chapters
}

func (s *Session) tell() []Chapter {
	cs := s.Case()
	out := []Chapter{}
	if cs.Complaint != "" {
		out = append(out, Chapter{Title: "Complaint", Result: cs.Complaint})
	}
	cards := slices.Clone(s.Cards())
	slices.SortStableFunc(cards, func(x, y Card) int { return x.Stage - y.Stage })
	var so []string // findings up to here
	repaired := 0
	mend := func(until int) {
		for ; repaired < until && repaired < len(cs.Repairs); repaired++ {
			r := cs.Repairs[repaired]
			done := r.Done
			if done == "" {
				done = r.Mode
			}
			out = append(out, Chapter{Title: "Repaired: " + s.PlaceName(r.Part), Result: done, Note: r.Date, Repair: r.ID})
		}
	}
	for _, c := range cards {
		mend(c.Stage)
		so = append(so, c.Findings...)
		if n := len(out); n > 0 && c.Procedure != "" && out[n-1].Procedure == c.Procedure && out[n-1].Repair == "" && c.Trouble == "" {
			last := &out[n-1] // another reading of the same test
			last.Result += "; " + Small(c.Title) + ": " + Small(c.Result)
			last.Bad = last.Bad || c.Bad
			last.Findings = append(last.Findings, c.Findings...)
			last.Case, last.Key = s.upTo(so, c.Stage)
			continue
		}
		ch := Chapter{Title: c.Title, Result: c.Result, Note: c.State, Bad: c.Bad, Procedure: c.Procedure, Findings: slices.Clone(c.Findings)}
		if p := s.procedure(c.Procedure); p != nil && p.Title != c.Title {
			ch.Title, ch.Result = p.Title, Small(c.Title)+": "+Small(c.Result)
		}
		if c.Trouble != "" {
			ch.Note = "Does not count: " + c.Trouble
		}
		ch.Case, ch.Key = s.upTo(so, c.Stage)
		out = append(out, ch)
	}
	mend(len(cs.Repairs))
	return out
}

// upTo is the case with these findings only, and so many repairs.
func (s *Session) upTo(ids []string, repairs int) (*circuit.Case, string) {
	w := (&work{file: s.Case()}).clone()
	w.file.Findings = slices.DeleteFunc(w.file.Findings, func(f circuit.Finding) bool { return !slices.Contains(ids, f.ID) })
	w.file.Repairs = w.file.Repairs[:min(repairs, len(w.file.Repairs))]
	return w.file, KeyOf(w.file)
}

// Small begins with a small letter, but for what is written large throughout.
func Small(s string) string {
	if len(s) > 1 && s[0] >= 'A' && s[0] <= 'Z' && (s[1] < 'A' || s[1] > 'Z') {
		return string(s[0]+'a'-'A') + s[1:]
	}
	return s
}
