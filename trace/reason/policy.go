package reason

import (
	"math"
	"math/bits"
)

// MostForExact is how many classes of hypotheses the best possible policy is worked out for: it looks at every set of them that
// may come to be left.
const MostForExact = 14

// mostSets of classes are looked at before the best policy is given up.
const mostSets = 20_000

// A policy is the best possible one for tests whose outcomes are sure.
type policy struct {
	*options
	settled float64
	unknown float64
	best    map[left]float64 // expected minutes to the end, times the weight
	most    int              // sets that may still be looked at
}

// left is what may come to be left: the classes, and the state of things.
type left struct {
	set   classSet
	state int
}

// A classSet is a set of classes, by their bits.
type classSet [4]uint64

// mostInSets is how many classes a set can be of.
const mostInSets = 64 * len(classSet{})

func (s *classSet) add(c int) { s[c/64] |= 1 << (c % 64) }

// members of a set of up to MostForExact, in order; ok is false where there are more.
func (s *classSet) members(memory *[MostForExact]int) (members []int, ok bool) {
	n := 0
	for i, word := range s {
		for ; word != 0; word &= word - 1 {
			if n == MostForExact {
				return nil, false
			}
			memory[n] = 64*i + bits.TrailingZeros64(word)
			n++
		}
	}
	return memory[:n], true
}

// exact is the best possible policy; nil where an outcome is not sure, or there are too many classes.
func (x *options) exact(s *Search) *policy {
	if len(x.weights) > MostForExact {
		return nil
	}
	return x.sets(s)
}

// sets is exact for whatever few of any number of classes come to be left.
func (x *options) sets(s *Search) *policy {
	if !x.sure || len(x.weights) > mostInSets {
		return nil
	}
	return &policy{options: x, settled: s.Settled, unknown: s.Unknown, best: map[left]float64{}, most: mostSets}
}

// lefts fills in the expected minutes of the best possible policy that begins with each of some choices; false where that is too
// much work.
func (p *policy) lefts(choices []Choice, state int) bool {
	var all classSet
	for c := range p.weights {
		all.add(c)
	}
	for i := range choices {
		choices[i].Left = p.after(all, p.at(choices[i].Test), state)
		choices[i].Exact = true
	}
	return p.most >= 0
}

// known is what the best policy needs from weights that are left on; ok is false where too many classes are left, or there is no
// such policy.
func (p *policy) known(w []float64, state int) (minutes float64, ok bool) {
	if p == nil || p.most < 0 {
		return 0, false
	}
	var set classSet
	n := 0
	for c, x := range w {
		if x > 0 {
			if n++; n > MostForExact {
				return 0, false
			}
			set.add(c)
		}
	}
	minutes = p.solve(left{set, state})
	return minutes, p.most >= 0
}

// after is the expected minutes, times the weight, of an option and the best policy from there on; below zero where the option tells
// nothing.
func (p *policy) after(set classSet, i, state int) float64 {
	o := &p.tests[i]
	var memory, outcome [MostForExact]int
	var parts [MostForExact]classSet
	members, _ := set.members(&memory)
	mass, n := 0.0, 0
	for _, c := range members {
		mass += p.weights[c]
		k := 0
		for k < n && outcome[k] != o.sure[c] {
			k++
		}
		if k == n {
			outcome[k] = o.sure[c]
			n++
		}
		parts[k].add(c)
	}
	if n < 2 {
		return -1
	}
	cost := mass * p.minutes[state][i]
	for _, part := range parts[:n] {
		cost += p.solve(left{part, o.leaves})
	}
	return cost
}

func (p *policy) solve(l left) float64 {
	var memory [MostForExact]int
	members, _ := l.set.members(&memory)
	if len(members) < 2 {
		return 0
	}
	if minutes, ok := p.best[l]; ok {
		return minutes
	}
	if p.most--; p.most < 0 {
		return 0
	}
	sum, most, nats := 0.0, 0.0, 0.0
	for _, c := range members {
		w := p.weights[c]
		sum, most, nats = sum+w, max(most, w), nats-w*math.Log(w)
	}
	least := 0.0
	if p.settled == 0 || most < p.settled*sum {
		unknown := p.unknown * (nats + sum*math.Log(sum)) / math.Ln2
		least = -1
		for i := range p.tests {
			if cost := p.after(l.set, i, l.state); cost >= 0 && (least < 0 || cost < least) {
				least = cost
			}
		}
		if least < 0 || p.unknown > 0 && unknown < least {
			least = unknown // one group, or not worth more minutes
		}
	}
	p.best[l] = least
	return least
}
