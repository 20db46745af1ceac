package trace

import (
	"math"

	"airpath/circuit/airflow"
	"airpath/circuit/airflow/procedure"
)

// Shown is what one reading comes to on a vehicle, beside what it comes to on one in good order. Values are as a bench gives
// them: SI, NaN where it is never reached, and of a yes or no what its Judge judges.
type Shown struct {
	Procedure *procedure.Procedure
	Reading   int
	Value     float64
	Healthy   float64
}

// leastSaid is the share of drivers below which a vehicle counts as one that nobody complains of. Engineering judgement.
const leastSaid = 0.3

// DriverSays reads the table of complaints backwards: of a vehicle that shows these readings and has these faults, what
// would most drivers say? Of complaints that as many would say, the first in the table is taken. It is nil where hardly anyone
// would notice anything.
func (t *Tracer) DriverSays(shown []Shown, faults []airflow.Fault) *Meaning {
	var says *Meaning
	most := leastSaid
	for _, m := range meanings {
		if p := t.saidOf(m, shown, faults); p > most {
			says, most = m, p
		}
	}
	return says
}

// saidOf is the share of drivers that say so of a vehicle whose readings are known exactly.
func (t *Tracer) saidOf(m *Meaning, shown []Shown, faults []airflow.Fault) float64 {
	most := 0.0
	for i := range shown {
		x := &shown[i]
		r := &x.Procedure.Readings[x.Reading]
		for k := range m.signs {
			s := &m.signs[k]
			if s.procedure == x.Procedure.ID && s.reading == r.ID && (s.kind == "" || t.kindAt(r.Place) == s.kind) {
				most = max(most, s.noticed(r, exactly(x.Value), exactly(x.Healthy)))
			}
		}
	}
	p := saidAnyway + (saidAtMost-saidAnyway)*most
	for _, f := range faults {
		if t.blames(m, f) {
			p = max(p, saidIfBlame)
		}
	}
	return p
}

// exactly is the stretch of a reading that is known.
func exactly(v float64) stretch {
	if math.IsNaN(v) {
		return stretch{lost: 1}
	}
	return stretch{low: v, high: v}
}
