package airflow

import "slices"

// A Snapshot is a run's state at one moment. It can be put into any run of the same network; in one whose parts differ
// (another fault, another volume) rooms keep the air that they hold, not the pressure.
type Snapshot struct {
	t, h    float64
	segment float64
	corner  float64
	hold    bool
	stale   bool
	luck    uint64
	swing   swing
	calm    int
	x       []float64
	ramps   []ramp
	latches []bool
	rests   []float64
	needles []float64
	tripped []bool
	actions []action
	vented  []float64
	pumped  []float64
}

// Snapshot takes the run's state down.
func (r *Run) Snapshot() *Snapshot {
	m := &Snapshot{}
	r.SnapshotInto(m)
	return m
}

// SnapshotInto is Snapshot into memory that there is already.
func (r *Run) SnapshotInto(m *Snapshot) {
	m.t, m.h, m.hold, m.segment, m.corner, m.stale = r.t, r.h, r.hold, r.segment, r.corner, r.stale
	m.x = append(m.x[:0], r.s.x...)
	m.luck, m.calm, m.swing = r.luck, r.calm, r.swing
	m.ramps = append(m.ramps[:0], r.ramps...)
	m.latches = append(m.latches[:0], r.latches...)
	m.rests = append(m.rests[:0], r.rests...)
	m.needles = append(m.needles[:0], r.needles...)
	m.tripped = append(m.tripped[:0], r.tripped...)
	m.actions = append(m.actions[:0], r.actions...)
	r.s.flush()
	m.vented = append(m.vented[:0], r.s.vented...)
	m.pumped = append(m.pumped[:0], r.s.pumped...)
}

// Restore puts a run back into a state. What faults hold (a stuck latch, a pedal that does not return) stays held.
func (r *Run) Restore(m *Snapshot) {
	r.export.close()
	r.t, r.h, r.hold, r.segment, r.corner, r.stale = m.t, m.h, m.hold, m.segment, m.corner, m.stale
	r.bracket, r.failure, r.luck, r.calm, r.swing = 0, nil, m.luck, m.calm, m.swing
	copy(r.s.x, m.x)
	copy(r.ramps, m.ramps)
	copy(r.latches, m.latches)
	copy(r.rests, m.rests)
	copy(r.needles, m.needles)
	copy(r.tripped, m.tripped)
	for i := range r.plan.controls {
		if c := &r.plan.controls[i]; r.ramps[i].to != c.allowed(r.ramps[i].to) {
			v := c.allowed(r.ramps[i].to)
			r.ramps[i], r.stale = ramp{v, v, r.t, r.t}, true
		}
	}
	for i := range r.plan.latches {
		if l := &r.plan.latches[i]; l.held && r.latches[i] != l.initial {
			r.latches[i], r.stale = l.initial, true
		}
	}
	if !slices.Equal(r.actions, m.actions) {
		r.actions = append(r.actions[:0], m.actions...)
		r.carryOut()
	}
	for i := range r.s.tallies {
		r.s.tallies[i].sum = 0
	}
	copy(r.s.vented, m.vented)
	copy(r.s.pumped, m.pumped)
	r.s.pressures(r.s.x, r.s.p, r.s.capacity)
	r.s.begun = false
	if !r.stale {
		r.lay()
	}
}
