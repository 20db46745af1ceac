package airflow

import (
	"math"
	"slices"
)

// A pattern is the sparse LU of one network: worked out once, shared by all its runs. Pivots are taken from the diagonal in
// an order fixed beforehand, and the factors' places with them: the matrix cap/(h/2) − J is diagonally heavy, so that no
// exchange of rows is needed, and a network that is nearly a tree fills in hardly at all.
//
// Values live in one slice: pivots, then the rows to their right, then the columns below them, so that a solution is two
// walks along it. Of a row those come first that a solution knows longest, the last pivots': it must not wait for the one just found.
type pattern struct {
	n      int
	slots  int        // number of values; slot number slots is a bin for entries of the atmosphere
	grid   grid       // which entries there are
	slot   [][]int32  // and their slots
	row    [][2]int32 // the slots right of pivot k, first and beyond the last; the last pivot's come first
	col    []int32    // col[k]..col[k+1] is the slots below it
	target []int32    // for pivots, for their column's slots, for their row's slots: the slot to update
	place  []int32    // by slot: the row of a column's, the column of a row's
}

// newPattern lays out the factors of a matrix whose rows are in elimination order.
func newPattern(g grid) *pattern {
	n := len(g)
	g = g.fill()
	f := &pattern{n: n, slots: n, grid: g, slot: make([][]int32, n), row: make([][2]int32, n), place: make([]int32, n)}
	for i := range g {
		f.slot[i] = make([]int32, len(g[i]))
	}
	put := func(i, j int) {
		at, _ := slices.BinarySearch(g[i], int32(j))
		f.slot[i][at] = int32(f.slots)
		f.slots++
	}
	for k := n - 1; k >= 0; k-- {
		at, _ := slices.BinarySearch(g[k], int32(k))
		f.slot[k][at] = int32(k)
		f.row[k][0] = int32(f.slots)
		for _, j := range slices.Backward(g[k][at+1:]) {
			put(k, int(j))
			f.place = append(f.place, j)
		}
		f.row[k][1] = int32(f.slots)
	}
	columns := g.turned()
	below := func(k int) []int32 {
		at, _ := slices.BinarySearch(columns[k], int32(k))
		return columns[k][at+1:]
	}
	for k := range n {
		f.col = append(f.col, int32(f.slots))
		for _, i := range below(k) {
			put(int(i), k)
			f.place = append(f.place, i)
		}
	}
	f.col = append(f.col, int32(f.slots))
	for k := range n {
		at, _ := slices.BinarySearch(g[k], int32(k))
		for _, i := range below(k) {
			for _, j := range slices.Backward(g[k][at+1:]) {
				f.target = append(f.target, f.find(i, j))
			}
		}
	}
	return f
}

// find is the slot of an entry; the bin where there is none.
func (f *pattern) find(row, column int32) int32 {
	if at, ok := slices.BinarySearch(f.grid[row], column); ok {
		return f.slot[row][at]
	}
	return int32(f.slots)
}

// leastPivot is how small a pivot below zero may be beside the entries that it is to wipe out.
const leastPivot = 1e-6

// factor replaces the values of a matrix by its factors L·D·U, the diagonals of L and U being 1; inverse gets 1/D. It is
// false where they are no good. A room whose air opens its own way in further, as that behind a governor's piston does, has
// a pivot below zero, and so has, for it, the room that this air comes from and that shuts the way again by falling: that is
// in order. An odd number of them is not: det(cap/(h/2) − J) < 0 says that something runs away faster than in half a step,
// and a step that long would call it back.
func (f *pattern) factor(a, inverse []float64) bool {
	odd := false
	target := f.target
	row, col := f.row, f.col
	at := col[0]
	for k := range f.n {
		pivot := a[k]
		if !(pivot > 0) {
			if !f.heavy(a, k) {
				return false
			}
			odd = !odd
		}
		inv := 1 / pivot
		inverse[k] = inv
		right := a[row[k][0]:row[k][1]]
		end := col[k+1]
		// Short rows are the most; to write them out spares the processor from guessing where they end.
		switch len(right) {
		case 1:
			u := right[0]
			for ; at < end; at++ {
				l := a[at] * inv
				a[at] = l
				a[target[0]] -= l * u
				target = target[1:]
			}
		case 2:
			u, v := right[0], right[1]
			for ; at < end; at++ {
				l := a[at] * inv
				a[at] = l
				a[target[0]] -= l * u
				a[target[1]] -= l * v
				target = target[2:]
			}
		default:
			for ; at < end; at++ {
				to := target[:len(right)]
				target = target[len(right):]
				l := a[at]
				if l == 0 {
					continue
				}
				l *= inv
				a[at] = l
				for j, u := range right {
					a[to[j]] -= l * u
				}
			}
		}
		for j := range right {
			right[j] *= inv
		}
	}
	return !odd
}

// heavy says whether a pivot below zero outweighs rounding.
func (f *pattern) heavy(a []float64, k int) bool {
	most := 0.0
	for _, v := range a[f.row[k][0]:f.row[k][1]] {
		most = max(most, math.Abs(v))
	}
	for _, v := range a[f.col[k]:f.col[k+1]] {
		most = max(most, math.Abs(v))
	}
	return -a[k] > leastPivot*most
}

// solve replaces the right-hand side by the solution. What does not move at all has nothing to tell the others.
func (f *pattern) solve(a, inverse, b []float64) {
	b = b[:len(inverse)]
	a, place := a[:f.slots], f.place[:f.slots]
	col := f.col[:len(inverse)+1]
	at := col[0]
	for k, inv := range inverse {
		v, end := b[k], col[k+1]
		if v == 0 {
			at = end
			continue
		}
		for ; at < end; at++ {
			b[place[at]] -= a[at] * v
		}
		b[k] = v * inv
	}
	row := f.row[:len(b)]
	at = int32(len(b))
	for k := len(b) - 1; k >= 0; k-- {
		v, end := b[k], row[k][1]
		for ; at < end; at++ {
			v -= a[at] * b[place[at]]
		}
		b[k] = v
	}
}
