package score

import (
	"context"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuit/airflow/procedure"
)

// explain a finding to whoever follows one vehicle: what was written down, what a perfect instrument would have shown, and what the
// vehicle as its file has it shows with the same faults and without. A no that everybody would have said is passed over.
func (t *table) explain(ctx context.Context, p, r int, result circuit.Result) error {
	reading := &t.world.procedures[p].Readings[r]
	exact := t.s.hidden.outcomes[p].Values[r]
	with, err := t.onPaper(ctx, t.s.hidden.faults, p, r)
	if err != nil {
		return err
	}
	without, err := t.onPaper(ctx, nil, p, r)
	if err != nil {
		return err
	}
	if reading.Form == procedure.YesNo {
		a, b, c := reading.Judge.Says(exact), reading.Judge.Says(with), reading.Judge.Says(without)
		if result.Kind != circuit.No || a > 0.5 || b > 0.5 || c > 0.5 {
			t.tell("      %s: %s (chance of a yes %.3f; as on file %.3f, in good order %.3f)", t.world.nameOf(p, r), result.Text, a, b, c)
		}
		return nil
	}
	unit := circuit.UnitFor(reading.Dimension, "psi")
	say := func(x float64) string {
		return circuit.Format(x, reading.Dimension, unit, max(0, decimalsOf(reading, unit))+1)
	}
	t.tell("      %s: %s (exactly %s; as on file %s, in good order %s)", t.world.nameOf(p, r), result.Text, say(exact), say(with), say(without))
	return nil
}

// onPaper is what a reading is on the vehicle as its file has it, with some faults.
func (t *table) onPaper(ctx context.Context, faults []airflow.Fault, p, r int) (float64, error) {
	bench, err := t.bench(2, t.world.known, faults, airflow.Scatter{})
	if err != nil {
		return 0, err
	}
	o, err := bench.Do(ctx, t.world.procedures[p])
	if err != nil {
		return 0, err
	}
	return o.Values[r], nil
}
