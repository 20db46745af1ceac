package trace

import (
	"cmp"
	"context"
	"fmt"
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
	space      *reason.Space
	showing    [][]uint16 // see findShowing; nil until the table is complete
	mistaken   []float64  // see findMistaken
	atlas      *atlas

	turn sync.Mutex // questions take turns: each may fill the table

	recordings map[string]*recorded // logs that have been played, by content; for whoever has the turn

	factors factors // of observations, by content

	mu     sync.Mutex
	unit   string // that pressures are spoken of in
	moves  map[shiftsKey]*shifts
	routes map[rowOf][]*route // by reading: of each hypothesis
	scenes map[int][]*scene   // by procedure
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
		moves: map[shiftsKey]*shifts{}, routes: map[rowOf][]*route{}, scenes: map[int][]*scene{},
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
	t.space = spaceOf(t.list, t.cells, len(t.nuisances.draws))
	t.table = newTable(n, t.procedures, vehicles, t.nuisances.scattered)
	t.table.dir = o.Cache
	t.table.along = t.along
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

// Prepare simulates every fault through every procedure, so that no later question has to wait. Only then is it known at which
// severities a fault would show nowhere, and such can be cleared by what explains the findings better.
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
	t.findShowing()
	t.findMistaken()
	t.findSlight()
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
	return t.TraceInParts(ctx, k, nil, progress)
}

// TraceInParts is Trace for whoever would see something before everything is known. On a vehicle that is asked about for the first time
// first hears two verdicts without Alike, Next and Stop: a rough one, which says so by Rough, as soon as it can be had; then the suspects as they
// are in the end, twice before it is known what to do next. It does not hear of what is known at once.
func (t *Tracer) TraceInParts(ctx context.Context, k *circuit.Case, first func(*Verdict), progress func(done, total int)) (*Verdict, error) {
	t.turn.Lock()
	defer t.turn.Unlock()
	q, err := t.question(k)
	if err != nil {
		return nil, err
	}
	if first != nil {
		if err := t.lookRoughly(ctx, q, first, progress); err != nil {
			return nil, err
		}
	}
	if err := t.table.fill(ctx, q.procedures, t.table.all(), progress); err != nil {
		return nil, err
	}
	a, v, err := t.answer(ctx, q, true)
	if err != nil {
		return nil, err
	}
	if err := a.next(v, first, progress); err != nil {
		return nil, err
	}
	v.Failed = t.table.failures()
	t.keep()
	return v, nil
}

// A question is a case as the tracer takes it.
type question struct {
	kase         *circuit.Case
	observations []observation
	complaint    Complaint
	recorded     []*recorded
	ignored      []Ignored
	procedures   []int // that it is about
}

func (t *Tracer) question(k *circuit.Case) (*question, error) {
	t.letGo()
	observations, ignored, err := observe(t.procedures, k)
	if err != nil {
		return nil, err
	}
	recorded, unread, err := t.record(k)
	if err != nil {
		return nil, err
	}
	q := &question{kase: k, recorded: recorded}
	q.observations, q.ignored = besideLogs(observations, recorded, append(ignored, unread...))
	for _, o := range q.observations {
		q.procedures = append(q.procedures, o.procedure)
	}
	complaint, more := t.hear(k.Complaint)
	q.complaint, q.procedures = complaint, append(q.procedures, more...)
	for _, r := range recorded {
		q.procedures = append(q.procedures, r.procedure)
	}
	return q, nil
}

// answer a question from the table, as far as it can be without knowing what to do next. What leads may be looked at closely.
func (t *Tracer) answer(ctx context.Context, q *question, closely bool) (*analysis, *Verdict, error) {
	logs, err := t.weighRecorded(ctx, q.recorded)
	if err != nil {
		return nil, nil, err
	}
	belief, err := t.weigh(q.observations, q.kase, q.complaint, logs)
	if err != nil {
		return nil, nil, err
	}
	if closely {
		if err := t.lookCloser(ctx, q.observations, belief); err != nil {
			return nil, nil, err
		}
	}
	a := newAnalysis(ctx, t, q.kase, q.observations, belief)
	if a.paths, err = t.follow(ctx, q.observations); err != nil {
		return nil, nil, err
	}
	a.findStrays()
	a.ruleOut()
	v := &Verdict{Complaint: q.complaint, Ignored: q.ignored, NoFault: a.posterior.Alone[noFault], SomethingElse: a.posterior.Hypotheses[somethingElse]}
	a.suspects(v)
	a.pairs(v)
	a.clear(v)
	if err := a.fitLogs(v, logs); err != nil {
		return nil, nil, err
	}
	a.explain(v)
	a.check(v)
	return a, v, nil
}

// weigh all observations.
func (t *Tracer) weigh(observations []observation, k *circuit.Case, complaint Complaint, logs []weighedLog) (*reason.Belief, error) {
	belief, err := reason.NewBelief(*t.space)
	if err != nil {
		return nil, err
	}
	t.factors.next()
	for i := 0; i < len(observations); {
		j := i + 1
		for ; j < len(observations) && observations[j].key == observations[i].key; j++ {
		}
		taken, err := t.takenOf(observations[i:j])
		if err != nil {
			return nil, err
		}
		belief.Add(taken)
		i = j
	}
	for _, l := range logs {
		if err := belief.Weigh(l.factor); err != nil {
			return nil, err
		}
	}
	if err := t.weighComplaint(belief, complaint); err != nil {
		return nil, err
	}
	if at, ok := k.AmbientTemperature(); ok {
		frost, err := t.frostFactor(at)
		if err != nil {
			return nil, err
		}
		if err := belief.Weigh(frost); err != nil {
			return nil, err
		}
	}
	for i := range observations {
		if observations[i].finding.ID == k.Reported && t.showing != nil {
			reported, err := t.reported(observations[i : i+1])
			if err != nil {
				return nil, err
			}
			belief.Add(reported)
		}
	}
	belief.Pair(t.pairsWorthKeeping(belief))
	return belief, nil
}

// takenOf repeats of one observation, kept for the next time: a re-ranking works out only what is new.
func (t *Tracer) takenOf(repeats []observation) (*reason.Taken, error) {
	content := ""
	for i := range repeats {
		content += repeats[i].content()
	}
	return t.factors.of(content, func() (*reason.Taken, error) {
		var factors []reason.Factor
		for i := range repeats {
			factors = append(factors, t.factor(&repeats[i]))
		}
		return t.space.Take(pooled(factors, len(t.nuisances.draws)))
	})
}
