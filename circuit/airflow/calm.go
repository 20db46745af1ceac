package airflow

import (
	"math"
	"math/bits"
)

// A small room behind a narrow way, with a wide valve that is just about to open, is beyond a method of several stages: shut,
// the valve has no slope, so that the step runs past where it opens; open, the stages add up to more than what brings the
// room back, and it is shut again. Both are within the tolerance, and so it goes on, with every other try in vain. There the
// linearly implicit Euler method takes a few steps instead: what it does to such a room is one step of Newton's method from
// above, which for a valve that opens ever further never goes beyond the place where the flows are equal.

// Of the last 64 tries so many in vain are a sign of that; calmSteps of the simple method follow. Its order being lower, its
// errors add up where the others' do not: in a room of some size it is allowed a share of the tolerance only.
const (
	inVain     = 26
	calmSteps  = 6
	calmStrict = 50
	swingShare = 0.1 // of the tolerance
)

// swing is what the last step did to the room that it erred most in.
type swing struct {
	Unknown int     `json:"unknown"`
	Change  float64 `json:"change_Pa"`
}

// backAndForth says whether the step just tried takes back half of what the one before did, or more, and that is not nothing
// beside what a step may err by. Air that truly swings needs several steps each way.
func (r *Run) backAndForth(worst int) bool {
	s, was := r.s, r.swing
	r.swing = swing{worst, s.pn[worst] - s.p[worst]}
	u := was.Unknown
	change := s.pn[u] - s.p[u]
	return change*was.Change < 0 && 2*math.Abs(change) >= math.Abs(was.Change) &&
		math.Abs(was.Change)*small(s.volume[u]) > swingShare*(s.Absolute+s.Relative*s.p[u])
}

// note takes down whether a try was in vain.
func (r *Run) note(vain bool) {
	r.luck <<= 1
	if vain {
		r.luck |= 1
	}
	if bits.OnesCount64(r.luck) >= inVain {
		r.luck, r.calm = 0, calmSteps
	}
}

// attempt tries a step by the method of the moment.
func (r *Run) attempt(h float64) (err float64, worst int) {
	if r.calm > 0 {
		return r.s.euler(h, r.t-r.segment)
	}
	return r.s.step(h, r.t-r.segment)
}

// euler is step by the linearly implicit Euler method, of order 1: (cap/h − J_p)·v = F0 + h·∂F/∂t, x' = x + cap·v. Its error is
// taken to be half of what the change of the rates would have moved.
func (s *solver) euler(h, elapsed float64) (err float64, worst int) {
	n := s.n
	s.tried = h
	lu := s.lu[:len(s.jac)]
	copy(lu, s.jac)
	for i := range n {
		lu[i] += s.capacity[i] / h
	}
	if !s.pattern.factor(lu, s.inverse) {
		return -1, 0
	}
	b := s.b[:n]
	copy(b, s.rate0[:n])
	s.addMoving(b, h)
	s.pattern.solve(lu, s.inverse, b)
	for i := range s.tallies {
		t := &s.tallies[i]
		d, k := &s.slope[t.live], &t.index
		v := t.first + d[0]*s.b[k[0]] + d[1]*s.b[k[1]] + d[2]*s.b[k[2]] + d[3]*s.b[k[3]] + d[4]*s.b[k[4]]
		if s.moves {
			v += h * s.shift[t.live]
		}
		t.next = t.sum + h*v
	}
	for i, v := range b {
		s.xn[i] = s.x[i] + s.capacity[i]*v
	}
	if !s.pressures(s.xn, s.pn, s.cn) {
		return -1, 0
	}
	s.rates(s.pn, s.rate, elapsed+h, false)
	for i := range b {
		b[i] = s.rate[i] - s.rate0[i]
	}
	s.pattern.solve(lu, s.inverse, b)
	for i, v := range b {
		w := small(s.volume[i])
		e := math.Abs(v) / 2 * w * (1 + calmStrict*w*w) / (s.Absolute + s.Relative*s.p[i])
		if e > err {
			err, worst = e, i
		} else if e != e {
			return -1, i
		}
	}
	return err, worst
}
