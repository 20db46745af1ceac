package trace

import (
	"context"
	"math"
	"slices"
)

// On a vehicle that is asked about for the first time somebody waits. A rough look needs only what is simulated in any case: of most faults
// the mild, the typical and the severe one. What lies between is taken to read half way; nobody looks closer. It is worked out on a table of its own, so that
// nothing of it is left in what is said in the end.

// lookRoughly tells first of a rough verdict, where something would still have to be simulated for a better one.
func (t *Tracer) lookRoughly(ctx context.Context, q *question, first func(*Verdict), progress func(done, total int)) error {
	if err := t.table.fill(ctx, q.procedures, t.table.inAnyCase(), progress); err != nil {
		return err
	}
	if len(q.recorded) > 0 || !t.table.lacks(q.procedures, t.table.all()) {
		return nil // curves are drawn of leading faults: they take longer than all else
	}
	rough := t.beside(t.table.halfWay(q.procedures))
	rough.scenes, rough.routes = t.scenes, t.routes // these hang on the healthy vehicle alone
	_, v, err := rough.answer(ctx, q, false)
	if err != nil {
		return err
	}
	v.Rough = true
	first(v)
	return nil
}

// inAnyCase lists the vehicles of all that lie between no others.
func (t *table) inAnyCase() []int {
	return slices.DeleteFunc(t.all(), func(v int) bool {
		_, ok := t.between[v]
		return ok
	})
}

// halfWay is the same table for a rough look at some procedures: what is not known of a vehicle between two others lies half way between theirs.
func (t *table) halfWay(procedures []int) *table {
	out := t.apart()
	for v := range out.vehicles[:out.own] {
		b, ok := out.between[v]
		if !ok {
			continue
		}
		for _, p := range procedures {
			stands := out.alias[v]
			milder, worse := out.values(p, b.milder), out.values(p, b.worse)
			if out.known[p][stands] != nil || milder == nil || worse == nil {
				continue
			}
			values := slices.Clone(milder)
			for r, x := range worse {
				if !math.IsNaN(x) && !math.IsNaN(values[r]) {
					values[r] = (values[r] + x) / 2
				}
			}
			out.known[p][stands] = values
		}
	}
	return out
}
