package reason

import (
	"math"
	"slices"
)

// Cells that have the same row in every factor are one class, and most faults leave most readings alone: of each class there is kept what
// it has more than the first hypothesis, whose own sum is kept once. A new finding then changes only the classes that it says something of; of all others
// the shares of the draws stay what they are, and are but weighed anew.

// classes of cells, with the sums of their logarithms.
type classes struct {
	draws int
	of    []int32 // by cell
	count []int32 // cells, by class
	free  []int32 // classes without cells

	base   []int64   // the first hypothesis's sums, by draw
	top    int64     // the largest of them
	shares []float64 // of the likeliest draw, by draw
	shared bool      // top and shares are those of base

	over   [][]int64   // what a class has more than the base, by class and draw
	peak   []int64     // the largest of it, by class
	parts  [][]float64 // its shares of the likeliest draw, by class and draw
	worked []bool      // peak and parts are those of over, by class

	finer bool             // some classes may be of the same rows: a factor that told them apart is gone
	round int              // factors that have come or gone
	split []int            // by class: the last round in which some of its cells went elsewhere, or it lost something
	index map[uint64]int32 // where they went, by class and row
}

// begin with all cells in one class, and no evidence.
func (k *classes) begin(cells, draws int) {
	k.draws = draws
	k.of = resized(k.of, cells)
	clear(k.of)
	k.base = resized(k.base, draws)
	clear(k.base)
	k.shared, k.finer = false, false
	k.count, k.free = k.count[:0], k.free[:0]
	k.peak, k.worked, k.split = k.peak[:0], k.worked[:0], k.split[:0]
	clear(k.overOf(k.empty()))
	k.count[0] = int32(cells)
}

// empty class, new or one that has no cells any more. What it has over the base is whatever it was.
func (k *classes) empty() int32 {
	if n := len(k.free); n > 0 {
		c := k.free[n-1]
		k.free = k.free[:n-1]
		k.worked[c] = false
		return c
	}
	c := len(k.count)
	k.count, k.peak, k.worked, k.split = append(k.count, 0), append(k.peak, 0), append(k.worked, false), append(k.split, 0)
	if c == len(k.over) { // in lots, so that nothing has to be moved
		over, parts := make([]int64, lotOfClasses*k.draws), make([]float64, lotOfClasses*k.draws)
		for i := range lotOfClasses {
			at, end := i*k.draws, (i+1)*k.draws
			k.over, k.parts = append(k.over, over[at:end:end]), append(k.parts, parts[at:end:end])
		}
	}
	return int32(c)
}

// lotOfClasses have their memory together.
const lotOfClasses = 64

func (k *classes) overOf(class int32) []int64 { return k.over[class] }

// refine by one more factor.
func (k *classes) refine(f *Taken) {
	if k.index == nil {
		k.index = map[uint64]int32{}
	}
	clear(k.index)
	k.round++
	k.shared = false
	rest := f.row(f.rest, k.draws)
	for d, l := range rest {
		k.base[d] += l
	}
	for c, r := range f.rows {
		if r != f.rest {
			k.move(c, r, f.row(r, k.draws), rest)
		}
	}
}

// move a cell that has a row of its own.
func (k *classes) move(cell int, r int32, row, rest []int64) {
	old := k.of[cell]
	if k.count[old] == 1 && k.split[old] != k.round {
		k.worked[old] = false
		addOver(k.overOf(old), row, rest)
		return
	}
	key := uint64(old)<<32 | uint64(uint32(r))
	to, ok := k.index[key]
	if !ok {
		to = k.empty()
		over := k.overOf(to)
		copy(over, k.overOf(old))
		addOver(over, row, rest)
		k.index[key] = to
		k.split[old] = k.round
	}
	k.of[cell] = to
	k.count[to]++
	if k.count[old]--; k.count[old] == 0 {
		k.free = append(k.free, old)
	}
}

// remove a factor again: all cells of a class have one row in it.
func (k *classes) remove(f *Taken) {
	k.round++
	k.shared, k.finer = false, true
	rest := f.row(f.rest, k.draws)
	for d, l := range rest {
		k.base[d] -= l
	}
	for c, r := range f.rows {
		if class := k.of[c]; r != f.rest && k.split[class] != k.round {
			k.split[class], k.worked[class] = k.round, false
			addOver(k.overOf(class), rest, f.row(r, k.draws))
		}
	}
}

func addOver(over, row, rest []int64) {
	row, rest = row[:len(over)], rest[:len(over)]
	for d := range over {
		over[d] += row[d] - rest[d]
	}
}

// sums of a class, in some memory.
func (k *classes) sums(memory []int64, class int32) []int64 {
	memory = append(memory[:0], k.base...)
	for d, x := range k.overOf(class) {
		memory[d] += x
	}
	return memory
}

// leastMean is the mean of products of shares from which on nothing that counts is lost by their being rounded to zero.
const leastMean = 1e-200

// logMean of a class's densities.
func (k *classes) logMean(class int32) float64 {
	if !k.shared {
		k.shares, k.shared = resized(k.shares, k.draws), true
		k.top = sharesOf(k.shares, k.base)
	}
	parts := k.parts[class]
	if !k.worked[class] {
		k.peak[class], k.worked[class] = sharesOf(parts, k.overOf(class)), true
	}
	return logMeanOf(k.base, k.shares, k.top, k.overOf(class), parts, k.peak[class])
}

// sharesOf sums the largest of which is returned: their exponentials, as shares of its.
func sharesOf(shares []float64, sums []int64) int64 {
	if len(sums) == 1 {
		shares[0] = 1
		return sums[0]
	}
	best := slices.Max(sums)
	for d, v := range sums {
		shares[d] = 1
		if v != best {
			shares[d] = math.Exp(float64(v-best) / unit)
		}
	}
	return best
}

// logMeanOf sums that are given as a base and what comes on top of it, by the shares of both.
func logMeanOf(base []int64, shares []float64, top int64, over []int64, parts []float64, peak int64) float64 {
	if len(base) == 1 {
		return float64(top+peak) / unit
	}
	if mean := dot(shares, parts) / float64(len(base)); mean > leastMean {
		return float64(top+peak)/unit + math.Log(mean)
	}
	// Where one of them is likely the other is all but impossible.
	sums := make([]int64, len(base))
	for d := range sums {
		sums[d] = base[d] + over[d]
	}
	return logMean(sums)
}

// dot product, always summed in the same way.
func dot(x, y []float64) float64 {
	y = y[:len(x)]
	var a, b, c, d float64
	i := 0
	for ; i+4 <= len(x); i += 4 {
		u, v := x[i:i+4:i+4], y[i:i+4:i+4]
		a += u[0] * v[0]
		b += u[1] * v[1]
		c += u[2] * v[2]
		d += u[3] * v[3]
	}
	for ; i < len(x); i++ {
		a += x[i] * y[i]
	}
	return (a + b) + (c + d)
}
