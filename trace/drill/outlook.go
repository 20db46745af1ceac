package drill

import (
	"context"
	"fmt"
	"slices"

	"airpath/circuit"
	"airpath/trace"
)

// A Guide is who knows the way: the tracer of the exercise's vehicle.
type Guide interface {
	Trace(ctx context.Context, k *circuit.Case, progress func(done, total int)) (*trace.Verdict, error)
}

// settled is the probability of the parts that would be named first from which on a way goes no further: who is that sure goes to
// the part and confirms it by hand. A judgement; the tracer itself, which knows of no exercise, goes on to 95 %.
const settled = 0.8

// An outlook is where the work stands and what could be done next.
type outlook struct {
	verdict *trace.Verdict // of all that was found
	found   trace.Suspect  // where two parts are to be named: the one that is as good as found
	other   *trace.Verdict // then of what speaks for another, and of the complaint
	enough  bool           // naming the parts is due
	choices []choice       // what the exercise allows and shows something new, the most telling for its minutes first
}

// A choice is a procedure that the exercise allows, with what it is expected to tell.
type choice struct {
	next      *trace.Next
	taken     Taken
	perMinute float64 // bits, at what it costs in the exercise
}

// look where the work stands after some steps.
func look(ctx context.Context, g Guide, e *Exercise, steps []Step) (*outlook, error) {
	v, err := g.Trace(ctx, caseOf(e, steps), nil)
	if err != nil {
		return nil, err
	}
	o := &outlook{verdict: v}
	if e.Parts > 1 {
		if _, sure := surestTwo(v); sure >= settled {
			o.enough = true
		} else if err := o.lookBeside(ctx, g, e, steps); err != nil {
			return nil, err
		}
	}
	if o.other != nil {
		part, sure := surestPart(o.other)
		o.enough = o.other.Stop != "" || sure >= settled && part != o.found.Fault.Target
		o.choices = choicesOf(e, o.other, steps)
		return o, nil
	}
	if e.Parts == 1 {
		_, sure := surestPart(v)
		o.enough = v.Stop != "" || sure >= settled
	}
	o.choices = choicesOf(e, v, steps)
	return o, nil
}

// lookBeside what is as good as found. Of two faults the one that shows more hides the other: so, as in a workshop where the
// first would be mended now, what spoke for it when it became certain is set aside, and the rest is looked at anew.
func (o *outlook) lookBeside(ctx context.Context, g Guide, e *Exercise, steps []Step) error {
	for i := range steps {
		if steps[i].Do == nil {
			continue
		}
		v, err := g.Trace(ctx, caseOf(e, steps[:i+1]), nil)
		if err != nil {
			return err
		}
		part, sure := surestPart(v)
		if part == "" || sure < settled && v.Stop == "" {
			continue
		}
		o.found = v.Suspects[slices.IndexFunc(v.Suspects, func(s trace.Suspect) bool { return s.Fault.Target == part })]
		rest := caseOf(e, steps)
		rest.Findings = slices.DeleteFunc(rest.Findings, func(f circuit.Finding) bool {
			return slices.ContainsFunc(v.Suspects, func(s trace.Suspect) bool { return s.Fault.Target == part && slices.Contains(s.ForFindings, f.ID) })
		})
		o.other, err = g.Trace(ctx, rest, nil)
		return err
	}
	return nil
}

// surestPart is the part that would be named first, and its probability, whatever is the matter with it.
func surestPart(v *trace.Verdict) (part string, probability float64) {
	sums := map[string]float64{}
	for _, s := range v.Suspects {
		t := s.Fault.Target
		if sums[t] += s.Probability; sums[t] > probability {
			part, probability = t, sums[t]
		}
	}
	return part, probability
}

// surestTwo are the two parts that would be named first, and their probability.
func surestTwo(v *trace.Verdict) (parts [2]string, probability float64) {
	sums := map[[2]string]float64{}
	for _, p := range v.Pairs {
		two := [2]string{p.Faults[0].Target, p.Faults[1].Target}
		slices.Sort(two[:])
		if sums[two] += p.Probability; sums[two] > probability {
			parts, probability = two, sums[two]
		}
	}
	return parts, probability
}

func choicesOf(e *Exercise, v *trace.Verdict, steps []Step) []choice {
	var out []choice
	for _, n := range slices.Concat(v.Next, v.Further) {
		if t := fresh(e, n, steps); t != nil {
			a, usual := e.Allows(n.Procedure.ID), n.Procedure.SetUp+n.Procedure.Minutes
			out = append(out, choice{&n, *t, n.PerMinute * usual / (a.SetUp + a.Minutes)})
		}
	}
	slices.SortStableFunc(out, func(a, b choice) int {
		switch {
		case a.perMinute > b.perMinute*(1+1e-9):
			return -1
		case b.perMinute > a.perMinute*(1+1e-9):
			return 1
		}
		return 0
	})
	return out
}

// inOrderOfRepair: what is as good as found first; then by probability for the minutes, which costs least on average where one
// part is at fault.
func (o *outlook) inOrderOfRepair() []trace.Suspect {
	var out []trace.Suspect
	from := o.verdict
	if o.other != nil {
		out, from = append(out, o.found), o.other
	}
	first := len(out)
	out = append(out, from.Suspects...)
	worth := func(s trace.Suspect) float64 { return s.Probability / max(s.RepairTime, 1) }
	slices.SortStableFunc(out[first:], func(a, b trace.Suspect) int {
		switch x, y := worth(a), worth(b); {
		case x > y:
			return -1
		case x < y:
			return 1
		}
		return 0
	})
	return out
}

// leading are the suspects that would be named first, in words.
func (o *outlook) leading() string {
	for _, v := range []*trace.Verdict{o.other, o.verdict} {
		if v == nil {
			continue
		}
		if len(v.Pairs) > 0 && o.other == nil {
			return fmt.Sprintf("“%s” and “%s”", v.Pairs[0].Titles[0], v.Pairs[0].Titles[1])
		}
		if len(v.Suspects) > 0 {
			return fmt.Sprintf("“%s”", v.Suspects[0].Title)
		}
	}
	return "the suspects"
}
