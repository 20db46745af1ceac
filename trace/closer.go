package trace

import (
	"context"
	"math"
	"slices"

	"airpath/trace/reason"
)

// A closer look at what leads. The common draws tell hundreds of hypotheses apart quickly and coarsely: there are few of them for
// what they stand for, a severity is taken anew in every reading, and readings move as on a healthy vehicle. What leads is worth more, in
// three goes. At a glance, for all that may lead: what is shared within the vehicle is drawn where the findings put it on this hypothesis (importance
// sampling around the mode, which is found by Gauss and Newton), and the severity is one number in all readings. Then finely, for what may lead
// by that: its own severities are simulated where they matter. Then closely, for what leads by that: its readings move as they do on a
// vehicle with this fault.

const (
	mostGlanced  = 24    // hypotheses at a time
	mostGlances  = 3     // until nothing else leads
	leastGlanced = 1e-20 // of the likeliest one
	mostCells    = 5     // of a hypothesis
	glanceDraws  = 64
	mostFine     = 8    // hypotheses at a time
	leastFine    = 1e-6 // of the likeliest one
	leastBlurred = 1e-6 // of the likeliest of its hypothesis
	leastNear    = 1e-3 // of the likeliest of its hypothesis
	edgeHalved   = 3    // times
	mostClose    = 5    // hypotheses at a time
	leastClose   = 3e-3 // of the likeliest one
	mostLooks    = 3    // until nothing else leads
	closeDraws   = 128
	mostFaces    = 2 // faults at a time
)

// A looker is one case being looked at.
type looker struct {
	*Tracer
	ctx          context.Context
	observations []observation
	procedures   []int
	belief       *reason.Belief
	glance, near *gaze
	more         map[int]float64 // by cell
	together     map[int]float64 // by pair in the belief's list
	hopings      []hoping
	hope         []float64     // by cell: see hopes
	faces        map[int]*face // by cell that has been looked at finely
	moving       map[int]*gaze // by hypothesis that has been looked at closely
	inLine       map[int]int   // hypotheses that were looked at because of the one that they are in line with
}

// lookCloser at the leading hypotheses.
func (t *Tracer) lookCloser(ctx context.Context, observations []observation, belief *reason.Belief) error {
	if len(observations) == 0 {
		return nil
	}
	l := &looker{
		Tracer: t, ctx: ctx, observations: observations, belief: belief, more: map[int]float64{}, together: map[int]float64{}, faces: map[int]*face{}, moving: map[int]*gaze{}, inLine: map[int]int{},
		glance: t.gazeAt(observations, glanceDraws),
	}
	for i := range observations {
		l.procedures = append(l.procedures, observations[i].procedure)
	}
	l.near = l.glance.movingAs()
	l.near.normal = reason.Draws(closeDraws, l.near.dims+mostFaces)
	l.hopes()
	l.glanceOver()
	for range mostLooks {
		more, err := l.again()
		if err != nil || !more {
			return err
		}
	}
	return nil
}

// glanceOver all that may lead. What is not glanced at is off by as much as the healthy vehicle: most of what the common draws are too coarse for is the
// vehicle's own, whatever is the matter with it. What leads then is glanced at in its turn.
func (l *looker) glanceOver() {
	p := l.belief.Posterior()
	other, healthy := l.list[somethingElse].cell, l.list[noFault].cell
	l.glanceAt([]int{healthy})
	l.more[other] = l.glance.disturbed().evidence(l.glance.glance(healthy)) + l.rest(other) - l.belief.LogLikelihood(other)
	l.glanceOverPairs(p)
	for i := range l.belief.Pairs() {
		if _, ok := l.together[i]; !ok {
			l.together[i] = math.Min(0, l.more[healthy]) // of two faults one may explain what is put down to the vehicle
		}
	}
	glanced := map[int]bool{noFault: true}
	seen := map[int]bool{healthy: true, other: true} // cells
	for range mostGlances {
		fresh := false
		var cells []int
		for _, h := range l.likeliestOf(p, mostGlanced, leastGlanced) {
			if glanced[h] {
				continue
			}
			glanced[h], fresh = true, true
			cells = append(cells, l.likeliestCells(h)...)
		}
		l.glanceAt(cells)
		for _, c := range cells {
			seen[c] = true
		}
		if !fresh {
			break
		}
		for c := range l.cells {
			if !seen[c] {
				l.more[c] = l.more[healthy]
			}
		}
		l.belief.LookCloser(l.more, l.together)
		p = l.belief.Posterior()
	}
}

// glanceAt some cells.
func (l *looker) glanceAt(cells []int) {
	found := l.evidences(len(cells), func(i int) float64 { return l.glance.evidence(l.glance.glance(cells[i])) })
	for i, c := range cells {
		l.more[c] = found[i] + l.rest(c) - l.belief.LogLikelihood(c)
	}
}

// evidences of so many things to look at, on all cores unless there is somebody at each.
func (l *looker) evidences(n int, of func(i int) float64) []float64 {
	out := make([]float64, n)
	if l.table.single {
		for i := range out {
			out[i] = of(i)
		}
	} else {
		onAllCores(n, func(i int) { out[i] = of(i) })
	}
	return out
}

// likeliestCells of a hypothesis by the findings alone, in order of the list.
func (l *looker) likeliestCells(h int) []int {
	var cells []int
	for c := l.list[h].cell; c < l.list[h].cell+l.list[h].cells; c++ {
		cells = append(cells, c)
	}
	slices.SortStableFunc(cells, func(x, y int) int { return -compareCoarse(l.belief.LogLikelihood(x), l.belief.LogLikelihood(y)) })
	cells = cells[:min(len(cells), mostCells)]
	slices.Sort(cells)
	return cells
}

// rest of the evidence beside what is looked at: complaints and logs.
func (l *looker) rest(c int) float64 {
	return l.belief.LogMeans(c, func(key string) bool { return l.glance.keys[key] == 0 })
}

// again looks at what leads by now; more tells whether there was anything that had not been looked at.
func (l *looker) again() (more bool, err error) {
	fine, err := l.finer()
	if err != nil {
		return false, err
	}
	close, err := l.closely()
	return fine || close, err
}

// finer looks at what may lead.
func (l *looker) finer() (more bool, err error) {
	p := l.belief.Posterior()
	hoped := l.hoped(p)
	var cells, fine []int
	for _, h := range l.likeliestOf(hoped, mostFine, leastFine) {
		list := &l.list[h]
		best := hoped.Singles[likeliest(hoped, list)]
		for c := list.cell; c < list.cell+list.cells; c++ {
			if l.faces[c] == nil && hoped.Singles[c] >= leastNear*best {
				cells = append(cells, c)
			}
		}
	}
	for _, c := range l.besideLeading() {
		if !slices.Contains(cells, c) {
			cells = append(cells, c)
		}
	}
	slices.Sort(cells)
	for _, c := range cells {
		fine = append(fine, l.finely(c).vehicles...)
	}
	if len(cells) == 0 {
		return false, nil
	}
	if err := l.table.fill(l.ctx, l.procedures, fine, nil); err != nil {
		return false, err
	}
	leading := slices.Max(p.Alone)
	steps, err := l.refine(l.ctx, l.observations, l.procedures, cells, func(c, from, to int) bool {
		_, beside := l.inLine[l.cells[c].hypothesis]
		return beside || p.Singles[c]*math.Exp(l.hopeOver(c, from, to)) >= leastFine*leading
	})
	if err != nil {
		return false, err
	}
	for _, c := range cells {
		l.faces[c] = l.near.face(steps[c])
	}
	l.weigh(cells)
	l.belief.LookCloser(l.more, l.together)
	return true, nil
}

// hoped is a posterior in which what has only been glanced at is as likely as it may turn out to be.
func (l *looker) hoped(p reason.Posterior) reason.Posterior {
	out := reason.Posterior{Alone: make([]float64, len(p.Alone)), Singles: slices.Clone(p.Singles)}
	for c := range out.Singles {
		if l.faces[c] == nil {
			out.Singles[c] *= math.Exp(l.hope[c])
		}
		out.Alone[l.cells[c].hypothesis] += out.Singles[c]
	}
	out.Cells = out.Singles
	return out
}

// weigh cells that have been looked at finely.
func (l *looker) weigh(cells []int) {
	found := l.evidences(len(cells), func(i int) float64 { return l.movingOf(cells[i]).evidence(l.faces[cells[i]]) })
	for i, c := range cells {
		l.more[c] = found[i] + l.rest(c) - l.belief.LogLikelihood(c)
	}
}

// movingOf a cell: its readings move as far as is known as those of the fault that it is in line with.
func (l *looker) movingOf(c int) *gaze {
	h := l.cells[c].hypothesis
	if k := l.moving[h]; k != nil {
		return k
	}
	if beside, ok := l.inLine[h]; ok && l.moving[beside] != nil {
		return l.moving[beside]
	}
	return l.near
}

// closely looks at what leads.
func (l *looker) closely() (more bool, err error) {
	p := l.belief.Posterior()
	for _, h := range l.likeliestOf(p, mostClose, leastClose) {
		if l.moving[h] != nil {
			continue
		}
		more = true
		base := l.baseAt(likeliest(p, &l.list[h]))
		around := l.aside(base)
		if l.nuisances.faulty(l.list[h].fault) >= 0 {
			around = l.table.scatteredAround(base)
		}
		if err := l.table.fill(l.ctx, l.table.changedIn(l.procedures, base), around, nil); err != nil {
			return false, err
		}
		l.moving[h] = l.near.movingAs(base)
		var cells []int
		for c := range l.cells {
			if beside, ok := l.inLine[l.cells[c].hypothesis]; l.faces[c] != nil && (l.cells[c].hypothesis == h || ok && beside == h) {
				cells = append(cells, c)
			}
		}
		l.weigh(cells)
	}
	if more {
		l.belief.LookCloser(l.more, l.together)
	}
	return more, nil
}

// changedIn are the procedures in which a vehicle reads otherwise than the healthy one. In all others it moves as that one does.
func (t *table) changedIn(procedures []int, vehicle int) []int {
	var out []int
	for _, p := range procedures {
		if t.changed(vehicle, p) {
			out = append(out, p)
		}
	}
	return out
}

func (t *table) changed(vehicle, p int) bool {
	return !alikeAll(t.procedures[p], t.values(p, vehicle), t.values(p, 0))
}

// aside are the vehicles that lie a σ up from one.
func (t *Tracer) aside(base int) []int {
	var out []int
	first := t.table.around(base)
	for k := range t.nuisances.dims() - 1 {
		out = append(out, first+2*k)
	}
	return out
}

// likeliestOf the hypotheses, each by itself alone, in order.
func (t *Tracer) likeliestOf(p reason.Posterior, most int, least float64) []int {
	var out []int
	for h := range t.list {
		if h != somethingElse {
			out = append(out, h)
		}
	}
	slices.SortStableFunc(out, func(x, y int) int { return -compareCoarse(p.Alone[x], p.Alone[y]) })
	n := 0
	for n < min(len(out), most) && p.Alone[out[n]] >= least*p.Alone[out[0]] {
		n++
	}
	return out[:n]
}

// baseAt is the simulated vehicle around which a cell's readings are taken to move: of one that has been looked at finely the nearest to where the
// findings put its severity. A way that is all but shut moves otherwise than one that lets some air through.
func (l *looker) baseAt(c int) int {
	f := l.faces[c]
	if f == nil {
		return l.baseOf(c)
	}
	faces := []*face{f}
	k := l.near.beyond(faces)
	share, best := k.crest(faces).center[k.dims], 0
	for i, x := range f.shares {
		if math.Abs(x-share) < math.Abs(f.shares[best]-share) {
			best = i
		}
	}
	return l.table.alias[f.vehicles[best]]
}

// baseOf a cell: the simulated vehicle around which its readings are taken to move.
func (t *Tracer) baseOf(c int) int {
	if t.cells[c].b > 0.75 {
		return t.table.alias[t.cells[c].to]
	}
	return t.table.alias[t.cells[c].from]
}
