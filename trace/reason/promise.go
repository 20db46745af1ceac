package reason

import (
	"cmp"
	"math"
	"slices"
)

// A Promise is two cells that may explain together what neither does alone, with what they are worth at a glance: the logarithm of their
// prior and of how much likelier they make the findings than the first hypothesis does, each finding by itself. Of a finding that both
// disturb the one that explains it better is taken to hold.
type Promise struct {
	A, B  int
	Worth float64
}

// Promising looks at every two of some cells of different hypotheses, and returns the most promising, the best first. It is quick, since
// nothing is summed out over the draws together: what it returns is to be weighed exactly (see Pair).
func (b *Belief) Promising(cells []int, prior func(x, y int) float64, most int) []Promise {
	b.build()
	n := len(b.factors)
	worth, touched, alone := make([]float64, n*len(cells)), make([]bool, n*len(cells)), make([]float64, len(cells))
	for i, c := range cells {
		for k, f := range b.factors {
			if r := f.rows[c]; r != f.rest {
				touched[i*n+k] = true
				worth[i*n+k] = f.gain(r, b.space.Draws)
				alone[i] += worth[i*n+k]
			}
		}
	}
	var out []Promise
	for i, x := range cells {
		for j, y := range cells[:i] {
			if b.space.Cells[x].Hypothesis == b.space.Cells[y].Hypothesis {
				continue
			}
			p := Promise{y, x, alone[i] + alone[j] + math.Log(prior(y, x))}
			for k := range n {
				if touched[i*n+k] && touched[j*n+k] {
					p.Worth -= math.Min(worth[i*n+k], worth[j*n+k])
				}
			}
			if out = append(out, p); len(out) == 4*most { // what falls behind need not be sorted again and again
				out = foremost(out, most)
			}
		}
	}
	return foremost(out, most)
}

func foremost(p []Promise, most int) []Promise {
	for i := range p {
		p[i].Worth = coarse(p[i].Worth)
	}
	slices.SortFunc(p, func(x, y Promise) int {
		return cmp.Or(cmp.Compare(y.Worth, x.Worth), cmp.Compare(x.A, y.A), cmp.Compare(x.B, y.B))
	})
	return p[:min(len(p), most)]
}
