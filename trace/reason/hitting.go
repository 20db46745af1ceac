package reason

import (
	"cmp"
	"slices"
	"strings"
)

// A Diagnosis is a smallest explanation of all conflicts: one element out of each of its classes. Elements of a class are
// in exactly the same conflicts, so that nothing tells them apart here.
type Diagnosis []Class

// A Class is a sorted list of elements.
type Class []string

// Diagnoses finds every minimal hitting set of at most most classes: each conflict is a set of which not all can be in
// order, and a diagnosis takes one element from every conflict, none to spare (Reiter, Artificial Intelligence 32, 1987).
// The answer is ordered by size, then by name. Without conflicts the answer is one empty diagnosis: nothing is wrong.
func Diagnoses(conflicts [][]string, most int) []Diagnosis {
	classes, sets := classify(conflicts)
	// Berge's way: extend the hitting sets of the first n conflicts to the next, keeping only minimal ones.
	hits := [][]int{nil}
	for _, conflict := range sets {
		var next [][]int
		var open [][]int
		for _, h := range hits {
			if slices.ContainsFunc(h, func(c int) bool { return slices.Contains(conflict, c) }) {
				next = append(next, h)
			} else if len(h) < most {
				open = append(open, h)
			}
		}
		kept := len(next)
		for _, h := range open {
			for _, c := range conflict {
				wider := insertSorted(h, c)
				// Extensions have one size more than their roots at least; only sets that hit already can be inside one.
				if !slices.ContainsFunc(next[:kept], func(s []int) bool { return subset(s, wider) }) {
					next = append(next, wider)
				}
			}
		}
		hits = minimal(next)
	}
	out := make([]Diagnosis, 0, len(hits))
	for _, h := range hits {
		d := Diagnosis{}
		for _, c := range h {
			d = append(d, classes[c])
		}
		out = append(out, d)
	}
	slices.SortFunc(out, compareDiagnoses)
	return out
}

// Each lists the single sets that a diagnosis stands for, one element of each class.
func (d Diagnosis) Each() [][]string {
	sets := [][]string{{}}
	for _, class := range d {
		var wider [][]string
		for _, s := range sets {
			for _, e := range class {
				wider = append(wider, append(slices.Clone(s), e))
			}
		}
		sets = wider
	}
	for _, s := range sets {
		slices.Sort(s)
	}
	slices.SortFunc(sets, slices.Compare)
	return sets
}

// classify joins elements that are in the same conflicts, which keeps the search small however many parts share a zone.
func classify(conflicts [][]string) ([]Class, [][]int) {
	member := map[string][]int{}
	for i, conflict := range conflicts {
		for _, e := range conflict {
			if in := member[e]; len(in) == 0 || in[len(in)-1] != i {
				member[e] = append(in, i)
			}
		}
	}
	elements := make([]string, 0, len(member))
	for e := range member {
		elements = append(elements, e)
	}
	slices.SortFunc(elements, func(a, b string) int {
		return cmp.Or(slices.Compare(member[a], member[b]), strings.Compare(a, b))
	})
	var classes []Class
	sets := make([][]int, len(conflicts))
	for i, e := range elements {
		if i == 0 || slices.Compare(member[elements[i-1]], member[e]) != 0 {
			for _, c := range member[e] {
				sets[c] = append(sets[c], len(classes))
			}
			classes = append(classes, nil)
		}
		classes[len(classes)-1] = append(classes[len(classes)-1], e)
	}
	return classes, sets
}

func insertSorted(h []int, c int) []int {
	at, _ := slices.BinarySearch(h, c)
	return slices.Insert(slices.Clone(h), at, c)
}

// subset tells whether every element of sorted a is in sorted b.
func subset(a, b []int) bool {
	i := 0
	for _, e := range b {
		if i < len(a) && a[i] == e {
			i++
		}
	}
	return i == len(a)
}

// minimal drops doubles and every set that has another one inside it.
func minimal(sets [][]int) [][]int {
	slices.SortFunc(sets, func(a, b []int) int { return cmp.Or(cmp.Compare(len(a), len(b)), slices.Compare(a, b)) })
	var out [][]int
	for _, s := range sets {
		if !slices.ContainsFunc(out, func(o []int) bool { return subset(o, s) }) {
			out = append(out, s)
		}
	}
	return out
}

func compareDiagnoses(a, b Diagnosis) int {
	if c := cmp.Compare(len(a), len(b)); c != 0 {
		return c
	}
	for i := range a {
		if c := slices.Compare(a[i], b[i]); c != 0 {
			return c
		}
	}
	return 0
}
