package procedure

import (
	"math"
	"slices"

	"airpath/circuit"
	"airpath/circuit/airflow"
)

// groups of procedures, in the order in which they are listed: each makes those that a vehicle has the parts for.
var groups = []func(*vehicle) []*Procedure{charging, leaking, applying, balancing, wheeling, linking, warning, comparing, listening, supplying, draining, towing, towed}

// For lists the procedures that can be done on a vehicle, in a fixed order. They are read-only and may be shared.
func For(n *airflow.Network) []*Procedure {
	v := newVehicle(n)
	var all []*Procedure
	for _, group := range groups {
		for _, p := range group(v) {
			if p != nil {
				all = append(all, p)
			}
		}
	}
	all = append(append(all, v.soaping(all)...), v.looking()...)
	findStems(all)
	return all
}

// procedure fills in what follows from the rest: cautions, set-up, and the taps that are recorded.
func (v *vehicle) procedure(p Procedure, more ...tap) *Procedure {
	p.vehicle = v
	p.taps = append(v.taps(), more...)
	p.SetUp += p.Start.SetUp()
	p.State = v.stated(p.State)
	p.Cautions = cautionsFor(p.Start, p.Steps)
	p.plots = plots(p.Steps)
	p.whole = p.plots || slices.ContainsFunc(p.Steps, func(s Step) bool { _, ok := s.Do.(recordPedal); return ok })
	p.index = map[[2]string]int{}
	for i, r := range slices.Backward(p.Readings) { // the first of a name counts
		p.index[[2]string{r.ID, r.Place}] = i
	}
	if p.every == 0 {
		p.every = 1
	}
	return &p
}

// Plots says whether readings are taken from curves.
func (p *Procedure) Plots() bool { return p.plots }

// Whole says whether readings are taken from curves or from a recorder's traces. Such a procedure is carried out from its beginning even
// where others of the vehicle began alike; a bench that follows a model has least to do when it comes first.
func (p *Procedure) Whole() bool { return p.whole }

// Starts lists the starting states of some procedures, each once, those that others build on first.
func Starts(all []*Procedure) []*Start {
	var out []*Start
	var add func(s *Start)
	add = func(s *Start) {
		if s == nil || slices.ContainsFunc(out, func(o *Start) bool { return o.ID == s.ID }) {
			return
		}
		add(s.From)
		out = append(out, s)
	}
	for _, p := range all {
		add(p.Start)
	}
	return out
}

// Total minutes with the set-up, rounded up to half a minute.
func (p *Procedure) Total() float64 { return math.Ceil(2*(p.SetUp+p.Minutes)) / 2 }

// stated fills in what follows from the starting states: a trailer that is on is charged with the park released, and its hand
// control is back unless it says otherwise.
func (v *vehicle) stated(s circuit.State) circuit.State {
	if s.Hand == "" && v.first("hand-control") != nil {
		s.Hand = "released"
	}
	if s.Trailer == "" && v.first("coupling") != nil {
		s.Trailer = map[bool]string{true: "in", false: "out"}[s.Park == "released"]
	}
	return s
}
