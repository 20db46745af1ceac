package trace

import (
	"math"

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

// What a simulation of just these numbers is off by beside a real vehicle. Engineering judgement, held against vehicles that
// differ in structure from the model (finer lines, warm chambers, another wall coefficient).
const (
	modelError  = 0.03 // of a time, a rate or a fall
	effectError = 0.12 // of what a fault adds to a reading or takes from it
	oddEffect   = 0.03 // share of readings that a fault disturbs in another way than simulated
	oddTogether = 0.15 // and of those that two faults disturb together
	reachedWhen = 0.98 // that a reading which is not reached is noted as never
	neverWhen   = 0.01 // and one that is reached
)

// oddYes is the chance of a yes where something else than simulated happens: at one place or lamp among many.
const oddYes = 0.1

// unlikeHealthy is the share of readings that something that the catalogue does not know disturbs.
const unlikeHealthy = 0.4

// likelihood is what one observation says about every cell under every draw.
type likelihood struct {
	o           *observation
	sigma       float64
	healthy     float64 // exact value on the healthy vehicle
	flat        float64
	outliers    float64
	moves       *shifts
	offTogether bool // what it is off together with others by is summed out elsewhere: see sharedOff
}

func (t *Tracer) likelihood(o *observation) *likelihood {
	l := &likelihood{o: o, sigma: o.e.Sigma, healthy: t.healthy(o.procedure, o.reading), moves: t.shifts(o.procedure, o.reading, o.r, o.e.Gauge, -1)}
	l.outliers, l.flat = l.background()
	return l
}

// healthy value of a reading; NaN where it is not reached.
func (t *Tracer) healthy(p, r int) float64 {
	if h := t.table.values(p, 0); h != nil {
		return h[r]
	}
	return math.NaN()
}

// strange is the density of a result where something that the catalogue does not know disturbs the reading.
func (l *likelihood) strange() float64 {
	switch l.o.e.Kind {
	case circuit.Yes:
		return oddYes
	case circuit.No:
		return 1 - oddYes
	}
	return l.flat
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

// sigmaOf a reading whose exact value is x: the instrument, what the draws leave over, and what the model is off by.
func (l *likelihood) sigmaOf(x float64) float64 {
	share := l.moves.roughShare
	if l.o.r.Dimension != circuit.Pressure {
		share = math.Hypot(share, modelError)
		if !l.offTogether && offByShare(l.o.r) {
			share = math.Hypot(share, sharedOf(l.o.r, x))
		}
	}
	sum := l.sigma*l.sigma + l.counted() + l.moves.rough*l.moves.rough + share*share*x*x
	if !math.IsNaN(l.healthy) {
		effect := effectError * (x - l.healthy)
		sum += effect * effect
	}
	return math.Sqrt(sum)
}

// counted is the variance of what is lost where a figure is counted in whole numbers, on the vehicle and in the simulation of it: each is off by
// as much as half a count.
func (l *likelihood) counted() float64 {
	if l.o.r.Dimension == circuit.Count && l.o.r.Form == procedure.Measured && l.o.r.Sense == procedure.Eye {
		return 2.0 / 12
	}
	return 0
}

// fill the densities of one stretch, one for each draw.
func (l *likelihood) fill(row []float64, s stretch) {
	m := l.moves
	row = row[:len(m.times)]
	switch {
	case s.unknown:
		fillWith(row, l.flat)
		return
	case l.o.e.Kind == circuit.Yes, l.o.e.Kind == circuit.No:
		for d := range row {
			row[d] = s.yesMoved(l.o.e.Judge, m.times[d], m.plus[d])
			if l.o.e.Kind == circuit.No {
				row[d] = 1 - row[d]
			}
		}
		return
	case l.o.e.Kind == circuit.Never:
		fillWith(row, s.lost*reachedWhen+(1-s.lost)*neverWhen)
		return
	}
	clear(row)
	if s.lost >= 1 {
		return
	}
	s.pieces(func(low, high, share float64) { l.fillFigures(row, low, high, share*(1-s.lost)*(1-s.vague)) })
	for d := range row {
		row[d] += (1 - s.lost) * s.vague * l.flat
	}
}

func fillWith(row []float64, x float64) {
	for d := range row {
		row[d] = x
	}
}

// narrow is how wide a stretch may be, in spreads of the reading, to be taken as a normal of the same variance.
const narrow = 2.0

// fillFigures adds the densities of a figure, or the chance of its lying in a range, where the exact value lies evenly between two.
func (l *likelihood) fillFigures(row []float64, low, high, share float64) {
	m := l.moves
	sigma := l.sigmaOf((low + high) / 2)
	y := l.o.e.Low
	if l.o.e.Kind == circuit.Number && high-low < narrow*sigma {
		x := (low + high) / 2
		wide := math.Sqrt(sigma*sigma + (high-low)*(high-low)/12)
		scale := share / (wide * math.Sqrt(2*math.Pi))
		for d := range row {
			if z := (y - x*m.times[d] - m.plus[d]) / wide; z < 9 && z > -9 {
				row[d] += scale * math.Exp(-z*z/2)
			}
		}
		return
	}
	for d := range row {
		a, b := low*m.times[d]+m.plus[d], high*m.times[d]+m.plus[d]
		if l.o.e.Kind == circuit.Number {
			row[d] += share * reason.DensityOver(y, a, b, sigma)
		} else {
			row[d] += share * between(y, l.o.e.High, a, b, sigma)
		}
	}
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

// yes is the chance of a yes over a stretch.
func (s stretch) yes(j procedure.Judge) float64 { return s.yesMoved(j, 1, 0) }

// yesMoved is the same with the values moved by a draw.
func (s stretch) yesMoved(j procedure.Judge, times, plus float64) float64 {
	switch {
	case s.unknown:
		return 0.5
	case s.lost >= 1:
		return j.Says(math.NaN())
	}
	p := 0.0
	if s.low == s.high {
		p = j.Says(s.low*times + plus)
	} else {
		for _, share := range []float64{1. / 6, 3. / 6, 5. / 6} {
			p += j.Says((s.low+(s.high-s.low)*share)*times+plus) / 3
		}
	}
	p = (1-s.vague)*p + s.vague*oddYes
	return (1-s.lost)*p + s.lost*j.Says(math.NaN())
}
