package reason

import (
	"cmp"
	"math"
	"slices"
)

// A Search is the question what to do next, until it is known which hypothesis is true.
type Search struct {
	Weights []float64 // of the hypotheses; they need not sum to 1
	Tests   []Test
	// What a test takes may hang on how the one before it has left things: Minutes are by that state and test, Leaves is the state
	// that each test leaves, and State how things stand now. Without Minutes each test takes its own.
	Minutes [][]float64
	Leaves  []int
	State   int
	// Settled is the share of what stands that one hypothesis, or a group that no test splits, must have for the search to end;
	// 0 goes on until nothing tells anything any more.
	Settled float64
	// Unknown is what each bit that is still not known at the end costs, in minutes: repairs tried in vain. A test that tells less
	// than its minutes are worth then is not counted on. 0: the search goes on as long as anything is told.
	Unknown float64
}

// A Choice is a test that may come next.
type Choice struct {
	Worth
	Minutes float64 // that it takes as things stand now
	Left    float64 // expected minutes until the end, its own included; NaN where no more than its information was worked out
	Exact   bool    // Left is that of the best possible policy
}

// Bounds of the look ahead.
const (
	alikeChance = 0.02 // hypotheses whose chances differ by less than this in every outcome of every test are one class
	mostAhead   = 6    // tests that are looked at beyond their information
	aheadWork   = 4e6  // products of a chance and a weight that the look ahead may take
	leastTold   = 1e-9 // bits; less is rounding
)

// What the look ahead is over where outcomes are not sure.
const (
	mostClasses  = 24 // the likeliest
	mostOptions  = 20 // those that tell most per minute to begin with
	mostOutcomes = 5  // of an option
	alikeOutcome = 0.25
)

// fineness of the look ahead: what has less than this share of the information that is still to be had is not followed further, but
// charged at the rate of its best test. It is made finer as long as that stays within the work.
var fineness = []float64{0.1, 0.03, 0.01, 0.003, 0}

// Choose ranks the tests that tell something. Those that promise most information per minute are looked at further: where the outcomes
// are sure and few classes of hypotheses are left, by the best possible policy; else each by what remains to be done after it if
// one goes on by information per minute. They come first, the shortest way to the end before the others; then the rest, by information per
// minute. Ties go by the order of the tests, and figures that differ by rounding alone are ties.
func (s *Search) Choose() []Choice {
	x := s.compile()
	out := x.ranked(s.State)
	if len(out) < 2 {
		return out
	}
	ahead := out
	switch e := x.exact(s); {
	case e != nil && e.lefts(ahead, s.State):
	default:
		ahead = out[:min(len(out), mostAhead)]
		x.condensed(out).rollOut(ahead, s)
	}
	slices.SortFunc(ahead, func(a, b Choice) int {
		return cmp.Or(cmp.Compare(coarse(a.Left), coarse(b.Left)), cmp.Compare(a.Test, b.Test))
	})
	return out
}

// options are a search's classes and tests in arrays.
type options struct {
	weights []float64 // of the classes, summing to 1
	tests   []option
	minutes [][]float64 // by state and option
	work    int         // to look at all options once
	sure    bool        // each outcome is, for every class
	widest  int         // outcomes of the option that has most
	split   []float64   // scratch
}

// An option is a test that tells some classes apart.
type option struct {
	test   int       // index in the search
	n      int       // outcomes
	most   float64   // bits that so many outcomes can tell
	chance []float64 // by class and outcome
	across []float64 // the same by outcome and class
	noise  []float64 // entropy in bits that stays, by class
	sure   []int     // the outcome, by class, where all are sure
	leaves int
}

func (s *Search) compile() *options {
	x := &options{}
	var live []int
	for h, w := range s.Weights {
		if w > 0 {
			live = append(live, h)
		}
	}
	chances := make([][]float64, len(s.Tests))
	for t := range s.Tests {
		n := s.Tests[t].Outcomes
		chances[t] = make([]float64, len(live)*n)
		for i, h := range live {
			s.Tests[t].Chances(h, chances[t][i*n:(i+1)*n])
		}
	}
	class, first := s.classes(live, chances)
	x.weights = make([]float64, len(first))
	total := 0.0
	for _, h := range live {
		total += s.Weights[h]
	}
	for i, h := range live {
		x.weights[class[i]] += s.Weights[h] / total
	}
	x.sure = true
	var kept []int
	for t := range s.Tests {
		if o, ok := x.option(s, t, live, class, chances[t]); ok {
			x.tests = append(x.tests, o)
			kept = append(kept, t)
			x.sure = x.sure && o.sure != nil
			x.work += o.n * len(first)
			x.widest = max(x.widest, o.n)
		}
	}
	x.split = make([]float64, x.widest)
	states := s.Minutes
	if states == nil {
		own := make([]float64, len(s.Tests))
		for t := range own {
			own[t] = s.Tests[t].Minutes
		}
		states = [][]float64{own}
	}
	for _, minutes := range states {
		row := make([]float64, len(kept))
		for i, t := range kept {
			row[i] = minutes[t]
		}
		x.minutes = append(x.minutes, row)
	}
	return x
}

// classes of live hypotheses that no test tells apart: of each its class, and of each class its first member.
func (s *Search) classes(live []int, chances [][]float64) (class, first []int) {
	alike := func(a, b int) bool {
		for t := range chances {
			n := s.Tests[t].Outcomes
			for o := range n {
				if math.Abs(chances[t][a*n+o]-chances[t][b*n+o]) > alikeChance {
					return false
				}
			}
		}
		return true
	}
	class = make([]int, len(live))
	for i := range live {
		k := slices.IndexFunc(first, func(f int) bool { return alike(f, i) })
		if k < 0 {
			k = len(first)
			first = append(first, i)
		}
		class[i] = k
	}
	return class, first
}

// option of a test: the chances of each class are the mean of its members'. ok is false where it tells nothing apart.
func (x *options) option(s *Search, t int, live, class []int, chances []float64) (option, bool) {
	n, classes := s.Tests[t].Outcomes, len(x.weights)
	o := option{test: t, n: n, most: math.Log2(float64(n)) + leastTold, chance: make([]float64, n*classes), noise: make([]float64, classes), sure: make([]int, classes)}
	if s.Leaves != nil {
		o.leaves = s.Leaves[t]
	}
	sums := make([]float64, classes)
	for i, h := range live {
		c, w := class[i], s.Weights[h]
		sums[c] += w
		for k := range n {
			o.chance[c*n+k] += (chances[i*n+k] - o.chance[c*n+k]) * (w / sums[c])
		}
	}
	tells := false
	for c := range classes {
		row := o.chance[c*n : (c+1)*n]
		o.noise[c] = Entropy(row)
		for k, p := range row {
			tells = tells || math.Abs(p-o.chance[k]) > leastTold
			if o.sure != nil && p == 1 {
				o.sure[c] = k
			}
		}
		if slices.Max(row) < 1 {
			o.sure = nil
		}
	}
	o.turn()
	return o, tells
}

// ranked options by information per minute.
func (x *options) ranked(state int) []Choice {
	var out []Choice
	for i := range x.tests {
		o := &x.tests[i]
		split := make([]float64, o.n)
		w := Worth{Test: o.test, Bits: o.told(x.weights, 1, split), Split: split}
		if w.Bits < leastTold {
			continue
		}
		for _, p := range split {
			w.Remaining += p * p
		}
		minutes := x.minutes[state][i]
		w.PerMinute = w.Bits / minutes
		out = append(out, Choice{Worth: w, Minutes: minutes, Left: math.NaN()})
	}
	slices.SortStableFunc(out, func(a, b Choice) int { return cmp.Compare(coarse(b.PerMinute), coarse(a.PerMinute)) })
	return out
}

// told is the information in bits that an option gives about classes of some weights with a sum; split becomes the weights of the
// outcomes.
func (o *option) told(w []float64, sum float64, split []float64) float64 {
	noise := dot(w, o.noise)
	if o.sure != nil {
		clear(split)
		for c, x := range w {
			split[o.sure[c]] += x
		}
	} else {
		for k := range split {
			split[k] = dot(w, o.across[k*len(w):(k+1)*len(w)])
		}
	}
	return max(0, bitsOf(split, sum)-noise/sum)
}

// turn the chances, so that those of one outcome lie together.
func (o *option) turn() {
	classes := len(o.noise)
	o.across = make([]float64, len(o.chance))
	for c := range classes {
		for k := range o.n {
			o.across[k*classes+c] = o.chance[c*o.n+k]
		}
	}
}

// bitsOf weights with a sum: their entropy.
func bitsOf(w []float64, sum float64) float64 {
	s := 0.0
	for _, x := range w {
		if x > 0 {
			s += x * math.Log(x)
		}
	}
	return (math.Log(sum) - s/sum) / math.Ln2
}

// at is where an option for a test is.
func (x *options) at(test int) int {
	return slices.IndexFunc(x.tests, func(o option) bool { return o.test == test })
}
