package airflow

import "sort"

// A Glance is everything that can be seen of a run at one moment, in flat lists: for who looks at all of it many times a
// second, such as a window. The lists are in the order of the Network's lists that are named beside them.
type Glance struct {
	Time     float64   // s
	Pressure []float64 // Rooms, Pa absolute
	Open     []float64 // Passages: the largest share among its elements, see Run.PassageOpen
	Flow     []float64 // Passages: kg/s in the normal direction, see Run.PassageFlow
	Vent     []float64 // Vents: kg/s to the atmosphere, negative where air is drawn in
	Control  []float64 // Controls
	Tripped  []bool    // Controls: sprung back by itself since it was last set
	Latch    []bool    // Latches
	Needle   []float64 // Gauges, Pa absolute
	Lit      []bool    // Sinks
	Contact  []bool    // Contacts: closed
	Stroke   []float64 // Rods, m
	Turns    []float64 // Pumps, rev/s

	network *Network
	vent    []int32 // by place: its position among the sorted vents
	healthy []float64
}

// Passages lists every passage as "component/passage", those of components in file order, then the lines as "line/bore".
func (n *Network) Passages() []string {
	names := make([]string, len(n.plan.passages))
	for i := range names {
		names[i] = n.plan.passages[i].id
	}
	return names
}

// Rods lists the components that have a push-rod, each once, in file order.
func (n *Network) Rods() []string {
	var names []string
	n.plan.eachRodOwner(func(owner int32) { names = append(names, n.plan.owners[owner]) })
	return names
}

func (p *plan) eachRodOwner(f func(owner int32)) {
	for i := range p.rods {
		first := true
		for k := range i {
			first = first && p.rods[k].owner != p.rods[i].owner
		}
		if first {
			f(p.rods[i].owner)
		}
	}
}

// Contacts lists the components with an electrical contact: switches.
func (n *Network) Contacts() []string {
	names := make([]string, len(n.plan.contacts))
	for i := range names {
		names[i] = n.plan.owners[n.plan.contacts[i].owner]
	}
	return names
}

// Pumps lists the components that pump.
func (n *Network) Pumps() []string {
	names := make([]string, len(n.plan.pumps))
	for i := range names {
		names[i] = n.plan.owners[n.plan.pumps[i].owner]
	}
	return names
}

// Glance takes down what can be seen of the run now, into memory that is used again. It gives what Pressure, PassageOpen,
// PassageFlow, VentFlow, Get, Latch, Gauge, Lit, Stroke and Turns give, in one pass.
func (r *Run) Glance(g *Glance) {
	r.ready()
	g.attach(r.network)
	g.Time = r.t
	for i, u := range r.network.unknown {
		g.Pressure[i] = r.s.p[u]
	}
	r.glanceAtPassages(g)
	key := false
	for i := range r.plan.controls {
		g.Control[i], g.Tripped[i] = r.ramps[i].at(r.t), r.tripped[i]
		if r.plan.controls[i].name == Key {
			key = g.Control[i] >= 0.5
		}
	}
	copy(g.Latch, r.latches)
	for i := range r.plan.gauges {
		m := &r.plan.gauges[i]
		g.Needle[i] = m.shows(m.follow(r.needles[i], r.s.p[r.network.at(m.room)]))
	}
	for i := range r.plan.contacts {
		c := &r.plan.contacts[i]
		g.Contact[i] = r.latches[c.latch] == c.when
		if c.held {
			g.Contact[i] = c.hold
		}
	}
	for i := range r.plan.sinks {
		g.Lit[i] = r.plan.lit(r.plan.sinks[i].owner, key, r.latches)
	}
	k := 0
	r.plan.eachRodOwner(func(owner int32) {
		out := 0.0
		for i := range r.plan.rods {
			if d := &r.plan.rods[i]; d.owner == owner {
				out = max(out, d.at(r.s.p[r.network.at(d.room)]-atmosphere))
			}
		}
		g.Stroke[k] = out
		k++
	})
	for i := range r.plan.pumps {
		p := &r.plan.pumps[i]
		g.Turns[i] = r.ramps[p.speed].at(r.t) * p.ratio
	}
}

// attach sizes the lists for a network.
func (g *Glance) attach(n *Network) {
	if g.network == n {
		return
	}
	p := n.plan
	floats := func(count int) []float64 { return make([]float64, count) }
	*g = Glance{
		network: n, Pressure: floats(len(p.rooms)), Open: floats(len(p.passages)), Flow: floats(len(p.passages)), Vent: floats(len(p.places)),
		Control: floats(len(p.controls)), Tripped: make([]bool, len(p.controls)), Latch: make([]bool, len(p.latches)),
		Needle: floats(len(p.gauges)), Lit: make([]bool, len(p.sinks)), Contact: make([]bool, len(p.contacts)), Stroke: floats(len(n.Rods())), Turns: floats(len(p.pumps)),
		vent: make([]int32, len(p.places)), healthy: floats(len(p.passages)),
	}
	for i, name := range p.places {
		g.vent[i] = int32(sort.SearchStrings(n.vents, name))
	}
	for i := range p.passages {
		for _, k := range p.passages[i].elements {
			g.healthy[i] = max(g.healthy[i], p.elements[k].c)
		}
	}
}

func (r *Run) glanceAtPassages(g *Glance) {
	clear(g.Open)
	clear(g.Flow)
	clear(g.Vent)
	s, elapsed := r.s, r.t-r.segment
	for k, l := range s.live {
		if l.pump >= 0 {
			i := r.plan.pumps[l.pump].passage
			g.Flow[i] += s.single(k, s.p, elapsed) / perKilogram
			g.Open[i] = max(g.Open[i], s.opening(k, s.p, elapsed))
			continue
		}
		e := &r.plan.elements[l.element]
		if e.passage < 0 {
			continue
		}
		a, _, _, _ := e.turned()
		sign := 1.0
		if a != r.plan.forward(e.passage) {
			sign = -1
		}
		g.Flow[e.passage] += sign * s.single(k, s.p, elapsed) / perKilogram
		share := max(e.forth, e.back)
		if e.opening.constant() {
			share *= e.opening.value(0)
		} else {
			share *= s.opening(k, s.p, elapsed)
		}
		if h := g.healthy[e.passage]; h > 0 {
			share *= e.c / h
		}
		g.Open[e.passage] = max(g.Open[e.passage], min(share, 1))
	}
	for i := range s.tallies {
		if t := &s.tallies[i]; t.pump < 0 {
			g.Vent[g.vent[t.place]] += s.single(int(t.live), s.p, elapsed) / perKilogram
		}
	}
}

// Clone is a copy of its own, that later glances leave alone.
func (g *Glance) Clone() *Glance {
	c := *g
	n := len(g.Pressure) + 2*len(g.Open) + len(g.Vent) + len(g.Control) + len(g.Needle) + len(g.Stroke) + len(g.Turns)
	floats := make([]float64, 0, n)
	take := func(from []float64) []float64 {
		at := len(floats)
		floats = append(floats, from...)
		return floats[at:len(floats):len(floats)]
	}
	c.Pressure, c.Open, c.Flow, c.Vent = take(g.Pressure), take(g.Open), take(g.Flow), take(g.Vent)
	c.Control, c.Needle, c.Stroke, c.Turns = take(g.Control), take(g.Needle), take(g.Stroke), take(g.Turns)
	c.Tripped, c.Latch = append([]bool(nil), g.Tripped...), append([]bool(nil), g.Latch...)
	c.Lit, c.Contact = append([]bool(nil), g.Lit...), append([]bool(nil), g.Contact...)
	return &c
}
