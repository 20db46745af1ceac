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
	r         *procedure.Reading
	spread    float64     // of the instrument, and of the gauge's own error
	stretches [][]stretch // by live hypothesis and cell
}

// never tells whether it is sometimes not reached.
func (f *figures) never() bool {
	return slices.ContainsFunc(f.stretches, func(row []stretch) bool {
		return slices.ContainsFunc(row, func(s stretch) bool { return s.lost > 0 })
	})
}

// chances of the bins between edges, and last that it is never reached.
func (f *figures) chances(a *analysis, field []live, edges []float64) [][]float64 {
	n := len(edges) + 1
	if f.never() {
		n++
	}
	out := make([][]float64, len(field))
	for i, l := range field {
		row := make([]float64, n)
		for k, s := range f.stretches[i] {
			bin(row, edges, s, math.Hypot(f.spread, proportional(s, f.r)), l.shares[k])
		}
		out[i] = a.blurred(l.hypothesis, row)
	}
	return out
}

// edges of the bins: those of the gaps between predictions that together tell most.
func (f *figures) edges(a *analysis, field []live) []float64 {
	weights := make([]float64, len(field))
	for i, l := range field {
		weights[i] = l.weight
	}
	candidates := f.gaps(field)
	var edges []float64
	told := 0.0
	for len(edges) < mostBins-1 {
		var best []float64
		most := told
		for _, c := range candidates {
			if slices.Contains(edges, c) {
				continue
			}
			wider := slices.Sorted(slices.Values(append(slices.Clone(edges), c)))
			if bits := expect(weights, f.chances(a, field, wider), 1).Bits; bits > most*(1+1e-9)+0.01 {
				best, most = wider, bits
			}
		}
		if best == nil {
			break
		}
		edges, told = best, most
	}
	return edges
}

// mostGaps are tried as edges.
const mostGaps = 12

// gaps between predictions that are wider than what the reading scatters, those with most probability on their thinner
// side first.
func (f *figures) gaps(field []live) []float64 {
	type point struct{ at, weight float64 }
	var points []point
	total := 0.0
	for i, l := range field {
		for k, s := range f.stretches[i] {
			if !s.unknown && !s.never() {
				points = append(points, point{s.middle(), l.weight * l.shares[k]})
				total += l.weight * l.shares[k]
			}
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

// bin adds the chances of the bins of a figure.
func bin(row, edges []float64, s stretch, sigma, share float64) {
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
	for i := range len(edges) + 1 {
		row[i] += share * s.vague / float64(len(edges)+1)
	}
	share *= 1 - s.vague
	s.pieces(func(low, high, part float64) {
		below := 0.0
		for i, e := range edges {
			p := max(below, reason.ChanceBelow(e, low, high, sigma))
			row[i] += share * part * (p - below)
			below = p
		}
		row[len(edges)] += share * part * (1 - below)
	})
}
