package airflow

import (
	"math"

	"airpath/circuit"
)

// Pressure of a room, Pa absolute; of the atmosphere too. NaN for a name that there is not: see Network.HasRoom.
func (r *Run) Pressure(room string) float64 {
	if room == circuit.Atmosphere {
		return atmosphere
	}
	i, ok := r.plan.roomIndex[room]
	if !ok {
		return math.NaN()
	}
	return r.s.p[r.network.unknown[i]]
}

// Temperature of a room's air, K.
func (r *Run) Temperature(room string) float64 {
	i, ok := r.plan.roomIndex[room]
	if !ok {
		return math.NaN()
	}
	if q := r.network.warmth[i]; q >= 0 {
		p := r.s.p[r.network.unknown[i]]
		swell, _ := r.plan.rooms[i].swell(p)
		return ReferenceK * p * swell / r.s.p[q]
	}
	return ReferenceK
}

// Volume of a room now, m³.
func (r *Run) Volume(room string) float64 {
	i, ok := r.plan.roomIndex[room]
	if !ok {
		return math.NaN()
	}
	m := &r.plan.rooms[i]
	return m.volume + m.piston.volume(r.s.p[r.network.unknown[i]]-atmosphere)
}

// follow moves a needle: it stays while the pressure is within its dead band.
func (g *gauge) follow(needle, pressure float64) float64 {
	return min(max(needle, pressure-g.band), pressure+g.band)
}

func (g *gauge) shows(needle float64) float64 { return min(max(needle+g.offset, atmosphere), g.full) }

// Gauge is what a component's needle shows, Pa absolute; NaN for a component that shows none.
func (r *Run) Gauge(component string) float64 {
	owner, ok := r.plan.ownerIndex[component]
	for i := range r.plan.gauges {
		if g := &r.plan.gauges[i]; ok && g.owner == owner {
			return g.shows(g.follow(r.needles[i], r.s.p[r.network.at(g.room)]))
		}
	}
	return math.NaN()
}

// Latch says whether "component.latch" is up; false for a name that there is not.
func (r *Run) Latch(name string) bool {
	i, ok := r.plan.latchIndex[name]
	return ok && r.latches[i]
}

// Lit says whether a lamp is lit or a buzzer sounds.
func (r *Run) Lit(component string) bool {
	owner, ok := r.plan.ownerIndex[component]
	return ok && r.lit(owner)
}

func (r *Run) lit(owner int32) bool {
	key := r.ramps[r.plan.controlIndex[Key]].at(r.t) >= 0.5
	return r.plan.lit(owner, key, r.latches)
}

// Tripped says whether a control has sprung back by itself since it was last set.
func (r *Run) Tripped(control string) bool {
	i, ok := r.plan.controlIndex[control]
	return ok && r.tripped[i]
}

// Stroke of a component's push-rod, m: as far as the furthest of what pushes it. NaN for a component without one.
func (r *Run) Stroke(component string) float64 {
	owner, ok := r.plan.ownerIndex[component]
	out := math.NaN()
	for i := range r.plan.rods {
		if d := &r.plan.rods[i]; ok && d.owner == owner {
			if v := d.at(r.s.p[r.network.at(d.room)] - atmosphere); !(out > v) {
				out = v
			}
		}
	}
	return out
}

// VentFlow is what goes to the atmosphere at a place now, kg/s; negative where air is drawn in.
func (r *Run) VentFlow(place string) float64 {
	i, ok := r.plan.placeIndex[place]
	if !ok {
		return math.NaN()
	}
	r.ready()
	return r.s.ventFlow(i, r.s.p, r.t-r.segment) / perKilogram
}

// PassageFlow is what passes through a passage now in its normal direction, kg/s; lines are "line/bore".
func (r *Run) PassageFlow(id string) float64 {
	i, ok := r.plan.passageIndex[id]
	if !ok {
		return math.NaN()
	}
	r.ready()
	w := 0.0
	forward := r.plan.forward(i)
	for k, l := range r.s.live {
		if l.pump >= 0 {
			if r.plan.pumps[l.pump].passage == i {
				w += r.s.single(k, r.s.p, r.t-r.segment)
			}
			continue
		}
		if e := &r.plan.elements[l.element]; e.passage == i && e.piece == 0 {
			sign := 1.0
			if a, _, _, _ := e.turned(); a != forward {
				sign = -1
			}
			w += sign * r.s.single(k, r.s.p, r.t-r.segment)
		}
	}
	return w / perKilogram
}

// forward is the room that a passage's air normally comes from: the hole that every passage has lies that way, a line's
// bore is an element of itself.
func (p *plan) forward(passage int32) int32 {
	elements := p.passages[passage].elements
	if len(elements) == 0 {
		return outside
	}
	last := len(elements) - 1
	return p.elements[elements[last-p.elements[elements[last]].piece]].from
}

// PassageOpen is how far a passage is open now: the largest share among its elements, 0 where it is shut or blocked.
func (r *Run) PassageOpen(id string) float64 {
	i, ok := r.plan.passageIndex[id]
	if !ok {
		return math.NaN()
	}
	r.ready()
	open := 0.0
	healthy := 0.0
	for _, k := range r.plan.passages[i].elements {
		healthy = max(healthy, r.network.plan.elements[k].c)
	}
	for k, l := range r.s.live {
		if l.pump >= 0 {
			if r.plan.pumps[l.pump].passage == i {
				open = max(open, r.s.opening(k, r.s.p, r.t-r.segment))
			}
			continue
		}
		if e := &r.plan.elements[l.element]; e.passage == i {
			share := max(e.forth, e.back)
			if e.opening.constant() {
				share *= e.opening.value(0)
			} else {
				share *= r.s.opening(k, r.s.p, r.t-r.segment)
			}
			if healthy > 0 {
				share *= e.c / healthy
			}
			open = max(open, min(share, 1))
		}
	}
	return open
}

// shutBelow is the share of its conductance under which a passage counts as shut.
const shutBelow = 1e-3

// Open says which passages are open at the run's present moment, for the circuit's reach and zones.
func (n *Network) Open(r *Run) func(component, passage string) bool {
	return func(component, passage string) bool {
		return r.PassageOpen(component+"/"+passage) > shutBelow
	}
}

// Turns of a component's pump now, rev/s: of what drives it, less what is lost on the way. NaN for a component without a pump.
func (r *Run) Turns(component string) float64 {
	owner, ok := r.plan.ownerIndex[component]
	for i := range r.plan.pumps {
		if p := &r.plan.pumps[i]; ok && p.owner == owner {
			return r.ramps[p.speed].at(r.t) * p.ratio
		}
	}
	return math.NaN()
}

// Mass of all air in the vehicle, kg.
func (r *Run) Mass() float64 {
	x := 0.0
	for i, u := range r.network.unknown {
		if q := r.network.warmth[i]; q >= 0 {
			u = q
		}
		x += r.s.x[u]
	}
	return x / perKilogram
}

// Vented is what has left at all places since the start, kg, less what was drawn in there or by a pump of its own. Mass and Vented
// together stay constant.
func (r *Run) Vented() float64 {
	x := 0.0
	for _, v := range r.s.vented {
		x += v
	}
	outdoors := func(pump int) bool { return r.plan.pumps[pump].from == outside }
	for k, v := range r.s.pumped {
		if outdoors(k) {
			x -= v
		}
	}
	for i := range r.s.tallies {
		switch t := &r.s.tallies[i]; {
		case t.pump < 0:
			x += t.sum
		case outdoors(int(t.pump)):
			x -= t.sum
		}
	}
	return x / perKilogram
}

// VentedAt is what has left at one place since the start, kg.
func (r *Run) VentedAt(place string) float64 {
	i, ok := r.plan.placeIndex[place]
	if !ok {
		return math.NaN()
	}
	x := r.s.vented[i]
	for k := range r.s.tallies {
		if t := &r.s.tallies[k]; t.pump < 0 && t.place == i {
			x += t.sum
		}
	}
	return x / perKilogram
}

// Pumped is what all pumps have delivered since the start, kg.
func (r *Run) Pumped() float64 {
	x := 0.0
	for _, v := range r.s.pumped {
		x += v
	}
	for i := range r.s.tallies {
		if t := &r.s.tallies[i]; t.pump >= 0 {
			x += t.sum
		}
	}
	return x / perKilogram
}

// ready makes openings those of the present controls and latches.
func (r *Run) ready() {
	if r.stale {
		r.prepare()
	}
}
