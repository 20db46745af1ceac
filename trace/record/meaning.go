package record

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"airpath/trace"
)

const (
	named      = 0.8   // probability from which the findings are said to name a fault
	worthWords = 0.005 // and from which a suspect is listed
	mostListed = 12    // suspects listed; the rest are counted
)

// nothingFound stands where there is nothing to conclude from: how common faults are is no finding.
const nothingFound = "No finding has been made, so nothing can be said about the fault."

// leading is what the findings point at first: one fault, or the group that no listed procedure tells apart from it.
func leading(v *trace.Verdict) (first *trace.Suspect, with []string, weight float64) {
	if len(v.Suspects) == 0 {
		return nil, nil, 0
	}
	first = &v.Suspects[0]
	for _, a := range v.Inseparable {
		for i, f := range a.Faults {
			if f.Target != first.Fault.Target || f.Mode != first.Fault.Mode {
				continue
			}
			return first, slices.Delete(slices.Clone(a.Titles), i, i+1), max(a.Weight, first.Probability)
		}
	}
	return first, nil, first.Probability
}

// came says what the findings come to at a stage: the fault by name, with its probability and path, and what else it can be.
func (b *builder) came(stage int) Part {
	part := Part{Title: upperFirst("what the findings come to, " + b.stageWords(stage))}
	v := b.verdict(stage)
	if len(b.Case.Until(stage).Findings) == 0 {
		part.Blocks = append(part.Blocks, Text{Words: nothingFound})
		return part
	}
	first, with, weight := leading(v)
	if first == nil || first.Probability < worthWords || v.NoFault >= named {
		words := "No fault in the catalogue fits them; one of them may have been misread."
		if v.NoFault >= named {
			words = fmt.Sprintf("They leave no fault likely: that none of the catalogue is present has a probability of %s.", percent(v.NoFault))
		}
		part.Blocks = append(part.Blocks, Text{Words: words})
		return b.doubts(part, v)
	}
	if weight < named {
		part.Blocks = append(part.Blocks, Text{Words: "They do not name one fault yet. The likeliest is told in full, the others in short.", leads: true})
	}
	facts := Facts{{"Fault", sentence(first.Title)}, {"Probability", percent(weight)}}
	if len(with) > 0 {
		facts = append(facts, Fact{"Or, not told apart by any listed procedure", sentence(strings.Join(with, "; "))})
	}
	add := func(name, text string) {
		if text != "" {
			facts = append(facts, Fact{name, sentence(text)})
		}
	}
	add("How much", b.severity(first.Severity))
	because, _, _ := strings.Cut(first.Because, " Path: ")
	add("Why", because)
	if _, against, ok := strings.Cut(first.Because, "Against it: "); ok {
		add("Against it", against)
	}
	add("How it is proven", first.Confirm)
	add("Repair", first.Repair)
	part.Blocks = append(part.Blocks, facts)
	if len(first.Path) > 0 {
		part.Blocks = append(part.Blocks, Text{Lead: "The path from fault to symptom", Words: "numbered as on the sheet", leads: true}, pathList(first.Path))
	}
	part = b.others(part, v)
	return b.doubts(part, v)
}

// pathList names each component and line on a path once, in order, as the sheet numbers them.
func pathList(path []trace.Step) List {
	l := List{Numbered: true}
	last := ""
	for _, s := range path {
		if s.ID == last {
			l.Items[len(l.Items)-1].Words += ", " + s.Words
			continue
		}
		last = s.ID
		l.Items = append(l.Items, Text{Words: s.Words})
	}
	return l
}

// others lists what else is still suspect.
func (b *builder) others(part Part, v *trace.Verdict) Part {
	t := Table{Columns: []Column{{"Also possible", 55}, {"Probability", 13}, {"How it is proven", 32}}}
	hidden, weight := 0, 0.0
	for i, s := range v.Suspects {
		switch {
		case i == 0:
		case s.Probability < worthWords || len(t.Rows) == mostListed:
			hidden++
			weight += s.Probability
		default:
			t.Rows = append(t.Rows, Row{cell(s.Title), cell(percent(s.Probability)), cell(s.Confirm)})
		}
	}
	if len(t.Rows) > 0 {
		part.Blocks = append(part.Blocks, t)
	}
	rest := fmt.Sprintf("Nothing is wrong: %s. Something that is not in the catalogue: %s.", percent(v.NoFault), percent(v.SomethingElse))
	if hidden > 0 {
		rest = fmt.Sprintf("%s, together %s. ", several(hidden, "further fault", "further faults"), percent(weight)) + rest
	}
	part.Blocks = append(part.Blocks, Text{Words: rest, Faint: true})
	return part
}

// doubts say openly what does not fit.
func (b *builder) doubts(part Part, v *trace.Verdict) Part {
	var l List
	for _, u := range v.Unexplained {
		l.Items = append(l.Items, Text{Lead: u.Finding, Words: "is explained by no suspect: " + u.Because})
	}
	for _, i := range v.Ignored {
		l.Items = append(l.Items, Text{Lead: i.Finding, Words: "was not used: " + i.Because})
	}
	for _, d := range v.Disagree {
		l.Items = append(l.Items, Text{Words: d})
	}
	for _, f := range v.Failed {
		l.Items = append(l.Items, Text{Lead: "Not simulated", Words: f})
	}
	if len(l.Items) > 0 {
		part.Blocks = append(part.Blocks, Text{Lead: "What does not fit"}, l)
	}
	return part
}

// stillWrong tells whether a sheet is worth its page: a fault is likely.
func (b *builder) stillWrong(stage int) bool {
	v := b.verdict(stage)
	return len(v.Suspects) > 0 && v.Suspects[0].Probability >= 0.1
}

// leastMarked is the probability from which a suspect is outlined on a printed sheet, where nobody can zoom in.
const leastMarked = 0.01

func (b *builder) sheet(stage int) Part {
	marks := b.Stages[stage].Marks
	marks.Suspect = maps.Clone(marks.Suspect)
	maps.DeleteFunc(marks.Suspect, func(_ string, p float64) bool { return p < leastMarked })
	return Part{Title: upperFirst("the sheet, " + b.stageWords(stage)), Blocks: []Block{Drawing{
		Circuit: b.Circuit, Marks: marks, Unit: b.Unit,
		Caption: "Heavy outline with a percentage: may be at fault, the heavier the likelier. Grey with a tick: cleared. " +
			"Broad band with numbers: the path from fault to symptom. Flags: findings where they were made; filled dark: outside a limit, or air was heard.",
	}}}
}
