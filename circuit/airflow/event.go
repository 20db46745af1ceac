package airflow

import (
	"fmt"
	"math"
	"slices"
)

// An Event is what Until waits for: one of the fields Room, Gauge, Vent, Latch, Lamp and Trip names it.
type Event struct {
	Room   string  // its pressure reaches Level (Pa absolute), Rising or falling
	Gauge  string  // this component's needle reaches Level (Pa absolute), Rising or falling
	Vent   string  // the flow to the atmosphere at this place reaches Level (kg/s), Rising or falling
	Level  float64 //
	Rising bool
	Latch  string // has Value
	Lamp   string // is lit, or is not, as Value says
	Value  bool
	Trip   string // this control has sprung back to rest
}

// watch is an event with its names looked up.
type watch struct {
	Event
	room, gauge, vent, latch, owner, control int32 // -1 for those that are not meant
	sign, tolerance                          float64
	or                                       *watch // another event that ends the wait as well
}

// Until lets time go by until the event, at most limit seconds; fired says which it was. An event that is already so fires
// at once.
func (r *Run) Until(limit float64, ev Event) (fired bool, err error) {
	if !(limit >= 0) || math.IsInf(limit, 0) {
		return false, fmt.Errorf("time can't advance by %g s", limit)
	}
	w, err := r.watchFor(ev)
	if err != nil {
		return false, err
	}
	return r.advance(r.t+limit, &w)
}

// UntilAny lets time go by until the first of some events, at most limit seconds; fired says whether there was one. Which it
// was is for the caller to see.
func (r *Run) UntilAny(limit float64, events ...Event) (fired bool, err error) {
	if !(limit >= 0) || math.IsInf(limit, 0) {
		return false, fmt.Errorf("time can't advance by %g s", limit)
	}
	var first *watch
	for _, ev := range slices.Backward(events) {
		w, err := r.watchFor(ev)
		if err != nil {
			return false, err
		}
		w.or = first
		first = &w
	}
	return r.advance(r.t+limit, first)
}

func (r *Run) watchFor(ev Event) (watch, error) {
	w := watch{Event: ev, room: -1, gauge: -1, vent: -1, latch: -1, owner: -1, control: -1, sign: -1, tolerance: eventTolerance}
	if ev.Rising {
		w.sign = 1
	}
	p := &r.plan
	found := 0
	look := func(name, what string, index map[string]int32, into *int32) error {
		if name == "" {
			return nil
		}
		found++
		i, ok := index[name]
		if !ok {
			return fmt.Errorf("no %s %q to wait for", what, name)
		}
		*into = i
		return nil
	}
	var owner int32 = -1
	for _, err := range []error{
		look(ev.Room, "room", p.roomIndex, &w.room),
		look(ev.Gauge, "gauge", p.ownerIndex, &owner),
		look(ev.Vent, "vent", p.placeIndex, &w.vent),
		look(ev.Latch, "latch", p.latchIndex, &w.latch),
		look(ev.Lamp, "lamp", p.ownerIndex, &w.owner),
		look(ev.Trip, "control", p.controlIndex, &w.control),
	} {
		if err != nil {
			return w, err
		}
	}
	if found != 1 {
		return w, fmt.Errorf("an event is about one thing, not about %d: %+v", found, ev)
	}
	if owner >= 0 {
		for i := range p.gauges {
			if p.gauges[i].owner == owner {
				w.gauge = int32(i)
			}
		}
		if w.gauge < 0 {
			return w, fmt.Errorf("component %s shows no pressure", ev.Gauge)
		}
	}
	if w.vent >= 0 {
		w.tolerance = max(1e-3*math.Abs(ev.Level), 1e-9)
	}
	return w, nil
}

// short is how far a watched quantity is past its level (> 0) or short of it, for pressures p at elapsed s of the segment;
// NaN for events that come with a latch or a control.
func (w *watch) past(r *Run, p []float64, elapsed float64) float64 {
	var v float64
	switch {
	case w.room >= 0:
		v = p[r.network.unknown[w.room]]
	case w.gauge >= 0:
		g := &r.plan.gauges[w.gauge]
		v = g.shows(g.follow(r.needles[w.gauge], p[r.network.at(g.room)]))
	case w.vent >= 0:
		v = r.s.ventFlow(w.vent, p, elapsed) / perKilogram
	default:
		return math.NaN()
	}
	return w.sign * (v - w.Level)
}

func (w *watch) reached(r *Run) bool {
	for ; w != nil; w = w.or {
		if w.one(r) {
			return true
		}
	}
	return false
}

// one says whether the event itself has come, whatever the others.
func (w *watch) one(r *Run) bool {
	switch {
	case w.latch >= 0:
		return r.latches[w.latch] == w.Value
	case w.owner >= 0:
		return r.lit(w.owner) == w.Value
	case w.control >= 0:
		return r.tripped[w.control]
	}
	if w.vent >= 0 && r.stale {
		r.prepare()
	}
	return w.past(r, r.s.p, r.t-r.segment) >= -w.tolerance
}

// crossing is the share of the tried step at which the first watched level is passed by more than its tolerance, by
// secant; 1 if none is. It also says whether something acts on the air there.
func (r *Run) crossing(w *watch) (share float64, acts bool) {
	share = 1
	p, pn := r.s.p, r.s.pn
	consider := func(before, after, tolerance float64, does bool) {
		if after > tolerance && before < 0 {
			if at := -before / (after - before); at < share {
				share, acts = at, does
			}
		}
	}
	for i := range r.plan.latches {
		l := &r.plan.latches[i]
		if l.held || r.rests[i] > r.t {
			continue
		}
		before, after := l.sees(r.network, p), l.sees(r.network, pn)
		if r.latches[i] {
			consider(l.fall-before, l.fall-after, eventTolerance, r.network.acts[i])
		} else {
			consider(before-l.rise, after-l.rise, eventTolerance, r.network.acts[i])
		}
	}
	for i := range r.plan.trips {
		if t := &r.plan.trips[i]; r.armed(t) {
			u := r.network.at(t.room)
			consider(t.below-p[u], t.below-pn[u], eventTolerance, true)
		}
	}
	elapsed := r.t - r.segment
	for ; w != nil; w = w.or {
		if w.room >= 0 || w.gauge >= 0 || w.vent >= 0 {
			consider(w.past(r, p, elapsed), w.past(r, pn, elapsed+r.s.tried), w.tolerance, false)
		}
	}
	return share, acts
}

// armed says whether a control can spring back: it is, or is being, worked.
func (r *Run) armed(t *trip) bool {
	c := &r.plan.controls[t.control]
	return !c.held && r.ramps[t.control].to != c.allowed(c.rest)
}

// latchTravel is how long a latch stays after a change before it can change again (s): what a governor's piston and the small
// lines behind it need, and what bounds the work where a part chatters. Engineering judgement.
const latchTravel = 0.25

// springBack is how long a control takes to spring back (s). Engineering judgement.
const springBack = 0.05

// flip lets every latch and trip act whose level is reached.
func (r *Run) flip() {
	p := r.s.p
	for i := range r.plan.latches {
		l := &r.plan.latches[i]
		if l.held || r.rests[i] > r.t {
			continue
		}
		v := l.sees(r.network, p)
		if r.latches[i] && v <= l.fall+eventTolerance || !r.latches[i] && v >= l.rise-eventTolerance {
			r.latches[i], r.rests[i] = !r.latches[i], r.t+latchTravel
			if r.network.acts[i] {
				r.restart()
			} else { // a contact: the air goes on as before
				r.bracket, r.stale = 0, true
			}
			r.export.event(l.name, r.latches[i], "")
		}
	}
	for i := range r.plan.trips {
		t := &r.plan.trips[i]
		if r.armed(t) && p[r.network.at(t.room)] <= t.below+eventTolerance {
			c := &r.plan.controls[t.control]
			r.ramps[t.control] = ramp{r.ramps[t.control].at(r.t), c.allowed(c.rest), r.t, r.t + springBack}
			r.tripped[t.control] = true
			r.restart()
			r.export.event("", false, c.name)
		}
	}
}
