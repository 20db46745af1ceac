package trace

import (
	"math"
	"slices"

	"airpath/trace/reason"
)

// inOther is the chance that a fault acts in one reading as if it were one cell milder, and as much that it acts one cell worse:
// vehicles differ from their file, and the size that explains one reading exactly need not be the one that explains the next.
const inOther = 0.15

// rows are the densities of one observation, one row for each stretch that some cell makes of it.
type rows struct {
	l         *likelihood
	moves     func(faulty int) *shifts
	n         int
	density   []float64
	of        map[rowKey]int32
	stretches []stretch // of each row; of a blend its middle one
	faulty    []int     // of each row: see [nuisances.faulty]
	blends    map[[3]int32]int32
}

// rowKey is what a row depends on.
type rowKey struct {
	stretch
	faulty int
}

func (r *rows) row(s stretch, faulty int) int32 {
	if k, ok := r.of[rowKey{s, faulty}]; ok {
		return k
	}
	k := r.add(s, faulty)
	r.of[rowKey{s, faulty}] = k
	r.beyond(faulty).fill(r.density[int(k)*r.n:], s)
	return k
}

// faultyIn is a nuisance that is none, where that makes any difference to the reading; else -1.
func (r *rows) faultyIn(k int) int {
	if k < 0 {
		return -1
	}
	a, b := r.l.moves, r.moves(k)
	if slices.Equal(a.times, b.times) && slices.Equal(a.plus, b.plus) {
		return -1
	}
	return k
}

// beyond is the likelihood where a nuisance is none.
func (r *rows) beyond(faulty int) *likelihood {
	if faulty < 0 {
		return r.l
	}
	l := *r.l
	l.moves = r.moves(faulty)
	return &l
}

func (r *rows) add(s stretch, faulty int) int32 {
	k := int32(len(r.stretches))
	r.stretches, r.faulty = append(r.stretches, s), append(r.faulty, faulty)
	r.density = append(r.density, make([]float64, r.n)...)
	return k
}

// blend a cell's row with those of its milder and its worse neighbour.
func (r *rows) blend(milder, own, worse int32) int32 {
	if milder == own && worse == own {
		return own
	}
	key := [3]int32{milder, own, worse}
	if k, ok := r.blends[key]; ok {
		return k
	}
	k := r.add(r.stretches[own], r.faulty[own])
	r.blends[key] = k
	at := func(k int32) []float64 { return r.density[int(k)*r.n : (int(k)+1)*r.n] }
	row, a, b, c := at(k), at(milder), at(own), at(worse)
	for d := range row {
		row[d] = inOther*a[d] + (1-2*inOther)*b[d] + inOther*c[d]
	}
	return k
}

// factor works out the densities of all cells.
func (t *Tracer) factor(o *observation) reason.Factor {
	l := t.likelihood(o)
	r := &rows{l: l, n: len(t.nuisances.draws), of: map[rowKey]int32{}, blends: map[[3]int32]int32{}}
	r.moves = func(faulty int) *shifts { return t.shifts(o.procedure, o.reading, o.r, o.e.Gauge, faulty) }
	f := reason.Factor{Key: o.key, Group: t.procedures[o.procedure].ID, Flat: l.flat, Outliers: l.outliers, Rows: make([]int32, len(t.cells))}
	own := make([]int32, len(t.cells))
	for i := range t.cells {
		own[i] = r.row(t.stretch(o.procedure, o.reading, &t.cells[i]), r.faultyIn(t.nuisances.faulty(t.list[t.cells[i].hypothesis].fault)))
	}
	for h := range t.list {
		first, last := t.list[h].cell, t.list[h].cell+t.list[h].cells-1
		for i := first; i <= last; i++ {
			f.Rows[i] = r.blend(own[max(i-1, first)], own[i], own[min(i+1, last)])
		}
	}
	other := t.list[somethingElse].cell
	healthy := int(f.Rows[t.list[noFault].cell])
	f.Rows[other] = r.add(stretch{unknown: true}, -1)
	strange := l.strange()
	for d := range r.n {
		r.density[int(f.Rows[other])*r.n+d] = (1-unlikeHealthy)*r.density[healthy*r.n+d] + unlikeHealthy*strange
	}
	f.Density = r.density
	f.Joint = func(x, y int32) []float64 {
		row := make([]float64, r.n)
		r.beyond(max(r.faulty[x], r.faulty[y])).fill(row, joined(r.stretches[x], r.stretches[y], l.healthy, o.r))
		return row
	}
	return f
}

// pooled makes one factor of repeated measurements of one reading. They share what was wrong with the way of measuring, so
// that together they count as one: the geometric mean.
func pooled(repeats []reason.Factor, draws int) reason.Factor {
	if len(repeats) == 1 {
		return repeats[0]
	}
	count := float64(len(repeats))
	mean := func(row func(f *reason.Factor) []float64) []float64 {
		out := make([]float64, draws)
		for i := range repeats {
			f := &repeats[i]
			for d, p := range row(f) {
				out[d] += math.Log((1-f.Outliers)*p + f.Outliers*f.Flat)
			}
		}
		for d := range out {
			out[d] = math.Exp(out[d] / count)
		}
		return out
	}
	out := reason.Factor{Key: repeats[0].Key, Group: repeats[0].Group, Rows: make([]int32, len(repeats[0].Rows))}
	same := map[int32]int32{} // repeats have the same cells in the same rows, save where a value makes none
	cellOf := []int{}
	for c := range out.Rows {
		k, ok := same[repeats[0].Rows[c]]
		if !ok {
			k = int32(len(cellOf))
			same[repeats[0].Rows[c]] = k
			cellOf = append(cellOf, c)
			out.Density = append(out.Density, mean(func(f *reason.Factor) []float64 { return f.Row(c, draws) })...)
		}
		out.Rows[c] = k
	}
	out.Joint = func(x, y int32) []float64 {
		return mean(func(f *reason.Factor) []float64 { return f.Joint(f.Rows[cellOf[x]], f.Rows[cellOf[y]]) })
	}
	return out
}

// levelRow is the row of a factor whose densities are the same in all draws and have this value; of is which rows there are already.
func levelRow(f *reason.Factor, of map[float64]int32, value float64, draws int) int32 {
	k, ok := of[value]
	if !ok {
		k = int32(len(of))
		of[value] = k
		for range draws {
			f.Density = append(f.Density, value)
		}
	}
	return k
}
