package score

import (
	"context"
	"math"
	"slices"

	"airpath/circuit/airflow/procedure"
)

// Of two faults one may have given all that was found so far, and the other nothing yet: to say of that one that it did not give what was found is
// true. Only of a fault without which some finding would have been another is it wrong.

// What a fault changes of a finding: more than the error of the reading, or a yes or no that is likely to turn.
const (
	gaveErrors = 2.0
	gaveYes    = 0.25
)

// gave tells whether some finding would have been another without one of the faults that are left: the vehicle with all of them is held
// against the same one without it.
func (t *table) gave(ctx context.Context, k int) (bool, error) {
	w, h := t.world, t.s.hidden
	without := w.draw(t.s.vehicle)
	without.stage, without.network, without.real = h.stage, h.network, h.real
	if err := without.put(t.worker, slotWithout, slices.Delete(slices.Clone(t.left), k, k+1)); err != nil {
		return false, err
	}
	for p := range w.procedures {
		for r := range w.procedures[p].Readings {
			if !t.seen[[2]int{p, r}] {
				continue
			}
			with, err := h.outcome(ctx, p)
			if err != nil {
				return false, err
			}
			other, err := without.outcome(ctx, p)
			if err != nil {
				return false, err
			}
			if changes(&w.procedures[p].Readings[r], with.Values[r], other.Values[r]) {
				return true, nil
			}
		}
	}
	return false, nil
}

// slotWithout is the bench of the vehicle without one of its faults.
const slotWithout = 3

func changes(r *procedure.Reading, with, without float64) bool {
	switch {
	case r.Form == procedure.YesNo:
		return math.Abs(r.Judge.Says(with)-r.Judge.Says(without)) > gaveYes
	case math.IsNaN(with) || math.IsNaN(without):
		return math.IsNaN(with) != math.IsNaN(without)
	}
	return math.Abs(with-without) > gaveErrors*r.Sigma
}
