package trace

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"sync"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuit/airflow/procedure"
	"airpath/trace/reason"
)

// A Tracer knows one vehicle: its procedures, what may be the matter with it, and what that would make of each reading.
// It may be used for many cases, by several goroutines, whose questions take turns; what it has worked out once it keeps.
type Tracer struct {
	network    *airflow.Network
	circuit    *circuit.Circuit
	procedures []*procedure.Procedure
	list       []hypothesis
	cells      []cell
	table      *table
	nuisances  *nuisances
	atlas      *atlas

	turn sync.Mutex // questions take turns: each may fill the table

	recordings map[string]*recorded // logs that have been played, by content; for whoever has the turn

	mu      sync.Mutex
	unit    string                   // that pressures are spoken of in
	factors map[string]reason.Factor // by content of an observation
	scenes  map[int][]*scene         // by procedure
}

// Options of a tracer.
type Options struct {
	Unit  string // "psi", "bar" or "kPa": what its words are in; "" means psi
	Cache string // directory in which what was simulated is kept for the next time, such as [CacheDir]; "" keeps nothing
}

// New prepares a tracer. It simulates nothing yet.
func New(n *airflow.Network, o Options) (*Tracer, error) {
	t := &Tracer{
		unit:    cmp.Or(o.Unit, "psi"),
		network: n, circuit: n.Circuit(), procedures: procedure.For(n), atlas: newAtlas(n.Circuit(), n.Gauges()),
		factors: map[string]reason.Factor{}, scenes: map[int][]*scene{},
	}
	var err error
	if t.list, t.cells, err = hypothesesOf(n); err != nil {
		return nil, fmt.Errorf("trace: %w", err)
	}
	vehicles := []vehicle{{}}
	for _, h := range t.list {
		for _, s := range h.points {
			vehicles = append(vehicles, vehicle{faults: []airflow.Fault{{Target: h.fault.Target, Mode: h.fault.Mode, Severity: s}}})
		}
	}
	t.nuisances = newNuisances(t.circuit, n.Gauges())
	t.table = newTable(n, t.procedures, vehicles, t.nuisances.scattered)
	t.table.dir = o.Cache
	t.table.around(0)
	for _, h := range t.list {
		t.table.relate(&h)
	}
	return t, nil
}

// SpeakIn sets the unit that later verdicts speak of pressures in.
func (t *Tracer) SpeakIn(unit string) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.unit = unit
}

// Procedures that can be done on the vehicle.
func (t *Tracer) Procedures() []*procedure.Procedure { return t.procedures }

// Prepare simulates every fault through every procedure, so that no later question has to wait.
func (t *Tracer) Prepare(ctx context.Context, progress func(done, total int)) error {
	t.turn.Lock()
	defer t.turn.Unlock()
	all := make([]int, len(t.procedures))
	for i := range all {
		all[i] = i
	}
	if err := t.table.fill(ctx, all, t.table.all(), progress); err != nil {
		return err
	}
	t.keep()
	return nil
}

// keep what has been simulated on disk. If that can't be done, it is simulated again next time.
func (t *Tracer) keep() { _ = t.table.save() }

// Predict carries out a procedure on a vehicle with one fault, or on the healthy one with none, for plots.
func (t *Tracer) Predict(ctx context.Context, fault *airflow.Fault, p *procedure.Procedure) (procedure.Outcome, error) {
	var faults []airflow.Fault
	if fault != nil {
		faults = append(faults, *fault)
	}
	bench, err := procedure.NewBench(t.network, faults, airflow.Scatter{})
	if err != nil {
		return procedure.Outcome{}, err
	}
	return bench.Do(ctx, p)
}

// Trace says what the findings of a case come to. progress, where given, hears how much of the simulation is done that the
// answer needs; a second question about the same vehicle needs little. The order of the findings changes nothing.
func (t *Tracer) Trace(ctx context.Context, k *circuit.Case, progress func(done, total int)) (*Verdict, error) {
	t.turn.Lock()
	defer t.turn.Unlock()
	observations, ignored, err := observe(t.procedures, k)
	if err != nil {
		return nil, err
	}
	recorded, unread, err := t.record(k)
	if err != nil {
		return nil, err
	}
	observations, ignored = besideLogs(observations, recorded, append(ignored, unread...))
	var needed []int
	for _, o := range observations {
		needed = append(needed, o.procedure)
	}
	complaint, more := t.hear(k.Complaint)
	for _, r := range recorded {
		more = append(more, r.procedure)
	}
	if err := t.table.fill(ctx, append(needed, more...), t.table.all(), progress); err != nil {
		return nil, err
	}
	logs, err := t.weighRecorded(ctx, recorded)
	if err != nil {
		return nil, err
	}
	belief, bases, err := t.believe(ctx, observations, complaint, logs)
	if err != nil {
		return nil, err
	}
	a := newAnalysis(ctx, t, k, observations, belief, bases)
	if a.paths, err = t.follow(ctx, observations); err != nil {
		return nil, err
	}
	a.findStrays()
	a.ruleOut()
	v := &Verdict{Complaint: complaint, Ignored: ignored, NoFault: a.posterior.Hypotheses[noFault], SomethingElse: a.posterior.Hypotheses[somethingElse]}
	a.suspects(v)
	a.clear(v)
	if err := a.fitLogs(v, logs); err != nil {
		return nil, err
	}
	a.explain(v)
	a.check(v)
	if err := a.next(v, progress); err != nil {
		return nil, err
	}
	v.Failed = t.table.failures()
	t.keep()
	return v, nil
}

// believe weighs all observations: first with every reading moving around as it does on the healthy vehicle, then again with
// the leading suspects' own vehicles moved around instead, since a slow build-up is slower still with a needle that reads low.
func (t *Tracer) believe(ctx context.Context, observations []observation, complaint Complaint, logs []weighedLog) (*reason.Belief, []base, error) {
	belief, err := t.weigh(observations, complaint, logs, nil)
	if err != nil || len(observations) == 0 {
		return belief, nil, err
	}
	bases := t.leaders(belief.Posterior())
	var vehicles []int
	for _, b := range bases {
		vehicles = append(vehicles, b.vehicle)
	}
	var needed []int
	for _, o := range observations {
		needed = append(needed, o.procedure)
	}
	if err := t.table.fill(ctx, needed, t.table.scatteredAround(vehicles...), nil); err != nil {
		return nil, nil, err
	}
	belief, err = t.weigh(observations, complaint, logs, bases)
	return belief, bases, err
}

// A base is the vehicle around which a hypothesis's readings are moved.
type base struct{ hypothesis, vehicle int }

// How many suspects get a base of their own, and from which probability on.
const (
	mostBases = 10
	leastBase = 0.002
)

// leaders lists the bases of the leading suspects, in the order of the catalogue.
func (t *Tracer) leaders(p reason.Posterior) []base {
	var order []int
	for h := firstFault; h < len(t.list); h++ {
		if p.Hypotheses[h] > leastBase && len(t.list[h].points) > 0 {
			order = append(order, h)
		}
	}
	slices.SortStableFunc(order, func(x, y int) int { return -compareCoarse(p.Hypotheses[x], p.Hypotheses[y]) })
	order = order[:min(len(order), mostBases)]
	slices.Sort(order)
	var out []base
	for _, h := range order {
		c := t.cells[likeliest(p, &t.list[h])]
		v := c.from
		if c.a >= 0.5 {
			v = c.to
		}
		out = append(out, base{h, v})
	}
	return out
}

// weigh all observations.
func (t *Tracer) weigh(observations []observation, complaint Complaint, logs []weighedLog, bases []base) (*reason.Belief, error) {
	belief, err := reason.NewBelief(spaceOf(t.list, t.cells, len(t.nuisances.draws)))
	if err != nil {
		return nil, err
	}
	for i := 0; i < len(observations); {
		j := i
		var repeats []reason.Factor
		for ; j < len(observations) && observations[j].key == observations[i].key; j++ {
			repeats = append(repeats, t.factorOf(&observations[j], bases))
		}
		if err := belief.Weigh(pooled(repeats, len(t.nuisances.draws))); err != nil {
			return nil, err
		}
		i = j
	}
	for _, l := range logs {
		if err := belief.Weigh(l.factor); err != nil {
			return nil, err
		}
	}
	return belief, t.weighComplaint(belief, complaint)
}

// factorOf an observation, kept for the next time: a re-ranking works out only what is new.
func (t *Tracer) factorOf(o *observation, bases []base) reason.Factor {
	content := o.content() + fmt.Sprint(bases)
	t.mu.Lock()
	f, ok := t.factors[content]
	t.mu.Unlock()
	if ok {
		return f
	}
	f = t.factor(o, bases)
	t.mu.Lock()
	defer t.mu.Unlock()
	if len(t.factors) >= keptFactors {
		clear(t.factors)
	}
	t.factors[content] = f
	return f
}

// keptFactors bounds the memory for factors; each takes a megabyte or so.
const keptFactors = 64

// pooled makes one factor of repeated measurements of one reading. They share what was wrong with the way of measuring, so
// that together they count as one: the geometric mean.
func pooled(repeats []reason.Factor, draws int) reason.Factor {
	if len(repeats) == 1 {
		return repeats[0]
	}
	out := reason.Factor{Key: repeats[0].Key, Flat: 1, Rows: make([]int32, len(repeats[0].Rows))}
	count := float64(len(repeats))
	for c := range out.Rows {
		out.Rows[c] = int32(c)
		logs := make([]float64, draws)
		for _, f := range repeats {
			for d, p := range f.Row(c, draws) {
				logs[d] += math.Log((1-f.Outliers)*p + f.Outliers*f.Flat)
			}
		}
		for _, l := range logs {
			out.Density = append(out.Density, math.Exp(l/count))
		}
	}
	return out
}
