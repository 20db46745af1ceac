package model

import (
	"fmt"
	"slices"
	"strings"

	"airpath/circuit"
	"airpath/circuit/airflow/procedure"
)

// A Card is what the column shows of the findings: one finding, or several of one test that are not out of order by themselves, so that
// what is wrong is not lost among what was read besides: all the quiet places of one round of listening, one reading at several places.
type Card struct {
	Findings  []string // ids
	Procedure string
	Title     string
	Result    string
	State     string
	Place     string // to light on the sheet; empty for a round of listening
	Bad       bool   // a limit is broken, or the thing is wrong by itself
	Check     *Check // against a published limit; nil where there is none
	Stage     int    // how many repairs had been done
	Trouble   string // why the finding counts for nothing
	Reported  bool   // it is what the vehicle came in for
	Quiet     bool   // nothing was heard there
	Several   bool   // figures of several places, all of them in Result
}

// cardCache keeps the cards for as long as what they follow from stays the same.
type cardCache struct {
	revision int
	answer   *Answer
	cards    []Card
}

// Cards of the present case, in the order of the findings; the caller must not change them.
func (s *Session) Cards() []Card {
	a, _ := s.Answer()
	if s.cards.revision != s.revision || s.cards.answer != a {
		s.cards = cardCache{s.revision, a, s.makeCards(a)}
	}
	return s.cards.cards
}

func (s *Session) makeCards(a *Answer) []Card {
	var out []Card
	folded := map[string]int{} // what may share a card, to index in out
	for _, f := range s.Case().Findings {
		p, r := s.Reading(f)
		if p == nil {
			out = append(out, Card{Findings: []string{f.ID}, Procedure: f.Procedure, Title: strings.TrimSpace(f.Procedure + " " + f.Reading),
				Result: SayResult(f.Result), Stage: s.Case().Stage(f), Trouble: troubleOf(s.Check(f))})
			continue
		}
		c := s.makeCard(a, f, p, r)
		key := s.foldedBy(f, p, r, &c)
		if i, ok := folded[key]; ok && key != "" {
			s.fold(&out[i], c, p)
			continue
		}
		folded[key] = len(out)
		out = append(out, c)
	}
	return out
}

func (s *Session) makeCard(a *Answer, f circuit.Finding, p *procedure.Procedure, r *procedure.Reading) Card {
	c := Card{Findings: []string{f.ID}, Procedure: p.ID, Title: s.cardTitle(p, r), State: SayState(p.State), Place: f.Place, Result: SayResult(f.Result), Stage: s.Case().Stage(f),
		Reported: f.ID == s.Case().Reported}
	if c.Place == "" {
		c.Place = GaugeOf(p, r)
	}
	if r.Form == procedure.YesNo {
		c.Result = s.sayAnswer(r, f.Result.Kind)
		if f.Result.Kind == circuit.Yes && f.Instrument == "soap" {
			c.Result = "Bubbles in soap"
		}
		c.Bad = r.Amiss() && f.Result.Kind == circuit.Yes
		c.Quiet = f.Result.Kind == circuit.No
	}
	if a != nil {
		if check, ok := a.Limits[f.ID]; ok {
			c.Bad, c.Check = c.Bad || !check.Met, &check
		}
	}
	if err := s.Check(f); err != nil {
		c.Trouble = err.Error()
	} else if a != nil {
		c.Trouble = about(a.Ignored, f.ID)
	}
	return c
}

// foldedBy is what findings have in common that share a card; "" where a finding has one to itself.
func (s *Session) foldedBy(f circuit.Finding, p *procedure.Procedure, r *procedure.Reading, c *Card) string {
	switch {
	case c.Reported || c.Trouble != "":
	case c.Quiet:
		return p.ID + "|" + f.After
	case r.Form == procedure.Measured && c.Place != "" && !c.Bad && !s.plainlyWrong(f):
		// one reading differs from place to place in nothing but the place; what compares two places does not share a card
		return p.ID + "|" + f.After + "|" + r.ID + "|" + strings.Replace(r.Title, s.PlaceName(c.Place), "", 1)
	}
	return ""
}

// fold a card into another one of its kind.
func (s *Session) fold(into *Card, c Card, p *procedure.Procedure) {
	at := func(c Card) string { return s.PlaceName(c.Place) + " " + c.Result }
	if c.Quiet {
		into.Findings = append(into.Findings, c.Findings...)
		into.Title, into.Place = p.Title, ""
		into.Result = fmt.Sprintf("%s at %d places", c.Result, len(into.Findings))
		return
	}
	if !into.Several {
		into.Title, into.Result, into.Several = p.Title, at(*into), true
	}
	into.Findings = append(into.Findings, c.Findings...)
	into.Result += ", " + at(c)
}

// about is the first remark on a finding.
func about(remarks []Remark, finding string) string {
	for _, r := range remarks {
		if r.Finding == finding {
			return r.Words
		}
	}
	return ""
}

func troubleOf(err error) string {
	if err == nil {
		return "this vehicle has no such reading"
	}
	return err.Error()
}

func (s *Session) cardTitle(p *procedure.Procedure, r *procedure.Reading) string {
	switch {
	case r.Leak():
		return upper(s.PlaceName(r.Place))
	case isOnlyMeasured(p, r):
		return p.Title
	}
	return upper(r.Title)
}

// isOnlyMeasured tells that a reading is what its procedure is done for.
func isOnlyMeasured(p *procedure.Procedure, r *procedure.Reading) bool {
	n := 0
	for i := range p.Readings {
		if p.Readings[i].Form == procedure.Measured {
			n++
		}
	}
	return n == 1 && r.Form == procedure.Measured
}

// sayAnswer puts a yes or a no into the words of its sense.
func (s *Session) sayAnswer(r *procedure.Reading, k circuit.ResultKind) string {
	words := AnswersOf(r)
	switch k {
	case circuit.Yes:
		return words[0]
	case circuit.No:
		return words[1]
	}
	return SayResult(circuit.Result{Kind: k})
}

// AnswersOf are the words for yes, no and not sure of a reading.
func AnswersOf(r *procedure.Reading) []string {
	switch {
	case r.Sense == procedure.Ear:
		return []string{"Air heard", "Quiet", "Not sure"}
	case r.Leak():
		return []string{"Bubbles", "No bubbles", "Not sure"}
	}
	return []string{"Yes", "No", "Not sure"}
}

func upper(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// A Rank is one row of the list of suspects: one suspect, or several that the findings can't tell apart.
type Rank struct {
	Suspects    []int // indices, likeliest first
	Probability float64
	Separable   bool // some listed test tells them apart
}

// Ranks puts the suspects into rows, likeliest first; the caller must not change them.
func (a *Answer) Ranks() []Rank {
	if a.ranks == nil {
		a.ranks = a.rank()
	}
	return a.ranks
}

func (a *Answer) rank() []Rank {
	var out []Rank
	taken := make([]bool, len(a.Suspects))
	for _, g := range a.Alike {
		r := Rank{Separable: g.Separable}
		for _, i := range g.Suspects {
			if i >= 0 && i < len(taken) && !taken[i] {
				taken[i] = true
				r.Suspects = append(r.Suspects, i)
				r.Probability += a.Suspects[i].Probability
			}
		}
		if len(r.Suspects) > 0 {
			slices.Sort(r.Suspects)
			out = append(out, r)
		}
	}
	for i, x := range a.Suspects {
		if !taken[i] {
			out = append(out, Rank{Suspects: []int{i}, Probability: x.Probability})
		}
	}
	slices.SortStableFunc(out, func(x, y Rank) int {
		switch {
		case x.Probability > y.Probability:
			return -1
		case x.Probability < y.Probability:
			return 1
		}
		return x.Suspects[0] - y.Suspects[0]
	})
	return out
}

// ClearedBy gathers the cleared faults by what cleared them.
type ClearedBy struct {
	Because string
	Faults  []Cleared
}

// ClearedGroups lists the cleared faults by reason, in the order in which the reasons first appear.
func (a *Answer) ClearedGroups() []ClearedBy {
	var out []ClearedBy
	at := map[string]int{}
	for _, c := range a.Cleared {
		i, ok := at[c.Because]
		if !ok {
			i = len(out)
			at[c.Because] = i
			out = append(out, ClearedBy{Because: c.Because})
		}
		out[i].Faults = append(out[i].Faults, c)
	}
	return out
}
