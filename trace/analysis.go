package trace

import (
	"cmp"
	"context"
	"math"
	"slices"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuit/airflow/procedure"
	"airpath/trace/reason"
)

// An analysis is one case being traced.
type analysis struct {
	*Tracer
	ctx          context.Context
	kase         *circuit.Case
	unit         string
	observations []observation
	belief       *reason.Belief
	posterior    reason.Posterior
	effects      *reason.Effects
	keys         map[string]int // of the factors, by key
	paths        *paths
	clearings    map[int]reason.Clearing // by hypothesis
	beside       map[int]bool            // hypotheses that did not give what was found, and may be there besides
	leading      float64                 // probability of a cell from which it leads
	strays       []bool                  // by observation: abnormal, and explained by no leading suspect
	weights      map[int][]float64       // of the draws, by cell
	left         procedure.Leaving       // how the vehicle stands
}

func newAnalysis(ctx context.Context, t *Tracer, k *circuit.Case, observations []observation, belief *reason.Belief) *analysis {
	t.mu.Lock()
	unit := t.unit
	t.mu.Unlock()
	a := &analysis{
		Tracer: t, ctx: ctx, kase: k, unit: unit, observations: observations, belief: belief, posterior: belief.Posterior(),
		effects: belief.Effects(), keys: map[string]int{}, clearings: map[int]reason.Clearing{}, beside: map[int]bool{}, weights: map[int][]float64{},
	}
	for c, w := range a.posterior.Cells {
		if a.cells[c].hypothesis >= firstFault {
			a.leading = max(a.leading, w/50)
		}
	}
	for i, key := range belief.Keys() {
		a.keys[key] = i
	}
	return a
}

// ruleOut finds what is cleared. Cleared is stronger than unlikely, and than "something else explains it all": see
// [reason.Belief.Cleared]. What is only cleared of having given what was found must be so for a reason that holds without the odds:
// no severity can give some finding, or in the healthy circuit no open way leads from the fault to an abnormal finding, or one leads
// straight to a place that holds.
func (a *analysis) ruleOut() {
	if len(a.observations) == 0 { // words and curves alone point somewhere; they clear nothing
		return
	}
	for _, c := range a.belief.Cleared(reason.DefaultBar) {
		switch {
		case c.Hypothesis < firstFault:
		case c.Beside && (a.pathCleared(c.Hypothesis) || a.unreached(c.Hypothesis) || a.impossible(c.Hypothesis)):
			a.beside[c.Hypothesis] = true
		case c.Beside:
		default:
			a.clearings[c.Hypothesis] = c
		}
	}
}

// unreached tells whether some abnormal finding has no way from a fault.
func (a *analysis) unreached(h int) bool {
	for i, abnormal := range a.paths.abnormal {
		if abnormal && a.paths.routes[i][h] == nil {
			return true
		}
	}
	return false
}

// outOfReach is how far below a stray finding's density a finding must lie at every severity, whatever the vehicle's
// gauges and scatter, to be called impossible.
const outOfReach = 2.0

// impossible tells whether no severity of a fault can give some finding: at each it is more likely to have come about by
// mistake than to have been read.
func (a *analysis) impossible(h int) bool {
	n := len(a.nuisances.draws)
	list := &a.list[h]
	for i := range a.observations {
		f := a.takenAt(i)
		most := 0.0
		for c := list.cell; c < list.cell+list.cells; c++ {
			most = max(most, f.Mean(c, n))
		}
		if most < outOfReach*f.Stray() {
			return true
		}
	}
	return false
}

// drawWeights of a cell, kept.
func (a *analysis) drawWeights(c int) []float64 {
	w, ok := a.weights[c]
	if !ok {
		w = a.belief.DrawWeights(c)
		a.weights[c] = w
	}
	return w
}

// A vote is how one observation changes the odds of a hypothesis: by which factor, when it is counted.
type vote struct {
	observation int
	factor      float64
}

// votes for and against a hypothesis, the strongest first.
func (a *analysis) votes(h int) (pro, con []vote) {
	effects := a.effects.Of(h)
	for i, o := range a.observations {
		if i > 0 && a.observations[i-1].key == o.key {
			continue // a repeat
		}
		f := effects[a.keys[o.key]]
		switch {
		case f > 1.25:
			pro = append(pro, vote{i, f})
		case f < 0.8:
			con = append(con, vote{i, f})
		}
	}
	slices.SortStableFunc(pro, func(x, y vote) int { return cmp.Compare(y.factor, x.factor) })
	slices.SortStableFunc(con, func(x, y vote) int { return cmp.Compare(x.factor, y.factor) })
	return pro, con
}

// standing lists the faults that are not cleared, the most probable first.
func (a *analysis) standing() []int {
	var out []int
	for h := firstFault; h < len(a.list); h++ {
		if _, cleared := a.clearings[h]; !cleared {
			out = append(out, h)
		}
	}
	slices.SortStableFunc(out, func(x, y int) int { return -compareCoarse(a.posterior.Hypotheses[x], a.posterior.Hypotheses[y]) })
	return out
}

// compareCoarse takes probabilities that differ by rounding alone as equal.
func compareCoarse(x, y float64) int {
	if math.Abs(x-y) <= 1e-9*math.Max(x, y) {
		return 0
	}
	return cmp.Compare(x, y)
}

// severity of a hypothesis by its cells: the middle, and the range that holds 90 %.
func (a *analysis) severityOf(h int) Severity {
	list := &a.list[h]
	s := Severity{Means: list.severity.Means, Dimension: list.severity.Dimension}
	if len(list.points) < 2 {
		s.Low, s.Mid, s.High = list.severity.Mild, list.severity.Typical, list.severity.Severe
		return s
	}
	s.Low, s.Mid, s.High = a.severityQuantile(h, 0.05), a.severityQuantile(h, 0.5), a.severityQuantile(h, 0.95)
	return s
}

func (a *analysis) severityQuantile(h int, q float64) float64 {
	list := &a.list[h]
	total := a.posterior.Hypotheses[h]
	at := q * total
	for i := list.cell; i < list.cell+list.cells; i++ {
		w := a.posterior.Cells[i]
		if (w > 0 && at <= w) || i == list.cell+list.cells-1 {
			share := 0.5
			if w > 0 {
				share = min(at/w, 1)
			}
			c := a.cells[i]
			return severityAt(list.severity, c.low+(c.high-c.low)*share)
		}
		at -= w
	}
	return list.severity.Typical
}

// likeliest cell of a hypothesis.
func likeliest(p reason.Posterior, h *hypothesis) int {
	best := h.cell
	for i := h.cell; i < h.cell+h.cells; i++ {
		if p.Cells[i] > p.Cells[best]*(1+1e-9) {
			best = i
		}
	}
	return best
}

func (a *analysis) likeliestCell(h int) *cell { return &a.cells[likeliest(a.posterior, &a.list[h])] }

// faultOf a hypothesis with the severity that fits best.
func (a *analysis) faultOf(h int) airflow.Fault {
	f := a.list[h].fault
	f.Severity = a.severityOf(h).Mid
	return f
}
