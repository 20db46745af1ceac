package reason

import "slices"

// A Structure is a model of which only this is known: which unknowns each equation ties together. A fault breaks one equation
// or several. Whether any set of readings can show it follows from counting alone: where more equations than unknowns are left
// without it, they can be held against each other (M. Krysander and E. Frisk, Sensor placement for fault diagnosis, IEEE
// Transactions on Systems, Man and Cybernetics A 38, 2008, by the decomposition of A. Dulmage and N. Mendelsohn, 1958).
// Structure is necessary, not sufficient: what it can't tell apart no reading can; what it can may still be too small to read.
type Structure struct {
	Unknowns  int
	Equations [][]int // the unknowns of each
}

// A matching pairs equations with unknowns, as many as can be.
type matching struct {
	s          *Structure
	without    []bool // equations left out
	ofEquation []int  // -1: none
	ofUnknown  []int
	seen       []int // by unknown: the last search that came by
	search     int
}

func (s *Structure) match(without []bool) *matching {
	m := &matching{s: s, without: without, ofEquation: make([]int, len(s.Equations)), ofUnknown: make([]int, s.Unknowns), seen: make([]int, s.Unknowns)}
	for i := range m.ofEquation {
		m.ofEquation[i] = -1
	}
	for i := range m.ofUnknown {
		m.ofUnknown[i] = -1
	}
	for e := range s.Equations {
		if without == nil || !without[e] {
			m.search++
			m.augment(e)
		}
	}
	return m
}

// augment finds an unknown for an equation, moving others where it must.
func (m *matching) augment(e int) bool {
	for _, x := range m.s.Equations[e] {
		if m.seen[x] == m.search {
			continue
		}
		m.seen[x] = m.search
		if m.ofUnknown[x] < 0 || m.augment(m.ofUnknown[x]) {
			m.ofUnknown[x], m.ofEquation[e] = e, x
			return true
		}
	}
	return false
}

// overdetermined marks the equations that can be held against each other: those that an alternating way leads to from an
// equation that has no unknown of its own.
func (m *matching) overdetermined() []bool {
	in := make([]bool, len(m.s.Equations))
	var queue []int
	for e := range m.s.Equations {
		if m.ofEquation[e] < 0 && (m.without == nil || !m.without[e]) {
			in[e] = true
			queue = append(queue, e)
		}
	}
	m.spread(in, queue)
	return in
}

// spread along alternating ways; loose says that one of them ends at an unknown that no equation is left for.
func (m *matching) spread(in []bool, queue []int) (loose bool) {
	for ; len(queue) > 0; queue = queue[1:] {
		for _, x := range m.s.Equations[queue[0]] {
			switch e := m.ofUnknown[x]; {
			case e < 0:
				loose = true
			case !in[e]:
				in[e] = true
				queue = append(queue, e)
			}
		}
	}
	return loose
}

// Overdetermined marks the equations of the over-determined part.
func (s *Structure) Overdetermined() []bool { return s.match(nil).overdetermined() }

// Isolability of faults, each given by the equations that it breaks. detectable says which some readings can show; alike[i][j]
// that no readings can show i and leave j out: whatever shows i could be j as well. Each detectable fault is alike itself; a
// fault that can't be detected is alike everything.
func (s *Structure) Isolability(faults [][]int) (detectable []bool, alike [][]bool) {
	over := s.Overdetermined()
	detectable = make([]bool, len(faults))
	alike = make([][]bool, len(faults))
	for i, f := range faults {
		detectable[i] = breaks(f, over)
		alike[i] = make([]bool, len(faults))
	}
	for j := range faults {
		left := s.Without(faults[j])
		for i := range faults {
			alike[i][j] = !breaks(faults[i], left)
		}
	}
	return detectable, alike
}

// Without marks the over-determined part of the equations that are left when some are taken away.
func (s *Structure) Without(equations []int) []bool {
	return s.match(s.drop(equations)).overdetermined()
}

func (s *Structure) drop(equations []int) []bool {
	without := make([]bool, len(s.Equations))
	for _, e := range equations {
		without[e] = true
	}
	return without
}

func breaks(equations []int, in []bool) bool {
	return slices.ContainsFunc(equations, func(e int) bool { return in[e] })
}

// Splitting lists the unknowns each of which, if it were measured, would let some readings show fault i and leave fault j
// out; nil where that is so already, or where nothing would do it alone. A sensor for an unknown is one more equation with
// that unknown alone; it checks nothing where it is needed to find out what no equation is left for.
func (s *Structure) Splitting(i, j []int) []int {
	m := s.match(s.drop(j))
	if breaks(i, m.overdetermined()) {
		return nil
	}
	var out []int
	for x := range s.Unknowns {
		e := m.ofUnknown[x]
		if e < 0 {
			continue
		}
		in := make([]bool, len(s.Equations))
		in[e] = true
		if loose := m.spread(in, []int{e}); !loose && breaks(i, in) {
			out = append(out, x)
		}
	}
	return out
}
