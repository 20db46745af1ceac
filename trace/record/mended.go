package record

import (
	"fmt"
	"slices"
	"strings"

	"airpath/circuit"
	"airpath/circuit/airflow/procedure"
)

// repair tells what was done.
func (b *builder) repair(i int) Part {
	r := b.Case.Repairs[i]
	title := "Repair"
	if len(b.Case.Repairs) > 1 {
		title = fmt.Sprintf("Repair %d", i+1)
	}
	facts := Facts{{"Part", upperFirst(b.nameOf(r.Part))}, {"Done", r.Done}}
	if r.Mode != "" {
		facts = append(facts, Fact{"Fault mended", r.Mode})
		if p, ok := b.probability(i, r); ok {
			facts = append(facts, Fact{"Its probability", percent(p) + " by the findings before this repair"})
		}
	} else {
		facts = append(facts, Fact{"Fault mended", "none was proven on this part"})
	}
	date, technician := r.Date, r.Technician
	if technician == "" {
		technician = b.Case.Technician
	}
	facts = append(facts, Fact{"Date", date}, Fact{"Technician", technician})
	if r.Note != "" {
		facts = append(facts, Fact{"Note", r.Note})
	}
	return Part{Title: title, Blocks: []Block{facts}}
}

// probability of the fault that a repair mended, by the latest findings before it.
func (b *builder) probability(before int, r circuit.Repair) (float64, bool) {
	for stage := before; stage >= 0; stage-- {
		v := b.verdict(stage)
		if v == nil {
			continue
		}
		for _, s := range v.Suspects {
			if s.Fault.Target == r.Part && s.Fault.Mode == r.Mode {
				return s.Probability, true
			}
		}
		return 0, false
	}
	return 0, false
}

// repairToCome leaves room to write by hand what will be done.
func (b *builder) repairToCome() Part {
	return Part{Title: "Repair", Blocks: []Block{
		Text{Words: "No repair is noted in the case yet."},
		Facts{{Name: "Part"}, {Name: "Done"}, {Name: "Date"}, {Name: "Technician"}},
	}}
}

// recheck lists the procedures to do again after a repair: those that it names itself, or else those that had a finding
// out of order since the repair before.
func (b *builder) recheck(i int) []*procedure.Procedure {
	wanted := b.Case.Repairs[i].Recheck
	if len(wanted) == 0 {
		for _, f := range b.Case.AtStage(i) {
			if id := b.bound[f.ID].procedure.ID; b.outOfOrder(f) && !slices.Contains(wanted, id) {
				wanted = append(wanted, id)
			}
		}
	}
	var out []*procedure.Procedure
	for _, id := range wanted {
		if j := slices.IndexFunc(b.Procedures, func(p *procedure.Procedure) bool { return p.ID == id }); j >= 0 {
			out = append(out, b.Procedures[j])
		}
	}
	return out
}

// repeated tells whether a procedure has a finding after a repair, and how far before the next.
func (b *builder) repeated(i int, p *procedure.Procedure) bool {
	return slices.ContainsFunc(b.Case.AtStage(i+1), func(f circuit.Finding) bool { return b.bound[f.ID].procedure.ID == p.ID })
}

// check tells what was found after a repair beside what was found before, and which procedures are still to be repeated.
func (b *builder) check(i int) Part {
	title := "Check after the repair"
	if len(b.Case.Repairs) > 1 {
		title = fmt.Sprintf("Check after repair %d", i+1)
	}
	part := Part{Title: title}
	again := b.recheck(i)
	if len(again) > 0 {
		var names []string
		for _, p := range again {
			names = append(names, p.Title)
		}
		part.Blocks = append(part.Blocks, Text{Lead: "To be done again", Words: strings.Join(names, "; ")})
	}
	t := Table{Columns: []Column{{"No.", 7}, {"Test and reading", 39}, {"Before", 12}, {"After", 14}, {"Limit and its source", 28}}}
	for _, f := range b.Case.AtStage(i + 1) {
		t.Rows = append(t.Rows, Row{cell(f.ID), b.reading(f), cell(b.before(i, f)), strong(f.Result.Text), b.held(f)})
	}
	for _, p := range again {
		if b.repeated(i, p) {
			continue
		}
		for _, f := range b.foundBy(i, p) {
			at := b.bound[f.ID]
			t.Rows = append(t.Rows, Row{
				cell(""), Cell{{Lead: p.Title}, {Words: upperFirst(at.reading.Title)}}, cell(f.Result.Text), Cell{{Blank: true}}, Cell{{Words: "not repeated yet", Faint: true}},
			})
		}
		if len(b.foundBy(i, p)) == 0 {
			t.Rows = append(t.Rows, Row{cell(""), strong(p.Title), cell("–"), Cell{{Blank: true}}, Cell{{Words: "not done yet", Faint: true}}})
		}
	}
	if len(t.Rows) == 0 {
		part.Blocks = append(part.Blocks, Text{Words: "Nothing was checked after it, and no finding before it calls for a test to be done again."})
		return part
	}
	part.Blocks = append(part.Blocks, t)
	return part
}

// before is the latest result of the same reading before a repair.
func (b *builder) before(i int, f circuit.Finding) string {
	at := b.bound[f.ID]
	result := "–"
	for _, g := range b.Case.Findings {
		if b.Case.Stage(g) <= i && b.bound[g.ID].reading == at.reading {
			result = g.Result.Text
		}
	}
	return result
}

// foundBy are the findings that a procedure yielded before a repair, since the repair before it.
func (b *builder) foundBy(i int, p *procedure.Procedure) []circuit.Finding {
	var out []circuit.Finding
	for _, f := range b.Case.AtStage(i) {
		if b.bound[f.ID].procedure.ID == p.ID {
			out = append(out, f)
		}
	}
	return out
}

// toDo prints how each procedure is done that is still to be repeated, so that the paper can be taken to the vehicle.
func (b *builder) toDo() []Part {
	if len(b.Case.Repairs) == 0 {
		return nil
	}
	i := len(b.Case.Repairs) - 1
	var parts []Part
	for _, p := range b.recheck(i) {
		if b.repeated(i, p) {
			continue
		}
		part := Part{Title: "Still to do: " + p.Title}
		if len(p.Tools) > 0 {
			part.Blocks = append(part.Blocks, Text{Lead: "Tools", Words: strings.Join(p.Tools, ", ")})
		}
		part.Blocks = append(part.Blocks, Text{Lead: "Before you start", Words: "the cautions above hold"})
		if p.Start != nil {
			part.Blocks = append(part.Blocks, Text{Lead: "Begin from this state", Words: p.Start.Title, leads: true}, b.steps(p.Start.All()))
		}
		part.Blocks = append(part.Blocks, Text{Lead: "Then"}, b.steps(p.Steps))
		parts = append(parts, part)
	}
	return parts
}

func (b *builder) steps(steps []procedure.Step) List {
	l := List{Numbered: true}
	for _, s := range steps {
		l.Items = append(l.Items, Text{Words: s.Words(b.Unit)})
	}
	return l
}
