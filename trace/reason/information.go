package reason

import (
	"cmp"
	"math"
	"slices"
)

// A Test is something that can be done, with a chance for each of its outcomes under every hypothesis.
type Test struct {
	ID       string
	Minutes  float64
	Outcomes int
	// Chances fills p, of length Outcomes, with the chances of the outcomes if hypothesis h is true.
	Chances func(h int, p []float64)
}

// A Worth is what a test promises.
type Worth struct {
	Test      int     // index in the tests given
	Bits      float64 // expected information about which hypothesis is true
	Remaining float64 // expected probability of the outcome's own hypotheses: how much would still be standing
	PerMinute float64
	Split     []float64 // chance of each outcome
}

// Entropy of probabilities in bits.
func Entropy(p []float64) float64 {
	h := 0.0
	for _, x := range p {
		if x > 0 && x != 1 {
			h -= x * math.Log2(x)
		}
	}
	return h
}

// Expect works out what each test promises, given the probabilities of the hypotheses.
func Expect(weights []float64, tests []Test) []Worth {
	out := make([]Worth, len(tests))
	total := 0.0
	var live []int
	for h, w := range weights {
		if w > 0 {
			live = append(live, h)
			total += w
		}
	}
	var p []float64
	for i, t := range tests {
		p = slices.Grow(p[:0], t.Outcomes)[:t.Outcomes]
		split := make([]float64, t.Outcomes)
		noise := 0.0 // entropy that stays even if the hypothesis is known
		for _, h := range live {
			t.Chances(h, p)
			w := weights[h] / total
			for o, x := range p {
				if x <= 0 {
					continue
				}
				split[o] += w * x
				if x != 1 {
					noise -= w * x * math.Log2(x)
				}
			}
		}
		worth := Worth{Test: i, Bits: max(0, Entropy(split)-noise), Split: split}
		for _, s := range split {
			worth.Remaining += s * s
		}
		if t.Minutes > 0 {
			worth.PerMinute = worth.Bits / t.Minutes
		}
		out[i] = worth
	}
	return out
}

// Told is the information in bits that a test gives about classes of some weights, whose chances of its outcomes are rows.
func Told(weights []float64, rows [][]float64) float64 {
	if len(rows) == 0 {
		return 0
	}
	var memory [64]float64
	split := memory[:0]
	for range rows[0] {
		split = append(split, 0)
	}
	sum, noise := 0.0, 0.0
	for c, w := range weights {
		sum += w
		for k, p := range rows[c] {
			split[k] += w * p
			if p > 0 && p != 1 {
				noise -= w * p * math.Log(p)
			}
		}
	}
	if !(sum > 0) {
		return 0
	}
	return max(0, bitsOf(split, sum)-noise/(sum*math.Ln2))
}

// ByInformation orders worths by expected information per minute, ties by the order of the tests. Figures that differ by
// rounding only count as ties, so that the order is the same on every machine.
func ByInformation(worths []Worth) []Worth {
	return byKey(worths, func(w Worth) float64 { return -w.PerMinute })
}

// ByRemaining orders worths by what would still be standing, least first.
func ByRemaining(worths []Worth) []Worth {
	return byKey(worths, func(w Worth) float64 { return w.Remaining })
}

func byKey(worths []Worth, key func(Worth) float64) []Worth {
	out := slices.Clone(worths)
	slices.SortStableFunc(out, func(a, b Worth) int {
		return cmp.Or(cmp.Compare(coarse(key(a)), coarse(key(b))), cmp.Compare(a.Test, b.Test))
	})
	return out
}

// coarse rounds to 12 significant digits.
func coarse(x float64) float64 {
	if x == 0 || math.IsInf(x, 0) || math.IsNaN(x) {
		return x
	}
	scale := math.Pow(10, 11-math.Floor(math.Log10(math.Abs(x))))
	return math.Round(x*scale) / scale
}
