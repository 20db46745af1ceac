package walk

import (
	"fmt"

	"airpath/circuit/airflow"
)

// A Bound walk is one on a certain vehicle.
type Bound struct {
	*Walk
	Steps []BoundStep // in the order of Walk.Steps
}

// A BoundStep names the vehicle's own parts.
type BoundStep struct {
	Step
	Deeds  []Deed
	Lit    []string // components
	Claims []Claim
}

// Bind finds the parts of a vehicle. The error says what the vehicle lacks, so that the walk can't be taken on it.
func (w *Walk) Bind(n *airflow.Network) (*Bound, error) {
	b := &Bound{Walk: w}
	for i, s := range w.Steps {
		x := BoundStep{Step: s}
		for _, text := range s.Do {
			d, err := parseDeed(text)
			if err != nil {
				return nil, err
			}
			made, err := d.bind(n)
			if err != nil {
				return nil, fmt.Errorf("%s, step %d: %w", w.ID, i+1, err)
			}
			x.Deeds = append(x.Deeds, made)
		}
		for _, text := range s.Expect {
			c, err := parseClaim(text)
			if err != nil {
				return nil, err
			}
			made, err := c.bind(n)
			if err != nil {
				return nil, fmt.Errorf("%s, step %d: %w", w.ID, i+1, err)
			}
			x.Claims = append(x.Claims, made)
		}
		for _, text := range s.Look {
			look, err := parseSubject(text)
			if err != nil {
				return nil, err
			}
			ids, _ := look.parts(n) // what a vehicle lacks is not lit
			x.Lit = append(x.Lit, ids...)
		}
		b.Steps = append(b.Steps, x)
	}
	return b, nil
}
