package airflow

import (
	"math"
	"slices"
)

// A Difference is a vehicle seen as the healthy one of its file with other numbers. As long as the healthy vehicle's state
// satisfies the other one's equations too, both go the same way, and what one of them did need not be worked out for the other:
// a hole between rooms of one pressure passes nothing, whatever its size; a governor that is set wrong does nothing before one
// of its settings is reached.
type Difference struct {
	Always  bool // a room is larger, or colder: nothing is the same from the first moment on
	Air     bool // anything that air could feel, or a latch that feels it
	Needles bool // a gauge shows something else
	Signals bool // a contact, a wire, a lamp or a buzzer is at fault
	Rods    bool // a push-rod comes out differently

	network  *Network
	plan     *plan // the other vehicle's
	elements []twin
	pumps    []int32
	pistons  []int32
	latches  []int32
	trips    []int32
	controls []int32
}

// twin is one element as it is in the healthy vehicle and in the other.
type twin struct{ healthy, other element }

// What may differ before two vehicles count as different. All of it is far below what the solver's tolerance leaves open and
// what anybody can read or hear.
const (
	sameAir   = 0.5                 // Pa: an opening between rooms as near as this changes nothing
	sameDrop  = 10.0                // Pa: by which another pressure carries the same flow through a way that is narrower, or wider
	sameFlow  = 1e-9 * perKilogram  // 1e-9 kg/s at any moment: 1/1000 of the least leak that is heard or seen in soap
	sameMass  = 1e-9 * perKilogram  // and 1e-9 kg in all: 5 Pa in a gauge's line
	sameLevel = 10 * eventTolerance // Pa: by which a threshold must be missed
	sameMove  = 100.0               // Pa to either side: a wall that begins to move otherwise there
)

// Compare says in what the run's vehicle differs from the healthy one. It has to be asked right after Start or Restart, and holds
// until the next.
func (r *Run) Compare() *Difference {
	healthy, other := r.network.plan, &r.plan
	d := &Difference{network: r.network, plan: other}
	for i := range healthy.rooms {
		a, b := &healthy.rooms[i], &other.rooms[i]
		if a.volume != b.volume || a.heat != b.heat {
			d.Always = true
		}
		if !a.piston.same(b.piston) {
			d.pistons = append(d.pistons, int32(i))
		}
	}
	for i := range healthy.elements {
		if !healthy.elements[i].same(&other.elements[i]) {
			d.elements = append(d.elements, twin{healthy.elements[i], other.elements[i]})
		}
	}
	for i := range healthy.pumps {
		if !healthy.pumps[i].same(&other.pumps[i]) {
			d.pumps = append(d.pumps, int32(i))
		}
	}
	for i := range healthy.latches {
		if healthy.latches[i] != other.latches[i] {
			d.latches = append(d.latches, int32(i))
		}
	}
	for i := range healthy.trips {
		if healthy.trips[i] != other.trips[i] {
			d.trips = append(d.trips, int32(i))
		}
	}
	for i := range healthy.controls {
		if healthy.controls[i] != other.controls[i] {
			d.controls = append(d.controls, int32(i))
		}
	}
	d.Needles = !slices.Equal(healthy.gauges, other.gauges)
	d.Signals = d.Signals || !slices.Equal(healthy.contacts, other.contacts) || !slices.Equal(healthy.wires, other.wires) || !slices.Equal(healthy.sinks, other.sinks)
	for i := range healthy.rods {
		d.Rods = d.Rods || !healthy.rods[i].same(&other.rods[i])
	}
	d.Air = d.Always || len(d.elements)+len(d.pumps)+len(d.pistons)+len(d.latches)+len(d.trips)+len(d.controls) > 0
	return d
}

func (e *element) same(f *element) bool {
	return e.c == f.c && e.forth == f.forth && e.back == f.back && e.opening.same(&f.opening)
}

func (o *opening) same(q *opening) bool {
	return o.base == q.base && o.low == q.low && o.high == q.high && slices.Equal(o.terms, q.terms)
}

// SameWay says whether the air of this vehicle would have gone where a trail of the healthy one went, from the trail's first
// moment to its last.
func (d *Difference) SameWay(t *Trail) bool {
	if !d.Air {
		return true
	}
	if d.Always {
		return false
	}
	for i := range t.moments {
		m := &t.moments[i]
		var before *moment
		if i > 0 {
			before = &t.moments[i-1]
		}
		if !d.sameHands(m) || !d.sameWalls(m) || !d.sameTurns(m, before) {
			return false
		}
	}
	for i := range d.elements {
		if !d.sameFlows(t, &d.elements[i]) {
			return false
		}
	}
	for _, k := range d.pumps {
		sum := 0.0
		for i := range t.moments {
			m := &t.moments[i]
			w := math.Abs(m.pumped(d.network, &d.network.plan.pumps[k]) - m.pumped(d.network, &d.plan.pumps[k]))
			if sum += w * m.after; w > sameFlow || sum > sameMass {
				return false
			}
		}
	}
	return true
}

// sameFlows: what passes an element in this vehicle is what passes it in the healthy one, all along a trail.
func (d *Difference) sameFlows(t *Trail, e *twin) bool {
	sum := 0.0
	for i := range t.moments {
		m := &t.moments[i]
		v, apart := m.flow(d.network, &e.healthy)
		w, _ := m.flow(d.network, &e.other)
		if apart < sameAir && math.Abs(w) >= math.Abs(v) {
			continue
		}
		if v*w > 0 && math.Abs(m.drop(d.network, &e.other, v)-apart) < sameDrop {
			continue
		}
		w = math.Abs(w - v)
		if sum += w * m.after; w > sameFlow || sum > sameMass {
			return false
		}
	}
	return true
}

// sameHands: this vehicle's controls could be where the healthy one's are.
func (d *Difference) sameHands(m *moment) bool {
	for _, k := range d.controls {
		c := &d.plan.controls[k]
		if c.allowed(m.aims[k]) != m.aims[k] || c.allowed(m.controls[k]) != m.controls[k] {
			return false
		}
	}
	return true
}

// sameWalls: a room whose wall moves otherwise is as large, and no less soft.
func (d *Difference) sameWalls(m *moment) bool {
	for _, k := range d.pistons {
		gauge := m.p[d.network.unknown[k]] - atmosphere
		a, b := &d.network.plan.rooms[k].piston, &d.plan.rooms[k].piston
		for _, p := range []float64{gauge - sameMove, gauge, gauge + sameMove} {
			if math.Abs(a.volume(p)-b.volume(p)) > 1e-9*(a.volume(p)+smallRoom) {
				return false
			}
		}
	}
	return true
}

// sameTurns: no latch or trip of this vehicle would have acted where the healthy one's did not, or the other way round.
func (d *Difference) sameTurns(m, before *moment) bool {
	for _, k := range d.latches {
		a, b := &d.network.plan.latches[k], &d.plan.latches[k]
		p, up := b.sees(d.network, m.p), m.latches[k]
		other := math.Abs(a.sees(d.network, m.p)-p) > eventTolerance
		if b.held && up != b.initial || !b.held && (up && (other || a.fall != b.fall) && p < b.fall+sameLevel || !up && (other || a.rise != b.rise) && p > b.rise-sameLevel) {
			return false
		}
		if before != nil && before.latches[k] != up && (b.held || other || up && a.rise != b.rise || !up && a.fall != b.fall) {
			return false
		}
	}
	for _, k := range d.trips {
		a, b := &d.network.plan.trips[k], &d.plan.trips[k]
		c := &d.plan.controls[b.control]
		if m.aims[b.control] == c.rest {
			if before != nil && before.aims[b.control] != c.rest && m.p[d.network.at(a.room)] < a.below+sameLevel {
				return false // it has just sprung back
			}
			continue
		}
		if m.p[d.network.at(b.room)] < b.below+sameLevel {
			return false
		}
	}
	return true
}
