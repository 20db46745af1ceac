package reason

import (
	"encoding/binary"
	"math"
	"slices"
)

// groups are the cells that have the same rows in all factors, and thus one likelihood.
type groups struct {
	of      []int32     // by cell
	cells   []int       // the first of each group
	best    []float64   // by group: the highest sum of logs over the draws
	weights [][]float64 // by group and draw: exp(sum of logs − best)
}

func (b *Belief) group() {
	g := &groups{of: make([]int32, len(b.space.Cells))}
	known := map[string]int32{}
	var rows []byte
	for c := range b.space.Cells {
		rows = rows[:0]
		for _, f := range b.factors {
			rows = binary.LittleEndian.AppendUint32(rows, uint32(f.rows[c]))
		}
		i, ok := known[string(rows)]
		if !ok {
			i = int32(len(g.cells))
			known[string(rows)] = i
			g.cells = append(g.cells, c)
		}
		g.of[c] = i
	}
	n := b.space.Draws
	slab := make([]float64, len(g.cells)*n)
	for i, c := range g.cells {
		w := slab[i*n : (i+1)*n]
		b.sum(w, c, "")
		best := slices.Max(w)
		if !math.IsInf(best, -1) {
			for d := range w {
				w[d] = math.Exp(w[d] - best)
			}
		}
		g.best, g.weights = append(g.best, best), append(g.weights, w)
	}
	b.groups = g
}

// likelihoods of the groups, as logs, with one factor left out. With hundreds of findings each is left out in turn, so that
// what the others come to is not added up anew: it is all of them, less the one.
func (b *Belief) likelihoods(key string) []float64 {
	g := b.groups
	out := make([]float64, len(g.cells))
	at := slices.IndexFunc(b.factors, func(f weighed) bool { return f.key == key })
	if at < 0 || key == "" {
		for i := range out {
			out[i] = meanLog(g.best[i], g.weights[i], nil)
		}
		return out
	}
	f := &b.factors[at]
	inverse, ok := f.inverse()
	if !ok {
		perDraw := make([]float64, b.space.Draws)
		for i, c := range g.cells {
			b.sum(perDraw, c, key)
			out[i] = logMean(perDraw)
		}
		return out
	}
	n := b.space.Draws
	for i, c := range g.cells {
		if math.IsInf(g.best[i], -1) { // another factor rules it out
			out[i] = g.best[i]
			continue
		}
		r := int(f.rows[c])
		out[i] = meanLog(g.best[i], g.weights[i], inverse[r*n:(r+1)*n])
	}
	return out
}

// meanLog is best + log(mean of weights × times), times being 1 where nil.
func meanLog(best float64, weights, times []float64) float64 {
	if math.IsInf(best, -1) {
		return best
	}
	sum := 0.0
	if times == nil {
		for _, w := range weights {
			sum += w
		}
	} else {
		for d, w := range weights {
			sum += w * times[d]
		}
	}
	return best + math.Log(sum/float64(len(weights)))
}

// widest is how far apart, as logs, the densities of a factor may lie for it to be divided out again without losing digits:
// a weight of a draw that underflows at exp(−745) can then never have mattered.
const widest = 300

// inverse of the factor's densities; false where one is zero or they lie too far apart.
func (w *weighed) inverse() ([]float64, bool) {
	low, high := slices.Min(w.logs), slices.Max(w.logs)
	if math.IsInf(low, -1) || high-low > widest || math.Abs(high) > widest {
		return nil, false
	}
	out := make([]float64, len(w.logs))
	for i, l := range w.logs {
		out[i] = math.Exp(-l)
	}
	return out, true
}
