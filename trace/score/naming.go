package score

import (
	"math"
	"slices"

	"airpath/circuit/airflow"
	"airpath/trace"
)

// What is named instead of a part.
const (
	nothing       = "nothing"
	somethingElse = "something else"
)

// leastLog bounds the score of a fault that was not even listed.
const leastLog = 1e-9

// leading hypothesis of a verdict, with its probability and whether it is true.
func (t *table) leading(v *trace.Verdict) (what string, p float64, right bool) {
	if len(v.Suspects) > 0 && v.Suspects[0].Probability >= max(v.NoFault, v.SomethingElse) {
		f := v.Suspects[0].Fault
		return f.Target + "/" + f.Mode, v.Suspects[0].Probability, slices.ContainsFunc(t.left, func(x airflow.Fault) bool { return same(x, f) })
	}
	if v.SomethingElse >= v.NoFault {
		return somethingElse, v.SomethingElse, t.odd != ""
	}
	return nothing, v.NoFault, t.inOrder()
}

// inOrder tells whether nothing is the matter any more.
func (t *table) inOrder() bool { return len(t.left) == 0 && t.odd == "" }

// probability that a verdict gives to the first true fault that is left.
func (t *table) probability(v *trace.Verdict) float64 {
	if len(t.left) == 0 {
		if t.odd != "" {
			return v.SomethingElse
		}
		return v.NoFault
	}
	for _, s := range v.Suspects {
		if same(s.Fault, t.left[0]) {
			return s.Probability
		}
	}
	return 0
}

func same(a, b airflow.Fault) bool { return a.Target == b.Target && a.Mode == b.Mode }

// name the first part.
func (t *table) name(v *trace.Verdict, what string) {
	g := t.game
	t.named = true
	group := []airflow.Fault{}
	if what != nothing && what != somethingElse {
		group = append(group, v.Suspects[0].Fault)
		for _, a := range v.Inseparable {
			if slices.ContainsFunc(a.Faults, func(f airflow.Fault) bool { return same(f, group[0]) }) {
				group = a.Faults
				break
			}
		}
	}
	isTrue := func(f airflow.Fault) bool {
		return slices.ContainsFunc(t.left, func(x airflow.Fault) bool { return same(x, f) })
	}
	rightPart := func(f airflow.Fault) bool {
		return f.Target == t.odd || slices.ContainsFunc(t.left, func(x airflow.Fault) bool { return x.Target == f.Target })
	}
	if g.Found > 0 { // the other of two
		g.Seconds = true
		g.Second = len(group) > 0 && rightPart(v.Suspects[0].Fault) || slices.ContainsFunc(group, isTrue)
		return
	}
	g.First, g.Group, g.Named = what, len(group), len(g.Said)-1
	if len(group) > 0 {
		f := v.Suspects[0].Fault
		g.RightPart = rightPart(f)
		g.RightMode, g.RightGroup = isTrue(f), slices.ContainsFunc(group, isTrue)
	} else {
		g.RightPart = len(t.left) == 0 && (what == nothing) == (t.odd == "")
	}
	g.Truth = t.probability(v)
	g.Log = -math.Log(max(g.Truth, leastLog))
	t.brier(v)
	g.Innocents = len(v.Suspects) + len(v.Cleared) - len(t.left)
	g.Exonerated = len(v.Cleared)
	for _, c := range v.Cleared {
		if isTrue(c.Fault) {
			g.Exonerated--
		}
	}
	for _, s := range v.Suspects {
		if s.Beside && !isTrue(s.Fault) {
			g.Acquitted++
		}
	}
}

// brier score of all stated probabilities: 0 for certain and right, 2 for certain and wrong.
func (t *table) brier(v *trace.Verdict) {
	sum := 0.0
	add := func(p float64, is bool) {
		if is {
			p = 1 - p
		}
		sum += p * p
	}
	counted := false
	for _, s := range v.Suspects {
		is := len(t.left) > 0 && same(s.Fault, t.left[0])
		counted = counted || is
		add(s.Probability, is)
	}
	if len(t.left) > 0 && !counted {
		sum++
	}
	add(v.NoFault, t.inOrder())
	add(v.SomethingElse, len(t.left) == 0 && t.odd != "")
	t.game.Brier = sum
}
