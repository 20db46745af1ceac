package airflow

import "math"

// A Trail is what a run went through: its state now and at the end of each step that follows. It serves to tell where another
// vehicle would have gone the same way: see Difference.
type Trail struct {
	moments []moment
}

// moment is a run's state at one time.
type moment struct {
	after    float64   // s since the moment before
	p        []float64 // by unknown, the atmosphere's last
	controls []float64 // where they are
	aims     []float64 // and where they go
	latches  []bool
}

// Follow takes down in t what the run goes through from now on; nil ends it. The trail before it ends with the present state,
// in which a latch may just have changed.
func (r *Run) Follow(t *Trail) {
	if r.trail != nil {
		r.trail.note(r, 0)
	}
	r.trail = t
	if t != nil {
		t.note(r, 0)
	}
}

func (t *Trail) note(r *Run, after float64) {
	n, k := len(r.s.p), len(r.ramps)
	slab := make([]float64, n+2*k)
	copy(slab, r.s.p)
	m := moment{after: after, p: slab[:n:n], controls: slab[n : n+k : n+k], aims: slab[n+k:], latches: append([]bool(nil), r.latches...)}
	for i := range r.ramps {
		m.controls[i], m.aims[i] = r.ramps[i].at(r.t), r.ramps[i].to
	}
	t.moments = append(t.moments, m)
}

// open is an opening at a moment.
func (m *moment) open(n *Network, o *opening) float64 {
	if o.constant() {
		return o.value(0)
	}
	sum := 0.0
	for _, t := range o.terms {
		switch t.kind {
		case roomTerm:
			sum += t.gain * m.p[n.at(t.index)]
		case controlTerm:
			sum += t.gain * m.controls[t.index]
		case latchTerm:
			if m.latches[t.index] {
				sum += t.gain
			}
		}
	}
	return o.value(sum)
}

// flow through an element at a moment, in the rate of x, and how far its ends' pressures lie apart, Pa.
func (m *moment) flow(n *Network, e *element) (w, apart float64) {
	pa, pb := m.p[n.at(e.from)], m.p[n.at(e.to)]
	apart = math.Abs(pa - pb)
	if e.c <= 0 || e.closed > 0 {
		return 0, apart
	}
	u := m.open(n, &e.opening) * e.c * perConductance
	switch {
	case u == 0:
		return 0, apart
	case pa >= pb:
		return u * e.forth * passed(pa, pb, e.crit) * m.cool(n, e.from, pa), apart
	}
	return -u * e.back * passed(pb, pa, e.crit) * m.cool(n, e.to, pb), apart
}

// drop is how far the pressures at an element's ends would have to lie apart for a flow that is not zero to pass it, all else at the
// upstream end being as it is; infinite where it can't.
func (m *moment) drop(n *Network, e *element, flow float64) float64 {
	up, share := e.from, e.forth
	if flow < 0 {
		up, share = e.to, e.back
	}
	p := m.p[n.at(up)]
	g := math.Abs(flow) / (m.open(n, &e.opening) * e.c * perConductance * share * p * m.cool(n, up, p))
	if !(g < 1) {
		return math.Inf(1)
	}
	g *= g
	y := (g + math.Sqrt(g*(g+4*(1+defaultSmoothing)*defaultSmoothing))) / (2 * (1 + defaultSmoothing))
	return (1 - math.Sqrt(1-y)) * (1 - e.crit) * p
}

// passed is p1·φ(p2/p1) of the solver's flow law at the default smoothing.
func passed(p1, p2, crit float64) float64 {
	x := min((1-p2/p1)/(1-crit), 1)
	y := x * (2 - x)
	return p1 * math.Sqrt(1+defaultSmoothing) * y / math.Sqrt(y+defaultSmoothing)
}

// cool is √(T0/T) of the room that air comes from.
func (m *moment) cool(n *Network, room int32, pressure float64) float64 {
	if !n.warm(room) {
		return 1
	}
	swell, _ := n.plan.rooms[room].swell(pressure)
	return math.Sqrt(m.p[n.warmth[room]] / (pressure * swell))
}

// pumped is what a pump delivers at a moment, in the rate of x.
func (m *moment) pumped(n *Network, p *pump) float64 {
	pa := m.p[n.at(p.from)]
	eta := 1 + p.clearance - p.clearance*math.Pow(m.p[n.at(p.to)]/pa, 0.75)
	return m.open(n, &p.opening) * p.displacement * p.ratio * p.efficiency * m.controls[p.speed] * pa * (eta + math.Sqrt(eta*eta+pumpFloor*pumpFloor)) / 2
}
