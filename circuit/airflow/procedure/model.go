package procedure

import (
	"context"
	"errors"
	"maps"
	"slices"

	"airpath/circuit/airflow"
)

// A Model is the healthy vehicle's way through procedures: its state before every step and now and then within the long ones,
// and what its air did in between. A bench that follows a model carries a vehicle's procedures out from where that vehicle
// leaves the healthy one's way. Most faults leave it late or never: one behind the foot valve does nothing before the pedal
// is pressed, a governor that is set too high nothing before cut-out. It may be shared by benches side by side.
type Model struct {
	network *airflow.Network
	options airflow.Options
	ways    map[string]*course // to starting states, by id
	courses map[string]*course // of procedures, by id
	bench   *Bench             // of the healthy vehicle
	gone    map[string]bool    // procedures that it has gone through, by id
}

// NewModel takes the healthy vehicle through procedures. One that can't be followed by the simulator is left out.
func NewModel(ctx context.Context, n *airflow.Network, all []*Procedure, o airflow.Options) (*Model, error) {
	b, err := NewBench(n, nil, airflow.Scatter{})
	if err != nil {
		return nil, err
	}
	m := &Model{network: n, options: o, ways: map[string]*course{}, courses: map[string]*course{}, bench: b, gone: map[string]bool{}}
	b.Tune(o)
	b.lean, b.writes = true, m
	return m, m.GoThrough(ctx, all)
}

// GoThrough takes the healthy vehicle through more procedures, those that it has not yet gone through. No bench may follow the model
// meanwhile. In which order it goes through them changes nothing.
func (m *Model) GoThrough(ctx context.Context, more []*Procedure) error {
	for _, p := range more {
		if m.gone[p.ID] {
			continue
		}
		m.bench.run.Follow(nil)
		_, err := m.bench.Do(ctx, p)
		var failure *airflow.Failure
		if err != nil && !errors.As(err, &failure) {
			return err
		}
		m.gone[p.ID] = true
	}
	m.bench.run.Follow(nil)
	return nil
}

// Went tells whether the healthy vehicle has gone through a procedure.
func (m *Model) Went(p *Procedure) bool { return m.gone[p.ID] }

// Follow a model from now on, with its solver's options. Outcomes have no curves then but those that readings are taken from.
// A bench that is watched goes its own way.
func (b *Bench) Follow(m *Model) error {
	b.forget()
	b.model, b.lean = m, true
	b.run.Tune(m.options)
	return b.Next(b.faults, b.scatter)
}

// way of the model to a starting state, nil where there is none to follow.
func (b *Bench) way(start string) *course {
	if b.model == nil || b.watch != nil || b.differs.Always {
		return nil
	}
	return b.model.ways[start]
}

// course of the model through a procedure.
func (b *Bench) course(procedure string) *course {
	if b.model == nil || b.watch != nil || b.differs.Always {
		return nil
	}
	return b.model.courses[procedure]
}

// A course is how some steps went.
type course struct {
	points  []point
	reached *reached // of the way to a starting state
	end     Outcome  // of a procedure
}

// A point is where a course can be taken up: before a step, or in the midst of one that waits.
type point struct {
	step    int
	waiting *awaiting
	state   *airflow.Snapshot
	taken   taken
	trail   *airflow.Trail // what the air did from here to the next point
	sees    sight          // what the step looks at, beside the air
}

// taken is what an execution had noted.
type taken struct {
	marks         map[string]moment
	values        []float64
	log           []Entry
	samples       int
	before, since float64
}

// leaves says where a vehicle leaves a course; ok is false where it goes it to the end.
func (c *course) leaves(d *airflow.Difference, faulty bool) (at *resumption, ok bool) {
	for i := range c.points {
		p := &c.points[i]
		if p.sees.anything(d, faulty) || !d.SameWay(p.trail) {
			return &resumption{c, p}, true
		}
	}
	return nil, false
}

type resumption struct {
	course *course
	point  *point
}

// outcome of the whole course, for a caller to keep.
func (c *course) outcome() Outcome {
	o := c.end
	o.Values, o.Log = slices.Clone(o.Values), slices.Clone(o.Log)
	o.Curves = o.Curves.first(len(o.Curves.Seconds))
	return o
}

// first points of curves, copied.
func (c Curves) first(n int) Curves {
	out := Curves{Seconds: slices.Clone(c.Seconds[:n]), Series: slices.Clone(c.Series)}
	for i := range out.Series {
		if p := out.Series[i].Pressure; len(p) > 0 {
			out.Series[i].Pressure = slices.Clone(p[:n])
		}
	}
	return out
}

// chart a point of the course that is being written.
func (x *execution) chart(do Action, waiting *awaiting) {
	if x.course == nil {
		return
	}
	trail := &airflow.Trail{}
	x.run.Follow(trail)
	x.course.points = append(x.course.points, point{
		step: x.step, waiting: waiting, state: x.run.Snapshot(), trail: trail, sees: sightOf(do),
		taken: taken{maps.Clone(x.marks), slices.Clone(x.values), slices.Clone(x.log), len(x.curves.Seconds), x.before, x.since},
	})
}

// resume at a point of a course, and say with which step to go on.
func (x *execution) resume(at *resumption) (step int) {
	p := at.point
	x.run.Restore(p.state)
	x.marks, x.log = maps.Clone(p.taken.marks), slices.Clone(p.taken.log)
	copy(x.values, p.taken.values)
	x.before, x.since = p.taken.before, p.taken.since
	x.waiting = p.waiting
	if x.every > 0 {
		x.curves = at.course.end.Curves.first(p.taken.samples)
		x.run.RecordSince(x.since, x.every, func(*airflow.Run) { x.sample() })
	}
	return p.step
}
