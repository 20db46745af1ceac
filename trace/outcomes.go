package trace

import (
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

// leastOpen is the information in bits below which a reading is not worth a thought.
const leastOpen = 0.01

// outcomes of one reading that has not been taken yet.
type outcomes struct {
	procedure, reading int
	r                  *procedure.Reading
	sorts              sorts       // see outcomesIn
	edges              []float64   // between the bins of a figure
	never              bool        // the last outcome of a figure is that it is not reached
	rows               [][]float64 // chances of the outcomes, by sort
	bits               float64     // that the reading tells by itself
	ok                 bool        // it tells something
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
	mostLive  = 60
	mostTried = 40 // the likeliest of them, by which procedures are chosen
	liveCells = 2
	leastCell = 0.15 // probability of a further cell beside that of the likeliest
)

func (a *analysis) field() []live {
	order := make([]int, len(a.list))
	for i := range order {
		order[i] = i
	}
	open := a.inQuestion()
	slices.SortStableFunc(order, func(x, y int) int { return -compareCoarse(open[x], open[y]) })
	var out []live
	mass := 0.0
	for _, h := range order {
		p := open[h]
		if mass > liveMass || len(out) == mostLive || p <= 0 {
			break
		}
		mass += p
		out = append(out, a.liveOne(h, p))
	}
	return out
}

// leadingPairs is the probability from which two faults at once are taken to be the matter, and sameInAll is the share of it that one
// fault must have a part in to be taken as given.
const (
	leadingPairs = 0.5
	sameInAll    = 0.8
)

// given is the fault that is the matter whatever the other is, where two are at once; 0 where one alone is, or nothing is given.
func (a *analysis) given() int {
	total := 0.0
	in := make([]float64, len(a.list))
	for i, p := range a.belief.Pairs() {
		w := a.posterior.Pairs[i]
		total += w
		in[a.cells[p.A].hypothesis] += w
		in[a.cells[p.B].hypothesis] += w
	}
	most := 0
	for h := range in {
		if in[h] > in[most] {
			most = h
		}
	}
	if total < leadingPairs || in[most] < sameInAll*total {
		return 0
	}
	return most
}

// inQuestion are the probabilities of what is still to be told apart, by hypothesis: that each is the matter, or, where one fault
// is given, that each is the other one. Two faults at once are no rivals.
func (a *analysis) inQuestion() []float64 {
	given := a.given()
	if given == 0 {
		return a.posterior.Hypotheses
	}
	open := slices.Clone(a.posterior.Alone)
	for i, p := range a.belief.Pairs() {
		switch x, y := a.cells[p.A].hypothesis, a.cells[p.B].hypothesis; given {
		case x:
			open[y] += a.posterior.Pairs[i]
		case y:
			open[x] += a.posterior.Pairs[i]
		}
	}
	return open
}

func (a *analysis) liveOne(h int, p float64) live {
	list := &a.list[h]
	cells := make([]int, list.cells)
	for i := range cells {
		cells[i] = list.cell + i
	}
	slices.SortStableFunc(cells, func(x, y int) int { return -compareCoarse(a.posterior.Cells[x], a.posterior.Cells[y]) })
	l := live{hypothesis: h, weight: p, cells: cells[:min(len(cells), liveCells)]}
	for k, c := range l.cells {
		if k > 0 && a.posterior.Cells[c] < leastCell*a.posterior.Cells[l.cells[0]] {
			l.cells = l.cells[:k]
			break
		}
	}
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
	out := append([]int{0}, a.table.scatteredAround(0)...)
	for i, l := range field {
		for _, c := range l.cells {
			out = append(out, a.cells[c].from, a.cells[c].to)
		}
		if i < mostProfiled {
			for _, c := range a.fitting(l.hypothesis) {
				out = append(out, a.cells[c].from, a.cells[c].to)
			}
		}
	}
	return slices.Compact(slices.Sorted(slices.Values(out)))
}

// outcomesOf a reading over the field; ok is false where next to nothing can be told apart by it.
func (a *analysis) outcomesOf(p, r int, field []live) (outcomes, bool) {
	o := a.outcomesIn(a.columnOf(p, field), r, field, 0)
	return o, o.ok
}

// outcomesIn a column of the table. What can't tell so many bits is not worked out, and of the sorts only whose each live hypothesis is
// is kept; 0 keeps all.
func (a *analysis) outcomesIn(c *column, r int, field []live, least float64) outcomes {
	o := outcomes{procedure: c.procedure, reading: r, r: &a.procedures[c.procedure].Readings[r]}
	s := a.sortsOf(c, r, field)
	if s.most() < least {
		return o
	}
	if o.r.Form == procedure.YesNo {
		yes := c.yes[:0]
		for _, x := range s.stretches {
			yes = append(yes, x.yes(o.r.Judge))
		}
		c.yes = yes
		o.rows = s.rows(&c.trying, 2, func(row []float64, x int, share float64) {
			row[0] += (1 - yes[x]) * share
			row[1] += yes[x] * share
		})
	} else {
		f := figures{s, o.r, a.spreadOf(c.procedure, r, o.r)}
		edges, below := f.edges(&c.figures, &c.trying)
		o.edges, o.never = edges, f.never()
		o.rows = f.between(&c.trying, below, len(edges))
	}
	o.bits = reason.Told(s.weights, o.rows)
	switch o.ok = o.bits >= leastOpen && o.tells(); {
	case least == 0:
		o.sorts, o.rows = s.clone(), cloneRows(o.rows)
	case o.ok:
		o.sorts.of, o.rows = slices.Clone(s.of), cloneRows(o.rows)
	}
	return o
}

// chances of the outcomes for a live hypothesis.
func (o *outcomes) chances(i int) []float64 { return o.rows[o.sorts.of[i]] }

// labels of the outcomes in words.
func (a *analysis) labels(o *outcomes) []string {
	if o.r.Form == procedure.YesNo {
		return []string{"no", "yes"}
	}
	return a.binLabels(o.edges, o.r.Dimension, o.never)
}

// proportional is the part of the spread that grows with a figure: what pumps, volumes and bores scatter.
func proportional(s stretch, r *procedure.Reading) float64 {
	if r.Dimension == circuit.Pressure || s.never() || s.unknown {
		return 0
	}
	return 0.08 * math.Abs(s.middle())
}

// spreadOf a reading: the error of the instrument, and the own error of a gauge.
func (a *analysis) spreadOf(p, r int, reading *procedure.Reading) float64 {
	s := a.shifts(p, r, reading, reading.Gauge, -1)
	sum := 0.0
	for _, x := range s.plus {
		sum += x * x / float64(len(s.plus))
	}
	return math.Hypot(reading.Sigma, math.Sqrt(sum))
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

// tells whether the outcome differs between hypotheses at all.
func (o *outcomes) tells() bool {
	for _, row := range o.rows[min(1, len(o.rows)):] {
		for i := range row {
			if math.Abs(row[i]-o.rows[0][i]) > 0.02 {
				return true
			}
		}
	}
	return false
}
