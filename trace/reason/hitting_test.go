package reason

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// A machine of boxes, each computing its output from inputs: the smallest consistency oracle that the classical
// examples need. A set of boxes conflicts with the observations if they can't all be in order.
type box struct {
	name    string
	out     string
	inputs  []string
	forward func(a, b int) int
}

type machine struct {
	boxes  []box
	wires  []string // every wire
	values []int    // what a wire can carry
	known  map[string]int
}

// consistent tells whether some values of the unknown wires agree with every box in order.
func (m machine) consistent(inOrder map[string]bool) bool {
	var unknown []string
	for _, w := range m.wires {
		if _, ok := m.known[w]; !ok {
			unknown = append(unknown, w)
		}
	}
	value := map[string]int{}
	for w, v := range m.known {
		value[w] = v
	}
	var try func(i int) bool
	try = func(i int) bool {
		if i == len(unknown) {
			for _, b := range m.boxes {
				if inOrder[b.name] && b.forward(value[b.inputs[0]], value[b.inputs[1]]) != value[b.out] {
					return false
				}
			}
			return true
		}
		for _, v := range m.values {
			value[unknown[i]] = v
			if try(i + 1) {
				return true
			}
		}
		return false
	}
	return try(0)
}

// subsets of the boxes' names, by size.
func (m machine) subsets() [][]string {
	var all [][]string
	for bits := range 1 << len(m.boxes) {
		var s []string
		for i, b := range m.boxes {
			if bits&(1<<i) != 0 {
				s = append(s, b.name)
			}
		}
		slices.Sort(s)
		all = append(all, s)
	}
	slices.SortStableFunc(all, func(a, b []string) int { return len(a) - len(b) })
	return all
}

// conflicts finds every minimal set that can't be all in order.
func (m machine) conflicts() [][]string {
	var out [][]string
	for _, s := range m.subsets() {
		if slices.ContainsFunc(out, func(c []string) bool { return contains(s, c) }) {
			continue
		}
		inOrder := map[string]bool{}
		for _, b := range s {
			inOrder[b] = true
		}
		if !m.consistent(inOrder) {
			out = append(out, s)
		}
	}
	return out
}

func contains(s, part []string) bool {
	return !slices.ContainsFunc(part, func(e string) bool { return !slices.Contains(s, e) })
}

func sets(ds []Diagnosis) [][]string {
	var out [][]string
	for _, d := range ds {
		out = append(out, d.Each()...)
	}
	slices.SortFunc(out, func(a, b []string) int {
		if len(a) != len(b) {
			return len(a) - len(b)
		}
		return slices.Compare(a, b)
	})
	return out
}

func polybox(probes map[string]int) machine {
	add, mul := func(a, b int) int { return a + b }, func(a, b int) int { return a * b }
	known := map[string]int{"a": 3, "b": 2, "c": 2, "d": 3, "e": 3, "f": 10, "g": 12}
	for w, v := range probes {
		known[w] = v
	}
	values := make([]int, 25)
	for i := range values {
		values[i] = i - 6
	}
	return machine{
		boxes: []box{
			{"M1", "x", []string{"a", "c"}, mul}, {"M2", "y", []string{"b", "d"}, mul}, {"M3", "z", []string{"c", "e"}, mul},
			{"A1", "f", []string{"x", "y"}, add}, {"A2", "g", []string{"y", "z"}, add},
		},
		wires:  []string{"a", "b", "c", "d", "e", "f", "g", "x", "y", "z"},
		values: values, known: known,
	}
}

// de Kleer & Williams, "Diagnosing multiple faults", Artificial Intelligence 32 (1987), the polybox example: conflicts,
// diagnoses and what probing X does.
func TestPolyboxDiagnoses(t *testing.T) {
	conflicts := polybox(nil).conflicts()
	assert.ElementsMatch(t, [][]string{{"A1", "M1", "M2"}, {"A1", "A2", "M1", "M3"}}, conflicts)
	assert.Equal(t, [][]string{{"A1"}, {"M1"}, {"A2", "M2"}, {"M2", "M3"}}, sets(Diagnoses(conflicts, 3)))

	assert.Equal(t, [][]string{{"M1"}}, sets(Diagnoses(polybox(map[string]int{"x": 4}).conflicts(), 1)))
	assert.Equal(t, [][]string{{"A1"}, {"A2", "M2"}, {"M2", "M3"}}, sets(Diagnoses(polybox(map[string]int{"x": 6}).conflicts(), 3)))
}

// The same: with a prior of 0.01 each and unknown fault behaviour, the posteriors and the entropy (recomputed by
// enumeration from the paper's data), and X as the best probe (paper).
func TestPolyboxProbabilities(t *testing.T) {
	m := polybox(nil)
	conflicts := m.conflicts()
	subsets := m.subsets()
	space := Space{Hypotheses: len(subsets), Draws: 1}
	possible := make([]float64, len(subsets))
	for i, s := range subsets {
		space.Cells = append(space.Cells, Cell{Hypothesis: i, Prior: pow(.01, len(s)) * pow(.99, 5-len(s))})
		if !slices.ContainsFunc(conflicts, func(c []string) bool {
			return !slices.ContainsFunc(c, func(e string) bool { return slices.Contains(s, e) })
		}) {
			possible[i] = 1
		}
	}
	b, err := NewBelief(space)
	require.NoError(t, err)
	require.NoError(t, b.Weigh(Factor{Key: "F=10, G=12", Density: possible}))
	p := b.Posterior().Hypotheses
	for i, s := range subsets {
		switch fmt.Sprint(s) {
		case "[A1]", "[M1]":
			assert.InDelta(t, 0.478026, p[i], 5e-7, s)
		case "[A2 M2]", "[M2 M3]":
			assert.InDelta(t, 0.004829, p[i], 5e-7, s)
		}
	}
	assert.InDelta(t, 1.359445, Entropy(p), 5e-7)

	// What each hypothesis makes of a probe: the values that agree with the boxes left in order, all equally likely.
	chances := func(wire string) func(int, []float64) {
		return func(h int, out []float64) {
			clear(out)
			inOrder := map[string]bool{}
			for _, x := range m.boxes {
				inOrder[x.name] = !slices.Contains(subsets[h], x.name)
			}
			n := 0.0
			for i, v := range m.values {
				if polybox(map[string]int{wire: v}).consistent(inOrder) {
					out[i] = 1
					n++
				}
			}
			for i := range out {
				out[i] /= n
			}
		}
	}
	var tests []Test
	for _, w := range []string{"y", "z", "x"} {
		tests = append(tests, Test{ID: w, Minutes: 1, Outcomes: len(m.values), Chances: chances(w)})
	}
	for i, s := range subsets { // spare the oracle the hypotheses that are hardly worth their time
		if len(s) > 2 {
			p[i] = 0
		}
	}
	assert.Equal(t, "x", tests[ByInformation(Expect(p, tests))[0].Test].ID)
}

// Reiter, "A theory of diagnosis from first principles", Artificial Intelligence 32 (1987), the full adder; the
// probability is recomputed by enumeration.
func TestFullAdder(t *testing.T) {
	xor, and, or := func(a, b int) int { return a ^ b }, func(a, b int) int { return a & b }, func(a, b int) int { return a | b }
	m := machine{
		boxes: []box{
			{"X1", "p", []string{"a", "b"}, xor}, {"X2", "sum", []string{"p", "cin"}, xor},
			{"A1", "q", []string{"a", "b"}, and}, {"A2", "r", []string{"p", "cin"}, and}, {"O1", "carry", []string{"q", "r"}, or},
		},
		wires: []string{"a", "b", "cin", "p", "q", "r", "sum", "carry"}, values: []int{0, 1},
		known: map[string]int{"a": 1, "b": 0, "cin": 1, "sum": 1, "carry": 0},
	}
	conflicts := m.conflicts()
	assert.ElementsMatch(t, [][]string{{"X1", "X2"}, {"A2", "O1", "X1"}}, conflicts)
	assert.Equal(t, [][]string{{"X1"}, {"A2", "X2"}, {"O1", "X2"}}, sets(Diagnoses(conflicts, 3)))

	subsets := m.subsets()
	space := Space{Hypotheses: len(subsets), Draws: 1}
	possible := make([]float64, len(subsets))
	for i, s := range subsets {
		space.Cells = append(space.Cells, Cell{Hypothesis: i, Prior: pow(.01, len(s)) * pow(.99, 5-len(s))})
		inOrder := map[string]bool{}
		for _, x := range m.boxes {
			inOrder[x.name] = !slices.Contains(s, x.name)
		}
		if m.consistent(inOrder) {
			possible[i] = 1
		}
	}
	b, err := NewBelief(space)
	require.NoError(t, err)
	require.NoError(t, b.Weigh(Factor{Key: "outputs", Density: possible}))
	assert.InDelta(t, 0.942037, b.Posterior().Hypotheses[slices.IndexFunc(subsets, func(s []string) bool { return fmt.Sprint(s) == "[X1]" })], 5e-7)
}

// Diagnoses are hitting sets, minimal, complete up to the size asked for, and independent of the order of conflicts.
func TestDiagnosesAgainstEnumeration(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		elements := []string{"a", "b", "c", "d", "e", "f", "g"}
		conflicts := rapid.SliceOfN(rapid.SliceOfNDistinct(rapid.SampledFrom(elements), 1, 5, rapid.ID), 0, 5).Draw(t, "conflicts")
		most := rapid.IntRange(1, 3).Draw(t, "most")
		var want [][]string
		hits := func(s []string) bool {
			return !slices.ContainsFunc(conflicts, func(c []string) bool {
				return !slices.ContainsFunc(c, func(e string) bool { return slices.Contains(s, e) })
			})
		}
		m := machine{}
		for _, e := range elements {
			m.boxes = append(m.boxes, box{name: e})
		}
		for _, s := range m.subsets() {
			if len(s) <= most && hits(s) && !slices.ContainsFunc(want, func(w []string) bool { return contains(s, w) }) {
				want = append(want, s)
			}
		}
		got := sets(Diagnoses(conflicts, most))
		if len(want) != len(got) {
			t.Fatalf("want %v, got %v", want, got)
		}
		for _, w := range want {
			if !slices.ContainsFunc(got, func(g []string) bool { return slices.Equal(g, w) }) {
				t.Fatalf("%v is missing in %v", w, got)
			}
		}
		shuffled := rapid.Permutation(conflicts).Draw(t, "order")
		if !slices.EqualFunc(got, sets(Diagnoses(shuffled, most)), slices.Equal[[]string]) {
			t.Fatalf("the order of the conflicts changes the answer")
		}
	})
}

func pow(x float64, n int) float64 {
	y := 1.0
	for range n {
		y *= x
	}
	return y
}
