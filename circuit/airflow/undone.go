package airflow

import (
	"fmt"
	"math"
	"slices"

	"airpath/circuit"
)

// What else a tester does and measures: fittings undone at one end, plugs pulled off switches, rods moved by hand.

// Undo the line on a port and plug its end, or undo that: the part's port stands open to the air, and the line keeps what it
// holds.
func (r *Run) Undo(port string, undone bool) error {
	ref, err := r.plan.portNamed(port)
	if err != nil {
		return err
	}
	if l, ok := r.plan.lineAt[ref]; !ok || l.Type.Medium() != circuit.Air {
		return fmt.Errorf("no air line on the port %s to undo", port)
	}
	return r.act(action{"undo", port}, undone)
}

// Unplug a switch from its wiring, or plug it in again: no current passes it.
func (r *Run) Unplug(component string, unplugged bool) error {
	if err := r.hasContact(component); err != nil {
		return err
	}
	return r.act(action{"unplug", component}, unplugged)
}

// Bridge the plug of a switch to ground, or undo that: current flows as if its contact were closed.
func (r *Run) Bridge(component string, bridged bool) error {
	if err := r.hasContact(component); err != nil {
		return err
	}
	return r.act(action{"bridge", component}, bridged)
}

func (r *Run) hasContact(component string) error {
	owner, ok := r.plan.ownerIndex[component]
	if !ok || !slices.ContainsFunc(r.plan.contacts, func(c contact) bool { return c.owner == owner }) {
		return fmt.Errorf("%q has no electrical contact to unplug", component)
	}
	return nil
}

// plugged is a contact that an action has taken out of the wiring, and what it is of its own.
type plugged struct {
	index int
	own   contact
}

// takeOut holds a part's contact open or closed for as long as the action lasts.
func (r *Run) takeOut(component string, closed bool) {
	owner := r.plan.ownerIndex[component]
	for i := range r.plan.contacts {
		if c := &r.plan.contacts[i]; c.owner == owner {
			r.plugged = append(r.plugged, plugged{i, *c})
			c.held, c.hold = true, closed
		}
	}
}

// undone is the open end that a line leaves at a port: -1 for none.
func (p *plan) undone(port string) int32 {
	ref, _ := p.portNamed(port)
	l, ok := p.lineAt[ref]
	if !ok {
		return -1
	}
	p.close(l.ID + "/" + Bore)
	p.closeLeak(l.ID, endAt(l, ref))
	if l.From == ref {
		return p.offIndex[l.ID][0]
	}
	return p.offIndex[l.ID][1]
}

func (r *Run) thrust(chamber string) (thrust, bool) {
	owner, ok := r.plan.ownerIndex[chamber]
	for _, t := range r.plan.thrusts {
		if ok && t.owner == owner {
			return t.thrust, true
		}
	}
	return thrust{}, false
}

// FreeTravel is how far a hand can pull a chamber's rod out against its return spring, until the shoes touch, m. NaN for
// what is no chamber.
func (r *Run) FreeTravel(chamber string) float64 {
	t, ok := r.thrust(chamber)
	if !ok {
		return math.NaN()
	}
	return t.moves * min(max(t.clearance, 0), t.full)
}

// LetsGoAt is the hold-off pressure (Pa absolute) below which a chamber's spring pushes the rod out. NaN for a chamber without a
// spring, and for one whose rod the spring does not move.
func (r *Run) LetsGoAt(chamber string) float64 {
	t, ok := r.thrust(chamber)
	if !ok || t.lifts <= 0 {
		return math.NaN()
	}
	gauge, stroke := t.parked()
	if stroke[0] < leastMove {
		return math.NaN()
	}
	return atmosphere + gauge[len(gauge)-1]
}

// leastMove of a rod that anybody sees, m. Engineering judgement.
const leastMove = 1e-3

// Allows is where a control comes to when it is set to a value: a fault may keep the part from following. NaN for a name
// that there is not.
func (r *Run) Allows(control string, value float64) float64 {
	i, ok := r.plan.controlIndex[control]
	if !ok {
		return math.NaN()
	}
	return r.plan.controls[i].allowed(value)
}

// OpensAt is the value of a control at which a passage ("component/passage") begins to open, all else being as it is now: what
// a hand or foot feels that moves it slowly. It is the least over the passage's ways, and may lie outside the control's range. NaN
// for a passage that the control does not open.
func (r *Run) OpensAt(passage, control string) float64 {
	i, ok := r.plan.passageIndex[passage]
	c, known := r.plan.controlIndex[control]
	out := math.NaN()
	if !ok || !known {
		return out
	}
	for _, k := range r.plan.passages[i].elements {
		e := &r.plan.elements[k]
		if e.dormant || e.c <= 0 {
			continue
		}
		sum, gain := e.opening.base, 0.0
		for _, t := range e.opening.terms {
			switch {
			case t.kind == controlTerm && t.index == c:
				gain += t.gain
			case t.kind == controlTerm:
				sum += t.gain * r.ramps[t.index].at(r.t)
			case t.kind == roomTerm:
				sum += t.gain * r.s.p[r.network.at(t.index)]
			case r.latches[t.index]:
				sum += t.gain
			}
		}
		if gain > 0 && !(out < -sum/gain) {
			out = -sum / gain
		}
	}
	return out
}

// SwitchesAt is the pressure (Pa absolute) at which a switch's contact turns over as its pressure rises, and as it falls. NaN for one
// whose contact does not move, and for a part without one.
func (r *Run) SwitchesAt(component string) (rise, fall float64) {
	owner, ok := r.plan.ownerIndex[component]
	for _, c := range r.plan.contacts {
		if ok && c.owner == owner && !c.held {
			l := &r.plan.latches[c.latch]
			return l.rise, l.fall
		}
	}
	return math.NaN(), math.NaN()
}

// LitIf says whether a lamp would be lit or a buzzer would sound if the switches had other pressures than now (Pa absolute, by
// the switch's id; NaN for as it is).
func (r *Run) LitIf(component string, pressure func(part string) float64) bool {
	owner, ok := r.plan.ownerIndex[component]
	if !ok {
		return false
	}
	latches := slices.Clone(r.latches)
	for _, c := range r.plan.contacts {
		l := &r.plan.latches[c.latch]
		switch p := pressure(r.plan.owners[c.owner]); {
		case l.held:
		case p >= l.rise:
			latches[c.latch] = true
		case p <= l.fall:
			latches[c.latch] = false
		}
	}
	return r.plan.lit(owner, r.ramps[r.plan.controlIndex[Key]].at(r.t) >= 0.5, latches)
}
