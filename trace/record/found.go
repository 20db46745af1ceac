package record

import (
	"fmt"
	"strings"

	"airpath/circuit"
)

// found lists every finding made on the vehicle as it came in, with its limits and their sources.
func (b *builder) found() Part {
	part := Part{Title: "What was found"}
	if c := b.Case.Complaint; c != "" {
		part.Blocks = append(part.Blocks, Text{Lead: "Complaint", Words: "“" + c + "”"})
		part.Blocks = append(part.Blocks, b.heard()...)
	} else {
		part.Blocks = append(part.Blocks, Facts{{Name: "Complaint"}})
	}
	findings := b.Case.AtStage(0)
	if len(findings) == 0 {
		part.Blocks = append(part.Blocks, Text{Words: "Nothing was measured or looked at before the first repair."})
		return part
	}
	t := Table{Columns: []Column{{"No.", 7}, {"Test and reading", 47}, {"Result", 16}, {"Limit and its source", 30}}}
	for _, f := range findings {
		t.Rows = append(t.Rows, Row{cell(f.ID), b.reading(f), strong(f.Result.Text), b.held(f)})
	}
	part.Blocks = append(part.Blocks, t)
	return part
}

// heard says what the complaint was taken to mean, and what of it was not understood.
func (b *builder) heard() []Block {
	var out []Block
	complaint := b.verdict(0).Complaint
	if len(complaint.Heard) > 0 {
		var meanings []string
		for _, h := range complaint.Heard {
			meanings = append(meanings, h.Meaning.Saying+" ("+h.Meaning.Means+")")
		}
		out = append(out, Text{Words: "Taken, as weak evidence, to mean: " + strings.Join(meanings, "; ") + ".", Faint: true})
	}
	if len(complaint.Unheard) > 0 {
		var words []string
		for _, u := range complaint.Unheard {
			words = append(words, "“"+u.Words+"”")
		}
		out = append(out, Text{Words: "Not understood, and so not weighed: " + strings.Join(words, ", ") + ".", Faint: true})
	}
	return out
}

// reading says what a finding is about, where, and with what it was read.
func (b *builder) reading(f circuit.Finding) Cell {
	at := b.bound[f.ID]
	c := Cell{{Lead: at.procedure.Title}, {Words: upperFirst(at.reading.Title)}}
	how := at.reading.Instrument
	if f.Instrument != "" {
		how = f.Instrument
	}
	if words := stateWords(f.State); words != "" {
		how += "; " + words
	}
	c = append(c, Text{Words: "Read by: " + how, Faint: true})
	if f.ID == b.Case.Reported {
		c = append(c, Text{Words: "The vehicle came in for this.", Faint: true})
	}
	if f.Note != "" {
		c = append(c, Text{Words: "Note: " + f.Note, Faint: true})
	}
	return c
}

// held says of each limit whether the result lies within it.
func (b *builder) held(f circuit.Finding) Cell {
	var c Cell
	for _, l := range b.limits(f) {
		source := fmt.Sprintf("%s; %s (%s)", l.Limit.Wanted(), l.Limit.Source, l.Limit.Jurisdiction)
		switch {
		case l.Limit.Usual:
			c = append(c, Text{Words: source})
		case l.Pass:
			c = append(c, Text{Lead: "within", Words: source})
		default:
			c = append(c, Text{Lead: "outside", Words: source, Flag: true})
		}
	}
	if len(c) > 0 {
		return c
	}
	for _, l := range b.bound[f.ID].reading.LimitsIn(b.Case.Jurisdiction) { // no figure was noted that could be held against them
		c = append(c, Text{Words: fmt.Sprintf("%s; %s (%s)", l.Wanted(), l.Source, l.Jurisdiction)})
	}
	if len(c) == 0 {
		return Cell{{Words: "no published limit", Faint: true}}
	}
	return c
}

// stateWords says how the controls stood where a finding says so itself.
func stateWords(s circuit.State) string {
	words := ""
	for _, w := range []struct{ what, how string }{{"engine", s.Engine}, {"compressor", s.Compressor}, {"park", s.Park}, {"pedal", s.Pedal}} {
		if w.how == "" {
			continue
		}
		if words != "" {
			words += ", "
		}
		words += w.what + " " + w.how
	}
	return words
}

// outOfOrder tells whether a finding was abnormal: outside a limit, air heard, a level never reached, or among what speaks
// for the first suspect.
func (b *builder) outOfOrder(f circuit.Finding) bool {
	for _, l := range b.limits(f) {
		if !l.Pass {
			return true
		}
	}
	r := b.bound[f.ID].reading
	if r.Amiss() && f.Result.Kind == circuit.Yes || f.Result.Kind == circuit.Never {
		return true
	}
	v := b.verdict(b.Case.Stage(f))
	if v == nil || len(v.Suspects) == 0 {
		return false
	}
	for _, id := range v.Suspects[0].ForFindings {
		if id == f.ID {
			return true
		}
	}
	return false
}
