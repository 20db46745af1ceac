package reason

import (
	"cmp"
	"math"
	"slices"
)

// condensed options are few enough to look ahead over: the likeliest classes, the best options, and those outcomes of each as one that
// leave much the same standing. Where all outcomes are sure there is no need.
func (x *options) condensed(ranked []Choice) *options {
	if x.sure {
		return x
	}
	heavy := make([]int, len(x.weights))
	for i := range heavy {
		heavy[i] = i
	}
	slices.SortStableFunc(heavy, func(a, b int) int { return cmp.Compare(coarse(x.weights[b]), coarse(x.weights[a])) })
	heavy = heavy[:min(len(heavy), mostClasses)]
	slices.Sort(heavy)
	y := &options{minutes: make([][]float64, len(x.minutes)), split: x.split}
	sum := 0.0
	for _, c := range heavy {
		sum += x.weights[c]
	}
	for _, c := range heavy {
		y.weights = append(y.weights, x.weights[c]/sum)
	}
	for _, choice := range ranked[:min(len(ranked), mostOptions)] {
		i := x.at(choice.Test)
		o := x.tests[i].condensed(y.weights, heavy)
		y.tests = append(y.tests, o)
		y.work += o.n * len(heavy)
		for state := range y.minutes {
			y.minutes[state] = append(y.minutes[state], x.minutes[state][i])
		}
	}
	return y
}

// condensed to some classes, and to a few outcomes: in order of their weight each becomes one with the first that leaves much the same
// standing, or once there are enough, with the one that leaves what is most like it.
func (o *option) condensed(weights []float64, classes []int) option {
	mass := make([]float64, o.n)
	for i, c := range classes {
		for k, p := range o.chance[c*o.n : (c+1)*o.n] {
			mass[k] += weights[i] * p
		}
	}
	order := make([]int, 0, o.n)
	for k := range o.n {
		if mass[k] > 0 {
			order = append(order, k)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(coarse(mass[b]), coarse(mass[a])) })
	apart := func(a, b int) float64 {
		sum := 0.0
		for i, c := range classes {
			sum += weights[i] * math.Abs(o.chance[c*o.n+a]/mass[a]-o.chance[c*o.n+b]/mass[b])
		}
		return sum
	}
	var leaders []int
	part := make([]int, o.n)
	for _, k := range order {
		nearest, least := -1, math.Inf(1)
		for l, leader := range leaders {
			if d := apart(k, leader); d < least {
				nearest, least = l, d
			}
		}
		if nearest < 0 || least > alikeOutcome && len(leaders) < mostOutcomes {
			nearest = len(leaders)
			leaders = append(leaders, k)
		}
		part[k] = nearest
	}
	out := option{test: o.test, n: len(leaders), most: math.Log2(float64(len(leaders))) + leastTold, leaves: o.leaves}
	out.chance, out.noise = make([]float64, out.n*len(classes)), make([]float64, len(classes))
	for i, c := range classes {
		row := out.chance[i*out.n : (i+1)*out.n]
		for _, k := range order {
			row[part[k]] += o.chance[c*o.n+k]
		}
		out.noise[i] = Entropy(row)
	}
	out.turn()
	return out
}

// rollOut works out the expected minutes until the end for each of some choices, if that test comes first and one goes on by
// information per minute from there. A test is done once: done again it is no fresh evidence.
func (x *options) rollOut(choices []Choice, s *Search) {
	r := &roller{options: x, used: make([]bool, len(x.tests)), settled: s.Settled, unknown: s.Unknown, sets: x.sets(s), guess: -1}
	entropy := bitsOf(x.weights, 1)
	lefts := make([]float64, len(choices))
	nodes, spent := int(aheadWork)/x.work, 0
	for i, fine := range fineness {
		if i > 0 && nodes < spent {
			return // what is followed further takes no less
		}
		r.fine, r.nodes = fine*entropy, nodes
		if i == 0 {
			r.nodes = math.MaxInt // coarse enough for any search
		}
		most := r.nodes
		for i := range choices {
			lefts[i] = r.after(x.weights, 1, x.at(choices[i].Test), s.State)
		}
		if r.nodes < 0 {
			return
		}
		for i := range choices {
			choices[i].Left = lefts[i]
		}
		spent = most - r.nodes
		nodes = max(0, nodes-spent)
	}
}

type roller struct {
	*options
	used    []bool
	settled float64
	fine    float64 // weight times bits below which a set of outcomes is not followed
	unknown float64 // minutes for each bit that is not known at the end
	nodes   int     // that may still be looked at; below zero the work was too much
	sets    *policy // the best policy over few classes, where outcomes are sure; nil where they aren't
	guess   int     // the test that was the best one last; -1 for none
	memory  []float64
	taken   int
}

// after is the expected minutes to the end, times the weight, of doing an option and going on.
func (r *roller) after(w []float64, sum float64, i, state int) float64 {
	o := &r.tests[i]
	cost := sum * r.minutes[state][i]
	r.used[i] = true
	mark := r.taken
	parts := r.take(o.n * len(w))
	for k := range o.n {
		part, chances := parts[k*len(w):(k+1)*len(w)], o.across[k*len(w):(k+1)*len(w)]
		for c, x := range w {
			part[c] = x * chances[c]
		}
		cost += r.left(part, o.leaves)
	}
	r.taken = mark
	r.used[i] = false
	return cost
}

// take memory for a while.
func (r *roller) take(n int) []float64 {
	if r.taken+n > len(r.memory) {
		r.memory, r.taken = make([]float64, 2*len(r.memory)+n), 0 // what was handed out before stays with who has it
	}
	out := r.memory[r.taken : r.taken+n]
	r.taken += n
	return out
}

// left is the expected minutes to the end, times the weight, by information per minute.
func (r *roller) left(w []float64, state int) float64 {
	sum, most := 0.0, 0.0
	for _, x := range w {
		sum += x
		most = max(most, x)
	}
	if sum <= 1e-12 || most >= sum*(1-1e-12) || r.settled > 0 && most >= r.settled*sum {
		return 0
	}
	if minutes, ok := r.sets.known(w, state); ok {
		return minutes
	}
	if r.nodes--; r.nodes < 0 {
		return 0
	}
	unknown := bitsOf(w, sum)
	bits := sum * unknown
	best, told := r.best(w, sum, unknown, state)
	minutes := 0.0
	if best >= 0 {
		minutes = r.minutes[state][best]
	}
	switch {
	case best < 0 || r.unknown > 0 && told*r.unknown < minutes:
		return bits * r.unknown
	case bits <= r.fine:
		cost := bits * minutes / told
		if r.unknown > 0 {
			cost = min(cost, bits*r.unknown)
		}
		return cost
	}
	return r.after(w, sum, best, state)
}

// best test by information per minute, with what it tells; -1 for none.
func (r *roller) best(w []float64, sum, unknown float64, state int) (best int, told float64) {
	minutes, per := r.minutes[state], 0.0
	// No test tells more than is not known, nor more than which of its outcomes comes: those that would take too long for that need not be looked at, once
	// it is known what the test that was best before is worth.
	least := 0.0
	if g := r.guess; g >= 0 && !r.used[g] {
		o := &r.tests[g]
		least = o.told(w, sum, r.split[:o.n]) / minutes[g] * (1 - 1e-6)
	}
	best = -1
	for i := range r.tests {
		o := &r.tests[i]
		if r.used[i] || math.Min(unknown, o.most) < least*minutes[i] {
			continue
		}
		if x := o.told(w, sum, r.split[:o.n]); x > leastTold && x > per*minutes[i]*(1+1e-9) {
			best, told, per = i, x, x/minutes[i]
			least = math.Max(least, per*(1-1e-6))
		}
	}
	r.guess = best
	return best, told
}
