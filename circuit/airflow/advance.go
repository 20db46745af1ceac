package airflow

import (
	"fmt"
	"math"
)

// Steps, s. A step after a sudden change is at most firstStep; a run that would need less than leastStep can't go on; an
// event is taken as located when it lies within eventStep. One that acts on the air is gone up to by halves until it is as near as
// nearEvent: a governor's inlet closes as its piston comes to where it snaps back, and a step over all of that would miss by
// how much the piston was held.
const (
	firstStep = 1e-3
	leastStep = 1e-11
	eventStep = 1e-8
	nearEvent = 0.1
)

// mostGrowth is how many times longer than a step the next one may be. After something sudden steps begin at firstStep, and have to get to
// seconds from there.
const mostGrowth = 8.0

// eventTolerance is how near a level a pressure must be for the level to count as reached (Pa).
const eventTolerance = 2.0

// Failure is a run that can't go on: when, where and why. Nothing of the run is lost: it stays at its last good state.
type Failure struct {
	At    float64 // s
	Where string  // room
	Why   string
}

func (f *Failure) Error() string {
	return fmt.Sprintf("the air can't be followed beyond %.6g s: at %s %s", f.At, f.Where, f.Why)
}

// Advance lets seconds go by.
func (r *Run) Advance(seconds float64) error {
	if !(seconds >= 0) || math.IsInf(seconds, 0) {
		return fmt.Errorf("time can't advance by %g s", seconds)
	}
	_, err := r.advance(r.t+seconds, nil)
	return err
}

// advance goes on until a time or, if there is one, until an event, whichever is first.
func (r *Run) advance(end float64, w *watch) (fired bool, err error) {
	if r.failure != nil {
		return false, r.failure
	}
	if r.record.running {
		return false, fmt.Errorf("a run can't be advanced from what is recording it")
	}
	r.recordNow()
	for {
		r.flip()
		if w != nil && w.reached(r) {
			r.bracket = 0
			return true, nil
		}
		if r.t >= end {
			return false, nil
		}
		if r.stale || r.t >= r.corner {
			if r.t >= r.corner && r.turning() {
				r.restart()
			}
			r.prepare()
		}
		if err := r.stride(min(end, r.corner), w); err != nil {
			return false, err
		}
	}
}

// stride takes one accepted step, at most up to limit.
func (r *Run) stride(limit float64, w *watch) error {
	s := r.s
	if !s.begun {
		s.begin(r.t - r.segment)
		s.begun = true
	}
	h := min(r.h, s.MaxStep)
	if r.bracket > 0 {
		h = min(h, r.bracket)
	}
	left := limit - r.t
	if left <= leastStep { // nothing happens in that time
		r.t = limit
		return nil
	}
	whole := false // the step goes right up to the limit
	switch {
	case h >= left:
		h, whole = left, true
	case h > left/2:
		h = left / 2
	}
	for {
		r.tries++
		e, worst := r.attempt(h)
		if e < 0 || e > 1 {
			r.note(true)
			shrink := 0.25
			if e > 0 {
				shrink = min(max(0.8/math.Cbrt(e), 0.2), 0.9)
			}
			h *= shrink
			r.hold, whole, r.bracket = true, false, 0
			r.h = h
			if h < leastStep || r.t+h == r.t {
				return r.fail(worst, e)
			}
			continue
		}
		if share, acts := r.crossing(w); share < 1 && h > eventStep {
			r.bracket = h
			h, whole = max(h*share, eventStep/2), false
			if acts && h > nearEvent {
				h /= 2
			}
			continue
		}
		grow := mostGrowth
		if e > 0 {
			grow = min(max(0.8/math.Cbrt(e), 0.2), mostGrowth)
		}
		if r.hold {
			grow = min(grow, 1)
		}
		if grow < mostGrowth || mostGrowth*h > r.h { // else the step was cut short for another reason, and says nothing against a longer one
			r.h = h * grow
		}
		if r.calm > 0 {
			r.calm--
		} else {
			r.note(r.backAndForth(worst))
		}
		r.hold = false
		if r.bracket > 0 {
			r.bracket = max(r.bracket-h, 0)
		}
		r.arrive(h, whole, limit)
		return nil
	}
}

// arrive accepts the step.
func (r *Run) arrive(h float64, whole bool, limit float64) {
	end := r.t + h
	if whole {
		end = limit
	}
	r.recordWithin(end, h)
	r.s.accept()
	r.s.begun = false
	r.t = end
	r.accepted++
	if r.trail != nil {
		r.trail.note(r, h)
	}
	for i := range r.plan.gauges {
		g := &r.plan.gauges[i]
		r.needles[i] = g.follow(r.needles[i], r.s.p[r.network.at(g.room)])
	}
}

func (r *Run) fail(worst int, e float64) error {
	why := "no step is short enough: what happens there is too sudden"
	if e < 0 {
		why = "the equations have no solution: it would hold less air than none"
	}
	r.failure = &Failure{At: r.t, Where: r.roomOf(worst), Why: why}
	return r.failure
}

func (r *Run) roomOf(unknown int) string {
	for i := range r.plan.rooms {
		if int(r.network.unknown[i]) == unknown || int(r.network.warmth[i]) == unknown {
			return r.plan.rooms[i].name
		}
	}
	return "no room"
}

// Time since the start, s.
func (r *Run) Time() float64 { return r.t }

// Tries is the number of steps that the solver has tried, and how many of them it took.
func (r *Run) Tries() (tried, taken int) { return r.tries, r.accepted }
