package drill

import (
	"context"
	"slices"

	"airpath/circuit/airflow"
	"airpath/trace"
)

// A way is how the hidden parts are found from some point on.
type way struct {
	taken   []Taken
	fitted  []airflow.Fault // wrong ones, in the order in which they were tried
	minutes float64         // procedures and wrong parts fitted; the repair of the hidden ones is the same on every way
	asked   []*outlook      // before each of taken
	last    *outlook        // at the end
}

// onward finds the tracer's way from what some steps have found: the best procedure that is allowed, until the tracer would
// stop or is sure enough of the parts to go and look; then the suspects are mended, the most probable for its minutes first,
// until all hidden parts have been.
func onward(ctx context.Context, g Guide, e *Exercise, k *Key, steps []Step) (*way, error) {
	g = remember(g)
	w := &way{}
	steps = slices.Clone(steps)
	for {
		o, err := look(ctx, g, e, steps)
		if err != nil {
			return nil, err
		}
		w.last = o
		if o.enough || len(o.choices) == 0 {
			break
		}
		next := o.choices[0].taken
		w.asked = append(w.asked, o)
		w.taken = append(w.taken, next)
		w.minutes += next.Minutes
		steps = append(steps, Step{Do: &next})
	}
	w.mend(k, steps)
	return w, nil
}

// fresh is a procedure of the tracer's list as the exercise has it; nil where it is not allowed or shows nothing new.
func fresh(e *Exercise, n trace.Next, steps []Step) *Taken {
	allowed := e.Allows(n.Procedure.ID)
	if allowed == nil || slices.ContainsFunc(steps, func(s Step) bool {
		return s.Do != nil && s.Do.Procedure == allowed.Procedure && (!allowed.Round || len(s.Do.Places) == 0)
	}) {
		return nil
	}
	var places []string
	if allowed.Round {
		for _, r := range n.Readings {
			if !slices.Contains(places, r.Place) && !takenAt(steps, allowed.Procedure, r.Place) {
				places = append(places, r.Place)
			}
		}
		if len(places) == 0 {
			return nil
		}
	}
	return &Taken{allowed.Procedure, places, allowed.Cost(places)}
}

func takenAt(steps []Step, procedure, place string) bool {
	return slices.ContainsFunc(steps, func(s Step) bool {
		return s.Do != nil && s.Do.Procedure == procedure && slices.Contains(s.Do.Places, place)
	})
}

// mend suspects until all hidden parts are mended, beginning with those that were mended in the steps.
func (w *way) mend(k *Key, steps []Step) {
	open := slices.Clone(k.Faults)
	var done []string
	for _, n := range tried(steps) {
		done = append(done, n.Part)
		open = without(open, n.Part)
	}
	for _, s := range w.last.inOrderOfRepair() {
		if len(open) == 0 {
			return
		}
		if slices.Contains(done, s.Fault.Target) {
			continue
		}
		done = append(done, s.Fault.Target)
		if rest := without(open, s.Fault.Target); len(rest) < len(open) {
			open = rest
			continue
		}
		w.fitted = append(w.fitted, s.Fault)
		w.minutes += s.RepairTime
	}
}

// tried are the parts that were fitted or named in some steps, each once.
func tried(steps []Step) []Named {
	var out []Named
	add := func(n Named) {
		if !slices.ContainsFunc(out, func(o Named) bool { return o.Part == n.Part }) {
			out = append(out, n)
		}
	}
	for _, s := range steps {
		if s.Fit != nil {
			add(*s.Fit)
		}
	}
	for i := len(steps) - 1; i >= 0; i-- {
		if steps[i].Name != nil {
			for _, n := range steps[i].Name {
				add(n)
			}
			break
		}
	}
	return out
}

func without(open []Hidden, part string) []Hidden {
	var out []Hidden
	for _, h := range open {
		if h.Component != part {
			out = append(out, h)
		}
	}
	return out
}
