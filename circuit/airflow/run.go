package airflow

import (
	"fmt"
	"math"
	"strings"
)

// A Run carries one vehicle through time. It is for one goroutine; any number of runs may share a network.
type Run struct {
	network *Network
	plan    plan // this run's numbers
	s       *solver

	t, segment, corner float64 // now; since when and until when controls move as prepared
	h                  float64 // step to try next, s
	bracket            float64 // an event is known to lie within this step; 0 for none
	hold               bool    // the step must not grow: the last one was rejected
	luck               uint64  // of the last tries, those in vain; see note
	swing              swing
	calm               int  // steps that the simple method is still to take
	stale              bool // controls, latches or elements have changed since they were prepared

	ramps   []ramp
	latches []bool
	rests   []float64 // by latch: until when it stays after its last change
	needles []float64
	tripped []bool // by control: has sprung back and not been set since
	actions []action

	faults   []Fault
	given    Scatter    // the vehicle's
	bypassed []bypassed // by the actions
	plugged  []plugged  // contacts that the actions have taken out
	export   *Export    // that the run is being taken down in, or nil
	record   recording
	trail    *Trail // nil unless it is kept
	failure  *Failure
	tries    int // accepted and rejected steps since the start
	accepted int
}

// ramp is how a control moves: from one value to another between two times.
type ramp struct{ from, to, begin, end float64 }

func (c *ramp) at(t float64) float64 {
	switch {
	case t >= c.end:
		return c.to
	case t <= c.begin:
		return c.from
	}
	return c.from + (c.to-c.from)*(t-c.begin)/(c.end-c.begin)
}

func (c *ramp) slope(t float64) float64 {
	if t >= c.end || t < c.begin {
		return 0
	}
	return (c.to - c.from) / (c.end - c.begin)
}

// Scatter says how one vehicle differs from its file, as relative deviations: 0.05 is 5 % more.
type Scatter struct {
	Pump   float64 // what compressors deliver
	Volume float64 // reservoirs: rooms with an energy equation
	Wall   float64 // heat exchange of reservoirs with their walls
	Valve  float64 // conductance of every passage of a component
	Bore   float64 // conductance of every line
}

// Start gives a new run: empty of compressed air, engine off, controls at rest, 293.15 K.
func (n *Network) Start(faults []Fault, s Scatter) (*Run, error) {
	r := &Run{network: n, s: newSolver(n, Fine)}
	r.ramps = make([]ramp, len(n.plan.controls))
	r.tripped = make([]bool, len(n.plan.controls))
	r.latches = make([]bool, len(n.plan.latches))
	r.rests = make([]float64, len(n.plan.latches))
	r.needles = make([]float64, len(n.plan.gauges))
	if err := r.Restart(faults, s); err != nil {
		return nil, err
	}
	return r, nil
}

// Restart is Start on a run that there is already, without new memory.
func (r *Run) Restart(faults []Fault, s Scatter) error {
	r.export.close()
	r.network.plan.copyTo(&r.plan)
	r.faults, r.given, r.bypassed, r.plugged = append(r.faults[:0], faults...), s, r.bypassed[:0], r.plugged[:0]
	r.scatter(s)
	for _, f := range faults {
		if err := r.plan.apply(f); err != nil {
			return err
		}
	}
	r.t, r.segment, r.corner, r.h, r.bracket, r.hold, r.stale = 0, 0, 0, firstStep, 0, false, true
	r.luck, r.calm, r.swing = 0, 0, swing{}
	r.actions, r.record, r.failure, r.tries, r.accepted = r.actions[:0], recording{}, nil, 0, 0
	clear(r.s.vented)
	clear(r.s.pumped)
	r.s.tallies = r.s.tallies[:0]
	r.tune(r.s.Options)
	r.s.activate(r.network, &r.plan)
	for i := range r.plan.controls {
		c := &r.plan.controls[i]
		v := c.allowed(c.rest)
		r.ramps[i], r.tripped[i] = ramp{v, v, 0, 0}, false
	}
	for i := range r.plan.latches {
		r.latches[i], r.rests[i] = r.plan.latches[i].initial, 0
	}
	for i := range r.plan.rooms {
		r.fill(int32(i), atmosphere)
	}
	for i := range r.plan.gauges {
		r.needles[i] = atmosphere
	}
	return nil
}

// apply puts a fault into a plan. A mode that asks for what is not there is an error of its law, and says so.
func (p *plan) apply(f Fault) (err error) {
	mode, err := ModeOf(p.circuit, f)
	if err != nil {
		return err
	}
	severity := f.Severity
	if math.IsNaN(severity) {
		severity = mode.Severity.Typical
	}
	if math.IsInf(severity, 0) {
		return fmt.Errorf("fault %s: a severity must be a finite number", f)
	}
	defer func() {
		if why := recover(); why != nil {
			err = fmt.Errorf("fault %s: %v", f, why)
		}
	}()
	mode.Apply(p.editOf(f.Target), severity)
	return nil
}

func (r *Run) scatter(s Scatter) {
	for i := range r.plan.pumps {
		r.plan.pumps[i].efficiency *= 1 + s.Pump
	}
	for i := range r.plan.rooms {
		if m := &r.plan.rooms[i]; m.thermal {
			m.volume *= 1 + s.Volume
			m.heat *= 1 + s.Wall
		}
	}
	for i := range r.plan.elements {
		r.plan.elements[i].c = s.element(&r.plan.elements[i])
	}
}

// element of a healthy vehicle as the scattered one has it: its conductance.
func (s Scatter) element(e *element) float64 {
	switch {
	case e.dormant:
		return e.c
	case e.isLine:
		return e.c * (1 + s.Bore)
	}
	return e.c * (1 + s.Valve)
}

// Network that the run is of.
func (r *Run) Network() *Network { return r.network }

// Faults that the vehicle has.
func (r *Run) Faults() []Fault { return r.faults }

// Scatter by which the vehicle differs from its file.
func (r *Run) Scatter() Scatter { return r.given }

// Tune sets the solver's options. It may be done between any two Advances.
func (r *Run) Tune(o Options) { r.tune(o) }

func (r *Run) tune(o Options) {
	r.s.Options = o
	r.s.eps, r.s.top = o.Smoothing, math.Sqrt(1+o.Smoothing)
	r.s.steepest = 2 * r.s.top / math.Sqrt(o.Smoothing)
	r.s.begun = false
}

// fill sets a room's pressure, at the reference temperature.
func (r *Run) fill(room int32, pressure float64) {
	s, u := r.s, r.network.unknown[room]
	v := s.volume[u]
	if m := &r.plan.rooms[room]; len(m.piston.Gauge) > 0 {
		v = m.volume + m.piston.volume(pressure-atmosphere)
	}
	s.x[u] = pressure * v
	if q := r.network.warmth[room]; q >= 0 {
		s.x[q] = pressure * v
		s.x[u] += r.plan.rooms[room].worked(pressure)
	}
	s.pressures(s.x, s.p, s.capacity)
	s.begun = false
}

// Fill sets one room to an absolute pressure at once, at 293.15 K: air from nowhere, for bench tests of a part.
func (r *Run) Fill(room string, pressure float64) error {
	i, ok := r.plan.roomIndex[room]
	if !ok {
		return fmt.Errorf("no room %q; rooms are named component.room", room)
	}
	if !(pressure > 0) || math.IsInf(pressure, 0) {
		return fmt.Errorf("room %s can't be filled to %g Pa absolute", room, pressure)
	}
	r.export.close()
	r.fill(i, pressure)
	r.restart()
	return nil
}

func (c *control) allowed(v float64) float64 {
	if c.held {
		return c.hold
	}
	return min(max(v, c.low), c.high)
}

// Set moves a control to a value in the given time (s; 0 for at once). A bare name such as "pedal" moves every control of
// that name. The value must lie in the control's range; a fault may keep the part from following.
func (r *Run) Set(control string, value, over float64) error {
	found, moved := false, false
	for i := range r.plan.controls {
		c := &r.plan.controls[i]
		if c.name != control && (c.bare != control || strings.Contains(control, ".")) {
			continue
		}
		found = true
		if healthy := r.network.plan.controls[i].max; !(value >= 0 && value <= healthy) {
			return fmt.Errorf("control %s goes from 0 to %g; %g is outside", c.name, healthy, value)
		}
		if !(over >= 0) || math.IsInf(over, 0) {
			return fmt.Errorf("control %s can't be moved in %g s", c.name, over)
		}
		r.tripped[i] = false
		if to := c.allowed(value); r.ramps[i].to != to || r.ramps[i].end > r.t { // else it is there already
			r.ramps[i] = ramp{r.ramps[i].at(r.t), to, r.t, r.t + over}
			moved = true
			r.export.set(c.name, to, over)
		}
	}
	if !found {
		return fmt.Errorf("no control %q; there are %s", control, strings.Join(r.network.Controls(), ", "))
	}
	if moved {
		r.restart()
	}
	return nil
}

// Get is a control's present value; of a bare name, the first one's. It is NaN for a name that there is not.
func (r *Run) Get(control string) float64 {
	for i := range r.plan.controls {
		c := &r.plan.controls[i]
		if c.name == control || c.bare == control && !strings.Contains(control, ".") {
			return r.ramps[i].at(r.t)
		}
	}
	return math.NaN()
}

// turning says whether a control's movement ends right now.
func (r *Run) turning() bool {
	for i := range r.ramps {
		if c := &r.ramps[i]; c.end == r.t && c.begin < c.end {
			return true
		}
	}
	return false
}

// restart makes the next step a short one: something has changed at once.
func (r *Run) restart() {
	r.h = min(r.h, firstStep)
	r.bracket, r.hold, r.stale, r.luck, r.calm, r.swing = 0, false, true, 0, 0, swing{}
}

// prepare works out what is constant about openings until the next corner of a control.
func (r *Run) prepare() {
	r.stale = false
	r.s.begun = false
	r.segment, r.corner = r.t, math.Inf(1)
	for i := range r.ramps {
		if c := &r.ramps[i]; c.end > r.t {
			r.corner = min(r.corner, c.end)
		}
	}
	for _, end := range r.rests {
		if end > r.t {
			r.corner = min(r.corner, end)
		}
	}
	r.lay()
}

// lay takes the constant parts of openings down as they are at the beginning of the segment.
func (r *Run) lay() {
	s := r.s
	first := len(s.fixed)
	for k := range s.valves {
		v := &s.valves[k]
		v.base, v.drift = r.steady(&r.plan.elements[s.live[first+k].element].opening)
	}
	first += len(s.valves)
	for k := range s.warm {
		v := &s.warm[k]
		v.base, v.drift = r.steady(&r.plan.elements[s.live[first+k].element].opening)
	}
	for k := range s.pumps {
		p := &r.plan.pumps[s.pumps[k].pump]
		s.pumps[k].base, s.pumps[k].drift = r.steady(&p.opening)
		c := &r.ramps[p.speed]
		s.pumps[k].speed, s.pumps[k].acceleration = c.at(r.segment), c.slope(r.segment)
	}
}

// steady is the part of an opening that hangs on no pressure, and its rate.
func (r *Run) steady(o *opening) (base, drift float64) {
	base = o.base
	for _, t := range o.terms {
		switch t.kind {
		case controlTerm:
			c := &r.ramps[t.index]
			base += t.gain * c.at(r.segment)
			drift += t.gain * c.slope(r.segment)
		case latchTerm:
			if r.latches[t.index] {
				base += t.gain
			}
		case roomTerm:
			if t.index < 0 {
				base += t.gain * atmosphere
			}
		}
	}
	return base, drift
}
