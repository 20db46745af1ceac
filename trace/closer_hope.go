package trace

import (
	"math"

	"airpath/circuit"
	"airpath/trace/reason"
)

// What has not been looked at finely may turn out to be far likelier than it seems: between two simulated severities that lie far apart a reading may be
// anything that lies between the two, and what is taken for spread out, or for about to get lost, costs something in every reading. How much likelier at
// most is its hope: as if at one severity each reading were just what was found, as far as it lies between the two at all. What leads by its hope is looked at,
// and then there is none left.

// hopeLost is the logarithm of how much denser a figure lies where it is known than where all that is known is that it is about to get lost.
const hopeLost = 3.0

// A hoping is one observation, and what is made of it before anything is looked at finely.
type hoping struct {
	*likelihood
	taken *reason.Taken
}

// hopingsOf the observations; repeats count once.
func (l *looker) hopingsOf() []hoping {
	var out []hoping
	for i := range l.observations {
		if o := &l.observations[i]; i == 0 || l.observations[i-1].key != o.key {
			out = append(out, hoping{l.likelihood(o), l.belief.Taken(o.key)})
		}
	}
	return out
}

// hopes of all cells, as logarithms.
func (l *looker) hopes() {
	n := len(l.nuisances.draws)
	l.hopings, l.hope = l.hopingsOf(), make([]float64, len(l.cells))
	for _, k := range l.hopings {
		known := map[stretch]float64{}
		for c := range l.cells {
			s := l.stretch(k.o.procedure, k.o.reading, &l.cells[c])
			if s.settled() {
				continue
			}
			best, ok := known[s]
			if !ok {
				best = k.best(s)
				known[s] = best
			}
			l.hope[c] += math.Max(0, k.more(s, best, math.Log(k.taken.Mean(c, n))))
		}
	}
}

// hopeOver a step of a cell: how much likelier than the cell it may turn out to be, as a logarithm.
func (l *looker) hopeOver(c, from, to int) float64 {
	n := len(l.nuisances.draws)
	step, sum := &cell{from: from, to: to, b: 1}, 0.0
	for _, k := range l.hopings {
		s, whole := l.stretch(k.o.procedure, k.o.reading, step), l.stretch(k.o.procedure, k.o.reading, &l.cells[c])
		if s.unknown || whole.settled() {
			continue
		}
		sum += k.more(s, k.best(s), math.Log(k.taken.Mean(c, n)))
	}
	return sum
}

// more that there is to hope than what is known now. A figure that is about to get lost may be anything, if nothing is known of the way there.
func (k hoping) more(s stretch, best, now float64) float64 {
	if k.o.e.Kind == circuit.Number && s.lost > 0 && s.lost < 1 && s.low == s.high {
		return math.Min(hopeLost, k.best(s.at(k.o.e.Low))-now)
	}
	return best - now
}

// settled tells whether a stretch has but one value, or none.
func (s stretch) settled() bool {
	return s.unknown || s.low == s.high && (s.lost == 0 || s.lost >= 1)
}

// best that a finding may be at one severity of a stretch: the logarithm of its density there.
func (l *likelihood) best(s stretch) float64 {
	p := 1.0
	switch l.o.e.Kind {
	case circuit.Yes:
		p = math.Max(s.at(s.low).yes(l.o.e.Judge), s.at(s.high).yes(l.o.e.Judge))
	case circuit.No:
		p = 1 - math.Min(s.at(s.low).yes(l.o.e.Judge), s.at(s.high).yes(l.o.e.Judge))
	case circuit.Never:
		p = neverWhen
		if s.lost > 0 {
			p = reachedWhen
		}
	case circuit.Number:
		x := math.Max(s.low, math.Min(s.high, l.o.e.Low))
		spread := math.Hypot(l.sigmaOf(x), l.moves.spread(x))
		z := (l.o.e.Low - x) / spread
		p = math.Exp(-z*z/2) / (spread * math.Sqrt(2*math.Pi))
	}
	return math.Log((1-l.outliers)*p + l.outliers*l.flat)
}

// spread of a value over the draws.
func (s *shifts) spread(x float64) float64 {
	sum := 0.0
	for d := range s.times {
		off := x*s.times[d] + s.plus[d] - x
		sum += off * off
	}
	return math.Sqrt(sum / float64(len(s.times)))
}
