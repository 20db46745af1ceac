package airflow

import (
	"math"
	"slices"
)

// recording calls f at fixed times while the run advances. The solver's steps do not depend on it: between their ends the
// state is the method's own continuous extension (see between).
type recording struct {
	f       func(*Run)
	every   float64
	start   float64
	count   int
	running bool
	x, p    []float64 // state in between
}

// Record calls f now and then every so many seconds while the run advances; nil stops it. f may ask the run for anything, at
// that moment, but not change it.
func (r *Run) Record(every float64, f func(*Run)) {
	if f == nil || !(every > 0) {
		r.record = recording{}
		return
	}
	r.record = recording{f: f, every: every, start: r.t, x: slices.Clone(r.s.x), p: slices.Clone(r.s.p)}
}

// RecordSince is Record as if it had begun at a time before now: the times are the same, those that are past are left out.
func (r *Run) RecordSince(start, every float64, f func(*Run)) {
	r.Record(every, f)
	if m := &r.record; m.f != nil {
		m.start = start
		m.count = max(int(math.Ceil((r.t-start)/every)), 0)
	}
}

func (m *recording) next() float64 { return m.start + float64(m.count)*m.every }

// recordNow serves a time that has come without a step.
func (r *Run) recordNow() {
	m := &r.record
	for m.f != nil && m.next() <= r.t {
		m.count++
		r.ready()
		m.running = true
		m.f(r)
		m.running = false
	}
}

// recordWithin serves the times within the step that is about to be accepted.
func (r *Run) recordWithin(end, h float64) {
	m := &r.record
	if m.f == nil || m.next() > end {
		return
	}
	s, begin := r.s, r.t
	s.sharpen(h, begin-r.segment)
	for m.f != nil && m.next() <= end {
		at := m.next()
		m.count++
		s.between((at-begin)/h, m.x)
		if !s.pressures(m.x, m.p, s.cs) {
			copy(m.x, s.xn)
			copy(m.p, s.pn)
		}
		s.x, m.x = m.x, s.x
		s.p, m.p = m.p, s.p
		r.t = at
		m.running = true
		m.f(r)
		m.running = false
		s.x, m.x = m.x, s.x
		s.p, m.p = m.p, s.p
		r.t = begin
	}
}

// sharpen prepares between for the step of length h just tried: it finds by how much the slopes at both ends of the method's
// own continuous extension are wrong, for rooms that are slow beside the step. Where a room is fast its slope says nothing (it
// is wrong by its distance from balance, divided by its own short time), so the corrections go through the step's own matrix,
//
//	(cap/(h/2) − J)·y = e/(h/2),   correction = cap·y,
//
// which leaves them as they are in slow rooms and makes them as small as that distance in fast ones.
func (s *solver) sharpen(h, elapsed float64) {
	n := s.n
	s.rates(s.pn, s.rate, elapsed+h, false)
	b, capacity := s.b[:n], s.capacity[:n]
	for i := range b {
		b[i] = 2 / h * (h*s.rate0[i] - (5*s.k1[i] - s.k2[i] + 2*s.k3[i] + 6*s.k4[i]))
	}
	s.pattern.solve(s.lu, s.inverse, b)
	for i, v := range b {
		s.bend0[i] = capacity[i] * v
		b[i] = 2 / h * (h*s.rate[i] - (s.k2[i] - s.k1[i] - 6*s.k4[i]))
	}
	s.pattern.solve(s.lu, s.inverse, b)
	for i, v := range b {
		s.bend1[i] = capacity[i] * v
	}
}

// between gives the state at a share u of the step just tried, once it has been sharpened. From RODAS3's order conditions: of
// second order throughout with the third-order weight on its last stages, equal to the step's end at u = 1, and falling as
// (1 − u)² where the step is far longer than a room's own time. Then the slopes at both ends are put right, which makes it
// the cubic through both ends in slow rooms: of the third order, as the method is.
func (s *solver) between(u float64, x []float64) {
	m1, m2 := u*(5-3*u), u*(u-1)
	m3, m4 := u*(2-u), u*(6-u*(3+2*u))
	d0, d1 := u*(1-u)*(1-u), u*u*(u-1)
	for i := range x {
		x[i] = s.x[i] + m1*s.k1[i] + m2*s.k2[i] + m3*s.k3[i] + m4*s.k4[i] + d0*s.bend0[i] + d1*s.bend1[i]
	}
}
