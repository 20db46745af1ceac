package airflow

import (
	"cmp"
	"container/heap"
	"maps"
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
	gone := make([]bool, n)
	cost := func(k int32) int { return (len(rows[k]) - 1) * (len(columns[k]) - 1) }
	var queue candidates
	for k := range n {
		queue = append(queue, candidate{cost(int32(k)), 0, int32(k)})
	}
	heap.Init(&queue)
	order := make([]int32, 0, n)
	touched := map[int32]bool{}
	for len(order) < n {
		next := heap.Pop(&queue).(candidate)
		best := next.unknown
		if gone[best] || next.cost != cost(best) || next.level != level[best] {
			continue // it has been entered anew since
		}
		gone[best] = true
		order = append(order, best)
		for _, j := range rows[best] {
			if j != best {
				columns.drop(j, best)
				level[j] = max(level[j], level[best]+1)
				touched[j] = true
			}
		}
		for _, i := range columns[best] {
			if i == best {
				continue
			}
			rows.drop(i, best)
			level[i] = max(level[i], level[best]+1)
			touched[i] = true
			for _, j := range rows[best] {
				if j != best && rows.add(i, j) {
					columns.add(j, i)
				}
			}
		}
		for _, k := range slices.Sorted(maps.Keys(touched)) {
			heap.Push(&queue, candidate{cost(k), level[k], k})
		}
		clear(touched)
	}
	return order
}

// A candidate for the next pivot: what it would cost to eliminate it, how long it has waited for others, which it is.
type candidate struct {
	cost, level int
	unknown     int32
}

// candidates are a heap, the cheapest first.
type candidates []candidate

func (c candidates) Len() int      { return len(c) }
func (c candidates) Swap(i, j int) { c[i], c[j] = c[j], c[i] }
func (c candidates) Less(i, j int) bool {
	a, b := c[i], c[j]
	return cmp.Or(cmp.Compare(a.cost, b.cost), cmp.Compare(a.level, b.level), cmp.Compare(a.unknown, b.unknown)) < 0
}
func (c *candidates) Push(v any) { *c = append(*c, v.(candidate)) }
func (c *candidates) Pop() any {
	last := len(*c) - 1
	v := (*c)[last]
	*c = (*c)[:last]
	return v
}
