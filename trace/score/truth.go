package score

import (
	"context"
	"fmt"
	"math/rand/v2"

	"airpath/circuit/airflow"
	"airpath/circuit/airflow/procedure"
	"airpath/trace"
)

// A subject is a hidden vehicle ready to be played: what is wrong with it, and what its driver says.
type subject struct {
	vehicle int
	truths  []airflow.Fault
	oddity  string           // something that the catalogue does not know, in words; "" for none
	where   string           // the part that it is in
	network *airflow.Network // with the wrong part, where there is one
	real    []*procedure.Procedure
	hidden  *hidden
	twin    *hidden // the same vehicle without the faults
	symptom symptom
	dull    bool // nothing was noticed: a vehicle without a fault
	quiet   int  // faults drawn that nobody would have noticed
}

// How often a severity is drawn worse before a fault is given up that nobody notices, and how many faults are tried.
const (
	mostWorse  = 3
	mostFaults = 400
)

// prepare a vehicle. A fault is drawn as often as the catalogue says that it is met, with a severity anywhere on its scale; one that
// nobody notices is drawn worse, and one that nobody notices at its worst is drawn again: nobody brings such a vehicle in.
func (k *worker) prepare(ctx context.Context, vehicle int) (*subject, error) {
	w := k.world
	s := &subject{vehicle: vehicle, hidden: w.draw(vehicle), twin: w.draw(vehicle)}
	if err := s.twin.put(k, 1, nil); err != nil {
		return nil, err
	}
	r := w.dice(vehicle, forTruth)
	odd, beside := r.Float64() < w.options.Unmodelled, r.Float64() < 0.5
	if odd {
		if err := k.oddity(ctx, s, r); err != nil {
			return nil, err
		}
	}
	count := w.options.Faults
	switch {
	case w.options.Mixed:
		count, odd = w.mixed(r)
		if odd {
			if err := k.oddity(ctx, s, r); err != nil {
				return nil, err
			}
		}
	case odd && !beside:
		count = 0
	}
	for range count {
		f, err := k.noticed(ctx, s, r)
		if err != nil {
			return nil, err
		}
		s.truths = append(s.truths, f)
	}
	s.network, s.real = s.hidden.network, s.hidden.real
	if err := s.hidden.put(k, 0, s.truths); err != nil {
		return nil, err
	}
	return s, k.complain(ctx, s)
}

// mixed draws how many faults a vehicle comes in with, or that it is something unmodelled, as the tracer expects it.
func (w *world) mixed(r *rand.Rand) (faults int, odd bool) {
	sum := 0.0
	for _, c := range w.catalogue {
		sum += c.words.Prior
	}
	nothing, unknown, two := trace.Expected(sum)
	x, y := r.Float64(), r.Float64()
	switch {
	case x < nothing:
		return 0, false
	case x < nothing+unknown:
		return 0, true
	case y < two:
		return 2, false
	}
	return 1, false
}

// complain lets the driver say what he noticed. Where nothing is to be noticed (no fault, or two that hide each other) the
// vehicle comes in with a check that was done and showed nothing.
func (k *worker) complain(ctx context.Context, s *subject) error {
	found, ok, err := s.hidden.noticeOr(ctx, s.twin, k.world.options.Mixed)
	if err != nil {
		return err
	}
	if !ok {
		d := k.world.dice(s.vehicle, forNotice, s.hidden.stage, 1)
		p := k.world.notices[d.IntN(len(k.world.notices))]
		found = symptom{p, d.IntN(len(k.world.procedures[p].Readings))}
		s.dull = true
	}
	s.symptom = found
	return nil
}

// noticed draws a fault that somebody would notice by itself on this vehicle.
func (k *worker) noticed(ctx context.Context, s *subject, r *rand.Rand) (airflow.Fault, error) {
	weights := make([]float64, len(k.world.catalogue))
	for i, c := range k.world.catalogue {
		weights[i] = c.weight
		for _, t := range s.truths { // a second fault is in another part
			if t.Target == c.fault.Target {
				weights[i] = 0
			}
		}
	}
	for range mostFaults {
		c := &k.world.catalogue[pick(r, weights)]
		share := r.Float64()
		for try := 0; ; try++ {
			f := c.fault
			f.Severity = trace.SeverityAlong(c.mode.Severity, share)
			if err := s.hidden.put(k, 0, []airflow.Fault{f}); err != nil {
				return f, err
			}
			if _, ok, err := s.hidden.notice(ctx, s.twin); err != nil || ok {
				return f, err
			}
			if try == mostWorse || share == 1 || c.mode.Severity.Mild == c.mode.Severity.Severe {
				break
			}
			share += (1 - share) * r.Float64()
			if try == mostWorse-1 {
				share = 1
			}
		}
		s.quiet++
	}
	return airflow.Fault{}, fmt.Errorf("score: of %d faults drawn for vehicle %d nobody would have noticed any", mostFaults, s.vehicle)
}
