package procedure

import (
	"context"
	"fmt"
	"math"
	"slices"

	"airpath/circuit/airflow"
)

// An execution is one procedure, or the way to one starting state, being carried out.
type execution struct {
	ctx   context.Context
	bench *Bench
	run   *airflow.Run
	v     *vehicle
	p     *Procedure // nil on the way to a starting state
	start *airflow.Snapshot

	taps    []tap
	every   float64
	curves  Curves
	marks   map[string]moment
	values  []float64
	log     []Entry
	course  *course   // that is being written, nil for none
	stems   []stem    // of the steps
	step    int       // that is being carried out
	waiting *awaiting // the next step is taken up in its midst; nil for at its beginning
	before  float64   // s spent before the last time that the starting state was restored
	since   float64   // the run's time then
}

// A moment is a time with what all taps showed.
type moment struct {
	time float64 // s since the first step; NaN for a moment that never came
	taps []float64
}

func (x *execution) moment() moment {
	m := moment{time: x.elapsed(), taps: make([]float64, len(x.taps))}
	for i, t := range x.taps {
		m.taps[i] = t.read(x.run)
	}
	return m
}

func (x *execution) never() moment {
	m := moment{time: math.NaN(), taps: make([]float64, len(x.taps))}
	for i := range m.taps {
		m.taps[i] = math.NaN()
	}
	return m
}

// at finds a moment; one that no step has marked is an error of the template.
func (x *execution) at(mark string) moment {
	m, ok := x.marks[mark]
	if !ok {
		panic("procedure: " + x.p.ID + " reads from the mark " + mark + ", which no step has made")
	}
	return m
}

func (x *execution) elapsed() float64 { return x.before + x.run.Time() - x.since }

// index of a tap in moments and curves.
func (x *execution) index(t tap) int {
	i := slices.IndexFunc(x.taps, func(o tap) bool { return o.place == t.place && o.room == t.room })
	if i < 0 {
		panic("procedure: " + x.p.ID + " does not record the " + t.name)
	}
	return i
}

// put a reading's value; a reading that the procedure does not list is an error of the template.
func (x *execution) put(id, place string, value float64) {
	i, ok := x.p.Reading(id, place)
	if !ok {
		panic(fmt.Sprintf("procedure: %s has no reading %q at %q", x.p.ID, id, place))
	}
	x.values[i] = value
}

// again restores the starting state; the clock of the curves goes on.
func (x *execution) again() error {
	x.before = x.elapsed()
	x.run.Restore(x.start)
	x.since = x.run.Time()
	x.record()
	return nil
}

// anew does something to the vehicle as it came, and brings it into the starting state from there.
func (x *execution) anew(do func() error) error {
	came, err := x.bench.reach(x.ctx, x.v, x.v.at.standing)
	if err != nil {
		return err
	}
	x.before = x.elapsed()
	x.run.Restore(came.state)
	if err := do(); err != nil {
		return err
	}
	if err := x.bench.lead(x.ctx, x.v).carryOut(x.p.Start.All(), 0); err != nil {
		return err
	}
	x.start = x.run.Snapshot()
	x.since = x.run.Time()
	x.record()
	return nil
}

// record begins to take the curves down.
func (x *execution) record() {
	if x.every > 0 {
		x.run.Record(x.every, func(*airflow.Run) { x.sample() })
	}
}

func (x *execution) sample() {
	if x.every == 0 {
		return // on the way to a starting state nobody plots anything
	}
	t := x.elapsed()
	if n := len(x.curves.Seconds); n > 0 && t <= x.curves.Seconds[n-1] {
		return // the state was restored at a moment that is there already
	}
	x.curves.Seconds = append(x.curves.Seconds, t)
	for i, tap := range x.taps {
		x.curves.Series[i].Pressure = append(x.curves.Series[i].Pressure, tap.read(x.run))
	}
}

// carryOut the steps in order, from one on. It stops between two steps when the context is done.
func (x *execution) carryOut(steps []Step, from int) error {
	for i := from; i < len(steps); i++ {
		if err := x.ctx.Err(); err != nil {
			return err
		}
		x.step = i
		if x.waiting == nil {
			x.chart(steps[i].Do, nil)
			x.log = append(x.log, Entry{At: x.elapsed(), Step: i})
		}
		if err := steps[i].Do.run(x); err != nil {
			return fmt.Errorf("step %d: %w", i+1, err)
		}
		if x.p != nil && x.bench.watch != nil {
			x.bench.watch(i, x.run)
		}
	}
	return nil
}

// Curves are what the needles showed, from the first step on.
type Curves struct {
	Seconds []float64
	Series  []Series
}

// A Series is one gauge over time.
type Series struct {
	Place    string    // the gauge component, or where the service gauge sits
	Name     string    // "primary gauge"
	Dash     bool      // a gauge of the vehicle's own, with whatever is wrong with it
	Pressure []float64 // Pa absolute, one for each of the curves' seconds
}

func newCurves(taps []tap) Curves {
	c := Curves{Series: make([]Series, len(taps))}
	for i, t := range taps {
		c.Series[i] = Series{Place: t.place, Name: t.name, Dash: t.gauge}
	}
	return c
}

// crosses finds when a series first rises through a level after a time; NaN where it never does.
func (c Curves) crosses(series int, level, after float64) float64 {
	p := c.Series[series].Pressure
	for i := 1; i < len(p); i++ {
		if c.Seconds[i] >= after && p[i-1] < level-needleSlack && p[i] >= level-needleSlack {
			return c.Seconds[i-1] + (c.Seconds[i]-c.Seconds[i-1])*(level-p[i-1])/(p[i]-p[i-1])
		}
	}
	return math.NaN()
}

// lowest of a series from a time on.
func (c Curves) lowest(series int, after float64) float64 {
	low := math.NaN()
	for i, p := range c.Series[series].Pressure {
		if c.Seconds[i] >= after && !(p >= low) {
			low = p
		}
	}
	return low
}
