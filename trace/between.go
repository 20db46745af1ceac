package trace

import (
	"context"
	"math"
	"slices"

	"airpath/circuit/airflow"
	"airpath/circuit/airflow/procedure"
)

// screening is how the table is simulated: as exactly as ever, with longer steps where nothing happens.
var screening = airflow.Options{Relative: airflow.Fine.Relative, Absolute: airflow.Fine.Absolute, MaxStep: 30, Smoothing: airflow.Fine.Smoothing}

// neighbours says which vehicles have the next milder and the next worse severity.
type neighbours struct{ milder, worse int }

// Where a mild and a typical, or a typical and a severe fault of a sort read the same, one in between does too, because more of
// a fault does more: it need not be simulated. Only beside a severity of all there is that does not hold: a way that is shut
// altogether is quiet, where one that is nearly shut goes on passing a little. The same is what lies within these of each other.
const (
	sameFigure = 0.25 // σ of a figure
	sameChance = 0.02 // of a yes
)

// relate takes down which of a fault's vehicles lie between others. All severities but the mild, the typical and the severe one are between.
func (t *table) relate(h *hypothesis) {
	for i, s := range h.points {
		v := h.vehicle + i
		if i > 0 && i < len(h.points)-1 && s != h.severity.Typical && !(endsInAll(h.severity) && i >= len(h.points)-2-len(toTheEnd)) {
			t.between[v] = neighbours{v - 1, v + 1}
		}
	}
}

// prepare what all vehicles share, once: the healthy vehicle's way through the procedures.
func (t *table) prepare(ctx context.Context, procedures []int) error {
	way := make([]*procedure.Procedure, len(procedures))
	for i, p := range procedures {
		way[i] = t.procedures[p]
	}
	if t.model != nil {
		return t.model.GoThrough(ctx, way)
	}
	model, err := procedure.NewModel(ctx, t.network, way, screening)
	if err == nil {
		t.model = model
	}
	return err
}

// unite the vehicles that are one to the air, once.
func (t *table) unite() error {
	if t.aliased {
		return nil
	}
	var own []int
	var faults [][]airflow.Fault
	for i, v := range t.vehicles {
		if v.scatter == (airflow.Scatter{}) {
			own, faults = append(own, i), append(faults, v.faults)
		}
	}
	keys, err := procedure.Keys(t.network, faults)
	if err != nil {
		return err
	}
	// Best is to be one that is simulated in any case.
	stands := map[string]int{}
	for _, between := range []bool{false, true} {
		for i, v := range own {
			if _, ok := t.between[v]; ok != between {
				continue
			}
			first, ok := stands[keys[i]]
			if !ok {
				first, stands[keys[i]] = v, v
			}
			t.alias[v] = first
		}
	}
	t.aliased = true
	return nil
}

// jobs lists what is to be done of some procedures for some vehicles, in rounds: first those that are simulated in any case; then each
// has what can be told from those before.
func (t *table) jobs(procedures, vehicles []int) [][]job {
	var rounds [][]int
	rank := map[int]int{}
	var add func(v int) int
	add = func(v int) int {
		v = t.alias[v]
		if r, ok := rank[v]; ok {
			return r
		}
		rank[v] = 0
		if o, ok := t.elsewhere[v]; ok {
			rank[v] = 1 + max(add(o.vehicle), add(0))
		}
		if b, ok := t.between[v]; ok {
			rank[v] = max(rank[v], 1+add(b.milder), 1+add(b.worse))
		}
		for len(rounds) <= rank[v] {
			rounds = append(rounds, nil)
		}
		rounds[rank[v]] = append(rounds[rank[v]], v)
		return rank[v]
	}
	for _, v := range vehicles {
		add(v)
	}
	out := make([][]job, 0, len(rounds))
	for _, round := range rounds {
		if jobs := t.undone(procedures, round); len(jobs) > 0 {
			out = append(out, jobs)
		}
	}
	return out
}

// lacks tells whether something is still to be done of some procedures for some vehicles.
func (t *table) lacks(procedures, vehicles []int) bool {
	t.mu.Lock()
	defer t.mu.Unlock()
	return t.lacksLocked(procedures, vehicles)
}

func (t *table) lacksLocked(procedures, vehicles []int) bool {
	for _, p := range procedures {
		for _, v := range vehicles {
			if v = t.alias[v]; t.known[p][v] == nil && !t.failed[p][v] {
				return true
			}
		}
	}
	return false
}

// undone is what is not there yet.
func (t *table) undone(procedures, vehicles []int) []job {
	var jobs []job
	for _, v := range slices.Compact(slices.Sorted(slices.Values(vehicles))) {
		j := job{vehicle: v}
		for _, p := range procedures {
			if t.known[p][v] == nil && !t.failed[p][v] {
				j.procedures = append(j.procedures, p)
			}
		}
		if len(j.procedures) > 0 {
			slices.SortStableFunc(j.procedures, t.wholeFirst)
			jobs = append(jobs, j)
		}
	}
	return jobs
}

// wholeFirst is the order of procedures in which a bench has least to do.
func (t *table) wholeFirst(p, q int) int {
	a, b := t.procedures[p].Whole(), t.procedures[q].Whole()
	switch {
	case a == b:
		return 0
	case a:
		return -1
	}
	return 1
}

// interpolate what can be told from the neighbours, and return the procedures that are left to do.
func (t *table) interpolate(j job) []int {
	b, ok := t.between[j.vehicle]
	if !ok {
		return j.procedures
	}
	var left []int
	for _, p := range j.procedures {
		milder, worse := t.values(p, b.milder), t.values(p, b.worse)
		if !alikeAll(t.procedures[p], milder, worse) {
			left = append(left, p)
			continue
		}
		values := make([]float64, len(milder))
		for r := range values {
			values[r] = (milder[r] + worse[r]) / 2
		}
		t.known[p][j.vehicle] = values
	}
	return left
}

// alikeAll tells whether all readings of a procedure are the same on two vehicles.
func alikeAll(p *procedure.Procedure, a, b []float64) bool {
	if a == nil || b == nil {
		return false
	}
	for r := range p.Readings {
		if !sameReading(&p.Readings[r], a[r], b[r]) {
			return false
		}
	}
	return true
}

func sameReading(r *procedure.Reading, a, b float64) bool {
	switch {
	case a == b || math.IsNaN(a) && math.IsNaN(b):
		return true
	case math.IsNaN(a) || math.IsNaN(b):
		return false
	case r.Form == procedure.YesNo:
		return math.Abs(r.Judge.Says(a)-r.Judge.Says(b)) < sameChance
	}
	return math.Abs(a-b) < sameFigure*math.Max(r.Sigma, modelError*math.Abs(a))
}
