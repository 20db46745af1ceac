package trace

import (
	"cmp"
	"math"
	"slices"

	"airpath/circuit"
	"airpath/circuit/airflow/procedure"
	"airpath/trace/reason"
)

// Outcome classes serve to choose the next procedure only: a figure falls into one of a few bins, set where the suspects'
// predictions lie apart.

// mostBins of one figure.
const mostBins = 4

// outcomes of one reading that has not been taken yet.
type outcomes struct {
	procedure, reading int
	r                  *procedure.Reading
	labels             []string    // of each outcome
	chances            [][]float64 // by live hypothesis and outcome
}

// live is what is worth telling apart: hypotheses with some probability, with the severities that fit the findings.
type live struct {
	hypothesis int
	weight     float64
	cells      []int     // the likeliest of its cells
	shares     []float64 // their probabilities, summing to 1
}

// How much of the field is looked at: hypotheses up to this share of the probability and number, and cells of each.
const (
	liveMass  = 0.998
	mostLive  = 90
	liveCells = 3
)

func (a *analysis) field() []live {
	order := make([]int, len(a.list))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(x, y int) int { return -compareCoarse(a.posterior.Hypotheses[x], a.posterior.Hypotheses[y]) })
	var out []live
	mass := 0.0
	for _, h := range order {
		p := a.posterior.Hypotheses[h]
		if mass > liveMass || len(out) == mostLive || p <= 0 {
			break
		}
		mass += p
		out = append(out, a.liveOne(h, p))
	}
	return out
}

func (a *analysis) liveOne(h int, p float64) live {
	list := &a.list[h]
	cells := make([]int, list.cells)
	for i := range cells {
		cells[i] = list.cell + i
	}
	slices.SortStableFunc(cells, func(x, y int) int { return -compareCoarse(a.posterior.Cells[x], a.posterior.Cells[y]) })
	l := live{hypothesis: h, weight: p, cells: cells[:min(len(cells), liveCells)]}
	total := 0.0
	for _, c := range l.cells {
		total += a.posterior.Cells[c]
	}
	for _, c := range l.cells {
		l.shares = append(l.shares, a.posterior.Cells[c]/total)
	}
	return l
}

// vehiclesOf the field, and those that every prediction needs.
func (a *analysis) vehiclesOf(field []live) []int {
	out := []int{0}
	for v := a.nuisances.first; v < len(a.table.vehicles); v++ {
		out = append(out, v)
	}
	for _, l := range field {
		for _, c := range l.cells {
			out = append(out, a.cells[c].from, a.cells[c].to)
		}
	}
	return slices.Compact(slices.Sorted(slices.Values(out)))
}

// outcomesOf a reading over the field; ok is false where nothing can be told apart by it.
func (a *analysis) outcomesOf(p, r int, field []live) (outcomes, bool) {
	o := outcomes{procedure: p, reading: r, r: &a.procedures[p].Readings[r]}
	if o.r.Form == procedure.YesNo {
		o.labels = []string{"no", "yes"}
		for _, l := range field {
			yes := 0.0
			for i, c := range l.cells {
				s := a.stretch(p, r, &a.cells[c])
				yes += s.yes(o.r.Judge) * l.shares[i]
			}
			o.chances = append(o.chances, a.blurred(l.hypothesis, []float64{1 - yes, yes}))
		}
		return o, o.tells()
	}
	f := figures{spread: a.spreadOf(p, r, o.r), r: o.r}
	for _, l := range field {
		var row []stretch
		for _, c := range l.cells {
			row = append(row, a.stretch(p, r, &a.cells[c]))
		}
		f.stretches = append(f.stretches, row)
	}
	edges := f.edges(a, field)
	o.labels = a.binLabels(edges, o.r.Dimension, f.never())
	o.chances = f.chances(a, field, edges)
	return o, o.tells()
}

// figures are what the field makes of a reading with a number.
type figures struct {
	r         *procedure.Reading
	spread    float64     // of the instrument, and of the gauge's own error
	stretches [][]stretch // by live hypothesis and cell
}

// never tells whether it is sometimes not reached.
func (f *figures) never() bool {
	return slices.ContainsFunc(f.stretches, func(row []stretch) bool {
		return slices.ContainsFunc(row, func(s stretch) bool { return s.never })
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
			if !s.unknown && !s.never {
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

// proportional is the part of the spread that grows with a figure: what pumps, volumes and bores scatter.
func proportional(s stretch, r *procedure.Reading) float64 {
	if r.Dimension == circuit.Pressure || s.never || s.unknown {
		return 0
	}
	return 0.08 * math.Abs(s.middle())
}

// spreadOf a reading: the error of the instrument, and the own error of a gauge.
func (a *analysis) spreadOf(p, r int, reading *procedure.Reading) float64 {
	s := a.nuisances.of(a.table, p, r, reading, reading.Gauge)
	sum := 0.0
	for _, x := range s.plus {
		sum += x * x / float64(len(s.plus))
	}
	return math.Hypot(reading.Sigma, math.Sqrt(sum))
}

// bin adds the chances of the bins of a figure.
func bin(row, edges []float64, s stretch, sigma, share float64) {
	switch {
	case s.unknown:
		for i := range row {
			row[i] += share / float64(len(row))
		}
		return
	case s.never:
		row[len(row)-1] += share
		return
	}
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

func (a *analysis) binLabels(edges []float64, d circuit.Dimension, never bool) []string {
	var labels []string
	for i := range edges {
		if i == 0 {
			labels = append(labels, "under "+a.figure(edges[0], d))
		} else {
			labels = append(labels, a.span(edges[i-1], edges[i], d))
		}
	}
	if len(edges) == 0 {
		labels = append(labels, "any figure")
	} else {
		labels = append(labels, "over "+a.figure(edges[len(edges)-1], d))
	}
	if never {
		labels = append(labels, "never")
	}
	return labels
}

// blurred is what the catalogue predicts, or for what it does not know, something vague.
func (a *analysis) blurred(h int, row []float64) []float64 {
	if h != somethingElse {
		return row
	}
	for i := range row {
		row[i] = (1-unlikeHealthy)*row[i] + unlikeHealthy/float64(len(row))
	}
	return row
}

// tells whether the outcome differs between hypotheses at all.
func (o *outcomes) tells() bool {
	for _, row := range o.chances[min(1, len(o.chances)):] {
		for i := range row {
			if math.Abs(row[i]-o.chances[0][i]) > 0.02 {
				return true
			}
		}
	}
	return false
}
