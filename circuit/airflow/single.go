package airflow

import "math"

// single is the flow through one live element for pressures p, from a to b, in the rate of x.
func (s *solver) single(k int, p []float64, elapsed float64) float64 {
	u := s.opening(k, p, elapsed)
	if u == 0 {
		return 0
	}
	var f *fixedFlow
	qa, qb := int32(-1), int32(-1)
	switch i := k - len(s.fixed) - len(s.valves); {
	case k < len(s.fixed):
		f = &s.fixed[k]
	case i < 0:
		f = &s.valves[k-len(s.fixed)].fixedFlow
	case i < len(s.warm):
		w := &s.warm[i]
		f = &w.fixedFlow
		if w.warmA {
			qa = w.qa
		}
		if w.warmB {
			qb = w.qb
		}
	default:
		e := &s.pumps[i-len(s.warm)]
		pa := p[e.a]
		root := math.Sqrt(p[e.b] / pa)
		eta := 1 + e.clearance - e.clearance*root*math.Sqrt(root)
		return u * e.swept * (e.speed + e.acceleration*elapsed) * pa * (eta + math.Sqrt(eta*eta+pumpFloor*pumpFloor)) / 2
	}
	pa, pb := p[f.a], p[f.b]
	cool := func(q, at int32) float64 {
		if q < 0 {
			return 1
		}
		return math.Sqrt(p[q] / (p[at] * s.swell(q, p[at])))
	}
	if pa >= pb {
		return u * f.forth * through(pa, pb, f.slope, s.eps, s.top) * cool(qa, f.a)
	}
	return -u * f.back * through(pb, pa, f.slope, s.eps, s.top) * cool(qb, f.b)
}

// swell of the thermal room with a warmth unknown, at a pressure.
func (s *solver) swell(q int32, pressure float64) float64 {
	for i := range s.walls {
		if w := &s.walls[i]; w.q == q && w.moves != nil {
			swell, _ := w.moves.swell(pressure)
			return swell
		}
	}
	return 1
}

// opening of one live element for pressures p; 1 for those whose opening is part of their conductance.
func (s *solver) opening(k int, p []float64, elapsed float64) float64 {
	var v *valveFlow
	switch i := k - len(s.fixed) - len(s.valves); {
	case k < len(s.fixed):
		return 1
	case i < 0:
		v = &s.valves[k-len(s.fixed)]
	case i < len(s.warm):
		v = &s.warm[i].valveFlow
	default:
		e := &s.pumps[i-len(s.warm)]
		u, _ := smoothStep(e.base + e.drift*elapsed + e.g1*p[e.i1] + e.g2*p[e.i2] + e.g3*p[e.i3])
		return e.low + e.span*u
	}
	u, _ := smoothStep(v.base + v.drift*elapsed + v.g1*p[v.i1] + v.g2*p[v.i2] + v.g3*p[v.i3])
	return v.low + v.span*u
}

// ventFlow is what goes to the atmosphere at a place.
func (s *solver) ventFlow(place int32, p []float64, elapsed float64) float64 {
	w := 0.0
	for i := range s.tallies {
		if t := &s.tallies[i]; t.pump < 0 && t.place == place {
			w += s.single(int(t.live), p, elapsed)
		}
	}
	return w
}
