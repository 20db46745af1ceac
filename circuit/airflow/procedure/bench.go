package procedure

import (
	"context"
	"fmt"
	"math"

	"airpath/circuit/airflow"
	"airpath/circuit/airflow/effort"
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
	left    *airflow.Snapshot   // where procedures begin, in place of their starting states; nil for those
	watch   func(step int, r *airflow.Run)
	lean    bool                // no curves but those that readings need
	model   *Model              // whose way is gone as long as this vehicle's is the same; nil for none
	writes  *Model              // that this bench's way is taken down in; nil for none
	differs *airflow.Difference // from the model's vehicle
	nodes   map[string]*node    // what this vehicle came to, by its history
	wheels  *effort.Vehicle     // its wheels, once they have been asked for
}

type reached struct {
	state  *airflow.Snapshot
	short  string // why the state was not reached; "" when it was
	shared bool   // it is the model's
}

// NewBench puts a vehicle on the bench. It fails where a fault is none of the vehicle's.
func NewBench(n *airflow.Network, faults []airflow.Fault, scatter airflow.Scatter) (*Bench, error) {
	run, err := n.Start(faults, scatter)
	if err != nil {
		return nil, err
	}
	return &Bench{network: n, faults: faults, scatter: scatter, run: run, starts: map[string]*reached{}, nodes: map[string]*node{}}, nil
}

// Resumed puts a vehicle on the bench as a run has left it. Procedures begin there, and not in their own starting states.
func Resumed(r *airflow.Run) *Bench {
	return &Bench{network: r.Network(), faults: r.Faults(), scatter: r.Scatter(), run: r, left: r.Snapshot(),
		starts: map[string]*reached{}, nodes: map[string]*node{}}
}

// Next puts another vehicle of the same network on the bench, without new memory.
func (b *Bench) Next(faults []airflow.Fault, scatter airflow.Scatter) error {
	b.forget()
	b.left = nil
	b.faults, b.scatter = faults, scatter
	if err := b.run.Restart(faults, scatter); err != nil {
		return err
	}
	if b.model != nil {
		b.differs = b.run.Compare()
	}
	return nil
}

// Kept is what a vehicle has come to on a bench before it is taken off: where it stood when procedures began.
type Kept struct {
	starts map[string]*reached
	nodes  map[string]*node
}

// Keep what the vehicle has come to, for when it is put on a bench that follows the same model again. The bench has forgotten it.
func (b *Bench) Keep() *Kept {
	k := &Kept{b.starts, b.nodes}
	b.starts, b.nodes = map[string]*reached{}, map[string]*node{}
	return k
}

// Recall what was kept of the vehicle that has just been put on the bench: it need not come to the same once more.
func (b *Bench) Recall(k *Kept) { b.starts, b.nodes = k.starts, k.nodes }

// forget the starting states.
func (b *Bench) forget() {
	b.wheels = nil
	for id, s := range b.starts {
		if !s.shared {
			b.spare = append(b.spare, s.state)
		}
		delete(b.starts, id)
	}
	for did, n := range b.nodes {
		b.spare = append(b.spare, n.state)
		delete(b.nodes, did)
	}
}

// Tune sets the solver's options for what is done from now on: [airflow.Coarse] for screening.
func (b *Bench) Tune(o airflow.Options) { b.run.Tune(o) }

// Watch calls f when a procedure begins, with step -1, and after each of its steps, with the step's index. f may ask the run
// for anything, but not change it. Nil ends it.
func (b *Bench) Watch(f func(step int, r *airflow.Run)) { b.watch = f }

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
		stems: p.stems,
	}
	if b.lean && !p.plots {
		x.every = 0
	}
	from := 0
	if c := b.course(p.ID); c != nil && start.shared {
		at, ok := c.leaves(b.differs, len(b.faults) > 0)
		if !ok {
			return c.outcome(), nil
		}
		from = x.resume(at)
	} else {
		b.run.Restore(start.state)
		x.since = b.run.Time()
		x.record()
		x.sample()
	}
	if b.watch != nil {
		b.watch(-1, b.run)
	}
	if b.writes != nil {
		x.course = &course{}
	}
	err = x.carryOut(p.Steps, from)
	b.run.Record(0, nil)
	x.sample()
	out.Curves, out.Log = x.curves, x.log
	if err != nil {
		return out, fmt.Errorf("%s: %w", p.ID, err)
	}
	if b.writes != nil {
		b.run.Follow(nil)
		x.course.end = out
		b.writes.courses[p.ID] = x.course
	}
	return out, nil
}

// reach a starting state, by way of the ones before it.
func (b *Bench) reach(ctx context.Context, v *vehicle, s *Start) (*reached, error) {
	if b.left != nil {
		return &reached{state: b.left}, nil
	}
	if got, ok := b.starts[s.ID]; ok {
		return got, nil
	}
	got := &reached{}
	before := &reached{shared: true} // the vehicle as it came
	if s.From != nil {
		var err error
		if before, err = b.reach(ctx, v, s.From); err != nil {
			return nil, err
		}
		if s.From.Required {
			got.short = before.short
		}
	}
	x := b.lead(ctx, v)
	x.stems = s.stems
	from := 0
	if c := b.way(s.ID); c != nil && before.shared {
		at, ok := c.leaves(b.differs, len(b.faults) > 0)
		if !ok {
			b.starts[s.ID] = c.reached
			return c.reached, nil
		}
		from = x.resume(at)
	} else {
		if s.From != nil {
			b.run.Restore(before.state)
		} else if err := b.run.Restart(b.faults, b.scatter); err != nil {
			return nil, err
		}
		x.since = b.run.Time()
	}
	if b.writes != nil {
		x.course = &course{}
	}
	if err := x.carryOut(s.Steps, from); err != nil {
		return nil, fmt.Errorf("on the way to the starting state %q: %w", s.ID, err)
	}
	if got.short == "" && s.missing != nil {
		got.short = s.missing(x)
	}
	got.state = b.memory()
	b.run.SnapshotInto(got.state)
	b.starts[s.ID] = got
	if b.writes != nil {
		b.run.Follow(nil)
		x.course.reached = &reached{got.state, got.short, true}
		b.writes.ways[s.ID] = x.course
	}
	return got, nil
}

// lead is the way to a starting state: nothing is read or recorded on it.
func (b *Bench) lead(ctx context.Context, v *vehicle) *execution {
	return &execution{ctx: ctx, bench: b, run: b.run, v: v, taps: v.taps(), marks: map[string]moment{}}
}

func (b *Bench) memory() *airflow.Snapshot {
	if n := len(b.spare); n > 0 {
		m := b.spare[n-1]
		b.spare = b.spare[:n-1]
		return m
	}
	return &airflow.Snapshot{}
}
