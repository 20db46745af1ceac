package trace

import (
	"slices"

	"airpath/circuit"
	"airpath/circuit/airflow"
)

// What lies beside a leading fault, in line with it, and does the same to the air reads much the same at some severity: a feed line that is blocked
// and the check valve behind it that is stuck shut. Which severities of the two were simulated must not part them, so that such
// neighbours are looked at finely as well, however badly they fit at the severities that are at hand.
const (
	leadsBeside = 0.1 // of the likeliest one: has its neighbours looked at
	mostLeading = 3
	mostBeside  = 6
	worstBeside = 60.0 // by which the logarithm of its likelihood lies under the leading one's
	hopsBeside  = 2    // parts and lines; what joins lines does not count
)

// besideLeading lists cells of the neighbours of what leads that have not been looked at finely: those that fit best, and those next to them.
func (l *looker) besideLeading() []int {
	var out []int
	for _, h := range l.likeliestOf(l.belief.Posterior(), mostLeading, leadsBeside) {
		if h < firstFault {
			continue
		}
		bar := l.belief.LogLikelihood(l.bestBy(h)) - worstBeside
		near := slices.DeleteFunc(l.beside(h), func(x int) bool { return l.belief.LogLikelihood(l.bestBy(x)) < bar })
		slices.SortStableFunc(near, func(x, y int) int {
			return -compareCoarse(l.belief.LogLikelihood(l.bestBy(x)), l.belief.LogLikelihood(l.bestBy(y)))
		})
		for _, x := range near[:min(len(near), mostBeside)] {
			list, best := &l.list[x], l.bestBy(x)
			for c := max(best-1, list.cell); c <= min(best+1, list.cell+list.cells-1); c++ {
				if l.faces[c] == nil && !slices.Contains(out, c) {
					out = append(out, c)
				}
			}
		}
	}
	return out
}

// bestBy the findings alone: a cell of a hypothesis.
func (l *looker) bestBy(h int) int {
	best := l.list[h].cell
	for c := best; c < l.list[h].cell+l.list[h].cells; c++ {
		if compareCoarse(l.belief.LogLikelihood(c), l.belief.LogLikelihood(best)) > 0 {
			best = c
		}
	}
	return best
}

// beside lists the faults of a fault's neighbours that do some of the same to the air.
func (t *Tracer) beside(h int) []int {
	hops := hopsFrom(t.circuit, t.list[h].fault.Target)
	var out []int
	for x := firstFault; x < len(t.list); x++ {
		if _, near := hops[t.list[x].fault.Target]; near && x != h && sameEffect(t.list[h].changes, t.list[x].changes) {
			out = append(out, x)
		}
	}
	return out
}

func sameEffect(a, b []airflow.Change) bool {
	return slices.ContainsFunc(a, func(x airflow.Change) bool {
		return slices.ContainsFunc(b, func(y airflow.Change) bool { return x.Effect == y.Effect })
	})
}

// hopsFrom a part or line to its neighbours, itself included. A tee or a test connection is no hop: lines go on there.
func hopsFrom(c *circuit.Circuit, target string) map[string]int {
	joins := map[string]bool{}
	for _, part := range c.Components {
		joins[part.ID] = part.Kind.Name == "tee" || part.Kind.Name == "test-connection"
	}
	hops := map[string]int{target: 0}
	for queue := []string{target}; len(queue) > 0; queue = queue[1:] {
		at := queue[0]
		to := func(id string) {
			n := hops[at] + 1
			if joins[id] {
				n--
			}
			if was, ok := hops[id]; n <= hopsBeside && (!ok || n < was) {
				hops[id] = n
				queue = append(queue, id)
			}
		}
		for _, line := range c.Lines {
			switch at {
			case line.From.Component, line.To.Component:
				to(line.ID)
			case line.ID:
				to(line.From.Component)
				to(line.To.Component)
			}
		}
	}
	return hops
}
