package trace

import (
	"math"
	"slices"

	"airpath/circuit"
	"airpath/circuit/airflow/procedure"
)

// A bend is how a reading moves with what is shared, around one vehicle: for each nuisance the logarithm of a factor, or a summand, at 1 σ
// up and at 1 σ down, and in between and beyond in proportion. The two differ where a reading is taken on the needle that comes first or
// last: of two needles that come together one that reads low delays it, and one that reads high does nothing.
type bend struct {
	up, down []float64
	ratio    []bool // a factor; otherwise a summand
	kinks    []kink
	rough    float64 // SI; what is left over where it moves in neither way, 1 σ
}

// A kink is what two needles that are off to the same side add to what each does by itself: of two that read low the lower one delays, not both.
type kink struct {
	a, b  int     // nuisances
	turn  float64 // at 1 σ of both
	ratio bool
}

// leftOver of how unevenly a reading moves to both sides, where that is put down to a corner that really is a curve.
const leftOver = 0.4

func newBend(n int) bend {
	return bend{up: make([]float64, n), down: make([]float64, n), ratio: make([]bool, n)}
}

// without what one nuisance does.
func (b bend) without(k int) bend {
	b.up, b.down = slices.Clone(b.up), slices.Clone(b.down)
	b.up[k], b.down[k] = 0, 0
	b.kinks = slices.DeleteFunc(slices.Clone(b.kinks), func(c kink) bool { return c.a == k || c.b == k })
	return b
}

// set what one nuisance does.
func (b *bend) set(k int, up, down float64, ratio bool) {
	b.up[k], b.down[k], b.ratio[k] = up, down, ratio
}

// steepest is the larger of what 1 σ does to either side.
func (b *bend) steepest(k int) float64 { return math.Max(math.Abs(b.up[k]), math.Abs(b.down[k])) }

// off is what a nuisance does: how far, and how steeply there.
func (b *bend) off(k int, z float64) (by, slope float64) {
	if z < 0 {
		return -b.down[k] * z, -b.down[k]
	}
	return b.up[k] * z, b.up[k]
}

// corner where a reading hangs on the first or the last of some needles: how unevenly it moves with each of two tells how much of it is theirs together.
func (b *bend) corner(i, j int) {
	x, y := b.up[i]+b.down[i], b.up[j]+b.down[j]
	if x*y > 0 && b.ratio[i] == b.ratio[j] {
		b.kinks = append(b.kinks, kink{i, j, -math.Copysign(math.Min(math.Abs(x), math.Abs(y)), x), b.ratio[i]})
	}
}

// both is how far two needles are off to the same side.
func (c *kink) both(z []float64) float64 {
	if z[c.a]*z[c.b] <= 0 {
		return 0
	}
	return math.Min(math.Abs(z[c.a]), math.Abs(z[c.b]))
}

// at a point: the logarithm of the factor, and the summand.
func (b *bend) at(z []float64) (log, plus float64) {
	for k, x := range z {
		by, _ := b.off(k, x)
		if b.ratio[k] {
			log += by
		} else {
			plus += by
		}
	}
	for i := range b.kinks {
		c := &b.kinks[i]
		if c.ratio {
			log += c.turn * c.both(z)
		} else {
			plus += c.turn * c.both(z)
		}
	}
	return log, plus
}

// slopes of a reading of some value along each nuisance at a point.
func (b *bend) slopes(z []float64, value float64, out []float64) {
	for k, x := range z {
		_, out[k] = b.off(k, x)
		if b.ratio[k] {
			out[k] *= value
		}
	}
	for i := range b.kinks {
		c := &b.kinks[i]
		if c.both(z) == 0 {
			continue
		}
		turn, nearer := c.turn, c.a
		if c.ratio {
			turn *= value
		}
		if math.Abs(z[c.b]) < math.Abs(z[c.a]) {
			nearer = c.b
		}
		out[nearer] += math.Copysign(turn, turn*z[nearer])
	}
}

// shifts of some draws.
func (b *bend) shifts(draws [][]float64) *shifts {
	s := &shifts{}
	b.shiftsInto(s, draws)
	return s
}

// shiftsInto is shifts in the memory of others. Most readings move with few of the nuisances.
func (b *bend) shiftsInto(s *shifts, draws [][]float64) {
	n := len(draws)
	s.logs, s.times, s.plus = slices.Grow(s.logs[:0], n)[:n], slices.Grow(s.times[:0], n)[:n], slices.Grow(s.plus[:0], n)[:n]
	s.rough, s.level, s.scaled = b.rough, len(b.kinks) == 0, false
	clear(s.logs)
	clear(s.plus)
	for k := range b.up {
		if b.up[k] == 0 && b.down[k] == 0 {
			continue
		}
		moved := s.plus
		if b.ratio[k] {
			moved, s.scaled = s.logs, true
		} else {
			s.level = false
		}
		for d, z := range draws {
			by, _ := b.off(k, z[k])
			moved[d] += by
		}
	}
	for i := range b.kinks {
		c := &b.kinks[i]
		moved := s.plus
		if c.ratio {
			moved, s.scaled = s.logs, true
		}
		for d, z := range draws {
			moved[d] += c.turn * c.both(z)
		}
	}
	for d, log := range s.logs {
		s.times[d] = 1
		if log != 0 {
			s.times[d] = math.Exp(log)
		}
	}
}

// as another bend moves a reading, but for what is left over.
func (b *bend) as(o *bend) bool {
	return slices.Equal(b.up, o.up) && slices.Equal(b.down, o.down) && slices.Equal(b.ratio, o.ratio) && slices.Equal(b.kinks, o.kinks)
}

// around a vehicle: how a reading moves. Times, rates and falls move in proportion; levels, and what is next to
// nothing, by as much. Cooling adds to a fall whatever else causes one. A reading that was taken with another instrument than
// the vehicle's own gauge doesn't share that gauge's error. What some vehicle around does not get to is left out.
func (n *nuisances) around(t *table, base, p, r int, reading *procedure.Reading, own string) bend {
	b := newBend(n.dims())
	if ear := n.dims() - 1; reading.Sense == procedure.Ear && reading.Judge.Log {
		b.set(ear, earSpread, -earSpread, true)
	}
	first := t.around(base)
	at := t.values(p, base)
	if at == nil || math.IsNaN(at[r]) {
		return b
	}
	for k := range n.dims() - 1 {
		up, down := t.values(p, first+2*k), t.values(p, first+2*k+1)
		if n.spared(k, reading, own) || up == nil || down == nil || math.IsNaN(up[r]) || math.IsNaN(down[r]) {
			continue
		}
		x, y := up[r], down[r]
		b.rough = math.Hypot(b.rough, leftOver*((x+y)/2-at[r]))
		if inProportion(k, reading, x, y, at[r]) {
			b.set(k, math.Log(x/at[r]), math.Log(y/at[r]), true)
		} else {
			b.set(k, x-at[r], y-at[r], false)
		}
	}
	b.corners(n)
	return b
}

// corners of all needles.
func (b *bend) corners(n *nuisances) {
	b.kinks = nil
	for i := len(spreads); i < n.dims()-1; i++ {
		for j := len(spreads); j < i; j++ {
			b.corner(j, i)
		}
	}
}

// spared tells whether a reading was taken with another instrument than the gauge whose own error a nuisance is.
func (n *nuisances) spared(k int, reading *procedure.Reading, own string) bool {
	return k >= len(spreads) && n.gauges[k-len(spreads)] == reading.Gauge && own == ""
}

// inProportion tells whether a reading of some values moves in proportion with a nuisance.
func inProportion(k int, reading *procedure.Reading, values ...float64) bool {
	if k == coolingDim || reading.Form != procedure.Measured || reading.Dimension == circuit.Pressure {
		return false
	}
	for _, x := range values {
		if x <= 3*reading.Sigma {
			return false
		}
	}
	return true
}

// aside of a vehicle: how a reading moves, by the vehicles a σ up alone; as on the healthy vehicle where one of them does not get there.
// To the other side it moves as unevenly as the healthy one does, unless that has been simulated too: which needle of two is the slower one is another
// matter where one of them is at fault.
func (n *nuisances) aside(t *table, base, p, r int, reading *procedure.Reading, own string) bend {
	b := n.around(t, 0, p, r, reading, own)
	at := t.values(p, base)
	if at == nil || math.IsNaN(at[r]) || !t.changed(base, p) {
		return b
	}
	first, both := t.around(base), false
	for k := range n.dims() - 1 {
		up, below := t.values(p, first+2*k), t.values(p, first+2*k+1)
		if up == nil || math.IsNaN(up[r]) || n.spared(k, reading, own) {
			continue
		}
		ratio := inProportion(k, reading, up[r], at[r])
		own := up[r] - at[r]
		if ratio {
			own = math.Log(up[r] / at[r])
		}
		down := -own
		switch {
		case below != nil && !math.IsNaN(below[r]) && ratio && below[r] > 0:
			down, both = math.Log(below[r]/at[r]), true
		case below != nil && !math.IsNaN(below[r]) && !ratio:
			down, both = below[r]-at[r], true
		case ratio == b.ratio[k]:
			down += b.up[k] + b.down[k]
		}
		b.set(k, own, down, ratio)
	}
	if both {
		b.corners(n)
	}
	return b
}
