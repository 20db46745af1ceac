package procedure

import (
	"fmt"
	"slices"

	"airpath/circuit/airflow"
)

// Procedures that begin alike are carried out once as far as they are alike: the pedal pressed on a charged vehicle and held
// for half a minute is the beginning of three of them. What a vehicle comes to is told by a history: the starting state and what
// was done since. A bench that follows a model keeps what vehicles came to where histories of several procedures agree.

// history of a vehicle: what was done, and the time since the last thing. The zero history is that of one on which something
// was done that no other procedure could do just so.
type history struct {
	did  string
	wait float64            // s since
	set  map[string]float64 // what controls were last set to
}

// A stem is what a step has to do with the steps of other procedures.
type stem struct {
	did      string    // the history that a wait is part of
	from, to float64   // the wait's part of it, s
	cuts     []float64 // where others wait until, or go on too
	node     string    // the history that something waited for ends in, where others wait for the same
}

// setter is an action that does nothing but to set a control.
type setter interface {
	sets() (control string, value float64)
}

func (a runEngine) sets() (string, float64) { return airflow.Engine, a.revs }
func (a pedal) sets() (string, float64)     { return a.control, share(a.down) }
func (a knob) sets() (string, float64)      { return a.control, share(a.in) }
func (a cock) sets() (string, float64)      { return a.control, a.share }

func share(on bool) float64 {
	if on {
		return 1
	}
	return 0
}

// still is an action that takes no time of the vehicle's and moves no air.
type still interface{ still() }

func (lookOver) still()    {}
func (screwOn) still()     {}
func (drained) still()     {}
func (startWatch) still()  {}
func (noteNeedles) still() {}
func (readMark) still()    {}
func (readHigher) still()  {}
func (readNow) still()     {}
func (readFall) still()    {}
func (readDip) still()     {}
func (readClimb) still()   {}
func (readSpan) still()    {}
func (readLit) still()     {}
func (readRods) still()    {}
func (readReach) still()   {}
func (readRise) still()    {}
func (readBelow) still()   {}
func (readBeside) still()  {}
func (readCheck) still()   {}
func (readLamp) still()    {}
func (readTurns) still()   {}
func (readWarned) still()  {}

// tail says what an await waits for; "" where no other is compared with it.
func (a await) tail() string {
	text := fmt.Sprintf("await %g %t", a.within, a.rising)
	for _, c := range a.until {
		switch c := c.(type) {
		case needles:
			text += fmt.Sprintf(" needles %t %g %t", c.all, c.level, c.rising)
			for _, t := range c.which {
				text += " " + t.place + " " + t.room
			}
		case unloads:
			text += " unloads"
		default:
			return ""
		}
	}
	return text
}

// after an action.
func (h history) after(a Action) history {
	if h.did == "" {
		return h
	}
	switch a := a.(type) {
	case still:
		return h
	case wait:
		h.wait += a.seconds
		return h
	case recordPedal: // the vehicle comes to what it would without a recorder
		h = h.after(a.do)
		if h.did != "" {
			h.wait += a.seconds
		}
		return h
	case knobHeld:
		return history{fmt.Sprintf("%s %g; %s held", h.did, h.wait, a.control), 0, h.set}
	case setter:
		control, value := a.sets()
		if was, ok := h.set[control]; ok && was == value {
			return h
		}
		set := map[string]float64{control: value}
		for k, v := range h.set {
			if k != control {
				set[k] = v
			}
		}
		return history{fmt.Sprintf("%s %g; %s=%g", h.did, h.wait, control, value), 0, set}
	case await:
		if tail := a.tail(); tail != "" {
			return history{fmt.Sprintf("%s %g; %s", h.did, h.wait, tail), 0, h.set}
		}
	}
	return history{}
}

// stems of steps that begin with a history, without what others do.
func (h history) stems(steps []Step) (out []stem, end history) {
	start := h
	for _, s := range steps {
		next := h.after(s.Do)
		var t stem
		switch s.Do.(type) {
		case wait:
			t = stem{did: h.did, from: h.wait, to: next.wait}
		case recordPedal:
			t = stem{did: next.did, from: 0, to: next.wait}
		case await:
			t = stem{node: next.did}
		case beginAgain, fitGauge, fitRecorder:
			next = start
		}
		out = append(out, t)
		h = next
	}
	return out, h
}

// findStems compares all procedures and starting states.
func findStems(all []*Procedure) {
	ends := map[string]history{}
	var lists [][]stem
	for _, s := range Starts(all) {
		h := history{did: s.ID}
		if s.From != nil {
			h = ends[s.From.ID]
		}
		s.stems, ends[s.ID] = h.stems(s.Steps)
		lists = append(lists, s.stems)
	}
	for _, p := range all {
		h := ends[p.Start.ID]
		p.stems, _ = h.stems(p.Steps)
		if len(p.taps) != len(p.vehicle.taps()) { // it marks moments with more gauges than the others
			for i := range p.stems {
				p.stems[i].node = ""
			}
		}
		lists = append(lists, p.stems)
	}
	nodes, longest := map[string]int{}, map[string][]float64{} // by history: how often it comes, how long each waits
	stops := map[string][]float64{}
	for _, list := range lists {
		own := map[string]float64{}
		for _, t := range list {
			if t.node != "" {
				nodes[t.node]++
			}
			if t.did != "" {
				own[t.did] = max(own[t.did], t.to)
				stops[t.did] = append(stops[t.did], t.to)
			}
		}
		for did, to := range own {
			longest[did] = append(longest[did], to)
		}
	}
	for _, list := range lists {
		for i := range list {
			t := &list[i]
			if nodes[t.node] < 2 {
				t.node = ""
			}
			for _, stop := range slices.Compact(slices.Sorted(slices.Values(stops[t.did]))) {
				count := 0
				for _, to := range longest[t.did] {
					if to >= stop {
						count++
					}
				}
				if count > 1 && stop > t.from && stop <= t.to {
					t.cuts = append(t.cuts, stop)
				}
			}
		}
	}
}

// node is what a vehicle has come to.
type node struct {
	state  *airflow.Snapshot
	moment moment // that an await ended with, by the run's time
}

func at(did string, seconds float64) string { return fmt.Sprintf("%s %g", did, seconds) }

// stem of the step that is being carried out; nil where there is none, or nothing to share.
func (x *execution) stem() *stem {
	if !x.bench.lean || x.step >= len(x.stems) {
		return nil
	}
	return &x.stems[x.step]
}

// take what the vehicle came to before, if it is known. An execution that takes curves down has to see everything itself.
func (x *execution) take(history string) (*node, bool) {
	if x.bench.writes != nil || x.every > 0 {
		return nil, false
	}
	n, ok := x.bench.nodes[history]
	if ok {
		x.run.Restore(n.state)
	}
	return n, ok
}

// leave what the vehicle has come to for others.
func (x *execution) leave(history string, m moment) {
	b := x.bench
	if b.writes != nil {
		return
	}
	if _, ok := b.nodes[history]; ok {
		return
	}
	n := &node{b.memory(), m}
	n.moment.time += x.since - x.before
	b.run.SnapshotInto(n.state)
	b.nodes[history] = n
}

func (n *node) momentOf(x *execution) moment {
	m := n.moment
	m.time -= x.since - x.before
	return m
}
