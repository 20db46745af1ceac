package score

import (
	"encoding/binary"
	"math"
	"math/rand/v2"
	"slices"

	"airpath/circuit/airflow/procedure"
	"airpath/trace/reason"
)

// Where every procedure's outcome is sure under every fault and there are few procedures, the best possible policy can be worked out
// exactly, for the whole catalogue of a vehicle, set-up that procedures share included. The tracer's way of choosing is held against it on such instances: all faults
// that show, at their typical severity, on the vehicle as its file has it, and some of its procedures.

// An instance is a search for one of several classes of faults by a few procedures with sure outcomes.
type instance struct {
	weights []float64   // of the classes
	minutes [][]float64 // of the procedures, by how the vehicle was left; first, as it comes in
	leaves  []int       // how each procedure leaves it
	outcome [][]int     // by procedure and class
}

// Bounds of the instances.
const (
	instanceCount      = 60
	instanceProcedures = 8
)

// Optimum compares the tracer's way of choosing with the best possible.
type Optimum struct {
	Instances int     `json:"instances"`
	Classes   float64 `json:"classes"` // mean number that had to be told apart
	Mean      float64 `json:"mean"`    // of expected minutes over the best possible
	Worst     float64 `json:"worst"`
	Share     float64 `json:"share_best"` // of instances that are solved in the best possible way
}

// optimum over instances drawn from a vehicle.
func (w *world) optimum(choose chooser) *Optimum {
	o := &Optimum{Instances: instanceCount}
	for i := range instanceCount {
		in := w.instance(w.dice(0, forOptimum, uint64(i)))
		best, mine := in.best(), in.cost(choose)
		ratio := 1.0
		if best > 0 {
			ratio = mine / best
		}
		o.Classes += float64(len(in.weights)) / instanceCount
		o.Mean += ratio / instanceCount
		o.Worst = math.Max(o.Worst, ratio)
		o.Share += is(ratio < 1+1e-9) / instanceCount
	}
	return o
}

// instance with some of the vehicle's procedures, drawn at random.
func (w *world) instance(r *rand.Rand) *instance {
	open := r.Perm(len(w.procedures))
	open = open[:min(len(open), instanceProcedures)]
	in := &instance{outcome: make([][]int, len(open))}
	states := []procedure.Leaving{{}}
	for _, p := range open {
		l := w.procedures[p].Leaves()
		k := slices.Index(states, l)
		if k < 0 {
			k = len(states)
			states = append(states, l)
		}
		in.leaves = append(in.leaves, k)
	}
	for _, l := range states {
		var row []float64
		for _, p := range open {
			row = append(row, w.procedures[p].SetUpAfter(l)+w.procedures[p].Minutes)
		}
		in.minutes = append(in.minutes, row)
	}
	classes := map[string]int{}
	add := func(row []int, weight float64) {
		var key []byte
		for _, p := range open {
			key = binary.AppendVarint(key, int64(row[p]))
		}
		class, ok := classes[string(key)]
		if !ok {
			class = len(in.weights)
			classes[string(key)] = class
			in.weights = append(in.weights, 0)
			for t, p := range open {
				in.outcome[t] = append(in.outcome[t], row[p])
			}
		}
		in.weights[class] += weight
	}
	for i, c := range w.catalogue {
		if row := w.typical.outcomes[i]; row != nil {
			add(row, c.words.Prior)
		}
	}
	return in
}

// search of an instance as package reason has it: some weights, and how the vehicle was left.
func (in *instance) search(weights []float64, state int) *reason.Search {
	return &reason.Search{Weights: weights, Tests: in.tests(), Minutes: in.minutes, Leaves: in.leaves, State: state}
}

func (in *instance) tests() []reason.Test {
	out := make([]reason.Test, len(in.outcome))
	for t := range out {
		index := map[int]int{}
		for _, o := range in.outcome[t] {
			if _, ok := index[o]; !ok {
				index[o] = len(index)
			}
		}
		out[t] = reason.Test{Minutes: in.minutes[0][t], Outcomes: len(index), Chances: func(h int, p []float64) {
			clear(p)
			p[index[in.outcome[t][h]]] = 1
		}}
	}
	return out
}

// A chooser names the next test of a search, -1 where none tells anything.
type chooser func(*reason.Search) int

// byTracer chooses as the tracer does.
func byTracer(s *reason.Search) int {
	choices := s.Choose()
	if len(choices) == 0 {
		return -1
	}
	return choices[0].Test
}

// cost is the expected minutes of a policy until nothing can be told apart any more.
func (in *instance) cost(choose chooser) float64 {
	var walk func(set []int, state int) float64
	walk = func(set []int, state int) float64 {
		weights, mass := make([]float64, len(in.weights)), 0.0
		for _, c := range set {
			weights[c] = in.weights[c]
			mass += in.weights[c]
		}
		if len(set) < 2 {
			return 0
		}
		t := choose(in.search(weights, state))
		if t < 0 {
			return 0
		}
		sum := mass * in.minutes[state][t]
		parts := in.split(set, t)
		if len(parts) < 2 {
			return math.Inf(1) // it would go on like that for ever
		}
		for _, part := range parts {
			sum += walk(part, in.leaves[t])
		}
		return sum
	}
	return walk(in.all(), 0) / in.total()
}

// best is the least expected minutes that any policy needs, by dynamic programming over the sets that can be reached.
func (in *instance) best() float64 {
	known := map[string]float64{}
	var solve func(set []int, state int) float64
	solve = func(set []int, state int) float64 {
		if len(set) < 2 {
			return 0
		}
		key := keyOf(set, state)
		if c, ok := known[key]; ok {
			return c
		}
		mass := 0.0
		for _, c := range set {
			mass += in.weights[c]
		}
		least, any := math.Inf(1), false
		for t := range in.outcome {
			parts := in.split(set, t)
			if len(parts) < 2 {
				continue
			}
			any = true
			cost := mass * in.minutes[state][t]
			for _, part := range parts {
				if cost < least {
					cost += solve(part, in.leaves[t])
				}
			}
			least = math.Min(least, cost)
		}
		if !any {
			least = 0 // one group
		}
		known[key] = least
		return least
	}
	return solve(in.all(), 0) / in.total()
}

func keyOf(set []int, state int) string {
	key := binary.AppendUvarint(nil, uint64(state))
	for _, c := range set {
		key = binary.AppendUvarint(key, uint64(c))
	}
	return string(key)
}

func (in *instance) all() []int {
	out := make([]int, len(in.weights))
	for i := range out {
		out[i] = i
	}
	return out
}

func (in *instance) total() float64 {
	sum := 0.0
	for _, w := range in.weights {
		sum += w
	}
	return sum
}

// split a set by the outcomes of a test, in the order of their first member.
func (in *instance) split(set []int, t int) [][]int {
	var parts [][]int
	index := map[int]int{}
	for _, c := range set {
		o := in.outcome[t][c]
		k, ok := index[o]
		if !ok {
			k = len(parts)
			index[o], parts = k, append(parts, nil)
		}
		parts[k] = append(parts[k], c)
	}
	return parts
}
