package trace

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"airpath/circuit/airflow"
	"airpath/circuit/airflow/procedure"
)

// A vehicle that is simulated: the healthy one, one with one fault of one severity, or a healthy one that differs from its
// file.
type vehicle struct {
	faults  []airflow.Fault
	scatter airflow.Scatter
}

func (v vehicle) String() string {
	switch {
	case len(v.faults) > 0:
		return v.faults[0].String()
	case v.scatter != airflow.Scatter{}:
		return fmt.Sprintf("a healthy vehicle with scatter %+v", v.scatter)
	}
	return "the healthy vehicle"
}

// A table holds the exact readings of simulated vehicles, by procedure. They are worked out when they are first asked for and
// kept: what a first finding needs comes in a second, the rest when something needs it.
type table struct {
	network    *airflow.Network
	procedures []*procedure.Procedure
	vehicles   []vehicle
	between    map[int]neighbours // vehicles whose severity lies between two others of their fault
	alias      []int              // by vehicle: the one that is the same to the air, and stands for it
	elsewhere  map[int]other      // vehicles that are the same to the air but for where a hole is heard; nil until something has to be simulated

	own       int // how many of the vehicles are there from the start; the others are scattered around some, or lie between
	mostAdded int // of those, before they are let go

	scatter func(vehicle) []vehicle
	// along tells the severity at a share of the way from a vehicle to the next, and whether it has to be simulated even where the two read alike.
	along  func(from int, way float64) (severity float64, byItself bool)
	stood  stood
	alone  *procedure.Bench // of a table that is worked at by one alone
	single bool

	mu      sync.Mutex
	dir     string           // where it is kept on disk; "" for nowhere
	loaded  bool             // the disk has been asked
	aliased bool             // it is known which vehicles are one to the air
	saved   int              // how much of it the disk has
	first   map[int]int      // the first of the scattered vehicles around one
	places  map[place]int    // vehicles with severities between two others
	model   *procedure.Model // the healthy vehicle's way, which others follow as far as theirs is the same
	known   [][][]float64    // by procedure and vehicle: one value for each reading; nil where not yet known or failed
	failed  [][]bool
	sources []int // by procedure: the one whose values are its own as well, mostly itself
}

func newTable(n *airflow.Network, procedures []*procedure.Procedure, vehicles []vehicle, scatter func(vehicle) []vehicle) *table {
	t := &table{network: n, procedures: procedures, vehicles: vehicles, own: len(vehicles), mostAdded: mostAdded, scatter: scatter, first: map[int]int{}, places: map[place]int{}, between: map[int]neighbours{}}
	for i := range vehicles {
		t.alias = append(t.alias, i)
	}
	t.known, t.failed = make([][][]float64, len(procedures)), make([][]bool, len(procedures))
	for p := range procedures {
		t.known[p], t.failed[p] = make([][]float64, len(vehicles)), make([]bool, len(vehicles))
	}
	t.sources = Sources(procedures)
	t.twin()
	return t
}

// apart is the same table for somebody who goes on with it by himself.
func (t *table) apart() *table {
	t.mu.Lock()
	defer t.mu.Unlock()
	out := &table{
		network: t.network, procedures: t.procedures, vehicles: slices.Clone(t.vehicles), between: maps.Clone(t.between), elsewhere: t.elsewhere, alias: slices.Clone(t.alias), own: t.own, mostAdded: t.mostAdded,
		scatter: t.scatter, along: t.along, loaded: true, aliased: t.aliased, first: maps.Clone(t.first), places: maps.Clone(t.places), model: t.model, single: true,
	}
	out.sources = t.sources
	if t.model != nil && slices.ContainsFunc(t.sources, func(p int) bool { return !t.model.Went(t.procedures[p]) }) {
		out.model = nil // this table is to go on with it
	}
	for p := range t.known {
		out.known, out.failed = append(out.known, slices.Clone(t.known[p])), append(out.failed, slices.Clone(t.failed[p]))
	}
	out.twin()
	return out
}

// all lists every vehicle that is there from the start, and those scattered around the healthy one.
func (t *table) all() []int {
	out := make([]int, t.own, t.own+len(t.vehicles))
	for i := range out {
		out[i] = i
	}
	return append(out, t.scatteredAround(0)...)
}

// around is the first of the scattered vehicles around one, which are added when they are first asked for.
func (t *table) around(base int) int {
	t.mu.Lock()
	defer t.mu.Unlock()
	return t.aroundLocked(base)
}

func (t *table) aroundLocked(base int) int {
	first, ok := t.first[base]
	if !ok {
		first = t.add(t.scatter(t.vehicles[base])...)
		t.first[base] = first
	}
	return first
}

// add vehicles, and return the number of the first.
func (t *table) add(more ...vehicle) int {
	first := len(t.vehicles)
	t.vehicles = append(t.vehicles, more...)
	for i := range more {
		t.alias = append(t.alias, first+i)
	}
	for p := range t.known {
		t.known[p] = append(t.known[p], make([][]float64, len(more))...)
		t.failed[p] = append(t.failed[p], make([]bool, len(more))...)
	}
	t.twin()
	return first
}

// parts of the way between two severities of one fault at which it can be simulated as well.
const parts = 64

// A place between two vehicles of one fault: so many parts of the way from one to the next.
type place struct{ from, part int }

// vehicleBetween is the vehicle at a place, which is added when it is first asked for.
func (t *table) vehicleBetween(at place) int {
	t.mu.Lock()
	defer t.mu.Unlock()
	return t.vehicleBetweenLocked(at)
}

func (t *table) vehicleBetweenLocked(at place) int {
	v, ok := t.places[at]
	if !ok {
		severity, byItself := t.along(at.from, float64(at.part)/parts)
		fault := t.vehicles[at.from].faults[0]
		fault.Severity = severity
		v = t.add(vehicle{faults: []airflow.Fault{fault}})
		t.places[at] = v
		if !byItself {
			t.between[v] = neighbours{at.from, at.from + 1}
		}
	}
	return v
}

// scatteredAround lists the scattered vehicles around some.
func (t *table) scatteredAround(bases ...int) []int {
	var out []int
	for _, b := range bases {
		first := t.around(b)
		for i := range len(t.scatter(vehicle{})) {
			out = append(out, first+i)
		}
	}
	return out
}

// A job is one vehicle and the procedures that it has yet to go through.
type job struct {
	vehicle    int
	procedures []int
}

// fill works out what is not there yet of some procedures on some vehicles, spread over all cores. Each vehicle goes through
// its procedures on one bench, which shares starting states. progress, where given, is called by one goroutine at a time. What
// comes out is the same whatever the number of cores, and whatever was asked for before.
func (t *table) fill(ctx context.Context, procedures, vehicles []int, progress func(done, total int)) error {
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.dir != "" && !t.loaded {
		t.loaded = true
		_ = t.load() // what is not there, or is damaged, is worked out
	}
	if err := t.unite(); err != nil {
		return err
	}
	procedures = t.simulated(procedures)
	if !t.lacksLocked(procedures, vehicles) {
		return ctx.Err()
	}
	if err := t.findElsewhere(); err != nil {
		return err
	}
	rounds := t.jobs(procedures, vehicles)
	if err := t.prepare(ctx, procedures); err != nil {
		return err
	}
	total, done := 0, 0
	for _, jobs := range rounds {
		total += len(jobs)
	}
	report := func() {
		if done++; progress != nil && (done%16 == 0 || done == total) {
			progress(done, total)
		}
	}
	for _, jobs := range rounds {
		if err := t.work(ctx, jobs, report); err != nil {
			return err
		}
	}
	t.share(procedures)
	return nil
}

// share the healthy vehicle's values with all that have the same: most faults change nothing in most procedures.
func (t *table) share(procedures []int) {
	for _, p := range procedures {
		healthy := t.known[p][0]
		for v, values := range t.known[p] {
			if healthy != nil && values != nil && sameBits(values, healthy) {
				t.known[p][v] = healthy
			}
		}
	}
}

// work at jobs on all cores; each that is done is reported.
func (t *table) work(ctx context.Context, jobs []job, report func()) error {
	if len(jobs) == 0 {
		return ctx.Err()
	}
	if t.single {
		for _, j := range jobs {
			var err error
			if t.alone, err = t.test(ctx, t.alone, j); err != nil {
				return err
			}
			report()
		}
		return nil
	}
	ctx, cancel := context.WithCancelCause(ctx)
	defer cancel(nil)
	var next atomic.Int64
	var reporting sync.Mutex
	var work sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), len(jobs)) {
		work.Go(func() {
			var bench *procedure.Bench
			for ctx.Err() == nil {
				i := int(next.Add(1)) - 1
				if i >= len(jobs) {
					return
				}
				var err error
				if bench, err = t.test(ctx, bench, jobs[i]); err != nil {
					cancel(err)
					return
				}
				reporting.Lock()
				report()
				reporting.Unlock()
			}
		})
	}
	work.Wait()
	if ctx.Err() != nil {
		return context.Cause(ctx)
	}
	return nil
}

// test takes one vehicle through its procedures. No two goroutines have the same vehicle.
func (t *table) test(ctx context.Context, bench *procedure.Bench, j job) (*procedure.Bench, error) {
	j.procedures = t.hearElsewhere(j)
	if j.procedures = t.interpolate(j); len(j.procedures) == 0 {
		return bench, nil
	}
	v := t.vehicles[j.vehicle]
	var err error
	if bench == nil {
		if bench, err = procedure.NewBench(t.network, v.faults, v.scatter); err == nil {
			err = bench.Follow(t.model)
		}
	} else {
		err = bench.Next(v.faults, v.scatter)
	}
	if err != nil {
		return bench, err
	}
	if j.vehicle >= t.own {
		if kept := t.stood.take(j.vehicle); kept != nil {
			bench.Recall(kept)
		}
		defer func() { t.stood.keep(j.vehicle, bench.Keep()) }()
	}
	for _, p := range j.procedures {
		outcome, err := bench.Do(ctx, t.procedures[p])
		if ctx.Err() != nil {
			return bench, ctx.Err()
		}
		var failure *airflow.Failure
		if errors.As(err, &failure) {
			t.failed[p][j.vehicle] = true // no prediction for this one: its findings neither accuse nor clear it
			continue
		}
		if err != nil {
			return bench, err
		}
		t.known[p][j.vehicle] = outcome.Values
	}
	return bench, nil
}

// values of a vehicle in a procedure that has been filled; nil where it could not be simulated.
func (t *table) values(procedure, vehicle int) []float64 {
	return t.known[procedure][t.alias[vehicle]]
}

// failures lists what could not be simulated.
func (t *table) failures() []string {
	t.mu.Lock()
	defer t.mu.Unlock()
	var out []string
	for _, p := range t.simulated(t.sources) {
		for v, failed := range t.failed[p] {
			if failed {
				out = append(out, t.procedures[p].ID+" on "+t.vehicles[v].String())
			}
		}
	}
	return out
}
