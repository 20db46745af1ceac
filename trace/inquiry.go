package trace

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuit/airflow/procedure"
	"airpath/trace/reason"
)

// An Inquiry is a case seen by someone who has to say what to do next, whatever comes of it: what stands, the best question,
// and its answers, each with what it would be as findings. A troubleshooting chart is made of these.
type Inquiry struct {
	Standing      []Standing // the most probable first
	NoFault       float64    // probability that nothing is wrong
	SomethingElse float64    // probability of something that the catalogue does not know
	Ask           *Ask       // nil where no question is worth its minutes
	Stop          string     // why, in words
}

// Standing is a fault that may be the matter.
type Standing struct {
	Fault       airflow.Fault
	Title       string
	Probability float64
	Words       Words
}

// An Ask is one procedure with what is read of it, and what may come of that.
type Ask struct {
	Procedure *procedure.Procedure
	Readings  []*procedure.Reading // one, or on a listening round the places to go to, in the order of going
	Minutes   float64              // 0 where the procedure has been done already and only another of its readings is asked for
	Bits      float64
	Answers   []Answer
}

// An Answer is one class of results.
type Answer struct {
	Words    string            // "over 27 s", "yes", "air is heard at the air dryer, purge"
	Findings []circuit.Finding // what it adds to the case; without ids
	Chance   float64           // given the case so far
}

// spoken is the unit that pressures are spoken of in.
func (t *Tracer) spoken() string {
	t.mu.Lock()
	defer t.mu.Unlock()
	return t.unit
}

// worthAsking is the information, in bits, from which on another reading of a procedure that has just been done is asked for.
const worthAsking = 0.2

// Inquire says what stands and what to ask next. done is the procedure that has just been carried out, "" for none: its
// other readings cost nothing more. It takes the same way as Trace,
// and leaves out what only a report needs.
func (t *Tracer) Inquire(ctx context.Context, k *circuit.Case, done string) (*Inquiry, error) {
	t.turn.Lock()
	defer t.turn.Unlock()
	if done != "" {
		as := *k
		as.Last = done
		k = &as
	}
	a, v, err := t.inquire(ctx, k)
	if err != nil {
		return nil, err
	}
	out := &Inquiry{NoFault: a.posterior.Hypotheses[noFault], SomethingElse: a.posterior.Hypotheses[somethingElse], Stop: v.Stop}
	field := a.field()
	for _, l := range field {
		if l.hypothesis >= firstFault {
			h := &t.list[l.hypothesis]
			out.Standing = append(out.Standing, Standing{a.faultOf(l.hypothesis), h.title(t.circuit), l.weight, h.words})
		}
	}
	if len(k.Findings) == 0 && out.Stop != "" { // a complaint alone never settles a case
		out.Stop = ""
	}
	if out.Stop != "" {
		return out, nil
	}
	if out.Ask = a.askAgain(done, field); out.Ask != nil {
		return out, nil
	}
	if len(v.Next) == 0 {
		out.Stop = "No listed procedure tells more: confirm by hand, the most probable for its work first."
		return out, nil
	}
	out.Ask = a.ask(v.Next[0], field)
	return out, nil
}

// AskAbout is a procedure as a question of a case: what may come of it, and what each answer would be as findings; nil where it
// would tell nothing.
func (t *Tracer) AskAbout(ctx context.Context, k *circuit.Case, p *procedure.Procedure) (*Ask, error) {
	t.turn.Lock()
	defer t.turn.Unlock()
	a, v, err := t.inquire(ctx, k)
	if err != nil {
		return nil, err
	}
	at := slices.IndexFunc(v.Next, func(n Next) bool { return n.Procedure.ID == p.ID })
	if at < 0 {
		return nil, nil
	}
	return a.ask(v.Next[at], a.field()), nil
}

// inquire weighs a case and finds the procedures worth doing.
func (t *Tracer) inquire(ctx context.Context, k *circuit.Case) (*analysis, *Verdict, error) {
	q, err := t.question(k)
	if err != nil {
		return nil, nil, err
	}
	if err := t.table.fill(ctx, q.procedures, t.table.all(), nil); err != nil {
		return nil, nil, err
	}
	logs, err := t.weighRecorded(ctx, q.recorded)
	if err != nil {
		return nil, nil, err
	}
	// Classes of figures are coarse beside what a leading suspect's own scatter would change: the healthy vehicle's will do.
	belief, err := t.weigh(q.observations, k, q.complaint, logs)
	if err != nil {
		return nil, nil, err
	}
	a := &analysis{
		Tracer: t, ctx: ctx, kase: k, unit: t.spoken(), observations: q.observations, belief: belief, posterior: belief.Posterior(),
		clearings: map[int]reason.Clearing{}, weights: map[int][]float64{},
	}
	v := &Verdict{Ignored: q.ignored}
	if err := a.next(v, nil, nil); err != nil {
		return nil, nil, err
	}
	return a, v, nil
}

// askAgain looks for another reading of the procedure that has just been done. On a listening round everything that was worth
// going to has been gone to.
func (a *analysis) askAgain(done string, field []live) *Ask {
	p := slices.IndexFunc(a.procedures, func(p *procedure.Procedure) bool { return p.ID == done })
	if p < 0 || a.procedures[p].Round() {
		return nil
	}
	best, most := -1, worthAsking
	for r := range a.procedures[p].Readings {
		if a.seen(p, r) {
			continue
		}
		if o, ok := a.outcomesOf(p, r, field); ok {
			if o.bits > most*(1+1e-9) {
				best, most = r, o.bits
			}
		}
	}
	if best < 0 {
		return nil
	}
	ask := &Ask{Procedure: a.procedures[p], Readings: []*procedure.Reading{&a.procedures[p].Readings[best]}, Bits: most}
	ask.Answers = a.answers(p, best, field)
	return ask
}

// seen tells whether a reading has been taken.
func (a *analysis) seen(p, r int) bool {
	key := keyOf(a.procedures[p], &a.procedures[p].Readings[r])
	return slices.ContainsFunc(a.observations, func(o observation) bool { return o.key == key })
}

func weightsOf(field []live) []float64 {
	out := make([]float64, len(field))
	for i, l := range field {
		out[i] = l.weight
	}
	return out
}

// ask makes a question of the best procedure.
func (a *analysis) ask(n Next, field []live) *Ask {
	p := slices.Index(a.procedures, n.Procedure)
	out := &Ask{Procedure: n.Procedure, Minutes: n.Minutes, Bits: n.Bits}
	var readings []int
	for _, w := range n.Readings {
		if r, ok := n.Procedure.Reading(w.ID, w.Place); ok {
			readings = append(readings, r)
		}
	}
	if n.Procedure.Round() {
		readings, out.Minutes = a.places(p, readings, field)
	} else {
		readings = readings[:1]
	}
	for _, r := range readings {
		out.Readings = append(out.Readings, &n.Procedure.Readings[r])
	}
	if len(readings) == 1 {
		out.Answers = a.answers(p, readings[0], field)
	} else {
		out.Answers = a.round(p, readings, field)
	}
	return out
}

// mostPlaces of one listening round, and from which information on a place is gone to when one is there anyway.
const (
	mostPlaces = 14
	worthGoing = 0.02
)

// places of a listening round: those that were asked for, and others that tell something too, so that one round does for the
// whole chart. The likelier come first.
func (a *analysis) places(p int, readings []int, field []live) ([]int, float64) {
	weights := weightsOf(field)
	var open []outcomes
	for r := range a.procedures[p].Readings {
		if a.seen(p, r) {
			continue
		}
		if o, ok := a.outcomesOf(p, r, field); ok && (slices.Contains(readings, r) || o.bits >= worthGoing && !a.procedures[p].OneByOne()) {
			open = append(open, o)
		}
	}
	yes := func(o *outcomes) float64 {
		s := 0.0
		for i, w := range weights {
			s += w * o.chances(i)[1]
		}
		return s
	}
	slices.SortStableFunc(open, func(x, y outcomes) int { return -compareCoarse(yes(&x), yes(&y)) })
	open = open[:min(len(open), mostPlaces)]
	out := make([]int, len(open))
	for i, o := range open {
		out[i] = o.reading
	}
	return out, a.minutes(p, open)
}

// round is a listening round: air at one of the places, or at none. The first place at which it is heard settles it.
func (a *analysis) round(p int, readings []int, field []live) []Answer {
	left := weightsOf(field)
	total := sum(left)
	var out []Answer
	var none []circuit.Finding
	for _, r := range readings {
		o, ok := a.outcomesOf(p, r, field)
		if !ok {
			continue
		}
		heard := 0.0
		for i := range left {
			heard += left[i] * o.chances(i)[1]
			left[i] *= o.chances(i)[0]
		}
		none = append(none, a.finding(o.r, p, circuit.Result{Kind: circuit.No, Text: "no"}))
		out = append(out, Answer{Words: o.r.Title, Chance: heard / total, Findings: []circuit.Finding{a.finding(o.r, p, circuit.Result{Kind: circuit.Yes, Text: "yes"})}})
	}
	return append(out, Answer{Words: "at none of these places", Chance: sum(left) / total, Findings: none})
}

func sum(x []float64) float64 {
	s := 0.0
	for _, v := range x {
		s += v
	}
	return s
}

func (a *analysis) finding(r *procedure.Reading, p int, result circuit.Result) circuit.Finding {
	return circuit.Finding{Procedure: a.procedures[p].ID, Reading: r.ID, Place: r.Place, Result: result}
}

// answers of one reading: yes and no, or a few classes of figures parted at round numbers, or at published limits near them.
func (a *analysis) answers(p, r int, field []live) []Answer {
	o, _ := a.outcomesOf(p, r, field)
	weights := weightsOf(field)
	total := sum(weights)
	chance := func(chances [][]float64, k int) float64 {
		s := 0.0
		for i, w := range weights {
			s += w * chances[i][k]
		}
		return s / total
	}
	if o.r.Form == procedure.YesNo {
		return []Answer{
			{"yes", []circuit.Finding{a.finding(o.r, p, circuit.Result{Kind: circuit.Yes, Text: "yes"})}, chance(o.sorts.byLive(o.rows), 1)},
			{"no", []circuit.Finding{a.finding(o.r, p, circuit.Result{Kind: circuit.No, Text: "no"})}, chance(o.sorts.byLive(o.rows), 0)},
		}
	}
	f := &figures{&o.sorts, o.r, a.spreadOf(p, r, o.r)}
	edges := a.roundEdges(o.edges, f)
	chances := f.byLive(f.chances(&rowMemory{}, edges))
	labels := a.binLabels(edges, o.r.Dimension, f.never())
	var out []Answer
	for k := range labels {
		result := circuit.Result{Kind: circuit.Never, Text: "never"}
		if k <= len(edges) {
			result = a.rangeResult(edges, k, o.r.Dimension)
		}
		out = append(out, Answer{labels[k], []circuit.Finding{a.finding(o.r, p, result)}, chance(chances, k)})
	}
	return out
}

// roundEdges moves edges to what a person reads off: a published limit that lies within the scatter of an edge, else the number
// as it is printed.
func (a *analysis) roundEdges(edges []float64, f *figures) []float64 {
	var out []float64
	for _, e := range edges {
		reach := max(f.spread, proportional(stretch{low: e, high: e}, f.r))
		if q, err := circuit.ParseQuantity(a.figure(e, f.r.Dimension), f.r.Dimension); err == nil {
			e = q.SI
		}
		nearest := reach
		at := e
		for _, l := range f.r.LimitsIn(a.kase.Jurisdiction) {
			for _, bound := range []float64{l.Low, l.High} {
				if d := max(bound-e, e-bound); d < nearest {
					nearest, at = d, bound
				}
			}
		}
		if !slices.Contains(out, at) {
			out = append(out, at)
		}
	}
	slices.Sort(out)
	return out
}

// rangeResult is the k-th class of figures as a result that a case can hold.
func (a *analysis) rangeResult(edges []float64, k int, d circuit.Dimension) circuit.Result {
	unit := circuit.UnitFor(d, a.unit)
	exact := func(si float64) string { return circuit.Format(si, d, unit, 4) }
	low, high := lowest(d, unit), fmt.Sprintf("100000 %s", unit)
	if k > 0 {
		low = exact(edges[k-1])
	}
	if k < len(edges) {
		high = exact(edges[k])
	}
	return circuit.Result{Kind: circuit.Range, Text: strings.TrimSpace(low) + ".." + strings.TrimSpace(high)}
}

// lowest is less than anything that can be read.
func lowest(d circuit.Dimension, unit string) string {
	switch d {
	case circuit.Pressure:
		return "-14 psi"
	case circuit.PressureSpan, circuit.Rate, circuit.Flow, circuit.LengthSpan, circuit.Count:
		return strings.TrimSpace("-1000 " + unit)
	case circuit.Force:
		return "-1000000 " + unit
	}
	return "0 " + unit
}

// RepairOrder of what stands: the order in which repairs are tried, by probability for the minutes of work, and their expected
// minutes together.
func RepairOrder(standing []Standing) (order []int, minutes float64) {
	var causes []float64
	var repairs []reason.Repair
	for i, s := range standing {
		causes = append(causes, s.Probability)
		mends := make([]float64, len(standing))
		mends[i] = 1
		repairs = append(repairs, reason.Repair{Cost: s.Words.Minutes, Mends: mends})
	}
	if len(standing) == 0 {
		return nil, 0
	}
	return reason.RepairOrder(causes, repairs)
}
