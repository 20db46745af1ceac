package score

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"airpath/circuit"
	"airpath/circuit/airflow"
)

// Something that the catalogue does not know: at some time somebody fitted a part of the wrong size or setting. No fault mode
// says so, since the part does what it is made for; its number in the circuit is another than the file's.

// mostOddities are tried before one is found that somebody notices.
const mostOddities = 200

// wrongBy is how far a number is off: two to four times too much or too little, within what the format allows.
func wrongBy(r *rand.Rand) float64 {
	x := math.Pow(2, 1+r.Float64())
	if r.Float64() < 0.5 {
		return 1 / x
	}
	return x
}

// oddity puts a wrong part into a subject's vehicle, one that somebody notices.
func (k *worker) oddity(ctx context.Context, s *subject, r *rand.Rand) error {
	for range mostOddities {
		c, where, what, ok := wrongPart(k.world.circuit, r)
		if !ok || circuit.Check(c).Err() != nil {
			continue
		}
		n, err := airflow.CompileIn(c, k.world.detail())
		if err != nil {
			continue // the part is so wrong that nothing of it works: nobody could have fitted it
		}
		real, err := sameProcedures(n, k.world.known, k.world.procedures)
		if err != nil {
			continue // it fits no procedure of the vehicle's
		}
		s.hidden.network, s.hidden.real = n, real
		if err := s.hidden.put(k, 0, nil); err != nil {
			return err
		}
		_, noticed, err := s.hidden.noticeBy(ctx, s.twin, k.world.notices, false)
		if err != nil {
			return err
		}
		if noticed {
			s.oddity, s.where = what, where
			return nil
		}
	}
	return fmt.Errorf("score: of %d wrong parts in vehicle %d nobody would have noticed any", mostOddities, s.vehicle)
}

// wrongPart is a circuit with one number of one part changed.
func wrongPart(c *circuit.Circuit, r *rand.Rand) (wrong *circuit.Circuit, where, what string, ok bool) {
	copied := *c
	wrong = &copied
	if r.IntN(5) == 0 {
		i := r.IntN(len(c.Lines))
		l := *c.Lines[i]
		if l.Type.Medium() != circuit.Air {
			return nil, "", "", false
		}
		q := l.Bore
		l.Bore = circuit.NewQuantity(q.SI/(2+3*r.Float64()), q.Dimension)
		wrong.Lines = slices.Clone(c.Lines)
		wrong.Lines[i] = &l
		return wrong, l.ID, fmt.Sprintf("%s with a bore of %s instead of %s", l.ID, l.Bore.Text, q.Text), true
	}
	i := r.IntN(len(c.Components))
	part := *c.Components[i]
	if len(part.Kind.Params) == 0 {
		return nil, "", "", false
	}
	p := part.Kind.Params[r.IntN(len(part.Kind.Params))]
	was := part.Value(p.Name)
	base := 0.0
	if p.Dimension == circuit.Pressure {
		base = circuit.AtmospherePressure
	}
	low, high := circuit.MustQuantity(p.Min, p.Dimension).SI, circuit.MustQuantity(p.Max, p.Dimension).SI
	now := math.Min(math.Max(base+(was-base)*wrongBy(r), low), high)
	if math.Abs(now-was) < 0.3*math.Abs(was-base) {
		return nil, "", "", false
	}
	given := map[string]circuit.Quantity{}
	for name, q := range part.Given {
		given[name] = q
	}
	given[p.Name] = circuit.NewQuantity(now, p.Dimension)
	part.Given = given
	wrong.Components = slices.Clone(c.Components)
	wrong.Components[i] = &part
	return wrong, part.ID, fmt.Sprintf("%s with %s %s", part.ID, p.Name, given[p.Name].Text), true
}
