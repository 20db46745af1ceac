package trace

import (
	"cmp"
	"slices"

	"airpath/circuit"
	"airpath/circuit/airflow"
)

// What lies beside a leading fault, in line with it, and does the same to the air reads much the same at some severity: a feed line that is blocked
// and the check valve behind it that is stuck shut. Which severities of the two were simulated must not part them, so that such
// neighbours are looked at finely as well, however badly they fit at the severities that are at hand.
const (
	leadsBeside = 0.2 // probability from which a fault has its neighbours looked at
	mostLeading = 3
	mostBeside  = 9    // at a time
	worstBeside = 60.0 // by which the logarithm of its likelihood lies under the leading one's
	mostBranch  = 1    // rooms on the way at which something else joins
)

// besideLeading lists cells of the neighbours of what leads that have not been looked at finely: those that fit best, and those next to them.
func (l *looker) besideLeading() []int {
	var out []int
	p := l.belief.Posterior()
	for _, h := range l.likeliestOf(p, mostLeading, 0) {
		if h < firstFault || p.Alone[h] < leadsBeside {
			continue
		}
		bar := l.belief.LogLikelihood(l.bestBy(h)) - worstBeside
		hops := l.inLineWith(h)
		var near []int
		for x := firstFault; x < len(l.list); x++ {
			if _, ok := hops[x]; ok && l.faces[l.bestBy(x)] == nil && l.belief.LogLikelihood(l.bestBy(x)) >= bar {
				near = append(near, x)
			}
		}
		slices.SortStableFunc(near, func(x, y int) int {
			return cmp.Or(cmp.Compare(hops[x], hops[y]), -compareCoarse(l.belief.LogLikelihood(l.bestBy(x)), l.belief.LogLikelihood(l.bestBy(y))))
		})
		for _, x := range near[:min(len(near), mostBeside)] {
			if _, ok := l.inLine[x]; !ok {
				l.inLine[x] = h
			}
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

// inLineWith lists the faults that narrow a way in line with one that a fault narrows or opens late, with how many branches lie between the two.
func (t *Tracer) inLineWith(h int) map[int]int {
	hops := map[string]int{} // by way
	for _, ch := range t.list[h].changes {
		if ch.Effect == airflow.Shuts || ch.Effect == airflow.Shifts {
			t.atlas.inLine(ch.Passage, hops)
		}
	}
	out := map[int]int{}
	for x := firstFault; x < len(t.list); x++ {
		for _, ch := range t.list[x].changes {
			n, ok := hops[ch.Passage]
			if was, had := out[x]; x != h && ok && ch.Effect == airflow.Shuts && (!had || n < was) {
				out[x] = n
			}
		}
	}
	return out
}

// inLine finds the ways that lie in line with one: those behind rooms at which nothing else joins, and a branch further. A reservoir ends a line.
func (a *atlas) inLine(way string, hops map[string]int) {
	first, ok := a.index[way]
	if !ok {
		return
	}
	hops[way] = 0
	for queue := []int{first}; len(queue) > 0; queue = queue[1:] {
		at := queue[0]
		for _, room := range []string{a.ways[at].From, a.ways[at].To} {
			var others []int
			for _, i := range a.at[room] {
				if w := &a.ways[i]; i != at && !w.Worn && w.From != circuit.Atmosphere && w.To != circuit.Atmosphere {
					others = append(others, i)
				}
			}
			n := hops[a.ways[at].ID]
			if len(others) > 1 {
				n++
			}
			if room == circuit.Atmosphere || n > mostBranch || len(others) > mostJoining {
				continue
			}
			for _, i := range others {
				if was, seen := hops[a.ways[i].ID]; !seen || n < was {
					hops[a.ways[i].ID] = n
					queue = append(queue, i)
				}
			}
		}
	}
}

// mostJoining ways at a room that is still a branch: a tee and what hangs on it, and not a reservoir.
const mostJoining = 3
