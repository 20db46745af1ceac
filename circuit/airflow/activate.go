package airflow

// newSolver makes the work space of a run.
func newSolver(n *Network, o Options) *solver {
	size := n.pattern.n
	s := &solver{pattern: n.pattern, n: size, Options: o}
	slab := make([]float64, 27*(size+1))
	take := func(length int) []float64 {
		v := slab[:length:length]
		slab = slab[size+1:]
		return v
	}
	for _, v := range []*[]float64{
		&s.inverseVolume, &s.volume, &s.weight, &s.x, &s.capacity, &s.xs, &s.cs, &s.xn, &s.cn, &s.k1, &s.k2, &s.k3, &s.k4, &s.bend0, &s.bend1, &s.inverse,
	} {
		*v = take(size)
	}
	for _, v := range []*[]float64{&s.p, &s.ps, &s.pn, &s.rate, &s.rate0, &s.moving, &s.b, &s.theta, &s.cool, &s.steep} {
		*v = take(size + 1)
	}
	s.p[size], s.ps[size], s.pn[size] = atmosphere, atmosphere, atmosphere
	s.vented, s.pumped = make([]float64, len(n.plan.places)), make([]float64, len(n.plan.pumps))
	most := max(n.pattern.slots, n.wide.slots) + 1
	s.jac, s.lu = make([]float64, most), make([]float64, most)
	return s
}

// live says where an element of the plan is in the solver's lists.
type live struct {
	element int32 // of the plan, or -1
	pump    int32 // of the plan, or -1
}

// activate sorts a plan's elements into the solver's lists. Elements that can't pass any air in this run are left out, so
// that the many dormant ones cost nothing.
func (s *solver) activate(n *Network, p *plan) {
	s.flush()
	s.sort(n, p, n.pattern)
	if s.narrow { // a fault joins rooms that are apart in a vehicle in good order
		s.sort(n, p, n.wide)
	}
	s.listen(p)
	s.begun = false
}

// sort fills the lists, with the slots of one pattern.
func (s *solver) sort(n *Network, p *plan, in *pattern) {
	s.pattern, s.narrow = in, false
	s.jac, s.lu = s.jac[:in.slots+1], s.lu[:in.slots+1]
	s.rooms(n, p)
	s.heed(n, p)
	s.fixed, s.valves, s.warm, s.pumps, s.tallies, s.live = s.fixed[:0], s.valves[:0], s.warm[:0], s.pumps[:0], s.tallies[:0], s.live[:0]
	valves, warm := s.sorting[0][:0], s.sorting[1][:0]
	for i := range p.elements {
		e := &p.elements[i]
		if !e.passes() {
			continue
		}
		switch {
		case n.warm(e.from) || n.warm(e.to):
			warm = append(warm, int32(i))
		case e.opening.constant():
			s.fixed = append(s.fixed, s.fixedOf(n, e))
			s.live = append(s.live, live{int32(i), -1})
		default:
			valves = append(valves, int32(i))
		}
	}
	for _, i := range valves {
		s.valves = append(s.valves, s.valveOf(n, &p.elements[i], i))
		s.live = append(s.live, live{i, -1})
	}
	for _, i := range warm {
		s.warm = append(s.warm, s.warmOf(n, &p.elements[i], i))
		s.live = append(s.live, live{i, -1})
	}
	for i := range p.pumps {
		s.pumps = append(s.pumps, s.pumpOf(n, &p.pumps[i], int32(i)))
		s.live = append(s.live, live{-1, int32(i)})
	}
	s.sorting = [2][]int32{valves, warm}
	s.flow, s.shift = grow(s.flow, len(s.live)), grow(s.shift, len(s.live))
	s.slope = grow(s.slope, len(s.live))
	for i := range s.slope {
		s.slope[i] = [5]float64{}
	}
}

// flush takes the tallies' integrals over, since activate makes new tallies.
func (s *solver) flush() {
	for i := range s.tallies {
		t := &s.tallies[i]
		*s.account(t) += t.sum
		t.sum = 0
	}
}

func (s *solver) account(t *tally) *float64 {
	if t.pump >= 0 {
		return &s.pumped[t.pump]
	}
	return &s.vented[t.place]
}

func grow[T any](v []T, n int) []T {
	if cap(v) < n {
		return make([]T, n)
	}
	return v[:n]
}

func (e *element) passes() bool {
	if e.c <= 0 || e.closed > 0 || e.from == e.to || (e.forth <= 0 && e.back <= 0) {
		return false
	}
	return !e.opening.constant() || e.opening.value(0) > 0
}

func (o *opening) constant() bool { return len(o.terms) == 0 || o.low == o.high }

// value of the opening, given the sum of its terms.
func (o *opening) value(terms float64) float64 {
	u, _ := smoothStep(o.base + terms)
	return o.low + (o.high-o.low)*u
}

func (n *Network) warm(room int32) bool { return room >= 0 && n.warmth[room] >= 0 }

// at is the pressure unknown of a room; the atmosphere is the one after the last.
func (n *Network) at(room int32) int32 {
	if room < 0 {
		return int32(n.pattern.n)
	}
	return n.unknown[room]
}

func (s *solver) slotAt(row, col int32) int32 {
	if row >= int32(s.n) || col >= int32(s.n) {
		return int32(s.pattern.slots)
	}
	slot := s.pattern.find(row, col)
	s.narrow = s.narrow || slot == int32(s.pattern.slots)
	return slot
}

// turned gives an element's ends so that the atmosphere, if it is one of them, comes second.
func (e *element) turned() (a, b int32, forth, back float64) {
	c := e.c * perConductance
	if e.from < 0 {
		return e.to, e.from, c * e.back, c * e.forth
	}
	return e.from, e.to, c * e.forth, c * e.back
}

func (s *solver) fixedOf(n *Network, e *element) fixedFlow {
	from, to, forth, back := e.turned()
	a, b := n.at(from), n.at(to)
	u := 1.0
	if e.opening.constant() {
		u = e.opening.value(0)
	}
	return fixedFlow{
		a: a, b: b, saa: s.slotAt(a, a), sab: s.slotAt(a, b), sba: s.slotAt(b, a), sbb: s.slotAt(b, b),
		forth: forth * u, back: back * u, slope: 1 / (1 - e.crit), heard: to < 0,
	}
}

func (s *solver) valveOf(n *Network, e *element, number int32) valveFlow {
	v := valveFlow{fixedFlow: s.fixedOf(n, e), element: number}
	if e.opening.constant() { // as a warm flow may be
		v.low, v.span = 1, 0
	} else {
		v.low, v.span = e.opening.low, e.opening.high-e.opening.low
	}
	index, gain := s.influences(n, &e.opening)
	v.i1, v.i2, v.i3 = index[0], index[1], index[2]
	v.g1, v.g2, v.g3 = gain[0], gain[1], gain[2]
	v.sa1, v.sb1 = s.slotAt(v.a, v.i1), s.slotAt(v.b, v.i1)
	v.sa2, v.sb2 = s.slotAt(v.a, v.i2), s.slotAt(v.b, v.i2)
	v.sa3, v.sb3 = s.slotAt(v.a, v.i3), s.slotAt(v.b, v.i3)
	return v
}

// influences of rooms on an opening: at most mostInfluences, which builders see to.
func (s *solver) influences(n *Network, o *opening) (index [mostInfluences]int32, gain [mostInfluences]float64) {
	for i := range index {
		index[i] = int32(s.n)
	}
	if o.constant() {
		return index, gain
	}
	k := 0
	for _, t := range o.terms {
		if t.kind == roomTerm {
			index[k], gain[k] = n.at(t.index), t.gain
			k++
		}
	}
	return index, gain
}

const mostInfluences = 3

func (s *solver) warmOf(n *Network, e *element, number int32) warmFlow {
	w := warmFlow{valveFlow: s.valveOf(n, e, number)}
	from, to, _, _ := e.turned()
	bin := int32(s.n)
	end := func(room, unknown int32) (mass, energy, q int32, warm bool) {
		if n.warm(room) {
			return n.warmth[room], unknown, n.warmth[room], true
		}
		return unknown, bin, bin, false
	}
	w.ma, w.ea, w.qa, w.warmA = end(from, w.a)
	w.mb, w.eb, w.qb, w.warmB = end(to, w.b)
	for i, row := range []int32{w.ma, w.ea, w.mb, w.eb} {
		for j, col := range []int32{w.a, w.qa, w.b, w.qb, w.i1, w.i2, w.i3} {
			w.s[i][j] = s.slotAt(row, col)
		}
	}
	return w
}

func (s *solver) pumpOf(n *Network, p *pump, number int32) pumpFlow {
	f := pumpFlow{a: n.at(p.from), b: n.at(p.to), clearance: p.clearance, pump: number, low: p.opening.low, span: p.opening.high - p.opening.low}
	f.swept = p.displacement * p.ratio * p.efficiency
	f.saa, f.sab, f.sba, f.sbb = s.slotAt(f.a, f.a), s.slotAt(f.a, f.b), s.slotAt(f.b, f.a), s.slotAt(f.b, f.b)
	index, gain := s.influences(n, &p.opening)
	f.i1, f.i2, f.i3 = index[0], index[1], index[2]
	f.g1, f.g2, f.g3 = gain[0], gain[1], gain[2]
	f.sa1, f.sb1 = s.slotAt(f.a, f.i1), s.slotAt(f.b, f.i1)
	f.sa2, f.sb2 = s.slotAt(f.a, f.i2), s.slotAt(f.b, f.i2)
	f.sa3, f.sb3 = s.slotAt(f.a, f.i3), s.slotAt(f.b, f.i3)
	return f
}

// listen sets up the tallies: one for each live element that leads outside, one for each pump.
func (s *solver) listen(p *plan) {
	bin := int32(s.n)
	for k, l := range s.live {
		switch {
		case l.pump >= 0:
			f := &s.pumps[k-len(s.fixed)-len(s.valves)-len(s.warm)]
			s.tallies = append(s.tallies, tally{live: int32(k), place: -1, pump: l.pump, index: [5]int32{f.a, f.i1, f.i2, f.i3, f.b}})
		case k < len(s.fixed):
			if f := &s.fixed[k]; f.heard {
				s.tallies = append(s.tallies, tally{live: int32(k), pump: -1, place: p.elements[l.element].place, index: [5]int32{f.a, bin, bin, bin, bin}})
			}
		case k < len(s.fixed)+len(s.valves):
			if f := &s.valves[k-len(s.fixed)]; f.heard {
				s.tallies = append(s.tallies, tally{live: int32(k), pump: -1, place: p.elements[l.element].place, index: [5]int32{f.a, f.i1, f.i2, f.i3, bin}})
			}
		default:
			if f := &s.warm[k-len(s.fixed)-len(s.valves)]; f.heard {
				s.tallies = append(s.tallies, tally{live: int32(k), pump: -1, place: p.elements[l.element].place, index: [5]int32{f.a, f.i1, f.i2, f.i3, f.qa}})
			}
		}
	}
}

// rooms takes volumes, pistons and walls from the plan.
func (s *solver) rooms(n *Network, p *plan) {
	s.moved, s.walls = s.moved[:0], s.walls[:0]
	for i := range s.theta {
		s.theta[i], s.cool[i], s.steep[i] = 1, 1, 1
	}
	for i := range p.rooms {
		r := &p.rooms[i]
		u, q := n.unknown[i], n.warmth[i]
		v := r.volume
		if len(r.piston.Gauge) > 0 {
			v += r.piston.Volume[0]
			if k := len(s.moved); k < cap(s.moved) {
				s.moved = s.moved[:k+1] // with the memory of the one before
			} else {
				s.moved = append(s.moved, piston{})
			}
			s.moved[len(s.moved)-1].set(u, r)
		}
		s.volume[u], s.inverseVolume[u], s.weight[u] = v, 1/v, weigh(v)
		s.capacity[u], s.cs[u], s.cn[u] = v, v, v
		if q >= 0 {
			s.volume[q], s.inverseVolume[q], s.weight[q] = v, 1/v, weigh(v)
			s.capacity[q], s.cs[q], s.cn[q] = v, v, v
			s.walls = append(s.walls, wall{
				p: u, q: q, spp: s.slotAt(u, u), spq: s.slotAt(u, q),
				strength: (HeatRatio - 1) * r.heat * ReferenceK, ambient: ambientTemperature / ReferenceK,
			})
			if len(r.piston.Gauge) > 0 {
				s.walls[len(s.walls)-1].moves = r
			}
		}
	}
}

// heed gives weight to the rooms that decide when a latch or a control acts on the air.
func (s *solver) heed(n *Network, p *plan) {
	heed := func(room int32) {
		if u := n.at(room); int(u) < s.n {
			s.weight[u] = max(s.weight[u], sensedWeight)
		}
	}
	for i := range p.latches {
		if l := &p.latches[i]; n.acts[i] && !l.held {
			heed(l.room)
			heed(l.aide)
		}
	}
	for i := range p.trips {
		heed(p.trips[i].room)
	}
}

// set takes a room's moving wall.
func (m *piston) set(unknown int32, r *room) {
	m.unknown, m.x, m.b, m.k, m.done = unknown, m.x[:0], m.b[:0], m.k[:0], m.done[:0]
	g, v := r.piston.Gauge, r.piston.Volume
	share, work := 0.0, 0.0
	if r.thermal {
		share = HeatRatio - 1
	}
	for i := range g {
		p := atmosphere + g[i]
		m.x = append(m.x, p*(r.volume+v[i])+share*work)
		if i+1 == len(g) {
			m.done = append(m.done, share*work)
			break
		}
		k := (v[i+1] - v[i]) / (g[i+1] - g[i])
		m.k = append(m.k, k*(1+share/2))
		m.b = append(m.b, r.volume+v[i]-k*p)
		m.done = append(m.done, share*(work-k*p*p/2))
		next := atmosphere + g[i+1]
		work += k * (next*next - p*p) / 2
	}
	m.first, m.last = r.volume+v[0], r.volume+v[len(v)-1]
}
