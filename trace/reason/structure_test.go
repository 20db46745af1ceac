package reason

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// commault is the example of C. Commault and others, "Structural analysis for the sensor location problem in fault detection
// and isolation" (2006), as used by Krysander and Frisk (2008). Unknowns x1 to x7 are 1 to 7; 0 is not used.
func commault() (*Structure, [][]int) {
	s := &Structure{Unknowns: 8, Equations: [][]int{{5}, {7}, {6}, {1, 5, 7}, {2, 6}, {1, 2, 3}, {1, 2, 4}, {3}, {3, 4}, {4}}}
	return s, [][]int{{0}, {1}, {4}, {2}} // f1 to f4 are in equations 1, 2, 5 and 3
}

func TestStructureOfCommault(t *testing.T) {
	s, faults := commault()
	detectable, alike := s.Isolability(faults)
	require.Equal(t, []bool{true, true, true, true}, detectable)
	require.Equal(t, [][]bool{{true, true, false, false}, {true, true, false, false}, {false, false, true, true}, {false, false, true, true}}, alike)

	// The smallest sets of sensors that tell all faults apart are {x5, x6} and {x6, x7}: the smallest hitting sets of what
	// splits each pair.
	var conflicts [][]string
	for i := range faults {
		for j := range faults {
			if i != j && alike[i][j] {
				var names []string
				for _, x := range s.Splitting(faults[i], faults[j]) {
					names = append(names, fmt.Sprint("x", x))
				}
				require.NotEmpty(t, names)
				conflicts = append(conflicts, names)
			}
		}
	}
	var sets [][]string
	for _, d := range Diagnoses(conflicts, 7) {
		sets = append(sets, d.Each()...)
	}
	require.ElementsMatch(t, [][]string{{"x5", "x6"}, {"x6", "x7"}}, sets)
}

// The over-determined part does not depend on which of several largest matchings is found: it is held against the definition,
// by taking away each equation in turn. An equation is in the part where the largest matching is as large without it.
func TestOverdeterminedPartByDefinition(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := &Structure{Unknowns: rapid.IntRange(1, 6).Draw(t, "unknowns")}
		for range rapid.IntRange(1, 9).Draw(t, "equations") {
			s.Equations = append(s.Equations, rapid.SliceOfNDistinct(rapid.IntRange(0, s.Unknowns-1), 1, min(3, s.Unknowns), func(x int) int { return x }).Draw(t, "equation"))
		}
		largest := func(without []bool) int {
			n := 0
			for _, x := range s.match(without).ofEquation {
				if x >= 0 {
					n++
				}
			}
			return n
		}
		in := s.Overdetermined()
		for e := range s.Equations {
			require.Equal(t, largest(s.drop([]int{e})) == largest(nil), in[e], "equation %d of %v", e, s.Equations)
		}
	})
}

// What is said to split a pair does, and nothing else does, by adding each sensor in turn, where no part is under-determined.
func TestSplittingByAddingSensors(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 6).Draw(t, "unknowns")
		s := &Structure{Unknowns: n}
		for x := range n { // one equation for each unknown, so that nothing is under-determined
			other := rapid.IntRange(0, n-1).Draw(t, "other")
			s.Equations = append(s.Equations, []int{x, other})
		}
		i, j := []int{rapid.IntRange(0, n-1).Draw(t, "i")}, []int{rapid.IntRange(0, n-1).Draw(t, "j")}
		got := map[int]bool{}
		for _, x := range s.Splitting(i, j) {
			got[x] = true
		}
		if breaks(i, s.Without(j)) {
			require.Empty(t, got)
			return
		}
		for x := range n {
			more := &Structure{Unknowns: n, Equations: append(append([][]int{}, s.Equations...), []int{x})}
			require.Equal(t, breaks(i, more.Without(j)), got[x], "sensor %d", x)
		}
	})
}
