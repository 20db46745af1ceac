package trace

import (
	"math"
	"slices"

	"airpath/circuit"
	"airpath/circuit/airflow/procedure"
)

// No listed procedure tells two suspects apart where each has a severity that fits the findings, so that no reading of any procedure
// parts the two by more than it scatters. At which severity the findings put each is not known to a hair: of a reading all that a stretch of severities
// makes of it counts, and as far as what the simulation is off by.

const (
	mostProfiled   = 20  // suspects, the likeliest
	profiledCells  = 3   // of each
	leastProfiled  = 0.1 // of the likeliest of its suspect
	partsBy        = 2.0 // spreads of a reading
	partsByYes     = 0.25
	partsNever     = 0.9 // of the chance that a reading is not reached
	scarcelyEither = 0.1
)

// span is what a stretch of severities makes of a reading; of a yes or no the chance of a yes.
type span struct {
	low, high float64
	spread    float64 // 1 σ
	lost      float64
	unknown   bool
}

// apart tells whether a reading parts two spans.
func (x *span) apart(y *span, yesNo bool) bool {
	gap := max(x.low-y.high, y.low-x.high)
	switch {
	case x.unknown || y.unknown:
		return false
	case yesNo:
		return gap > partsByYes
	case x.lost >= partsNever || y.lost >= partsNever:
		return min(x.lost, y.lost) <= scarcelyEither
	}
	return gap > partsBy*math.Max(x.spread, y.spread)
}

// byProfile groups members that no reading can tell apart at severities that fit the findings. The likeliest that is left takes those along that can't be
// told from it.
func (a *analysis) byProfile(field []live, members []int) [][]int {
	members = members[:min(len(members), mostProfiled)]
	profiles := make([][]int, len(members)) // cells
	for i, m := range members {
		profiles[i] = a.fitting(field[m].hypothesis)
	}
	spans := a.spansOf(profiles)
	var groups [][]int
	taken := make([]bool, len(members))
	for i := range members {
		if taken[i] {
			continue
		}
		group := []int{i}
		for j := i + 1; j < len(members); j++ {
			if !taken[j] && a.fitsAsWell(field[members[i]].hypothesis, field[members[j]].hypothesis) && spans.alikeAtSome(profiles[i], profiles[j]) {
				taken[j], group = true, append(group, j)
			}
		}
		groups = append(groups, group)
	}
	return groups
}

// fitting lists the cells of a hypothesis that fit the findings, the likeliest first.
func (a *analysis) fitting(h int) []int {
	list := &a.list[h]
	var cells []int
	for c := list.cell; c < list.cell+list.cells; c++ {
		cells = append(cells, c)
	}
	slices.SortStableFunc(cells, func(x, y int) int { return -compareCoarse(a.posterior.Cells[x], a.posterior.Cells[y]) })
	n := 1
	for n < min(len(cells), profiledCells) && a.posterior.Cells[cells[n]] >= leastProfiled*a.posterior.Cells[cells[0]] {
		n++
	}
	return cells[:n]
}

// fitsAsWell tells whether the findings fit a hypothesis about as well as another, each at its best severity and whatever its prior: what
// speaks against one and not the other has told them apart.
func (a *analysis) fitsAsWell(x, y int) bool {
	best := func(h int) float64 {
		most := 0.0
		for c := a.list[h].cell; c < a.list[h].cell+a.list[h].cells; c++ {
			if prior := a.space.Cells[c].Prior; prior > 0 {
				most = max(most, a.posterior.Cells[c]/prior)
			}
		}
		return most
	}
	p, q := best(x), best(y)
	return p <= poorly*q && q <= poorly*p
}

// spans of the procedures for some cells, where they are other than on the healthy vehicle.
type spans struct {
	*analysis
	healthy map[rowOf]span
	cells   map[int][]ownSpan
}

// An ownSpan is a cell's own span of a reading, which is one of a procedure's.
type ownSpan struct {
	rowOf
	span
}

func (a *analysis) spansOf(profiles [][]int) *spans {
	s := &spans{analysis: a, healthy: map[rowOf]span{}, cells: map[int][]ownSpan{}}
	for _, cells := range profiles {
		for _, c := range cells {
			if _, ok := s.cells[c]; !ok {
				s.cells[c] = a.ownSpansOf(c)
			}
		}
	}
	return s
}

// ownSpansOf a cell, in order.
func (a *analysis) ownSpansOf(c int) []ownSpan {
	var out []ownSpan
	for p := range a.procedures {
		from, to, healthy := a.table.values(p, a.cells[c].from), a.table.values(p, a.cells[c].to), a.table.values(p, 0)
		if sameSlice(from, healthy) && sameSlice(to, healthy) {
			continue
		}
		for r := range a.procedures[p].Readings {
			if from == nil || to == nil || healthy == nil || !sameValue(from[r], healthy[r]) || !sameValue(to[r], healthy[r]) {
				out = append(out, ownSpan{rowOf{p, r}, a.spanOf(p, r, &a.procedures[p].Readings[r], &a.cells[c])})
			}
		}
	}
	return out
}

// apart tells whether some reading parts two cells.
func (s *spans) apart(c, d int) bool {
	x, y := s.cells[c], s.cells[d]
	for len(x) > 0 || len(y) > 0 {
		first := len(y) == 0 || len(x) > 0 && !y[0].before(x[0].rowOf)
		second := len(x) == 0 || len(y) > 0 && !x[0].before(y[0].rowOf)
		var at rowOf
		var own, other span
		switch {
		case first && second:
			at, own, other = x[0].rowOf, x[0].span, y[0].span
		case first:
			at, own, other = x[0].rowOf, x[0].span, s.healthyAt(x[0].rowOf)
		default:
			at, own, other = y[0].rowOf, y[0].span, s.healthyAt(y[0].rowOf)
		}
		if own.apart(&other, s.procedures[at.procedure].Readings[at.reading].Form == procedure.YesNo) {
			return true
		}
		if first {
			x = x[1:]
		}
		if second {
			y = y[1:]
		}
	}
	return false
}

func (r rowOf) before(other rowOf) bool {
	return r.procedure < other.procedure || r.procedure == other.procedure && r.reading < other.reading
}

// healthyAt is what the healthy vehicle makes of a reading.
func (s *spans) healthyAt(at rowOf) span {
	x, ok := s.healthy[at]
	if !ok {
		x = s.spanOf(at.procedure, at.reading, &s.procedures[at.procedure].Readings[at.reading], &healthyCell)
		s.healthy[at] = x
	}
	return x
}

// spanOf one reading over a cell.
func (a *analysis) spanOf(p, r int, reading *procedure.Reading, c *cell) span {
	s := a.stretch(p, r, c)
	x := span{low: s.low, high: s.high, lost: s.lost, unknown: s.unknown}
	if reading.Form == procedure.YesNo {
		x.low, x.high = s.at(s.low).yes(reading.Judge), s.at(s.high).yes(reading.Judge)
		x.low, x.high = min(x.low, x.high), max(x.low, x.high)
		return x
	}
	middle, share := (s.low+s.high)/2, 0.0
	if reading.Dimension != circuit.Pressure {
		share = modelError
	}
	if offByShare(reading) {
		share = math.Hypot(share, sharedOf(reading, middle))
	}
	x.spread = math.Hypot(reading.Sigma, share*middle)
	if h := a.healthy(p, r); !math.IsNaN(h) {
		x.spread = math.Hypot(x.spread, effectError*(middle-h))
	}
	return x
}

// at one value of a stretch.
func (s stretch) at(x float64) stretch {
	s.low, s.high = x, x
	return s
}

// alikeAtSome tells whether two suspects have severities between which no reading parts them.
func (s *spans) alikeAtSome(x, y []int) bool {
	return slices.ContainsFunc(x, func(c int) bool {
		return slices.ContainsFunc(y, func(d int) bool { return !s.apart(c, d) })
	})
}
