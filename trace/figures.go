package trace

import (
	"cmp"
	"math"
	"slices"

	"airpath/circuit/airflow/procedure"
	"airpath/trace/reason"
)

// figures are what the field makes of a reading with a number.
type figures struct {
	*sorts
	r      *procedure.Reading
	spread float64 // of the instrument, and of the gauge's own error
}

// never tells whether it is sometimes not reached.
func (f *figures) never() bool {
	return slices.ContainsFunc(f.stretches, func(s stretch) bool { return s.lost > 0 })
}

// figureMemory is memory for edges that are tried.
type figureMemory struct {
	all, below []float64
	rows       [][]float64
}

// chances of the bins between edges, and last that it is never reached, by sort.
func (f *figures) chances(memory *rowMemory, edges []float64) [][]float64 {
	below := make([][]float64, len(f.stretches))
	for k, s := range f.stretches {
		below[k] = make([]float64, len(edges))
		f.below(below[k], s, edges)
	}
	return f.between(memory, below, len(edges))
}

// between some edges, the chances below which are given by stretch.
func (f *figures) between(memory *rowMemory, below [][]float64, edges int) [][]float64 {
	n := edges + 1
	if f.never() {
		n++
	}
	return f.rows(memory, n, func(row []float64, s int, share float64) { bin(row, below[s], f.stretches[s], share) })
}

// below fills in the chances of lying under each of some edges, if the reading is reached and as simulated.
func (f *figures) below(out []float64, s stretch, edges []float64) {
	clear(out)
	if s.unknown || s.lost >= 1 {
		return
	}
	sigma := math.Hypot(f.spread, proportional(s, f.r))
	s.pieces(func(low, high, part float64) {
		for i, e := range edges {
			out[i] += part * reason.RoughlyBelow(e, low, high, sigma)
		}
	})
}

// edges of the bins: those of the gaps between predictions that together tell most. below are the chances of lying under each of them, by stretch, in
// the memory.
func (f *figures) edges(memory *figureMemory, trying *rowMemory) (edges []float64, below [][]float64) {
	candidates := f.gaps()
	n := len(f.stretches)
	memory.all = slices.Grow(memory.all[:0], n*len(candidates))[:n*len(candidates)] // chances below each candidate, by stretch
	for k, s := range f.stretches {
		f.below(memory.all[k*len(candidates):(k+1)*len(candidates)], s, candidates)
	}
	memory.below = slices.Grow(memory.below[:0], n*mostBins)[:n*mostBins]
	memory.rows = slices.Grow(memory.rows[:0], n)[:n]
	var taken []int // among the candidates, the lowest first
	told, limit := 0.0, f.most()
	for len(taken) < mostBins-1 && told < 0.95*limit {
		best, most := -1, told
		for c := range candidates {
			// An edge can't tell more than on which side of it the reading lies.
			if slices.Contains(taken, c) || told+f.sides(memory.all[c:], len(candidates)) <= most*(1+1e-9)+0.01 {
				continue
			}
			for k := range n {
				row := memory.below[k*mostBins : k*mostBins]
				all := memory.all[k*len(candidates):]
				at := 0
				for ; at < len(taken) && candidates[taken[at]] < candidates[c]; at++ {
					row = append(row, all[taken[at]])
				}
				row = append(row, all[c])
				for ; at < len(taken); at++ {
					row = append(row, all[taken[at]])
				}
				memory.rows[k] = row
			}
			if bits := reason.Told(f.weights, f.between(trying, memory.rows, len(taken)+1)); bits > most*(1+1e-9)+0.01 {
				best, most = c, bits
			}
		}
		if best < 0 {
			break
		}
		taken = append(taken, best)
		slices.SortFunc(taken, func(x, y int) int { return cmp.Compare(candidates[x], candidates[y]) })
		told = most
	}
	for _, c := range taken {
		edges = append(edges, candidates[c])
	}
	for k := range n {
		row := memory.below[k*mostBins : k*mostBins]
		for _, c := range taken {
			row = append(row, memory.all[k*len(candidates)+c])
		}
		memory.rows[k] = row
	}
	return edges, memory.rows
}

// sides of an edge: their entropy in bits. below are the chances of lying under it, by stretch, so far apart.
func (f *figures) sides(below []float64, stride int) float64 {
	under, over := 0.0, 0.0
	for i, one := range f.sorts.sorts {
		for k, x := range one.stretch {
			if x < 0 {
				continue
			}
			w, p := f.weights[i]*one.share[k], below[x*stride]
			under += w * p
			over += w * (1 - p)
		}
	}
	sum := under + over
	return reason.Entropy([]float64{under / sum, over / sum})
}

// mostGaps are tried as edges.
const mostGaps = 6

// gaps between predictions that are wider than what the reading scatters, those with most probability on their thinner
// side first.
func (f *figures) gaps() []float64 {
	type point struct{ at, weight float64 }
	points := make([]point, len(f.stretches)) // one for each stretch
	total := 0.0
	for i, one := range f.sorts.sorts {
		for k, x := range one.stretch {
			if x >= 0 {
				points[x].weight += f.weights[i] * one.share[k]
			}
		}
	}
	for k := len(points) - 1; k >= 0; k-- {
		if s := f.stretches[k]; s.unknown || s.never() {
			points = slices.Delete(points, k, k+1)
		} else {
			points[k].at = s.middle()
			total += points[k].weight
		}
	}
	slices.SortFunc(points, func(x, y point) int { return cmp.Or(cmp.Compare(x.at, y.at), cmp.Compare(x.weight, y.weight)) })
	var gaps []point
	below := 0.0
	for i := 1; i < len(points); i++ {
		below += points[i-1].weight
		middle := (points[i].at + points[i-1].at) / 2
		scatter := math.Hypot(f.spread, proportional(stretch{low: middle, high: middle}, f.r))
		if points[i].at-points[i-1].at > scatter {
			gaps = append(gaps, point{middle, min(below, total-below)})
		}
	}
	// Without a gap, the middle of a wide field still tells something.
	if n := len(points); len(gaps) == 0 && n > 1 && points[n-1].at-points[0].at > 2*f.spread {
		gaps = append(gaps, point{(points[0].at + points[n-1].at) / 2, 0})
	}
	slices.SortStableFunc(gaps, func(x, y point) int { return -compareCoarse(x.weight, y.weight) })
	var out []float64
	for _, g := range gaps[:min(len(gaps), mostGaps)] {
		out = append(out, g.at)
	}
	return out
}

// bin adds the chances of the bins of a figure, times a share, to a row; below are the chances of lying under each edge.
func bin(row, below []float64, s stretch, share float64) {
	switch {
	case s.unknown:
		for i := range row {
			row[i] += share / float64(len(row))
		}
		return
	case s.lost > 0:
		row[len(row)-1] += share * s.lost
	}
	share *= 1 - s.lost
	n := len(below) + 1
	for i := range n {
		row[i] += share * s.vague / float64(n)
	}
	share *= 1 - s.vague
	last := 0.0
	for i, p := range below {
		p = max(last, p)
		row[i] += share * (p - last)
		last = p
	}
	row[n-1] += share * (1 - last)
}
