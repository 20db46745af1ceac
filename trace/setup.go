package trace

import (
	"slices"

	"airpath/circuit/airflow/procedure"
	"airpath/trace/reason"
)

// Set-up that is there already need not be done again: a procedure that begins as the last one left the vehicle takes its own minutes only.
// What the last one was is told by the case; from the findings it can't be known, since their order says nothing. Looking ahead, each
// procedure is the last one of the next.

// setUp of a procedure as the vehicle stands now, minutes.
func (a *analysis) setUp(p *procedure.Procedure) float64 { return p.SetUpAfter(a.left) }

// leftBy the procedure of an id, or as a vehicle comes in.
func (t *Tracer) leftBy(id string) procedure.Leaving {
	if p := slices.IndexFunc(t.procedures, func(p *procedure.Procedure) bool { return p.ID == id }); p >= 0 {
		return t.procedures[p].Leaves()
	}
	return procedure.Leaving{}
}

// shareSetUp tells a search what each trial would take after each other one. Its states are how the vehicle has been left, the
// first of them as it stands now.
func (a *analysis) shareSetUp(s *reason.Search, trials []trial) {
	states := []procedure.Leaving{a.left}
	for _, t := range trials {
		l := a.procedures[t.procedure].Leaves()
		k := slices.Index(states, l)
		if k < 0 {
			k = len(states)
			states = append(states, l)
		}
		s.Leaves = append(s.Leaves, k)
	}
	for _, l := range states {
		var row []float64
		for _, t := range trials {
			p := a.procedures[t.procedure]
			row = append(row, t.minutes-a.setUp(p)+p.SetUpAfter(l))
		}
		s.Minutes = append(s.Minutes, row)
	}
}
