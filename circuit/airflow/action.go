package airflow

import (
	"fmt"
	"slices"

	"airpath/circuit"
)

// An action is what a procedure does to the plumbing. All of it works on elements that are there from the start.
type action struct {
	what   string // "off", "plug", "bypass", "undo", "unplug" or "bridge"
	target string // line, port, passage, or component
}

// LineOff takes a line off at both ends, or puts it back: nothing passes its bore, and the ports that it was on stand open.
func (r *Run) LineOff(line string, off bool) error {
	if _, ok := r.plan.offIndex[line]; !ok {
		return fmt.Errorf("no air line %q to take off", line)
	}
	return r.act(action{"off", line}, off)
}

// Plug takes what is fastened to a port off and plugs both, or undoes that; an exhaust or intake is closed.
func (r *Run) Plug(port string, plugged bool) error {
	if _, err := r.plan.portNamed(port); err != nil {
		return err
	}
	return r.act(action{"plug", port}, plugged)
}

// Bypass takes out of a passage ("component/passage") what a fault has done to it, or undoes that: it lets through what it
// does on a healthy vehicle, as with a clogged filter taken out.
func (r *Run) Bypass(passage string, on bool) error {
	if _, ok := r.plan.passageIndex[passage]; !ok {
		return fmt.Errorf("no passage %q to bypass; passages are named component/passage", passage)
	}
	return r.act(action{"bypass", passage}, on)
}

// Sound says whether a passage has none but its healthy numbers, so that there is nothing to bypass.
func (r *Run) Sound(passage string) bool {
	i, ok := r.plan.passageIndex[passage]
	if !ok {
		return false
	}
	for _, k := range r.plan.passages[i].elements {
		healthy := r.network.plan.elements[k]
		healthy.c = r.given.element(&healthy)
		if !r.plan.elements[k].dormant && !r.plan.elements[k].same(&healthy) {
			return false
		}
	}
	return true
}

func (r *Run) act(a action, do bool) error {
	at := slices.Index(r.actions, a)
	if do == (at >= 0) {
		return nil
	}
	if do {
		r.actions = append(r.actions, a)
	} else {
		r.actions = slices.Delete(r.actions, at, at+1)
	}
	r.carryOut()
	r.export.changed()
	r.restart()
	return nil
}

// carryOut brings the elements into the state that the actions ask for.
func (r *Run) carryOut() {
	p := &r.plan
	for _, b := range r.bypassed {
		p.elements[b.index] = b.own
	}
	r.bypassed = r.bypassed[:0]
	for _, c := range r.plugged {
		p.contacts[c.index] = c.own
	}
	r.plugged = r.plugged[:0]
	for i := range p.elements {
		p.elements[i].closed = 0
	}
	for i := range p.elements {
		if e := &p.elements[i]; e.end {
			e.c = 0
		}
	}
	for _, a := range r.actions {
		switch a.what {
		case "bypass":
			for _, k := range p.passages[p.passageIndex[a.target]].elements {
				r.bypass(k)
			}
		case "off":
			l := p.lineIndex[a.target]
			p.close(a.target + "/" + Bore)
			p.closeLeak(a.target, "from")
			p.closeLeak(a.target, "to")
			for _, k := range p.offIndex[a.target] {
				if k >= 0 {
					p.elements[k].c = HoleConductance(l.Bore.SI, SharpHole)
				}
			}
		case "undo":
			if k := p.undone(a.target); k >= 0 {
				ref, _ := p.portNamed(a.target)
				p.elements[k].c = HoleConductance(p.lineAt[ref].Bore.SI, SharpHole)
			}
		case "unplug", "bridge":
			r.takeOut(a.target, a.what == "bridge")
		case "plug":
			ref, _ := p.portNamed(a.target)
			if l, ok := p.lineAt[ref]; ok {
				p.close(l.ID + "/" + Bore)
				p.closeLeak(l.ID, endAt(l, ref))
			} else if place, ok := p.placeIndex[a.target]; ok {
				for i := range p.elements {
					if p.elements[i].place == place {
						p.elements[i].closed++
					}
				}
			}
		}
	}
	r.s.activate(r.network, p)
}

// bypassed is an element that an action has made healthy, and what it is of its own.
type bypassed struct {
	index int32
	own   element
}

func (r *Run) bypass(k int32) {
	e := &r.plan.elements[k]
	if e.dormant {
		return // a hole beside the passage stays where it is
	}
	r.bypassed = append(r.bypassed, bypassed{k, *e})
	healthy := &r.network.plan.elements[k]
	e.c, e.forth, e.back, e.opening = r.given.element(healthy), healthy.forth, healthy.back, healthy.opening
}

func (p *plan) close(passage string) {
	if i, ok := p.passageIndex[passage]; ok {
		for _, k := range p.passages[i].elements {
			p.elements[k].closed++
		}
	}
}

// portNamed reads "component.port".
func (p *plan) portNamed(text string) (circuit.PortRef, error) {
	for i := len(text) - 1; i > 0; i-- {
		if text[i] != '.' {
			continue
		}
		ref := circuit.PortRef{Component: text[:i], Port: text[i+1:]}
		if c, ok := p.partIndex[ref.Component]; ok {
			if _, ok := c.Kind.Port(ref.Port); ok {
				return ref, nil
			}
		}
	}
	return circuit.PortRef{}, fmt.Errorf("no port %q; ports are named component.port", text)
}

// closeLeak of a line's end: a leak in the line is no longer one of the part that the end has been taken from.
func (p *plan) closeLeak(line, end string) {
	if i, ok := p.leakIndex[leakKey{p.ownerIndex[line], end}]; ok {
		p.elements[i].closed++
	}
}

// endAt is the end of a line that is on a port.
func endAt(l *circuit.Line, ref circuit.PortRef) string {
	if l.From == ref {
		return "from"
	}
	return "to"
}
