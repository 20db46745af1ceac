package airflow

import "math"

// The hot loops. A run's live elements are kept in four flat lists: those whose opening is fixed, those with a changing
// one, those that touch a room with an energy equation, and pumps. Flow w is the rate of x = m·R·T0 (W) from a to b:
//
//	w = C·ρ0·R·T0 · u · f(pa, pb) · √(T0/T1),   f = p1·φ(p2/p1) from the higher side
//
// with φ the ellipse of ISO 6358 in a smooth form (see through). Index n stands for the atmosphere: its pressure is
// p[n], its rates go to a bin.

// fixedFlow is an element whose opening does not change.
type fixedFlow struct {
	a, b               int32
	saa, sab, sba, sbb int32 // slots: row, column
	forth, back        float64
	slope              float64 // 1/(1 − b)
	heard              bool    // a tally follows it
}

// valveFlow is an element whose opening depends on pressures, controls and latches.
type valveFlow struct {
	fixedFlow
	i1, i2, i3         int32
	sa1, sb1, sa2, sb2 int32
	sa3, sb3           int32
	g1, g2, g3         float64
	base, drift        float64 // in this segment: constant part, and its rate while a control moves
	low, span          float64
	element            int32
}

// warmFlow is any element with a thermal room at one end or both. Rows and columns: mass and energy unknowns of a and b.
type warmFlow struct {
	valveFlow
	ma, ea, mb, eb int32 // rows for mass and for energy; the bin where there is no energy
	qa, qb         int32 // warmth unknowns, the atmosphere's index for an isothermal end
	warmA, warmB   bool
	s              [4][7]int32 // slots [ma ea mb eb][a qa b qb i1 i2 i3]
}

// pumpFlow is a compressor.
type pumpFlow struct {
	a, b                int32
	saa, sab, sba, sbb  int32
	i1, i2, i3          int32
	sa1, sb1, sa2, sb2  int32
	sa3, sb3            int32
	g1, g2, g3          float64
	base, drift         float64
	low, span           float64
	swept               float64 // m³ per turn of the engine, times efficiency
	speed, acceleration float64 // of this segment, at its start
	clearance           float64
	pump                int32
}

// through is f = p1·φ(p2/p1), for p1 not below p2. φ is the ellipse of ISO 6358 in a smooth form: with x = (1 − r)/(1 − b) up
// to 1 and y = x(2 − x) it is √(1+ε)·y/√(y+ε), so that φ(choked) = 1 exactly, and there is no kink anywhere, not even where
// the flow turns round. It is written with x·p1 and y·p1² in place of x and y, which spares the division by p1: divisions and
// roots are what a flow costs.
func through(p1, p2, slope, eps, top float64) float64 {
	x := (p1 - p2) * slope
	if x >= p1 {
		return p1
	}
	y := x * (2*p1 - x)
	return top * y / math.Sqrt(y+eps*p1*p1)
}

// throughSlope is through with its derivative by p2. That by p1 follows, f being twice as large where both pressures are: it
// is (f − p2·d2)/p1.
func throughSlope(p1, p2, slope, eps, top float64) (f, d2 float64) {
	x := (p1 - p2) * slope
	if x >= p1 {
		return p1, 0
	}
	y := x * (2*p1 - x)
	e := eps * p1 * p1
	q := 1 / math.Sqrt(y+e)
	return top * y * q, top * q * q * q * (y + 2*e) * (x - p1) * slope
}

// smoothStep is S and dS/dv of the clamped v.
func smoothStep(v float64) (s, ds float64) {
	if v <= 0 {
		return 0, 0
	}
	if v >= 1 {
		return 1, 0
	}
	return v * v * (3 - 2*v), 6 * v * (1 - v)
}

// rates fills in dx/dt for pressures p, at elapsed seconds into the segment. With slopes it also fills in −J, the
// derivative with respect to time, and what the tallies need.
func (s *solver) rates(p, rate []float64, elapsed float64, slopes bool) {
	for i := range rate {
		rate[i] = 0
	}
	s.temper(p)
	if slopes {
		for i := range s.jac {
			s.jac[i] = 0
		}
		for i := range s.moving {
			s.moving[i] = 0
		}
		s.fixedSlopes(p, rate)
		s.valveSlopes(p, rate, elapsed)
		s.warmSlopes(p, rate, elapsed)
	} else {
		s.fixedRates(p, rate)
		s.valveRates(p, rate, elapsed)
		s.warmRates(p, rate, elapsed)
	}
	s.pumpRates(p, rate, elapsed, slopes)
	s.wallRates(p, rate, slopes)
}

func (s *solver) fixedRates(p, rate []float64) {
	eps, top := s.eps, s.top
	for k := range s.fixed {
		e := &s.fixed[k]
		pa, pb := p[e.a], p[e.b]
		if pa == pb { // most of a vehicle is at rest most of the time
			s.flow[k] = 0
			continue
		}
		var w float64
		if pa >= pb {
			w = e.forth * through(pa, pb, e.slope, eps, top)
		} else {
			w = -e.back * through(pb, pa, e.slope, eps, top)
		}
		rate[e.a] -= w
		rate[e.b] += w
		s.flow[k] = w
	}
}

func (s *solver) fixedSlopes(p, rate []float64) {
	eps, top := s.eps, s.top
	jac := s.jac
	for k := range s.fixed {
		e := &s.fixed[k]
		pa, pb := p[e.a], p[e.b]
		var w, da, db float64
		if pa == pb {
			da = e.forth * s.steepest * e.slope
			db = -da
		} else if pa >= pb {
			f, d := throughSlope(pa, pb, e.slope, eps, top)
			w, da, db = e.forth*f, e.forth*((f-pb*d)/pa), e.forth*d
		} else {
			f, d := throughSlope(pb, pa, e.slope, eps, top)
			w, da, db = -e.back*f, -e.back*d, -e.back*((f-pa*d)/pb)
		}
		rate[e.a] -= w
		rate[e.b] += w
		s.flow[k] = w
		jac[e.saa] += da
		jac[e.sab] += db
		jac[e.sba] -= da
		jac[e.sbb] -= db
		if e.heard {
			s.slope[k][0] = da
		}
	}
}

func (s *solver) valveRates(p, rate []float64, elapsed float64) {
	eps, top := s.eps, s.top
	first := len(s.fixed)
	for k := range s.valves {
		e := &s.valves[k]
		v := e.base + e.drift*elapsed + e.g1*p[e.i1] + e.g2*p[e.i2] + e.g3*p[e.i3]
		u := e.low
		if v > 0 {
			open, _ := smoothStep(v)
			u += e.span * open
		}
		if u == 0 {
			s.flow[first+k] = 0
			continue
		}
		pa, pb := p[e.a], p[e.b]
		if pa == pb {
			s.flow[first+k] = 0
			continue
		}
		var w float64
		if pa >= pb {
			w = u * e.forth * through(pa, pb, e.slope, eps, top)
		} else {
			w = -u * e.back * through(pb, pa, e.slope, eps, top)
		}
		rate[e.a] -= w
		rate[e.b] += w
		s.flow[first+k] = w
	}
}

func (s *solver) valveSlopes(p, rate []float64, elapsed float64) {
	eps, top := s.eps, s.top
	jac := s.jac
	first := len(s.fixed)
	for k := range s.valves {
		e := &s.valves[k]
		v := e.base + e.drift*elapsed + e.g1*p[e.i1] + e.g2*p[e.i2] + e.g3*p[e.i3]
		u, du := e.low, 0.0
		if v > 0 {
			open, steep := smoothStep(v)
			u += e.span * open
			du = e.span * steep
		}
		if u == 0 && du == 0 {
			s.flow[first+k] = 0
			if e.heard {
				s.slope[first+k] = [5]float64{}
			}
			continue
		}
		pa, pb := p[e.a], p[e.b]
		var f, fa, fb float64
		if pa == pb {
			fa = e.forth * s.steepest * e.slope
			fb = -fa
		} else if pa >= pb {
			g, d := throughSlope(pa, pb, e.slope, eps, top)
			f, fa, fb = e.forth*g, e.forth*((g-pb*d)/pa), e.forth*d
		} else {
			g, d := throughSlope(pb, pa, e.slope, eps, top)
			f, fa, fb = -e.back*g, -e.back*d, -e.back*((g-pa*d)/pb)
		}
		w, da, db := u*f, u*fa, u*fb
		rate[e.a] -= w
		rate[e.b] += w
		s.flow[first+k] = w
		jac[e.saa] += da
		jac[e.sab] += db
		jac[e.sba] -= da
		jac[e.sbb] -= db
		if du == 0 {
			if e.heard {
				s.slope[first+k] = [5]float64{da}
			}
			continue
		}
		fu := f * du
		d1, d2, d3 := fu*e.g1, fu*e.g2, fu*e.g3
		jac[e.sa1] += d1
		jac[e.sb1] -= d1
		jac[e.sa2] += d2
		jac[e.sb2] -= d2
		jac[e.sa3] += d3
		jac[e.sb3] -= d3
		if e.heard {
			s.slope[first+k] = [5]float64{da, d1, d2, d3}
		}
		if e.drift != 0 {
			s.move(first+k, e.a, e.b, fu*e.drift)
		}
	}
}

// move takes down that an element's flow changes with time by itself, because a control is moving.
func (s *solver) move(k int, a, b int32, change float64) {
	s.moving[a] -= change
	s.moving[b] += change
	s.shift[k] = change
	s.moves = true
}
