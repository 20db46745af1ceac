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
	if err := t.table.fill(ctx, q.procedures, t.milestones(), progress); err != nil {
		return err
	}
	if len(q.recorded) > 0 || !t.table.lacks(q.procedures, t.table.all()) {
		return nil // curves are drawn of leading faults: they take longer than all else
	}
	rough := t.beside(t.halfWay(q.procedures))
	rough.scenes, rough.routes = t.scenes, t.routes // these hang on the healthy vehicle alone
	_, v, err := rough.answer(ctx, q, false)
	if err != nil {
		return err
	}
	v.Rough = true
	first(v)
	return nil
}

// milestones are the healthy vehicle, those scattered around it, and of every fault the mild, the typical and the severe one.
func (t *Tracer) milestones() []int {
	out := append([]int{0}, t.table.scatteredAround(0)...)
	for i := range t.list {
		h := &t.list[i]
		for k, s := range h.points {
			if s == h.severity.Mild || s == h.severity.Typical || s == h.severity.Severe {
				out = append(out, h.vehicle+k)
			}
		}
	}
	slices.Sort(out)
	return out
}

// halfWay is the tracer's table for a rough look at some procedures: what is not known of a vehicle between two others lies half way between
// theirs. Where the worse one has all there is of a fault, it reads as the milder one does: most ways pass nearly as much as ever until they are shut.
func (t *Tracer) halfWay(procedures []int) *table {
	out := t.table.apart()
	for i := range t.list {
		h := &t.list[i]
		for k := 1; k < len(h.points)-1; k++ {
			for _, p := range procedures {
				out.fillHalfWay(p, h, k)
			}
		}
	}
	return out
}

func (t *table) fillHalfWay(p int, h *hypothesis, k int) {
	stands := t.alias[h.vehicle+k]
	milder := t.values(p, h.vehicle+k-1) // filled in by now, if it was not known
	if t.known[p][stands] != nil || milder == nil {
		return
	}
	next := k + 1
	for next < len(h.points) && t.values(p, h.vehicle+next) == nil {
		next++
	}
	if next == len(h.points) {
		return
	}
	values := slices.Clone(milder)
	if next < len(h.points)-1 || !endsInAll(h.severity) {
		for r, x := range t.values(p, h.vehicle+next) {
			if !math.IsNaN(x) && !math.IsNaN(values[r]) {
				values[r] = (values[r] + x) / 2
			}
		}
	}
	t.known[p][stands] = values
}
