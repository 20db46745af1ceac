package trace

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"runtime"
	"slices"
	"sync"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuit/airflow/procedure"
	"airpath/trace/gaugelog"
	"airpath/trace/reason"
)

// A recorded log as it is weighed: the samples of all its gauges, one after the other, and the curve that each simulated
// vehicle would have given in their place.
type recorded struct {
	log       circuit.Log
	procedure int
	seconds   []float64 // since the first step
	gauges    []int     // index in the procedure's series
	names     []string
	measured  []float64
	weight    []float64
	noise     float64           // Pa
	curves    map[int][]float64 // by vehicle, of those that stand for others
	short     map[int]bool      // by vehicle: its starting state was not quite reached
	weighed   *weighedLog       // once it has been
}

// keptRecordings bounds the memory for logs.
const keptRecordings = 8

// What one log may say at most: how much likelier the best fault may come out than the worst, because loggers are fitted to the
// wrong port and steps begun at the wrong moment. Engineering judgement.
const (
	outliersLog = 0.01
	flatLog     = 0.1
)

// record binds the logs of a case to procedures and gauges.
func (t *Tracer) record(k *circuit.Case) ([]*recorded, []Ignored, error) {
	var out []*recorded
	var ignored []Ignored
	for _, l := range k.Logs {
		p := slices.IndexFunc(t.procedures, func(p *procedure.Procedure) bool { return p.ID == l.Procedure })
		if p < 0 {
			var ids []string
			for _, p := range t.procedures {
				ids = append(ids, p.ID)
			}
			return nil, nil, fmt.Errorf("log %s: no procedure %q on this vehicle; %s", l.ID, l.Procedure, circuit.Suggest(l.Procedure, ids))
		}
		if l.Data == nil {
			ignored = append(ignored, Ignored{l.ID, fmt.Sprintf("its file %s was not read", l.File)})
			continue
		}
		content := fmt.Sprintf("%s\x00%s\x00%s\x00%q\x00%s", l.ID, l.Procedure, l.Start.Text, l.Columns, l.Data)
		r, ok := t.recordings[content]
		if !ok {
			var err error
			if r, err = t.bindLog(l, p); err != nil {
				return nil, nil, fmt.Errorf("log %s: %w", l.ID, err)
			}
			if t.recordings == nil || len(t.recordings) >= keptRecordings {
				t.recordings = map[string]*recorded{}
			}
			t.recordings[content] = r
		}
		out = append(out, r)
	}
	slices.SortStableFunc(out, func(a, b *recorded) int { return cmp.Compare(a.log.ID, b.log.ID) })
	return out, ignored, nil
}

func (t *Tracer) bindLog(l circuit.Log, p int) (*recorded, error) {
	read, err := gaugelog.Read(l.File, l.Data)
	if err != nil {
		return nil, err
	}
	outcome, err := t.simulate(context.Background(), nil, p)
	if err != nil {
		return nil, err
	}
	var ids, names []string
	for _, s := range outcome.Curves.Series {
		ids, names = append(ids, s.Place), append(names, s.Name)
	}
	at, err := read.Match(ids, names, l.Columns)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", l.File, err)
	}
	start := read.Seconds[0]
	if l.Start.Text != "" {
		start = l.Start.SI
	}
	r := &recorded{log: l, procedure: p, curves: map[int][]float64{}, short: map[int]bool{}}
	var rows []int
	for i, s := range read.Seconds {
		if s >= start {
			rows = append(rows, i)
			r.seconds = append(r.seconds, s-start)
		}
	}
	if len(rows) < 2 {
		return nil, fmt.Errorf("%s: nothing is recorded after the start at %s; the last row is at %g s", l.File, l.Start.Text, read.Seconds[len(read.Seconds)-1])
	}
	for i, c := range read.Columns {
		if at[i] < 0 {
			continue
		}
		r.gauges, r.names = append(r.gauges, at[i]), append(r.names, names[at[i]])
		for _, k := range rows {
			r.measured = append(r.measured, c.Pressure[k])
		}
		r.noise = max(r.noise, noiseOf(c.Pressure))
	}
	r.noise = max(r.noise, leastNoise)
	r.weights()
	return r, nil
}

// weights of the samples: as far as they lie closer than independent readings do, they share one's worth.
func (r *recorded) weights() {
	n := len(r.seconds)
	r.weight = make([]float64, len(r.measured))
	for i := range r.measured {
		k := i % n
		before, after := r.seconds[max(k-1, 0)], r.seconds[min(k+1, n-1)]
		span := (after - before) / 2
		if k == 0 || k == n-1 {
			span = after - before
		}
		if !math.IsNaN(r.measured[i]) {
			r.weight[i] = min(span/independentEvery, 1) / (r.noise * r.noise)
		} else {
			r.measured[i] = 0
		}
	}
}

// simulate a procedure with all its curves.
func (t *Tracer) simulate(ctx context.Context, v *vehicle, p int) (procedure.Outcome, error) {
	var faults []airflow.Fault
	var scatter airflow.Scatter
	if v != nil {
		faults, scatter = v.faults, v.scatter
	}
	bench, err := procedure.NewBench(t.network, faults, scatter)
	if err != nil {
		return procedure.Outcome{}, err
	}
	return bench.Do(ctx, t.procedures[p])
}

// curveOf a vehicle at the log's samples; nil where it could not be simulated. After its end a curve stays as it was.
func (r *recorded) curveOf(o procedure.Outcome) []float64 {
	c := o.Curves
	if len(c.Seconds) < 2 {
		return nil
	}
	var out []float64
	for _, g := range r.gauges {
		out = append(out, interpolated(c.Seconds, c.Series[g].Pressure, r.seconds)...)
	}
	return out
}

func interpolated(seconds, values, at []float64) []float64 {
	out := make([]float64, len(at))
	k := 0
	for i, s := range at {
		for k+2 < len(seconds) && seconds[k+1] < s {
			k++
		}
		a, b := seconds[k], seconds[k+1]
		share := 0.0
		if b > a {
			share = min(max((s-a)/(b-a), 0), 1)
		}
		out[i] = values[k] + (values[k+1]-values[k])*share
	}
	return out
}

// play the vehicles whose readings in the log's procedure are not the healthy one's: the others' curves are the healthy one's.
func (t *Tracer) play(ctx context.Context, r *recorded, vehicles []int) error {
	var todo []int
	for _, v := range vehicles {
		v = t.stands(r, v)
		if _, ok := r.curves[v]; !ok && !slices.Contains(todo, v) {
			todo = append(todo, v)
		}
	}
	curves := make([][]float64, len(todo))
	short := make([]bool, len(todo))
	ctx, cancel := context.WithCancelCause(ctx)
	defer cancel(nil)
	var work sync.WaitGroup
	next := make(chan int, len(todo))
	for i := range todo {
		next <- i
	}
	close(next)
	for range min(runtime.GOMAXPROCS(0), len(todo)) {
		work.Go(func() {
			for i := range next {
				if ctx.Err() != nil {
					return
				}
				o, err := t.simulate(ctx, &t.table.vehicles[todo[i]], r.procedure)
				if ctx.Err() == nil && err == nil && o.Undone == "" {
					curves[i], short[i] = r.curveOf(o), o.Short != ""
				}
			}
		})
	}
	work.Wait()
	if ctx.Err() != nil {
		return context.Cause(ctx)
	}
	for i, v := range todo {
		r.curves[v], r.short[v] = curves[i], short[i]
	}
	return nil
}

// stands is the vehicle whose curve stands for a vehicle's.
func (t *Tracer) stands(r *recorded, v int) int {
	v = t.table.alias[v]
	own, healthy := t.table.values(r.procedure, v), t.table.values(r.procedure, 0)
	if own != nil && healthy != nil && alikeAll(t.procedures[r.procedure], own, healthy) && len(t.table.vehicles[v].faults) < 2 && t.table.vehicles[v].scatter == (airflow.Scatter{}) {
		return 0
	}
	return v
}

func (t *Tracer) curve(r *recorded, v int) []float64 { return r.curves[t.stands(r, v)] }

// ends are the curves between which a cell's lie. Between a vehicle that reaches the starting state and one that does not
// there is nothing to interpolate: the nearer one stands for the cell.
func (t *Tracer) ends(r *recorded, c *cell) (from, to []float64) {
	a, b := t.stands(r, c.from), t.stands(r, c.to)
	from, to = r.curves[a], r.curves[b]
	if r.short[a] != r.short[b] || from == nil || to == nil {
		if (c.a+c.b)/2 < 0.5 {
			return from, from
		}
		return to, to
	}
	return from, to
}

// freeAround lists what may move a curve besides the fault, around a base vehicle whose scattered ones have been played, each
// scaled to 1 σ.
func (t *Tracer) freeAround(r *recorded, base int) [][]float64 {
	at := t.curve(r, base)
	n := len(r.seconds)
	var out [][]float64
	for k := range r.gauges { // the own error of each gauge
		c := make([]float64, len(at))
		for i := range n {
			c[k*n+i] = gaugeSpread * t.nuisances.cutOut
		}
		out = append(out, c)
	}
	late := make([]float64, len(at)) // the first step begun a little later
	for k := range r.gauges {
		for i := range n {
			a, b := max(i-1, 0), min(i+1, n-1)
			if s := r.seconds[b] - r.seconds[a]; s > 0 {
				late[k*n+i] = startUnsure * (at[k*n+b] - at[k*n+a]) / s
			}
		}
	}
	out = append(out, late)
	first := t.table.around(base)
	for k := range spreads {
		up, down := r.curves[first+2*k], r.curves[first+2*k+1]
		if up == nil || down == nil {
			continue
		}
		c := make([]float64, len(at))
		for i := range c {
			c[i] = (up[i] - down[i]) / 2
		}
		out = append(out, c)
	}
	return out
}

// logFactor is what a log says about every cell: the curve between two simulated severities is taken as lying between theirs.
func (t *Tracer) logFactor(ctx context.Context, r *recorded) (reason.Factor, error) {
	var vehicles []int
	for _, c := range t.cells {
		vehicles = append(vehicles, c.from, c.to)
	}
	first := t.table.around(0)
	for k := range 2 * len(spreads) {
		vehicles = append(vehicles, first+k)
	}
	if err := t.play(ctx, r, vehicles); err != nil {
		return reason.Factor{}, err
	}
	if t.curve(r, 0) == nil {
		return reason.Factor{}, fmt.Errorf("log %s: %s cannot be simulated on the healthy vehicle", r.log.ID, r.log.Procedure)
	}
	f := newFit(r.measured, r.weight, t.freeAround(r, 0))
	samples := 0.0
	for _, w := range r.weight {
		samples += w * r.noise * r.noise
	}
	// Where even the best fits worse than its noise allows, the model is wrong by as much: all is weighed so much less.
	best := math.Inf(1)
	for i := range t.cells {
		c := &t.cells[i]
		from, to := t.ends(r, c)
		if from == nil || to == nil {
			continue
		}
		c0, c1, c2 := f.along(from, to)
		u := c.a
		if c2 > 0 {
			u = min(max(c1/c2, c.a), c.b)
		}
		best = min(best, c0-2*c1*u+c2*u*u)
	}
	scale := max(1, best/max(samples, 1))
	logs := make([]float64, len(t.cells))
	most := math.Inf(-1)
	for i := range t.cells {
		c := &t.cells[i]
		from, to := t.ends(r, c)
		logs[i] = math.NaN()
		if from != nil && to != nil {
			logs[i] = f.over(from, to, c.a, c.b, scale)
			most = max(most, logs[i])
		}
	}
	n := len(t.nuisances.draws)
	out := reason.Factor{Key: "log/" + r.log.ID, Flat: flatLog, Outliers: outliersLog, Rows: make([]int32, len(t.cells))}
	rows := map[float64]int32{}
	for i := range t.cells {
		p := flatLog // no curve: says nothing either way
		if !math.IsNaN(logs[i]) {
			p = math.Exp(logs[i] - most)
		}
		if t.cells[i].hypothesis == somethingElse {
			p = (1-unlikeHealthy)*p + unlikeHealthy*flatLog
		}
		out.Rows[i] = levelRow(&out, rows, p, n)
	}
	return out, nil
}
