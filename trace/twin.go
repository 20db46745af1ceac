package trace

import (
	"slices"

	"airpath/circuit/airflow/procedure"
)

// A round with soap reads the same air as the round by ear in the same state, place by place. What the one comes to on a vehicle is what the
// other does: it is simulated once, and lies in memory and on disk once.

// Sources of the values of procedures: for each the index of the one that has the same, which is itself but for a round with soap.
func Sources(procedures []*procedure.Procedure) []int {
	out := make([]int, len(procedures))
	for p, pr := range procedures {
		out[p] = p
		if i := slices.Index(procedures, pr.Twin()); i >= 0 {
			out[p] = i
		}
	}
	return out
}

// twin gives each procedure the rows of its source. It is done anew whenever rows have been moved.
func (t *table) twin() {
	for p, source := range t.sources {
		t.known[p], t.failed[p] = t.known[source], t.failed[source]
	}
}

// simulated are the procedures by which the values of some are found, each once, in order.
func (t *table) simulated(some []int) []int {
	out := make([]int, len(some))
	for i, p := range some {
		out[i] = t.sources[p]
	}
	slices.Sort(out)
	return slices.Compact(out)
}
