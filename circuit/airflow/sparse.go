package airflow

import "math"

// A pattern is the sparse LU of one network: worked out once, shared by all its runs. Pivots are taken from the diagonal in
// an order fixed beforehand, and the factors' places with them: the matrix cap/(h/2) − J is diagonally heavy, so that no
// exchange of rows is needed, and a network that is nearly a tree fills in hardly at all.
//
// Values live in one slice. Pivot k owns diag[k], then its row to the right, then its column below.
type pattern struct {
	n      int
	slots  int       // number of values; slot number slots is a bin for entries of the atmosphere
	slot   [][]int32 // slot[i][j], the bin where there is none
	diag   []int32
	row    []int32 // row[k]..col[k] is the slots of row k
	col    []int32 // col[k]..diag[k+1] is the slots of column k
	index  []int32 // for a slot of a row its column, of a column its row
	target []int32 // for pivots, for their column's slots, for their row's slots: the slot to update
}

// elimination orders the unknowns by least fill (Markowitz' count on the diagonal) and returns order[position] = unknown.
// The pattern is filled in on the way.
func elimination(full [][]bool) []int {
	n := len(full)
	left := make([]bool, n)
	for i := range left {
		left[i] = true
	}
	order := make([]int, 0, n)
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
			if c := rows*cols*1000 + rows + cols; c < cost {
				best, cost = k, c
			}
		}
		left[best] = false
		order = append(order, best)
		for i := range n {
			if !left[i] || !full[i][best] {
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
	f := &pattern{n: n, slot: make([][]int32, n)}
	for i := range f.slot {
		f.slot[i] = make([]int32, n)
		for j := range f.slot[i] {
			f.slot[i][j] = -1
		}
	}
	put := func(i, j, other int) {
		f.slot[i][j] = int32(len(f.index))
		f.index = append(f.index, int32(other))
	}
	for k := range n {
		f.diag = append(f.diag, int32(len(f.index)))
		put(k, k, k)
		f.row = append(f.row, int32(len(f.index)))
		for j := k + 1; j < n; j++ {
			if full[k][j] {
				put(k, j, j)
			}
		}
		f.col = append(f.col, int32(len(f.index)))
		for i := k + 1; i < n; i++ {
			if full[i][k] {
				put(i, k, i)
			}
		}
	}
	f.slots = len(f.index)
	f.diag = append(f.diag, int32(f.slots))
	for k := range n {
		for s := f.col[k]; s < f.diag[k+1]; s++ {
			for u := f.row[k]; u < f.col[k]; u++ {
				f.target = append(f.target, f.slot[f.index[s]][f.index[u]])
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

// factor replaces the values of a matrix by its factors; inverse gets one over each pivot. It is false where a pivot is not
// a positive number.
func (f *pattern) factor(a, inverse []float64) bool {
	target := f.target
	diag, row, col := f.diag, f.row, f.col
	for k := range f.n {
		pivot := a[diag[k]]
		if !(pivot > 0) {
			return false
		}
		inv := 1 / pivot
		inverse[k] = inv
		upper := a[row[k]:col[k]]
		for s := col[k]; s < diag[k+1]; s++ {
			l := a[s]
			to := target[:len(upper)]
			target = target[len(upper):]
			if l == 0 {
				continue
			}
			l *= inv
			a[s] = l
			for j, u := range upper {
				a[to[j]] -= l * u
			}
		}
	}
	return true
}

// solve replaces the right-hand side by the solution.
func (f *pattern) solve(a, inverse, b []float64) {
	index := f.index
	diag, row, col := f.diag, f.row, f.col
	for k := range f.n {
		v := b[k]
		if v == 0 {
			continue
		}
		below := index[col[k]:diag[k+1]]
		values := a[col[k]:diag[k+1]]
		for j, i := range below {
			b[i] -= values[j] * v
		}
	}
	for k := f.n - 1; k >= 0; k-- {
		v := b[k]
		right := index[row[k]:col[k]]
		values := a[row[k]:col[k]]
		for j, i := range right {
			v -= values[j] * b[i]
		}
		b[k] = v * inverse[k]
	}
}
