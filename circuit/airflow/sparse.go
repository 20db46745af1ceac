package airflow

import "math"

// A pattern is the sparse LU of one network: worked out once, shared by all its runs. Pivots are taken from the diagonal in
// an order fixed beforehand, and the factors' places with them: the matrix cap/(h/2) − J is diagonally heavy, so that no
// exchange of rows is needed, and a network that is nearly a tree fills in hardly at all.
//
// Values live in one slice: pivots, then the rows to their right, then the columns below them, so that a solution is two
// walks along it.
type pattern struct {
	n      int
	slots  int        // number of values; slot number slots is a bin for entries of the atmosphere
	slot   [][]int32  // slot[i][j], the bin where there is none
	row    [][2]int32 // the slots right of pivot k, first and beyond the last; the last pivot's come first
	col    []int32    // col[k]..col[k+1] is the slots below it
	target []int32    // for pivots, for their column's slots, for their row's slots: the slot to update
	down   []pair     // by slot of a column: b[to] −= value·b[from], in this order
	up     []pair     // the same for the rows, from the last pivot up
}

// A pair is a row in the upper half and a column in the lower: one read instead of two.
type pair uint64

// elimination orders the unknowns by least fill (Markowitz' count on the diagonal) and returns order[position] = unknown.
// Among equals it takes the one that has waited least for others, so that neighbours in the order seldom hang on each other
// and the processor can work at several at once. The pattern is filled in on the way.
func elimination(full [][]bool) []int {
	n := len(full)
	left := make([]bool, n)
	for i := range left {
		left[i] = true
	}
	order := make([]int, 0, n)
	level := make([]int, n)
	for len(order) < n {
		best, cost := -1, math.MaxInt
		for k := range n {
			if !left[k] {
				continue
			}
			rows, cols := 0, 0
			for j := range n {
				if left[j] && j != k {
					if full[k][j] {
						cols++
					}
					if full[j][k] {
						rows++
					}
				}
			}
			if c := rows * cols; c < cost || c == cost && level[k] < level[best] {
				best, cost = k, c
			}
		}
		left[best] = false
		order = append(order, best)
		for i := range n {
			if !left[i] {
				continue
			}
			if full[i][best] || full[best][i] {
				level[i] = max(level[i], level[best]+1)
			}
			if !full[i][best] {
				continue
			}
			for j := range n {
				if left[j] && full[best][j] {
					full[i][j] = true
				}
			}
		}
	}
	return order
}

// newPattern lays out the factors of a filled-in matrix that is already in elimination order.
func newPattern(full [][]bool) *pattern {
	n := len(full)
	f := &pattern{n: n, slots: n, slot: make([][]int32, n)}
	for i := range f.slot {
		f.slot[i] = make([]int32, n)
		for j := range f.slot[i] {
			f.slot[i][j] = -1
		}
		f.slot[i][i] = int32(i)
	}
	put := func(i, j int) {
		f.slot[i][j] = int32(f.slots)
		f.slots++
	}
	f.row = make([][2]int32, n)
	for k := n - 1; k >= 0; k-- {
		f.row[k][0] = int32(f.slots)
		for j := k + 1; j < n; j++ {
			if full[k][j] {
				put(k, j)
				f.up = append(f.up, pair(k<<32|j))
			}
		}
		f.row[k][1] = int32(f.slots)
	}
	for k := range n {
		f.col = append(f.col, int32(f.slots))
		for i := k + 1; i < n; i++ {
			if full[i][k] {
				put(i, k)
				f.down = append(f.down, pair(i<<32|k))
			}
		}
	}
	f.col = append(f.col, int32(f.slots))
	for k := range n {
		for i := k + 1; i < n; i++ {
			for j := k + 1; j < n; j++ {
				if full[i][k] && full[k][j] {
					f.target = append(f.target, f.slot[i][j])
				}
			}
		}
	}
	for i := range f.slot {
		for j := range f.slot[i] {
			if f.slot[i][j] < 0 {
				f.slot[i][j] = int32(f.slots)
			}
		}
	}
	return f
}

// factor replaces the values of a matrix by its factors L·D·U, the diagonals of L and U being 1; inverse gets 1/D. It is
// false where a pivot is not a positive number.
func (f *pattern) factor(a, inverse []float64) bool {
	target := f.target
	row, col := f.row, f.col
	at := col[0]
	for k := range f.n {
		pivot := a[k]
		if !(pivot > 0) {
			return false
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
	return true
}

// solve replaces the right-hand side by the solution.
func (f *pattern) solve(a, inverse, b []float64) {
	lower := a[f.col[0]:f.slots]
	down := f.down[:len(lower)]
	for j, l := range lower {
		p := down[j]
		b[p>>32] -= l * b[uint32(p)]
	}
	b = b[:len(inverse)]
	for i, v := range inverse {
		b[i] *= v
	}
	upper := a[f.n:f.col[0]]
	up := f.up[:len(upper)]
	for j, u := range upper {
		p := up[j]
		b[p>>32] -= u * b[uint32(p)]
	}
}
