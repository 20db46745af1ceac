package airflow

import "math"

// Options of the solver.
type Options struct {
	Relative  float64 // tolerance of a step, as a share of the absolute pressure
	Absolute  float64 // and in Pa
	MaxStep   float64 // s: slow changes of a valve are stepped over by longer ones
	Smoothing float64 // ε of the ellipse
}

// Fine is the default: gauges within 0.03 psi of the exact solution. Coarse is for screening, within 0.1 psi.
var (
	Fine   = Options{Relative: 3e-3, Absolute: 30, MaxStep: 5, Smoothing: defaultSmoothing}
	Coarse = Options{Relative: 8e-3, Absolute: 30, MaxStep: 5, Smoothing: defaultSmoothing}
)

// What an error in a room weighs. That of a small room is gone within a moment, whereas a tank keeps what it is wrong by, and
// all that follows does so with it. And what decides when something acts must be as exact as that, however small its room.
const (
	smallVolume  = 2e-5 // m³: V/(V + smallVolume) of the error counts
	largeVolume  = 5e-3 // m³: times 1 + largeWeight·V/(V + largeVolume)
	largeWeight  = 30
	sensedWeight = 3
)

func small(volume float64) float64 { return volume / (volume + smallVolume) }

func weigh(volume float64) float64 {
	return small(volume) * (1 + largeWeight*volume/(volume+largeVolume))
}

// solver is one run's numbers in the form that the hot loops want, and its work space. All of it is allocated once.
type solver struct {
	pattern *pattern
	narrow  bool // an element needs an entry that the pattern lacks
	n       int
	Options
	eps, top float64
	steepest float64 // slope of f where both pressures are the same, for a ratio of b = 0

	fixed  []fixedFlow
	valves []valveFlow
	warm   []warmFlow
	pumps  []pumpFlow
	walls  []wall
	moved  []piston
	live   []live // where the elements of the lists come from, in order

	sorting [2][]int32 // work space of activate

	inverseVolume, volume, weight []float64 // by unknown

	x, p, capacity      []float64 // state; pressures have one more, the atmosphere's
	xs, ps, cs          []float64 // at a stage
	xn, pn, cn          []float64 // after the step
	rate, rate0, moving []float64 // one more for the bin
	k1, k2, k3, k4      []float64 // x units
	bend0, bend1        []float64 // corrections of the slopes between the ends of a step; see sharpen
	b                   []float64 // right-hand sides and pressure increments; one more, always 0, for the atmosphere
	jac, lu, inverse    []float64
	moves               bool
	theta, cool, steep  []float64 // by pressure unknown, the atmosphere's too: T/T0, √(T0/T), d(ln T)/d(ln p)

	flow, shift []float64    // by live element: flow, and its change with time by itself
	slope       [][5]float64 // and its derivatives, where a tally needs them
	tallies     []tally
	vented      []float64 // integrals of former tallies, by place
	pumped      []float64 // and by pump
	tried       float64   // length of the last step tried
	begun       bool      // rate0 and jac are those of the present state
}

// piston is a room whose volume moves: p(x) in closed form, segment by segment. Where it has an energy equation, the state
// is the energy of its air with what it has done to the wall, x = p·V + (γ−1)·∫p dV, which is of the same form.
type piston struct {
	unknown int32
	x       []float64 // states at the points
	b, k    []float64 // between points i and i+1: x = done + b·p + k·p²; of an isothermal room V = b + k·p
	done    []float64 // from point i on; nothing in an isothermal room
	first   float64   // volume below the first point
	last    float64   // volume above the last
}

// at gives the pressure and the capacity d(x)/dp = V + p·V' for a state.
func (m *piston) at(x float64) (p, capacity float64) {
	n := len(m.x)
	if x <= m.x[0] {
		return x / m.first, m.first
	}
	if x >= m.x[n-1] {
		return (x - m.done[n-1]) / m.last, m.last
	}
	i := 0
	for x >= m.x[i+1] {
		i++
	}
	x -= m.done[i]
	root := math.Sqrt(m.b[i]*m.b[i] + 4*m.k[i]*x)
	if m.b[i] > 0 {
		return 2 * x / (m.b[i] + root), root
	}
	return (root - m.b[i]) / (2 * m.k[i]), root
}

// pressures turns a state into pressures and capacities; false if a room holds less than nothing.
func (s *solver) pressures(x, p, capacity []float64) bool {
	ok := true
	inverse := s.inverseVolume[:len(x)]
	p = p[:len(x)]
	for i, v := range x {
		v *= inverse[i]
		p[i] = v
		ok = ok && v > 0
	}
	if !ok {
		return false
	}
	for i := range s.moved {
		m := &s.moved[i]
		p[m.unknown], capacity[m.unknown] = m.at(x[m.unknown])
	}
	return true
}

// begin works out the rates and their slopes at the present state; after it step may try several lengths.
func (s *solver) begin(elapsed float64) {
	if s.moves {
		for i := range s.shift {
			s.shift[i] = 0
		}
	}
	s.moves = false
	s.rates(s.p, s.rate0, elapsed, true)
	for i := range s.tallies {
		t := &s.tallies[i]
		t.first = s.flow[t.live]
		t.quiet = t.first == 0 && s.slope[t.live] == [5]float64{} && s.shift[t.live] == 0
	}
}

// step tries to go h further from the present state by RODAS3 (Sandu et al., Atmospheric Environment 31 (1997) 3459), a
// linearly implicit method of order 3 with 4 stages, here in the form that needs no product with J:
//
//	(cap/(h/2) − J_p)·k_i = F(stage i) + Σ c_ij·K_j/h + h·g_i·∂F/∂t,   K = cap·k
//	stage 1: F0, g = ½      stage 2: F0 + 4·K1/h, g = 3/2
//	stage 3: at x + 2·K1, t + h: F + (K1 − K2)/h
//	stage 4: at x + 2·K1 + K3, t + h: F + (K1 − K2 − 8/3·K3)/h
//	x' = x + 2·K1 + K3 + K4, error (in pressure) = k4
//
// It leaves the new state in xn, pn, cn, and returns the error over its tolerance, and in which unknown it is largest. A
// negative error means that the step can't be taken.
func (s *solver) step(h, elapsed float64) (err float64, worst int) {
	n := s.n
	s.tried = h
	half := 2 / h
	lu := s.lu[:len(s.jac)]
	copy(lu, s.jac)
	for i := range n {
		lu[i] += s.capacity[i] * half
	}
	if !s.pattern.factor(lu, s.inverse) {
		return -1, 0
	}
	perH := 1 / h
	b, f0, capacity := s.b[:n], s.rate0[:n], s.capacity[:n]
	k1, k2, k3, k4 := s.k1[:n], s.k2[:n], s.k3[:n], s.k4[:n]
	xs, x := s.xs[:n], s.x[:n]

	copy(b, f0)
	s.addMoving(b, 0.5*h)
	s.pattern.solve(lu, s.inverse, b)
	s.tally(0, h)
	for i, v := range b {
		k1[i] = capacity[i] * v
		b[i] = f0[i] + 4*perH*k1[i]
		xs[i] = x[i] + 2*k1[i]
	}
	s.addMoving(b, 1.5*h)
	s.pattern.solve(lu, s.inverse, b)
	s.tally(1, h)
	if !s.pressures(xs, s.ps, s.cs) {
		return -1, 0
	}
	s.rates(s.ps, s.rate, elapsed+h, false)
	rate := s.rate[:n]
	for i, v := range b {
		k2[i] = capacity[i] * v
		b[i] = rate[i] + perH*(k1[i]-k2[i])
	}
	s.pattern.solve(lu, s.inverse, b)
	s.tally(2, h)
	for i, v := range b {
		k3[i] = capacity[i] * v
		xs[i] += k3[i]
	}
	if !s.pressures(xs, s.ps, s.cs) {
		return -1, 0
	}
	s.rates(s.ps, s.rate, elapsed+h, false)
	for i := range b {
		b[i] = rate[i] + perH*(k1[i]-k2[i]-8.0/3*k3[i])
	}
	s.pattern.solve(lu, s.inverse, b)
	s.tally(3, h)
	xn, weight, p := s.xn[:n], s.weight[:n], s.p[:n]
	most, allowed := 0.0, 1.0 // the error over its tolerance is largest where most/allowed is
	for i, v := range b {
		k4[i] = capacity[i] * v
		xn[i] = xs[i] + k4[i]
		e, may := math.Abs(v)*weight[i], s.Absolute+s.Relative*p[i]
		if !(e*allowed <= most*may) {
			if e != e {
				return -1, i
			}
			most, allowed, worst = e, may, i
		}
	}
	err = most / allowed
	if !s.pressures(xn, s.pn, s.cn) {
		return -1, worst
	}
	return err, worst
}

func (s *solver) addMoving(b []float64, factor float64) {
	if !s.moves {
		return
	}
	for i := range b {
		b[i] += factor * s.moving[i]
	}
}

// accept makes the tried step the present state.
func (s *solver) accept() {
	s.x, s.xn = s.xn, s.x
	s.p, s.pn = s.pn, s.p
	s.capacity, s.cn = s.cn, s.capacity
	for i := range s.tallies {
		s.tallies[i].sum = s.tallies[i].next
	}
}
