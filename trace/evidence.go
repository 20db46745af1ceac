package trace

import (
	"fmt"
	"slices"
	"strings"

	"airpath/circuit"
	"airpath/circuit/airflow/procedure"
)

// An observation is a finding that says something: bound to a reading, its result taken apart.
type observation struct {
	finding   circuit.Finding
	procedure int // index
	reading   int
	r         *procedure.Reading
	e         procedure.Evidence
	key       string // procedure, reading and place: repeats share it
}

// content of an observation, whatever its id and its place in the case.
func (o *observation) content() string {
	return fmt.Sprintf("%s\x00%s\x00%s\x00%s\x00%g\x00%g", o.key, o.e.Instrument, o.e.Kind, o.finding.Result.Text, o.e.Low, o.e.High)
}

// observe binds the findings of a case. Those that say nothing are named, with the reason; the rest come in an order that
// does not depend on the order in which they were entered.
func observe(procedures []*procedure.Procedure, k *circuit.Case) ([]observation, []Ignored, error) {
	var out []observation
	var ignored []Ignored
	for _, f := range k.Findings {
		p, r, e, err := procedure.BindUnder(k.Jurisdiction, procedures, f)
		if err != nil {
			return nil, nil, fmt.Errorf("finding %s: %w", f.ID, err)
		}
		if e.Kind == circuit.NotSure {
			ignored = append(ignored, Ignored{f.ID, "the result is not sure, so it says nothing"})
			continue
		}
		o := observation{finding: f, procedure: slices.Index(procedures, p), r: r, e: e, key: keyOf(p, r)}
		o.reading, _ = p.Reading(r.ID, r.Place)
		out = append(out, o)
	}
	slices.SortStableFunc(out, func(a, b observation) int { return strings.Compare(a.content(), b.content()) })
	return out, ignored, nil
}

// keyOf a reading: "listen-building/hiss@dryer.3".
func keyOf(p *procedure.Procedure, r *procedure.Reading) string {
	key := p.ID + "/" + r.ID
	if r.Place != "" {
		key += "@" + r.Place
	}
	return key
}
