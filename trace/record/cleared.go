package record

import (
	"fmt"
	"slices"
	"strings"

	"airpath/trace"
)

// A clearing is what one set of findings ruled out.
type clearing struct {
	by     []string // ids of findings, in the order of the case
	faults []trace.Cleared
}

// clearings of a stage, those that ruled out most first.
func (b *builder) clearings(stage int) []clearing {
	var out []clearing
	at := map[string]int{}
	for _, c := range b.verdict(stage).Cleared {
		by := b.inOrder(c.By)
		key := strings.Join(by, ",")
		i, known := at[key]
		if !known {
			i = len(out)
			at[key] = i
			out = append(out, clearing{by: by})
		}
		out[i].faults = append(out[i].faults, c)
	}
	slices.SortStableFunc(out, func(x, y clearing) int { return len(y.faults) - len(x.faults) })
	return out
}

// partsNamed are the parts that are named where a set of findings is first told of.
const partsNamed = 24

// cleared says what the findings rule out: for each set of findings that did it, which parts, and the reason of one fault.
func (b *builder) cleared(stage int) Part {
	n := len(b.verdict(stage).Cleared)
	part := Part{Title: "What was cleared, and why"}
	if n == 0 {
		return part
	}
	part.Blocks = append(part.Blocks, Text{Words: fmt.Sprintf("%s. Cleared means that with these findings the odds of the fault are under 1 in 1,000, and under 1 in 50 with any one of them "+
		"left out. It is no proof: another finding may bring a fault back. The last pages name each.", upperFirst(several(n, "fault is cleared", "faults are cleared")))})
	t := Table{Columns: []Column{{"By findings", 15}, {"Faults", 8}, {"Of these parts, and why", 77}}}
	for _, c := range b.clearings(stage) {
		var parts []string
		groups := byPart(c.faults)
		for _, p := range groups[:min(len(groups), partsNamed)] {
			parts = append(parts, p.words())
		}
		if n := len(groups) - len(parts); n > 0 {
			parts = append(parts, fmt.Sprintf("and %s, which the last pages name", several(n, "further part", "further parts")))
		}
		why := c.faults[0]
		t.Rows = append(t.Rows, Row{strong(strings.Join(c.by, ", ")), cell(fmt.Sprint(len(c.faults))), Cell{
			{Words: upperFirst(strings.Join(parts, "; "))}, {Words: "Why, of the first: " + why.Because, Faint: true},
		}})
	}
	part.Blocks = append(part.Blocks, t)
	return part
}

// everyCleared names each fault that was cleared, for the file.
func (b *builder) everyCleared(stage int) Part {
	part := Part{Title: "Every fault that was cleared"}
	if len(b.verdict(stage).Cleared) == 0 {
		return part
	}
	t := Table{Columns: []Column{{"By findings", 15}, {"Part", 25}, {"Faults", 60}}}
	for _, c := range b.clearings(stage) {
		by := strings.Join(c.by, ", ")
		for i, p := range byPart(c.faults) {
			row := Row{Cell{}, Cell{{Words: upperFirst(p.name)}}, Cell{{Words: strings.Join(p.faults, "; ")}}}
			if i == 0 {
				row[0] = strong(by)
			}
			t.Rows = append(t.Rows, row)
		}
	}
	part.Blocks = append(part.Blocks, t)
	return part
}

// inOrder puts ids of findings into the order of the case.
func (b *builder) inOrder(ids []string) []string {
	var out []string
	for _, f := range b.Case.Findings {
		if slices.Contains(ids, f.ID) {
			out = append(out, f.ID)
		}
	}
	return out
}

// A part's faults that were cleared together.
type clearedPart struct {
	target, name string
	faults       []string
}

func (p clearedPart) words() string {
	if len(p.faults) == 1 {
		return p.name
	}
	return fmt.Sprintf("%s (%d)", p.name, len(p.faults))
}

// byPart puts the faults of each part together, in the order in which the parts come.
func byPart(cleared []trace.Cleared) []clearedPart {
	var out []clearedPart
	for _, c := range cleared {
		name, fault, ok := strings.Cut(c.Title, ": ")
		if !ok {
			name, fault = c.Title, c.Fault.Mode
		}
		i := slices.IndexFunc(out, func(p clearedPart) bool { return p.target == c.Fault.Target })
		if i < 0 {
			i = len(out)
			out = append(out, clearedPart{target: c.Fault.Target, name: name})
		}
		out[i].faults = append(out[i].faults, fault)
	}
	return out
}
