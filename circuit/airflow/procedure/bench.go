package procedure

import (
	"context"
	"fmt"
	"math"

	"airpath/circuit/airflow"
)

// A Bench is one vehicle, with its faults and its scatter, ready to be tested. Starting states that procedures share are
// reached once and kept. It is for one goroutine; benches of one network may run side by side.
type Bench struct {
	network *airflow.Network
	faults  []airflow.Fault
	scatter airflow.Scatter
	run     *airflow.Run
	starts  map[string]*reached
	spare   []*airflow.Snapshot // memory of a vehicle tested before
	watch   func(step int, r *airflow.Run)
}

type reached struct {
	state *airflow.Snapshot
	short string // why the state was not reached; "" when it was
}

// NewBench puts a vehicle on the bench. It fails where a fault is none of the vehicle's.
func NewBench(n *airflow.Network, faults []airflow.Fault, scatter airflow.Scatter) (*Bench, error) {
	run, err := n.Start(faults, scatter)
	if err != nil {
		return nil, err
	}
	return &Bench{network: n, faults: faults, scatter: scatter, run: run, starts: map[string]*reached{}}, nil
}

// Next puts another vehicle of the same network on the bench, without new memory.
func (b *Bench) Next(faults []airflow.Fault, scatter airflow.Scatter) error {
	for id, s := range b.starts {
		b.spare = append(b.spare, s.state)
		delete(b.starts, id)
	}
	b.faults, b.scatter = faults, scatter
	return b.run.Restart(faults, scatter)
}

// Tune sets the solver's options for what is done from now on: [airflow.Coarse] for screening.
func (b *Bench) Tune(o airflow.Options) { b.run.Tune(o) }

// Watch calls f when a procedure begins, with step -1, and after each of its steps, with the step's index. f may ask the run
// for anything, but not change it. Nil ends it.
func (b *Bench) Watch(f func(step int, r *airflow.Run)) { b.watch = f }

// KeepExtremes notes from now on the lowest and highest pressure of every room, starting states included.
func (b *Bench) KeepExtremes() { b.run.KeepExtremes() }

// Extremes of a room's pressure (Pa absolute) since KeepExtremes; ok is false where they were not kept.
func (b *Bench) Extremes(room string) (low, high float64, ok bool) { return b.run.Extremes(room) }

// Faults of the vehicle.
func (b *Bench) Faults() []airflow.Fault { return b.faults }

// An Outcome is what one procedure yielded on one vehicle.
type Outcome struct {
	// Values has one exact value (SI) for each of the procedure's readings: what perfect instruments show on this vehicle's
	// own gauges. For a yes or no it is the quantity that the reading's Judge judges. NaN means that it was never reached.
	Values []float64
	Undone string // why the procedure could not be done on this vehicle; then all values are NaN
	Short  string // why its starting state was not quite reached, where it was done all the same
	Curves Curves
	Log    []Entry
}

// An Entry says when a step was begun.
type Entry struct {
	At   float64 // s since the first step
	Step int     // index in the procedure's steps
}

// Do carries out a procedure as its steps say.
func (b *Bench) Do(ctx context.Context, p *Procedure) (Outcome, error) {
	if p.vehicle.network != b.network {
		return Outcome{}, fmt.Errorf("procedure %s was made for another network than the vehicle on the bench", p.ID)
	}
	out := Outcome{Values: make([]float64, len(p.Readings)), Curves: newCurves(p.taps)}
	for i := range out.Values {
		out.Values[i] = math.NaN()
	}
	start, err := b.reach(ctx, p.vehicle, p.Start)
	if err != nil {
		return out, fmt.Errorf("%s: %w", p.ID, err)
	}
	if start.short != "" {
		if p.Start.Required {
			out.Undone = start.short
			return out, nil
		}
		out.Short = start.short
	}
	x := &execution{
		ctx: ctx, bench: b, run: b.run, v: p.vehicle, p: p, start: start.state,
		taps: p.taps, every: p.every, curves: out.Curves, marks: map[string]moment{}, values: out.Values,
	}
	b.run.Restore(start.state)
	x.since = b.run.Time()
	x.record()
	x.sample()
	if b.watch != nil {
		b.watch(-1, b.run)
	}
	err = x.carryOut(p.Steps)
	b.run.Record(0, nil)
	x.sample()
	if x.altered {
		if again := b.run.Restart(b.faults, b.scatter); err == nil {
			err = again
		}
	}
	out.Curves, out.Log = x.curves, x.log
	if err != nil {
		return out, fmt.Errorf("%s: %w", p.ID, err)
	}
	return out, nil
}

// reach a starting state, by way of the ones before it.
func (b *Bench) reach(ctx context.Context, v *vehicle, s *Start) (*reached, error) {
	if got, ok := b.starts[s.ID]; ok {
		return got, nil
	}
	got := &reached{state: b.memory()}
	if s.From == nil {
		if err := b.run.Restart(b.faults, b.scatter); err != nil {
			return nil, err
		}
	} else {
		before, err := b.reach(ctx, v, s.From)
		if err != nil {
			return nil, err
		}
		b.run.Restore(before.state)
		if s.From.Required {
			got.short = before.short
		}
	}
	x := b.lead(ctx, v)
	if err := x.carryOut(s.Steps); err != nil {
		return nil, fmt.Errorf("on the way to the starting state %q: %w", s.ID, err)
	}
	if got.short == "" && s.missing != nil {
		got.short = s.missing(x)
	}
	b.run.SnapshotInto(got.state)
	b.starts[s.ID] = got
	return got, nil
}

// lead is the way to a starting state: nothing is read or recorded on it.
func (b *Bench) lead(ctx context.Context, v *vehicle) *execution {
	return &execution{ctx: ctx, bench: b, run: b.run, v: v, taps: v.taps(), marks: map[string]moment{}, since: b.run.Time()}
}

func (b *Bench) memory() *airflow.Snapshot {
	if n := len(b.spare); n > 0 {
		m := b.spare[n-1]
		b.spare = b.spare[:n-1]
		return m
	}
	return &airflow.Snapshot{}
}
