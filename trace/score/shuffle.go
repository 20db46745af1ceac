package score

import (
	"context"
	"reflect"

	"airpath/circuit"
	"airpath/trace"
)

// shuffledEvery so many vehicles the case is put to the tracer once more when it names a part, with its findings shuffled: the
// order in which they were entered must change nothing, to the last bit.
const shuffledEvery = 20

// shuffle the findings of the case, and see whether the verdict stays the same.
func (t *table) shuffle(ctx context.Context, r Reasoner, v *trace.Verdict) error {
	if t.named || t.game.Found > 0 || t.s.vehicle%shuffledEvery != 1 {
		return nil
	}
	k := *t.kase
	k.Findings = append([]circuit.Finding{}, t.kase.Findings...)
	t.world.dice(t.s.vehicle, forShuffle).Shuffle(len(k.Findings), func(i, j int) { k.Findings[i], k.Findings[j] = k.Findings[j], k.Findings[i] })
	w, err := r.Trace(ctx, &k, nil)
	if err != nil {
		return err
	}
	t.game.Shuffled++
	if !sameVerdict(v, w) {
		t.game.Disturbed++
		t.tell("    SHUFFLED findings give another verdict")
	}
	return nil
}

// sameVerdict compares what two verdicts say, to the last bit.
func sameVerdict(v, w *trace.Verdict) bool {
	if len(v.Next) != len(w.Next) {
		return false
	}
	for i := range v.Next {
		a, b := v.Next[i], w.Next[i]
		if a.Procedure != b.Procedure || a.Minutes != b.Minutes || a.Bits != b.Bits || !reflect.DeepEqual(a.Readings, b.Readings) {
			return false
		}
	}
	return v.NoFault == w.NoFault && v.SomethingElse == w.SomethingElse && v.Stop == w.Stop &&
		reflect.DeepEqual(v.Suspects, w.Suspects) && reflect.DeepEqual(v.Cleared, w.Cleared) && reflect.DeepEqual(v.Inseparable, w.Inseparable)
}
