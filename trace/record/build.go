package record

import (
	"fmt"
	"strings"
	"time"

	"airpath/circuit"
	"airpath/circuit/airflow/procedure"
	"airpath/circuit/symbol"
	"airpath/trace"
)

// Input is what a record is made of.
type Input struct {
	Case       *circuit.Case
	Circuit    *circuit.Circuit
	Procedures []*procedure.Procedure // of this circuit
	Stages     []Stage                // by the number of repairs done: first the vehicle as it came in
	Unit       string                 // for pressures: "psi", "bar" or "kPa"
	Program    string                 // name and version of the program that made the record
}

// A Stage is what the findings came to before the next repair.
type Stage struct {
	Verdict *trace.Verdict // of the case up to there (circuit.Case.Until); nil where nothing was found since the repair
	Marks   symbol.Marks   // of the same, for the sheet
}

// New makes the record. Findings that no procedure of the circuit yields are an error, which names them.
func New(in Input) (*Document, error) {
	if len(in.Stages) == 0 || in.Stages[0].Verdict == nil {
		return nil, fmt.Errorf("a record needs what the findings came to; the case %q was not traced", in.Case.Title)
	}
	b := builder{Input: in, bound: map[string]bound{}}
	if b.Unit == "" {
		b.Unit = "psi"
	}
	for _, f := range in.Case.Findings {
		p, r, _, err := procedure.BindUnder(in.Case.Jurisdiction, in.Procedures, f)
		if err != nil {
			return nil, fmt.Errorf("finding %q: %w", f.ID, err)
		}
		b.bound[f.ID] = bound{p, r}
	}
	d := &Document{
		Title: "Work record", Subject: in.Case.Title, Facts: b.head(),
		Running: b.running(), Day: day(in.Case),
	}
	d.Parts = append(d.Parts, b.short(), b.found(), b.came(0), b.sheet(0))
	if cleared := b.cleared(0); len(cleared.Blocks) > 0 {
		d.Parts = append(d.Parts, cleared)
	}
	for i := range in.Case.Repairs {
		d.Parts = append(d.Parts, b.repair(i), b.check(i))
		if b.verdict(i+1) != nil {
			d.Parts = append(d.Parts, b.came(i+1))
			if b.stillWrong(i + 1) {
				d.Parts = append(d.Parts, b.sheet(i+1))
			}
		}
	}
	if len(in.Case.Repairs) == 0 {
		d.Parts = append(d.Parts, b.repairToCome())
	}
	d.Parts = append(d.Parts, b.cautions())
	d.Parts = append(d.Parts, b.toDo()...)
	d.Parts = append(d.Parts, b.signatures(), b.about())
	if all := b.everyCleared(0); len(all.Blocks) > 0 {
		d.Parts = append(d.Parts, all)
	}
	return d, nil
}

// A builder turns the input into chapters.
type builder struct {
	Input
	bound map[string]bound // by finding
}

// bound is what a finding is about.
type bound struct {
	procedure *procedure.Procedure
	reading   *procedure.Reading
}

// verdict on the vehicle with so many repairs done, nil where nothing was found then.
func (b *builder) verdict(stage int) *trace.Verdict {
	if stage < len(b.Stages) {
		return b.Stages[stage].Verdict
	}
	return nil
}

// limits that a finding was held against.
func (b *builder) limits(f circuit.Finding) []trace.LimitCheck {
	v := b.verdict(b.Case.Stage(f))
	if v == nil {
		return nil
	}
	var out []trace.LimitCheck
	for _, l := range v.Limits {
		if l.Finding == f.ID {
			out = append(out, l)
		}
	}
	return out
}

func (b *builder) head() []Fact {
	k := b.Case
	facts := []Fact{
		{"Vehicle", k.Vehicle}, {"Technician", k.Technician},
		{"Mileage", k.Mileage}, {"Date", k.Date},
		{"Circuit", b.Circuit.Title}, {"Limits of", b.jurisdiction()},
	}
	if k.Ambient != "" {
		facts = append(facts, Fact{"Ambient", k.Ambient})
	}
	return facts
}

func (b *builder) jurisdiction() string {
	if b.Case.Jurisdiction == "" {
		return "US"
	}
	return strings.ReplaceAll(b.Case.Jurisdiction, "/", ", ")
}

func (b *builder) running() string {
	parts := []string{b.Case.Title}
	if b.Case.Vehicle != "" {
		parts = append(parts, b.Case.Vehicle)
	}
	if b.Case.Date != "" {
		parts = append(parts, b.Case.Date)
	}
	return strings.Join(parts, " · ")
}

func day(k *circuit.Case) time.Time {
	t, err := time.Parse(time.DateOnly, k.Date)
	if err != nil {
		return time.Time{} // none was given: the reader lets no other text through
	}
	return t
}
