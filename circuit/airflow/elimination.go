package airflow

import (
	"math"
	"slices"
)

// A grid says which entries of a matrix may differ from zero: for each row its columns, rising.
type grid [][]int32

// newGrid has nothing but its diagonal.
func newGrid(n int) grid {
	g := make(grid, n)
	for i := range g {
		g[i] = []int32{int32(i)}
	}
	return g
}

// add an entry; false if it is there already.
func (g grid) add(row, column int32) bool {
	at, there := slices.BinarySearch(g[row], column)
	if !there {
		g[row] = slices.Insert(g[row], at, column)
	}
	return !there
}

func (g grid) drop(row, column int32) {
	if at, there := slices.BinarySearch(g[row], column); there {
		g[row] = slices.Delete(g[row], at, at+1)
	}
}

func (g grid) clone() grid {
	c := make(grid, len(g))
	for i := range g {
		c[i] = slices.Clone(g[i])
	}
	return c
}

// turned has the rows of each column.
func (g grid) turned() grid {
	t := make(grid, len(g))
	for i := range g {
		for _, j := range g[i] {
			t[j] = append(t[j], int32(i))
		}
	}
	return t
}

// ordered has row and column order[k] in place k.
func (g grid) ordered(order []int32) grid {
	place := make([]int32, len(g))
	for k, i := range order {
		place[i] = int32(k)
	}
	out := make(grid, len(g))
	for i := range g {
		row := make([]int32, len(g[i]))
		for k, j := range g[i] {
			row[k] = place[j]
		}
		slices.Sort(row)
		out[place[i]] = row
	}
	return out
}

// fill adds what an elimination from the first to the last makes of zeros.
func (g grid) fill() grid {
	g = g.clone()
	columns := g.turned()
	for k := range g {
		at, _ := slices.BinarySearch(g[k], int32(k))
		right := g[k][at+1:]
		first, _ := slices.BinarySearch(columns[k], int32(k))
		for _, i := range columns[k][first+1:] {
			for _, j := range right {
				if g.add(i, j) {
					columns.add(j, i)
				}
			}
		}
	}
	return g
}

// elimination orders the unknowns by least fill (Markowitz' count on the diagonal) and returns order[position] = unknown.
// Among equals it takes the one that has waited least for others, so that neighbours in the order seldom hang on each other
// and the processor can work at several at once.
func elimination(g grid) []int32 {
	n := len(g)
	rows := g.clone()
	columns := rows.turned()
	level := make([]int, n)
	left := make([]int32, n)
	for i := range left {
		left[i] = int32(i)
	}
	order := make([]int32, 0, n)
	for len(left) > 0 {
		chosen, cost := 0, math.MaxInt
		for at, k := range left {
			if c := (len(rows[k]) - 1) * (len(columns[k]) - 1); c < cost || c == cost && level[k] < level[left[chosen]] {
				chosen, cost = at, c
			}
		}
		best := left[chosen]
		left = slices.Delete(left, chosen, chosen+1)
		order = append(order, best)
		for _, j := range rows[best] {
			if j != best {
				columns.drop(j, best)
				level[j] = max(level[j], level[best]+1)
			}
		}
		for _, i := range columns[best] {
			if i == best {
				continue
			}
			rows.drop(i, best)
			level[i] = max(level[i], level[best]+1)
			for _, j := range rows[best] {
				if j != best && rows.add(i, j) {
					columns.add(j, i)
				}
			}
		}
	}
	return order
}
