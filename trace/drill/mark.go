package drill

import (
	"context"
	"fmt"
	"math"
	"slices"

	"airpath/circuit/airflow/procedure"
	"airpath/trace"
)

// Marks are what a work is worth, and why.
type Marks struct {
	Title   string  `json:"title"`
	Trainee string  `json:"trainee"`
	Score   float64 `json:"score"` // 0 to 100: 100 × what the tracer's way costs / what this one did, times the share of hidden parts named

	Right      int     `json:"right"`       // hidden parts named in the answer
	RightModes int     `json:"right_modes"` // of these, with what is the matter with them
	Parts      int     `json:"parts"`       // hidden parts
	Best       float64 `json:"best"`        // minutes of the tracer's own way
	Minutes    float64 `json:"minutes"`     // of the trainee's procedures
	Sure       float64 `json:"making_sure"` // of these, what the tracer would have done too to be surer still: not counted against anybody
	Fitted     float64 `json:"fitted"`      // minutes for good parts that were fitted or named
	GoodParts  int     `json:"good_parts"`  // how many they were
	ToFinish   float64 `json:"to_finish"`   // minutes that the tracer would still have needed from where the trainee stopped
	Lost       float64 `json:"lost"`        // minutes more than the tracer's own way, all together

	Bits         float64  `json:"bits"`          // expected information of the procedures chosen
	BestBits     float64  `json:"best_bits"`     // of the best that was to be had in the same minutes, each time
	WrongClears  int      `json:"wrong_clears"`  // hidden parts held to be good at the end
	Clears       int      `json:"clears"`        // parts held to be good at the end
	BackedClears int      `json:"backed_clears"` // of these, cleared by the findings
	CouldClear   int      `json:"could_clear"`   // parts that the findings cleared
	Unsafe       []string `json:"unsafe"`
	Review       []Remark `json:"review"`
}

// A Remark is what one step of the work was worth.
type Remark struct {
	Step    int     `json:"step"` // in the work, from 1
	Did     string  `json:"did"`
	Minutes float64 `json:"minutes,omitempty"`
	Bits    float64 `json:"bits,omitempty"`   // expected, before its results were known
	Better  string  `json:"better,omitempty"` // what would have told more for its minutes, and what it splits
	Says    string  `json:"says"`
	After   string  `json:"after,omitempty"` // what was most probable once its results were known
	Unsafe  string  `json:"unsafe,omitempty"`
}

// Mark a work. Exercise, key, work and tracer must belong together; see the Fits of each.
func Mark(ctx context.Context, g Guide, all []*procedure.Procedure, e *Exercise, k *Key, w *Work, progress func(done, total int)) (*Marks, error) {
	if err := w.Fits(e); err != nil {
		return nil, err
	}
	if progress == nil {
		progress = func(int, int) {}
	}
	g = remember(g)
	total := len(w.Steps) + 2
	own, err := onward(ctx, g, e, k, nil)
	if err != nil {
		return nil, err
	}
	progress(1, total)
	m := &Marks{Title: e.Title, Trainee: w.Trainee, Parts: len(k.Faults), Best: own.minutes}
	marking := &marking{ctx: ctx, guide: g, all: all, e: e, k: k, w: w, m: m}
	for i := range w.Steps {
		if err := marking.step(i); err != nil {
			return nil, err
		}
		progress(2+i, total)
	}
	if err := marking.answer(); err != nil {
		return nil, err
	}
	progress(total, total)
	cost := m.Minutes - m.Sure + m.Fitted + m.ToFinish
	m.Lost = max(0, cost-m.Best)
	least := max(m.Best, 1) // a way of no minutes at all can't be halved
	m.Score = 100 * least / max(cost, least) * float64(m.Right) / float64(m.Parts)
	return m, nil
}

// marking is the work being gone through.
type marking struct {
	ctx   context.Context
	guide Guide
	all   []*procedure.Procedure
	e     *Exercise
	k     *Key
	w     *Work
	m     *Marks

	verdict *trace.Verdict // of what the steps so far have found; nil where it is not known yet
}

func (x *marking) standing(steps int) (*trace.Verdict, error) {
	if x.verdict == nil {
		v, err := x.guide.Trace(x.ctx, caseOf(x.e, x.w.Steps[:steps]), nil)
		if err != nil {
			return nil, err
		}
		x.verdict = v
	}
	return x.verdict, nil
}

func (x *marking) step(i int) error {
	switch s := x.w.Steps[i]; {
	case s.Do != nil:
		return x.procedure(i, s.Do)
	case s.Clear != "":
		return x.clear(i, s.Clear)
	case s.Fit != nil:
		return x.fit(i, *s.Fit)
	}
	return nil
}

// procedure chosen: what it could be expected to tell, against the best.
func (x *marking) procedure(i int, did *Taken) error {
	allowed := x.e.Allows(did.Procedure)
	if allowed == nil {
		return fmt.Errorf("step %d: procedure %q is not allowed in the exercise", i+1, did.Procedure)
	}
	o, err := look(x.ctx, x.guide, x.e, x.w.Steps[:i])
	if err != nil {
		return err
	}
	r := Remark{Step: i + 1, Did: x.title(did.Procedure), Minutes: allowed.Cost(did.Places)}
	x.m.Minutes += r.Minutes
	at := slices.IndexFunc(o.choices, func(c choice) bool { return c.taken.Procedure == did.Procedure })
	if at >= 0 {
		r.Bits = o.choices[at].next.Bits
	}
	x.m.Bits += r.Bits
	switch {
	case o.enough && at == 0 && o.verdict.Stop == "":
		x.m.BestBits += r.Bits
		x.m.Sure += r.Minutes
		r.Says = fmt.Sprintf("Made surer of %s: its minutes don't count against you.", o.leading())
	case o.enough:
		x.m.BestBits += r.Bits
		r.Says = fmt.Sprintf("%s for its %.0f minutes. Enough was known by then to go and look at %s by hand.", told(r.Bits), r.Minutes, o.leading())
	case len(o.choices) == 0:
		x.m.BestBits += r.Bits
		r.Says = "No allowed procedure told anything more at this point."
	case at == 0:
		x.m.BestBits += r.Bits
		r.Says = "The best choice: it " + o.choices[0].next.Because + "."
	default:
		better := o.choices[0]
		x.m.BestBits += max(r.Bits, better.perMinute*r.Minutes)
		r.Better = better.next.Procedure.ID
		r.Says = fmt.Sprintf("%s for its %.0f minutes. Better: %s (%.0f min), which %s.", told(r.Bits), r.Minutes, better.next.Title, better.taken.Minutes, better.next.Because)
	}
	r.Unsafe = x.unprepared(i, did.Procedure)
	if r.Unsafe != "" {
		x.m.Unsafe = append(x.m.Unsafe, fmt.Sprintf("step %d, %s: %s", i+1, r.Did, r.Unsafe))
	}
	x.verdict = nil
	after, err := x.standing(i + 1)
	if err != nil {
		return err
	}
	r.After = mostProbable(after)
	x.m.Review = append(x.m.Review, r)
	return nil
}

// mostProbable suspect, with its probability.
func mostProbable(v *trace.Verdict) string {
	if len(v.Suspects) == 0 {
		return ""
	}
	s := v.Suspects[0]
	return fmt.Sprintf("Then most probable: %s, %.0f %%.", s.Title, math.Floor(100*s.Probability))
}

func told(bits float64) string {
	if bits < 0.05 {
		return "Told nothing that mattered"
	}
	return fmt.Sprintf("Told %.1f bits", bits)
}

// unprepared says what should have been seen to before a procedure, the one of step i.
func (x *marking) unprepared(i int, id string) string {
	k := slices.IndexFunc(x.all, func(p *procedure.Procedure) bool { return p.ID == id })
	if k < 0 {
		return ""
	}
	prepared, missing := preparedAfter(x.w.Steps[:i], x.all), ""
	for _, q := range x.all[k].Preparations() {
		if !slices.Contains(prepared, q.ID) {
			if missing != "" {
				missing += "; "
			}
			missing += "first: " + q.Words
		}
	}
	return missing
}

// clear of a part: do the findings bear it out?
func (x *marking) clear(i int, part string) error {
	v, err := x.standing(i)
	if err != nil {
		return err
	}
	r := Remark{Step: i + 1, Did: "cleared " + part}
	switch {
	case x.k.hidesPart(part):
		r.Says = "Wrong: this is a part at fault."
	case slices.Contains(clearedParts(v), part):
		r.Says = "Right, and the findings so far bear it out."
	default:
		r.Says = "It is good, but nothing found so far shows that."
	}
	x.m.Review = append(x.m.Review, r)
	return nil
}

// fit of a part on trial.
func (x *marking) fit(i int, n Named) error {
	v, err := x.standing(i)
	if err != nil {
		return err
	}
	r := Remark{Step: i + 1, Did: "fitted " + n.Part, Says: "Right: this part was at fault."}
	if !x.k.hidesPart(n.Part) {
		r.Minutes = x.good(v, n)
		r.Says = fmt.Sprintf("This part was good: %.0f minutes.", r.Minutes)
	}
	x.m.Review = append(x.m.Review, r)
	return nil
}

// good part fitted: counts it and gives the minutes that it cost.
func (x *marking) good(v *trace.Verdict, n Named) float64 {
	x.m.GoodParts++
	minutes := repairMinutes(v, n)
	x.m.Fitted += minutes
	return minutes
}

// repairMinutes of a part that is no suspect of the moment is what an average part takes.
const averageRepair = 45.0

func repairMinutes(v *trace.Verdict, n Named) float64 {
	found := math.NaN()
	for _, s := range v.Suspects {
		if s.Fault.Target != n.Part {
			continue
		}
		if s.Fault.Mode == n.Mode {
			return s.RepairTime
		}
		if math.IsNaN(found) {
			found = s.RepairTime
		}
	}
	if math.IsNaN(found) {
		return averageRepair
	}
	return found
}

// answer at the end, what was left to find, and what was held to be good.
func (x *marking) answer() error {
	steps := x.w.Steps
	v, err := x.standing(len(steps))
	if err != nil {
		return err
	}
	fitted := map[string]bool{}
	for _, s := range steps {
		if s.Fit != nil {
			fitted[s.Fit.Part] = true
		}
	}
	r := Remark{Step: len(steps), Did: "named no part"}
	for i, n := range x.w.Answer() {
		if i == 0 {
			r.Did = "named " + n.Part
		} else {
			r.Did += ", " + n.Part
		}
		switch {
		case x.k.hidesPart(n.Part):
			x.m.Right++
			if slices.ContainsFunc(x.k.Faults, func(h Hidden) bool { return h.Component == n.Part && h.Mode == n.Mode }) {
				x.m.RightModes++
			}
		case !fitted[n.Part]:
			x.good(v, n)
		}
	}
	rest, err := onward(x.ctx, x.guide, x.e, x.k, steps)
	if err != nil {
		return err
	}
	if x.m.Right < x.m.Parts {
		x.m.ToFinish = rest.minutes
	}
	r.Says = fmt.Sprintf("%d of %d right, %d with the right fault.", x.m.Right, x.m.Parts, x.m.RightModes)
	x.m.Review = append(x.m.Review, r)
	backed := clearedParts(v)
	x.m.CouldClear = len(backed)
	for _, part := range clearedAfter(steps) {
		x.m.Clears++
		switch {
		case x.k.hidesPart(part):
			x.m.WrongClears++
		case slices.Contains(backed, part):
			x.m.BackedClears++
		}
	}
	return nil
}

func (k *Key) hidesPart(part string) bool {
	return slices.ContainsFunc(k.Faults, func(h Hidden) bool { return h.Component == part })
}

// clearedParts are those of which every fault is cleared.
func clearedParts(v *trace.Verdict) []string {
	var out []string
	for _, c := range v.Cleared {
		if !slices.Contains(out, c.Fault.Target) && !slices.ContainsFunc(v.Suspects, func(s trace.Suspect) bool { return s.Fault.Target == c.Fault.Target }) {
			out = append(out, c.Fault.Target)
		}
	}
	return out
}

func (x *marking) title(id string) string {
	if i := slices.IndexFunc(x.all, func(p *procedure.Procedure) bool { return p.ID == id }); i >= 0 {
		return x.all[i].Title
	}
	return id
}
