package score

import (
	"context"
	"fmt"
	"slices"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuit/airflow/procedure"
	"airpath/trace"
)

// A Reasoner says what the findings of a case come to: a [trace.Tracer], or in tests one that knows the truth or nothing.
type Reasoner interface {
	Trace(ctx context.Context, k *circuit.Case, progress func(done, total int)) (*trace.Verdict, error)
}

// A worker plays vehicles one after the other on benches of its own.
type worker struct {
	world    *world
	reasoner func(*subject) Reasoner
	benches  []*procedure.Bench // by slot
	networks []*airflow.Network // that they are of
	tell     func(format string, args ...any)
	telling  bool // somebody listens
	filing   bool // somebody keeps records
}

func (w *world) worker(reasoner func(*subject) Reasoner) *worker {
	return &worker{world: w, reasoner: reasoner, tell: func(string, ...any) {}}
}

// bench of a slot with a vehicle on it; the memory of the vehicle before serves again.
func (k *worker) bench(slot int, n *airflow.Network, faults []airflow.Fault, s airflow.Scatter) (*procedure.Bench, error) {
	for len(k.benches) <= slot {
		k.benches, k.networks = append(k.benches, nil), append(k.networks, nil)
	}
	if k.networks[slot] == n {
		return k.benches[slot], k.benches[slot].Next(faults, s)
	}
	b, err := procedure.NewBench(n, faults, s)
	if err != nil {
		return nil, err
	}
	k.benches[slot], k.networks[slot] = b, n
	return b, nil
}

// vehicle is prepared and played by all strategies that it is due to.
func (k *worker) vehicle(ctx context.Context, i int) (*Record, error) {
	s, err := k.prepare(ctx, i)
	if err != nil {
		return nil, err
	}
	r := &Record{Vehicle: i, Oddity: s.oddity, Dull: s.dull, Quiet: s.quiet}
	for _, f := range s.truths {
		r.Truths = append(r.Truths, f.String())
	}
	r.Symptom = k.world.nameOf(s.symptom.procedure, s.symptom.reading)
	k.tell("vehicle %d: %s", i, s.describe())
	for _, st := range strategies(i <= k.world.options.Baselines) {
		if err := s.afresh(k); err != nil {
			return nil, err
		}
		g, err := k.play(ctx, s, st())
		if err != nil {
			return nil, fmt.Errorf("vehicle %d, %s: %w", i, g.Strategy, err)
		}
		r.Games = append(r.Games, *g)
	}
	r.Broken = s.hidden.broken
	return r, nil
}

// afresh puts the vehicle on the bench as it came in. What was simulated of it stays, unless something was repaired since.
func (s *subject) afresh(k *worker) error {
	if s.hidden.stage == 0 && s.hidden.network == s.network && slices.Equal(s.hidden.faults, s.truths) {
		return nil
	}
	s.hidden.stage, s.hidden.network, s.hidden.real = 0, s.network, s.real
	return s.hidden.put(k, 0, s.truths)
}

func (s *subject) describe() string {
	text := ""
	for _, f := range s.truths {
		text += " " + f.String()
	}
	if s.oddity != "" {
		text += " " + s.oddity
	}
	if text == "" {
		text = " nothing is the matter"
	}
	return text[1:]
}

// nameOf a reading: "listen-building/hiss@dryer.3".
func (w *world) nameOf(p, r int) string {
	reading := &w.procedures[p].Readings[r]
	name := w.procedures[p].ID + "/" + reading.ID
	if reading.Place != "" {
		name += "@" + reading.Place
	}
	return name
}
