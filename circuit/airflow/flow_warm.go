package airflow

import "math"

// warmRates handles elements that touch a room with an energy equation. There the pressure unknown is E/V and the warmth
// unknown q = x/V, so that T/T0 = p/q; air leaving takes the enthalpy γ·w·T/T0 with it, air coming in brings its own.
func (s *solver) warmRates(p, rate []float64, elapsed float64, slopes bool) {
	first := len(s.fixed) + len(s.valves)
	for k := range s.warm {
		e := &s.warm[k]
		v := e.base + e.drift*elapsed + e.g1*p[e.i1] + e.g2*p[e.i2] + e.g3*p[e.i3]
		open, steep := smoothStep(v)
		u, du := e.low+e.span*open, e.span*steep
		if u == 0 && du == 0 {
			s.flow[first+k] = 0
			if slopes {
				s.slope[first+k] = [5]float64{}
			}
			continue
		}
		pa, pb := p[e.a], p[e.b]
		var f, fa, fb, theta, pu, qu float64 // u: of the room that the air comes from
		warm, fromA := false, pa >= pb
		if fromA {
			r := pb / pa
			phi, d := ellipse(r, e.slope, s.eps, s.top)
			f, fa, fb = e.forth*pa*phi, e.forth*(phi-r*d), e.forth*d
			warm, pu, qu = e.warmA, pa, p[e.qa]
		} else {
			r := pa / pb
			phi, d := ellipse(r, e.slope, s.eps, s.top)
			f, fa, fb = -e.back*pb*phi, -e.back*d, -e.back*(phi-r*d)
			warm, pu, qu = e.warmB, pb, p[e.qb]
		}
		theta = 1
		root := 1.0 // √(T0/T1)
		if warm {
			theta = pu / qu
			root = math.Sqrt(qu / pu)
		}
		w := u * f * root
		heat := HeatRatio * theta * w
		rate[e.ma] -= w
		rate[e.mb] += w
		rate[e.ea] -= heat
		rate[e.eb] += heat
		s.flow[first+k] = w
		if !slopes {
			continue
		}
		da, db := u*fa*root, u*fb*root
		fu := f * du * root
		d := [7]float64{da, 0, db, 0, fu * e.g1, fu * e.g2, fu * e.g3}
		h := [7]float64{}
		if warm {
			byP, byQ := -w/(2*pu), w/(2*qu)
			thP, thQ := 1/qu, -theta/qu
			if fromA {
				d[0] += byP
				d[1] = byQ
				h[0], h[1] = w*thP, w*thQ
			} else {
				d[2] += byP
				d[3] = byQ
				h[2], h[3] = w*thP, w*thQ
			}
		}
		jac := s.jac
		for c := range d {
			if d[c] == 0 && h[c] == 0 {
				continue
			}
			m, t := d[c], HeatRatio*(theta*d[c]+h[c])
			jac[e.s[0][c]] += m
			jac[e.s[1][c]] += t
			jac[e.s[2][c]] -= m
			jac[e.s[3][c]] -= t
		}
		s.slope[first+k] = [5]float64{d[0], d[4], d[5], d[6], d[1]}
		if e.drift != 0 && du != 0 {
			change := fu * e.drift
			s.move(first+k, e.ma, e.mb, change)
			s.moving[e.ea] -= HeatRatio * theta * change
			s.moving[e.eb] += HeatRatio * theta * change
		}
	}
}

// wall is the heat exchange of one thermal room with its wall.
type wall struct {
	p, q     int32
	spp, spq int32
	strength float64 // (γ−1)·hA·T0
	ambient  float64 // wall temperature over T0
}

// wallRates adds (γ−1)·hA·(Tw − T) to the energy of each thermal room.
func (s *solver) wallRates(p, rate []float64, slopes bool) {
	for k := range s.walls {
		e := &s.walls[k]
		theta := p[e.p] / p[e.q]
		rate[e.p] += e.strength * (e.ambient - theta)
		if slopes {
			s.jac[e.spp] += e.strength / p[e.q]
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
