package score

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"

	"airpath/circuit"
	"airpath/circuit/airflow/procedure"
	"airpath/trace"
)

// A strategy chooses what to do next. All of them are told the same verdicts and stop at the same; they differ in nothing but
// the choice.
type strategy interface {
	name() string
	choose(t *table, v *trace.Verdict) *choice // nil where nothing is left to do
}

// Names of the strategies.
const (
	ByTracer    = "tracer"
	ByTextbook  = "textbook"
	ByChance    = "random"
	ByHalfSplit = "half-split"
)

// strategies in the order in which they are reported.
func strategies(baselines bool) []func() strategy {
	out := []func() strategy{func() strategy { return tracers{} }}
	if baselines {
		out = append(out, func() strategy { return textbook{} }, func() strategy { return &chance{} }, func() strategy { return halfSplit{} })
	}
	return out
}

// tracers does what the tracer says.
type tracers struct{}

func (tracers) name() string { return ByTracer }

// everyPlace more on the way, minutes.
const everyPlace = 0.05

func (tracers) choose(t *table, v *trace.Verdict) *choice {
	for _, n := range v.Next {
		p := t.world.index(n.Procedure.ID)
		c := &choice{procedure: p, minutes: n.Minutes}
		if n.Procedure.Round() {
			for _, r := range n.Readings {
				if w := t.world.goneTo(n.Procedure, r.Place); !slices.Contains(c.gone, w) {
					c.gone = append(c.gone, w)
				}
			}
			c.minutes += everyPlace * float64(t.world.onTheWay(n.Procedure, c.gone)-len(n.Readings))
		}
		if t.fresh(c) {
			return c
		}
	}
	return nil
}

// fresh tells whether a choice may yield a reading that is not in the case yet. A procedure that could not be done on this
// vehicle yields nothing more.
func (t *table) fresh(c *choice) bool {
	if o := t.s.hidden.outcomes[c.procedure]; t.done[c.procedure] || t.begun[c.procedure] && o.Undone != "" {
		return false
	}
	p := t.world.procedures[c.procedure]
	for r := range p.Readings {
		if t.seen[[2]int{c.procedure, r}] {
			continue
		}
		if c.gone == nil || slices.Contains(c.gone, t.world.goneTo(p, p.Readings[r].Place)) {
			return true
		}
	}
	return false
}

// whole is a procedure done in full, begun as the last one left the vehicle.
func (t *table) whole(p int) *choice {
	var left procedure.Leaving
	if last := t.world.index(t.kase.Last); last >= 0 {
		left = t.world.procedures[last].Leaves()
	}
	return &choice{procedure: p, minutes: t.world.procedures[p].SetUpAfter(left) + t.world.procedures[p].Minutes}
}

// textbook goes by the published order.
type textbook struct{}

func (textbook) name() string { return ByTextbook }

func (textbook) choose(t *table, _ *trace.Verdict) *choice {
	var late *choice
	for _, c := range publishedOrder {
		p := t.world.index(c.procedure)
		if p < 0 || !t.fresh(t.whole(p)) {
			continue
		}
		if len(c.after) == 0 || t.calledFor(c.after) {
			return t.whole(p)
		}
		if late == nil {
			late = t.whole(p)
		}
	}
	if late != nil {
		return late
	}
	for p := range t.world.procedures {
		if t.fresh(t.whole(p)) {
			return t.whole(p)
		}
	}
	return nil
}

// calledFor tells whether one of some procedures has broken a limit, or the vehicle came in with it.
func (t *table) calledFor(after []string) bool {
	for i, f := range t.kase.Findings {
		if !slices.Contains(after, f.Procedure) {
			continue
		}
		if i == 0 {
			return true
		}
		p := t.world.index(f.Procedure)
		r, ok := t.world.procedures[p].Reading(f.Reading, f.Place)
		if !ok {
			continue
		}
		reading := &t.world.procedures[p].Readings[r]
		if f.Result.Kind == circuit.Never {
			return true
		}
		if value, _, err := f.Result.Bounds(reading.Dimension); err == nil {
			if broken, _ := breaks(reading, value); broken > 0 {
				return true
			}
		}
	}
	return false
}

// chance takes procedures as they come.
type chance struct{ dice *rand.Rand }

func (*chance) name() string { return ByChance }

func (c *chance) choose(t *table, _ *trace.Verdict) *choice {
	if c.dice == nil {
		c.dice = t.world.dice(t.s.vehicle, forStrategy)
	}
	var open []int
	for p := range t.world.procedures {
		if t.fresh(t.whole(p)) {
			open = append(open, p)
		}
	}
	if len(open) == 0 {
		return nil
	}
	return t.whole(open[c.dice.IntN(len(open))])
}

// halfSplit takes the procedure that shows half of the faults that still stand, whatever its minutes and the odds.
type halfSplit struct{}

func (halfSplit) name() string { return ByHalfSplit }

func (halfSplit) choose(t *table, v *trace.Verdict) *choice {
	best, least := -1, math.Inf(1)
	for p := range t.world.procedures {
		if !t.fresh(t.whole(p)) {
			continue
		}
		shown := 0
		for _, s := range v.Suspects {
			if t.world.typical.shows(s.Fault.Target, s.Fault.Mode, p) {
				shown++
			}
		}
		if off := math.Abs(float64(shown) - float64(len(v.Suspects))/2); off < least {
			best, least = p, off
		}
	}
	if best < 0 {
		return nil
	}
	return t.whole(best)
}

// onTheWay is how many places of a round are taken in where one has gone.
func (w *world) onTheWay(p *procedure.Procedure, gone []string) int {
	count := 0
	for i := range p.Readings {
		if slices.Contains(gone, w.goneTo(p, p.Readings[i].Place)) {
			count++
		}
	}
	return count
}

// goneTo is what one goes to on a round for a place: its whereabouts, where an ear takes in all that is there; with soap the place itself.
func (w *world) goneTo(p *procedure.Procedure, place string) string {
	if p.OneByOne() {
		return place
	}
	return w.whereabouts(place)
}

// whereabouts of a place: where on the vehicle one has to go.
func (w *world) whereabouts(place string) string {
	id, _, _ := strings.Cut(place, ".")
	if l := w.circuit.Line(id); l != nil {
		id = l.From.Component
	}
	if c := w.circuit.Component(id); c != nil {
		return c.Place
	}
	return place
}
