package trace

import (
	"math"
	"slices"

	"airpath/circuit"
	"airpath/circuit/airflow/procedure"
	"airpath/trace/reason"
)

// Shares of findings that have nothing to do with the vehicle's state: a misread dial, the wrong line of the form, another
// vehicle. Engineering judgement.
const (
	outliersNumber = 0.005
	outliersYesNo  = 0.005 // a missed hiss is in the reading's own Judge
	outliersNever  = 0.005
)

// modelError is how far a simulated time, rate or fall may be from what a vehicle of just these numbers would show.
const modelError = 0.02

// unlikeHealthy is the share of readings that something that the catalogue does not know disturbs.
const unlikeHealthy = 0.4

// likelihood is what one observation says about every cell under every draw.
type likelihood struct {
	o        *observation
	sigma    float64
	healthy  float64 // exact value on the healthy vehicle
	flat     float64
	outliers float64
}

func (t *Tracer) likelihood(o *observation) *likelihood {
	l := &likelihood{o: o, sigma: o.e.Sigma, healthy: math.NaN()}
	if h := t.table.values(o.procedure, 0); h != nil {
		l.healthy = h[o.reading]
	}
	l.outliers, l.flat = l.background()
	return l
}

// background is the density of a result that has nothing to do with the vehicle, and how common such results are.
func (l *likelihood) background() (outliers, flat float64) {
	switch l.o.e.Kind {
	case circuit.Yes, circuit.No:
		return outliersYesNo, 0.5
	case circuit.WithinLimits:
		return outliersYesNo, 0.5
	case circuit.Never:
		return outliersNever, 0.1
	}
	span := 150 * circuit.PSI
	if l.o.r.Dimension != circuit.Pressure {
		span = 2 * math.Max(math.Abs(l.o.e.High), 10*l.sigma)
		if !math.IsNaN(l.healthy) {
			span = math.Max(span, 2*math.Abs(l.healthy))
		}
	}
	if l.o.e.Kind == circuit.Range {
		return outliersNumber, math.Min((l.o.e.High-l.o.e.Low)/span, 1)
	}
	return outliersNumber, 1 / span
}

// rowOfCell is what the densities of a cell depend on: cells that agree in it share a row.
type rowOfCell struct {
	s    stretch
	base int
}

// factor works out the densities of all cells. The readings of hypotheses with a base of their own move around as that
// vehicle's do, the others' as the healthy one's.
func (t *Tracer) factor(o *observation, bases []base) reason.Factor {
	l := t.likelihood(o)
	n := len(t.nuisances.draws)
	f := reason.Factor{Key: o.key, Flat: l.flat, Outliers: l.outliers, Rows: make([]int32, len(t.cells))}
	rows, moves := map[rowOfCell]int32{}, map[int]shifts{}
	for i, c := range t.cells {
		row := rowOfCell{s: t.stretch(o.procedure, o.reading, &c)}
		if k := slices.IndexFunc(bases, func(b base) bool { return b.hypothesis == c.hypothesis }); k >= 0 {
			row.base = bases[k].vehicle
		}
		r, ok := rows[row]
		if !ok {
			move, ok := moves[row.base]
			if !ok {
				move = t.nuisances.of(t.table, o.procedure, o.reading, row.base, o.r, o.e.Gauge)
				moves[row.base] = move
			}
			r = int32(len(f.Density) / n)
			f.Density = append(f.Density, make([]float64, n)...)
			l.fill(f.Density[int(r)*n:], row.s, move)
			rows[row] = r
		}
		f.Rows[i] = r
	}
	other := t.list[somethingElse].cell
	healthy := f.Row(other, n)
	f.Rows[other] = int32(len(f.Density) / n)
	for _, p := range healthy {
		f.Density = append(f.Density, (1-unlikeHealthy)*p+unlikeHealthy*l.flat)
	}
	return f
}

// A stretch is what a cell makes of an exact reading: evenly between low and high, or where slow is set, evenly in its inverse:
// a time that grows as a net flow dies away.
type stretch struct {
	low, high float64
	never     bool // not reached
	unknown   bool // could not be simulated
	slow      bool
}

// slowest is how many times longer than the last time that was reached a time is taken to get before it is never reached.
const slowest = 30

// stretch of a reading over a cell.
func (t *Tracer) stretch(p, r int, c *cell) stretch {
	from, to := t.table.values(p, c.from), t.table.values(p, c.to)
	if from == nil || to == nil {
		return stretch{unknown: true}
	}
	a, b := from[r], to[r]
	timed := t.procedures[p].Readings[r].Dimension == circuit.Time
	switch {
	case math.IsNaN(a) && math.IsNaN(b):
		return stretch{never: true}
	case c.from == c.to || a == b:
		return stretch{low: a, high: a}
	case math.IsNaN(a) || math.IsNaN(b):
		return edge(a, b, c, timed)
	case timed && a > 0 && b > 0:
		s := stretch{low: 1 / (1/a + (1/b-1/a)*c.a), high: 1 / (1/a + (1/b-1/a)*c.b), slow: true}
		s.low, s.high = min(s.low, s.high), max(s.low, s.high)
		return s
	}
	x, y := a+(b-a)*c.a, a+(b-a)*c.b
	return stretch{low: min(x, y), high: max(x, y)}
}

// edge is a cell at one of whose ends a reading is no longer reached: somewhere in between it is lost, and half the way it is
// taken to be there still. A time gets longer and longer on that half.
func edge(a, b float64, c *cell, timed bool) stretch {
	x, near, far := a, c.a, c.b // shares of the way from the end that is reached
	if math.IsNaN(a) {
		x, near, far = b, 1-c.b, 1-c.a
	}
	if (near+far)/2 > 0.5 {
		return stretch{never: true}
	}
	if !timed || x <= 0 {
		return stretch{low: x, high: x}
	}
	long := func(share float64) float64 { return x / max(1-2*share, 1.0/slowest) }
	return stretch{low: long(near), high: long(far), slow: true}
}

// pieces of a stretch that may be taken as even.
func (s stretch) pieces(f func(low, high, share float64)) {
	if !s.slow || s.high < 1.5*s.low {
		f(s.low, s.high, 1)
		return
	}
	const n = 6
	fast, slow := 1/s.low, 1/s.high
	for k := range n {
		f(1/(fast+(slow-fast)*float64(k)/n), 1/(fast+(slow-fast)*float64(k+1)/n), 1.0/n)
	}
}

// middle of a stretch; NaN where nothing is reached or known.
func (s stretch) middle() float64 {
	switch {
	case s.never || s.unknown:
		return math.NaN()
	case s.slow:
		return 2 / (1/s.low + 1/s.high)
	}
	return (s.low + s.high) / 2
}

// yes is the chance of a yes over a stretch.
func (s stretch) yes(j procedure.Judge) float64 { return s.yesMoved(j, 1, 0) }

// yesMoved is the same with the values moved by a draw.
func (s stretch) yesMoved(j procedure.Judge, times, plus float64) float64 {
	switch {
	case s.unknown:
		return 0.5
	case s.never:
		return j.Says(math.NaN())
	case s.low == s.high:
		return j.Says(s.low*times + plus)
	}
	sum := 0.0
	for _, share := range []float64{1. / 6, 3. / 6, 5. / 6} {
		sum += j.Says((s.low+(s.high-s.low)*share)*times + plus)
	}
	return sum / 3
}

// fill the densities of one stretch, one for each draw.
func (l *likelihood) fill(row []float64, s stretch, m shifts) {
	row = row[:len(m.times)]
	for d := range row {
		row[d] = l.density(s, m, d)
	}
}

// density of the observation over a stretch under one draw.
func (l *likelihood) density(s stretch, m shifts, d int) float64 {
	switch {
	case s.unknown:
		return l.flat
	case l.o.e.Kind == circuit.Yes:
		return s.yesMoved(l.o.e.Judge, m.times[d], m.plus[d])
	case l.o.e.Kind == circuit.No:
		return 1 - s.yesMoved(l.o.e.Judge, m.times[d], m.plus[d])
	case l.o.e.Kind == circuit.Never && s.never:
		return 0.98
	case l.o.e.Kind == circuit.Never:
		return 0.01
	case s.never:
		return 0
	}
	p := 0.0
	s.pieces(func(low, high, share float64) {
		a, b := low*m.times[d]+m.plus[d], high*m.times[d]+m.plus[d]
		sigma := math.Hypot(l.sigma, m.rough)
		relative := m.roughShare
		if l.o.r.Dimension != circuit.Pressure {
			relative = math.Hypot(relative, modelError)
		}
		sigma = math.Hypot(sigma, relative*(a+b)/2)
		if l.o.e.Kind == circuit.Number {
			p += share * reason.DensityOver(l.o.e.Low, a, b, sigma)
		} else {
			p += share * between(l.o.e.Low, l.o.e.High, a, b, sigma)
		}
	})
	return p
}

// between is the chance that a reading lies within bounds, either of which may be infinite.
func between(low, high, a, b, sigma float64) float64 {
	p := 1.0
	if !math.IsInf(high, 1) {
		p = reason.ChanceBelow(high, a, b, sigma)
	}
	if !math.IsInf(low, -1) {
		p -= reason.ChanceBelow(low, a, b, sigma)
	}
	return math.Max(p, 0)
}
