package airflow

import "math"

// Elements that touch a room with an energy equation. There the pressure unknown is E/V and the warmth unknown q = x/V, so
// that T/T0 = p/q; air leaving takes the enthalpy γ·w·T/T0 with it, air coming in brings its own.

func (s *solver) warmRates(p, rate []float64, elapsed float64) {
	first := len(s.fixed) + len(s.valves)
	for k := range s.warm {
		e := &s.warm[k]
		u := e.low
		if e.span != 0 {
			open, _ := smoothStep(e.base + e.drift*elapsed + e.g1*p[e.i1] + e.g2*p[e.i2] + e.g3*p[e.i3])
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
		var w, heat float64
		if pa >= pb {
			w = u * e.forth * through(pa, pb, e.slope, s.eps, s.top) * s.cool[e.a]
			heat = HeatRatio * w * s.theta[e.a]
		} else {
			w = -u * e.back * through(pb, pa, e.slope, s.eps, s.top) * s.cool[e.b]
			heat = HeatRatio * w * s.theta[e.b]
		}
		rate[e.ma] -= w
		rate[e.mb] += w
		rate[e.ea] -= heat
		rate[e.eb] += heat
		s.flow[first+k] = w
	}
}

func (s *solver) warmSlopes(p, rate []float64, elapsed float64) {
	first := len(s.fixed) + len(s.valves)
	for k := range s.warm {
		e := &s.warm[k]
		u, du := e.low, 0.0
		if e.span != 0 {
			open, steep := smoothStep(e.base + e.drift*elapsed + e.g1*p[e.i1] + e.g2*p[e.i2] + e.g3*p[e.i3])
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
		var f, fa, fb, pu, qu float64 // u: of the room that the air comes from
		warm, fromA, up := false, pa >= pb, e.a
		if fromA {
			g, d := throughSlope(pa, pb, e.slope, s.eps, s.top)
			f, fa, fb = e.forth*g, e.forth*((g-pb*d)/pa), e.forth*d
			warm, pu, qu = e.warmA, pa, p[e.qa]
		} else {
			g, d := throughSlope(pb, pa, e.slope, s.eps, s.top)
			f, fa, fb = -e.back*g, -e.back*d, -e.back*((g-pa*d)/pb)
			warm, pu, qu, up = e.warmB, pb, p[e.qb], e.b
		}
		theta, root := s.theta[up], s.cool[up] // T/T0, √(T0/T)
		w := u * f * root
		heat := HeatRatio * theta * w
		rate[e.ma] -= w
		rate[e.mb] += w
		rate[e.ea] -= heat
		rate[e.eb] += heat
		s.flow[first+k] = w

		da, db, dq := u*fa*root, u*fb*root, 0.0
		s.column(e, 0, da, HeatRatio*theta*da)
		s.column(e, 2, db, HeatRatio*theta*db)
		if warm {
			// By the warmth of the room that the air comes from: w goes with √(q/p), the heat with √(p/q).
			byP := w / (2 * pu) * s.steep[up]
			dq = w / (2 * qu)
			own := 0
			if !fromA {
				own = 2
			}
			s.column(e, own, -byP, HeatRatio*theta*byP)
			s.column(e, own+1, dq, -HeatRatio*theta*dq)
		}
		if du == 0 {
			if e.heard {
				if !fromA {
					dq = 0
				} else if warm {
					da -= w / (2 * pu) * s.steep[up]
				}
				s.slope[first+k] = [5]float64{da, 0, 0, 0, dq}
			}
			continue
		}
		fu := f * du * root
		d1, d2, d3 := fu*e.g1, fu*e.g2, fu*e.g3
		s.column(e, 4, d1, HeatRatio*theta*d1)
		s.column(e, 5, d2, HeatRatio*theta*d2)
		s.column(e, 6, d3, HeatRatio*theta*d3)
		if e.heard {
			if !fromA {
				dq = 0
			} else if warm {
				da -= w / (2 * pu) * s.steep[up]
			}
			s.slope[first+k] = [5]float64{da, d1, d2, d3, dq}
		}
		if e.drift != 0 {
			change := fu * e.drift
			s.move(first+k, e.ma, e.mb, change)
			s.moving[e.ea] -= HeatRatio * theta * change
			s.moving[e.eb] += HeatRatio * theta * change
		}
	}
}

// temper works out the temperatures of thermal rooms; in all others they are the reference's, once and for all.
func (s *solver) temper(p []float64) {
	for k := range s.walls {
		e := &s.walls[k]
		theta := p[e.p] / p[e.q]
		if e.moves != nil {
			var swell float64
			swell, s.steep[e.p] = e.moves.swell(p[e.p])
			theta *= swell
		}
		s.theta[e.p], s.cool[e.p] = theta, 1/math.Sqrt(theta)
	}
}

// column adds the derivative of an element's flow and of the heat that it carries, with respect to one unknown.
func (s *solver) column(e *warmFlow, c int, flow, heat float64) {
	jac := s.jac
	jac[e.s[0][c]] += flow
	jac[e.s[1][c]] += heat
	jac[e.s[2][c]] -= flow
	jac[e.s[3][c]] -= heat
}

// wall is the heat exchange of one thermal room with its wall.
type wall struct {
	moves    *room // where it is a moving one, else nil
	p, q     int32
	spp, spq int32
	strength float64 // (γ−1)·hA·T0
	ambient  float64 // wall temperature over T0
}

// wallRates adds (γ−1)·hA·(Tw − T) to the energy of each thermal room.
func (s *solver) wallRates(p, rate []float64, slopes bool) {
	for k := range s.walls {
		e := &s.walls[k]
		theta := s.theta[e.p]
		rate[e.p] += e.strength * (e.ambient - theta)
		if slopes {
			s.jac[e.spp] += e.strength * theta * s.steep[e.p] / p[e.p]
			s.jac[e.spq] -= e.strength * theta / p[e.q]
		}
	}
}

// pumpFloor keeps a pump's volumetric efficiency smoothly above zero.
const pumpFloor = 2e-3

// pumpRates handles compressors: w = p1·Vd·N·η·(1 + c − c·(p2/p1)^¾)⁺·u. Their rooms are isothermal.
func (s *solver) pumpRates(p, rate []float64, elapsed float64, slopes bool) {
	first := len(s.fixed) + len(s.valves) + len(s.warm)
	for k := range s.pumps {
		e := &s.pumps[k]
		v := e.base + e.drift*elapsed + e.g1*p[e.i1] + e.g2*p[e.i2] + e.g3*p[e.i3]
		open, steep := smoothStep(v)
		u, du := e.low+e.span*open, e.span*steep
		pa := p[e.a]
		r := p[e.b] / pa
		root := math.Sqrt(r)
		quarter := math.Sqrt(root) // r^¼
		eta := 1 + e.clearance - e.clearance*root*quarter
		bend := math.Sqrt(eta*eta + pumpFloor*pumpFloor)
		share := (eta + bend) / 2
		speed := e.speed + e.acceleration*elapsed
		f := e.swept * speed * pa * share
		w := u * f
		rate[e.a] -= w
		rate[e.b] += w
		s.flow[first+k] = w
		if !slopes {
			continue
		}
		dShare := -0.75 * e.clearance / quarter * share / bend
		da := u * e.swept * speed * (share - r*dShare)
		db := u * e.swept * speed * dShare
		d1, d2, d3 := f*du*e.g1, f*du*e.g2, f*du*e.g3
		jac := s.jac
		jac[e.saa] += da
		jac[e.sab] += db
		jac[e.sba] -= da
		jac[e.sbb] -= db
		jac[e.sa1] += d1
		jac[e.sb1] -= d1
		jac[e.sa2] += d2
		jac[e.sb2] -= d2
		jac[e.sa3] += d3
		jac[e.sb3] -= d3
		s.slope[first+k] = [5]float64{da, d1, d2, d3, db}
		if change := f*du*e.drift + u*e.swept*e.acceleration*pa*share; change != 0 {
			s.move(first+k, e.a, e.b, change)
		}
	}
}
