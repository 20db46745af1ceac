package trace

import (
	"math"

	"airpath/circuit"
	"airpath/circuit/airflow/procedure"
)

// A stretch is what a cell makes of an exact reading: evenly between low and high, or where slow is set, evenly in its inverse:
// a time that grows as a net flow dies away.
type stretch struct {
	low, high float64
	lost      float64 // chance that it is not reached
	vague     float64 // chance that it is something else altogether
	unknown   bool    // could not be simulated
	slow      bool
}

// never tells whether a reading is more likely lost than reached.
func (s stretch) never() bool { return s.lost > 0.5 }

// slowest is how many times longer than the last time that was reached a time is taken to get before it is never reached.
const slowest = 30

// What is taken of a reading that is reached at one end of a stretch of severities and lost at the other: where it gets lost is not
// known, and that it gets elsewhere before is likely.
const (
	lostNear  = 0.1 // on the near half
	lostFar   = 0.6 // on the far half
	vagueEdge = 0.5
	fallsTo   = 0.4 // of its gauge pressure
)

// stretch of a reading over a cell.
func (t *Tracer) stretch(p, r int, c *cell) stretch {
	from, to := t.table.values(p, c.from), t.table.values(p, c.to)
	if from == nil || to == nil {
		return stretch{unknown: true}
	}
	return t.stretchOver(p, r, from[r], to[r], c)
}

// stretchOver a cell between two values of a reading.
func (t *Tracer) stretchOver(p, r int, a, b float64, c *cell) stretch {
	reading := &t.procedures[p].Readings[r]
	h := t.healthy(p, r)
	if sameReading(reading, a, h) && sameReading(reading, b, h) {
		a, b = h, h
	}
	s := between2(a, b, c, reading.Dimension)
	if s.lost == 0 && s.vague == 0 && (s.low != h || s.high != h) && !math.IsNaN(h) {
		s.vague = oddEffect
	}
	return s
}

// between2 severities.
func between2(a, b float64, c *cell, d circuit.Dimension) stretch {
	timed := d == circuit.Time
	switch {
	case math.IsNaN(a) && math.IsNaN(b):
		return stretch{lost: 1}
	case c.from == c.to || a == b:
		return stretch{low: a, high: a}
	case math.IsNaN(a) || math.IsNaN(b):
		return edge(a, b, c, d)
	case timed && a > 0 && b > 0:
		s := stretch{low: 1 / (1/a + (1/b-1/a)*done(c.a, c.slow)), high: 1 / (1/a + (1/b-1/a)*done(c.b, c.slow)), slow: true}
		s.low, s.high = min(s.low, s.high), max(s.low, s.high)
		return s
	}
	x, y := a+(b-a)*done(c.a, c.half), a+(b-a)*done(c.b, c.half)
	return stretch{low: min(x, y), high: max(x, y)}
}

// edge is a cell at one of whose ends a reading is no longer reached. On the way there a time gets longer and longer, and a level
// mostly lower.
func edge(a, b float64, c *cell, d circuit.Dimension) stretch {
	x, near, far := a, c.a, c.b // shares of the way from the end that is reached
	if math.IsNaN(a) {
		x, near, far = b, 1-c.b, 1-c.a
	}
	s := stretch{low: x, high: x, lost: lostNear, vague: vagueEdge}
	if (near+far)/2 > 0.5 {
		s.lost = lostFar
	}
	switch {
	case d == circuit.Pressure && x > circuit.AtmospherePressure:
		s.low, s.vague = circuit.AtmospherePressure+fallsTo*(x-circuit.AtmospherePressure), vagueEdge/2
	case d == circuit.Time && x > 0:
		long := func(share float64) float64 { return x / max(1-share, 1.0/slowest) }
		s.low, s.high, s.slow, s.vague = long(near), long(far), true, vagueEdge/5
	}
	return s
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
	case s.never() || s.unknown:
		return math.NaN()
	case s.slow:
		return 2 / (1/s.low + 1/s.high)
	}
	return (s.low + s.high) / 2
}

// joined is what two faults make of a reading that each of them disturbs: what they do to it adds up, of a time what they do to its
// inverse. It is not simulated, and taken as less sure.
func joined(a, b stretch, healthy float64, r *procedure.Reading) stretch {
	if a.unknown || b.unknown {
		return stretch{unknown: true}
	}
	s := stretch{lost: 1 - (1-a.lost)*(1-b.lost), vague: max(oddTogether, a.vague, b.vague)}
	switch {
	case a.lost >= 1 || b.lost >= 1:
		s.low, s.high = a.low+b.low, a.high+b.high // of the one that is reached, if any
		s.lost, s.vague = 0.97, 1
		return s
	case math.IsNaN(healthy):
		s.low, s.high = min(a.low, b.low), max(a.high, b.high)
		return s
	case r.Dimension == circuit.Count: // a lamp: lit by either
		s.low, s.high = a.low, a.high
		if math.Abs(b.low-healthy) > math.Abs(a.low-healthy) {
			s.low, s.high = b.low, b.high
		}
		return s
	case r.Dimension == circuit.Time && a.low > 0 && b.low > 0 && healthy > 0:
		fast, slow := 1/a.low+1/b.low-1/healthy, 1/a.high+1/b.high-1/healthy
		floor := 1 / (slowest * healthy)
		if fast <= floor {
			s.lost = max(s.lost, 0.9)
		} else if slow <= floor {
			s.lost = max(s.lost, 0.5)
		}
		s.low, s.high, s.slow = 1/max(fast, floor), 1/max(slow, floor), true
		return s
	}
	s.low, s.high = a.low+b.low-healthy, a.high+b.high-healthy
	return s
}
