package trace

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"airpath/circuit/airflow/procedure"
	"airpath/trace/reason"
)

// Bounds of the search for the next procedure.
const (
	mostJoint   = 32   // outcomes of the readings of one procedure taken together
	mostNext    = 20   // procedures listed
	leastBits   = 0.03 // below which a procedure is not worth its name
	sureEnough  = 0.98 // of one group that no procedure splits: time to confirm by hand
	roundMinute = 1.0  // to begin a round
)

// A trial is a procedure with those of its readings that tell most.
type trial struct {
	procedure int
	readings  []outcomes  // the most telling first
	joint     [][]float64 // chances of their outcomes together, by live hypothesis
	minutes   float64
	worth     reason.Worth
}

// next ranks the procedures that are left by how soon it would be known what is the matter if one began with them, as far as that
// is worked out; the others by what they tell for their minutes.
func (a *analysis) next(v *Verdict, first func(*Verdict), progress func(done, total int)) error {
	field := a.field()
	var all []int
	for p := range a.procedures {
		all = append(all, p)
	}
	vehicles := a.vehiclesOf(field)
	if first != nil && a.table.lacks(all, vehicles) {
		early := *v
		first(&early)
	}
	if err := a.table.fill(a.ctx, all, vehicles, progress); err != nil {
		return err
	}
	a.alike(v, field)
	a.left = a.leftBy(a.kase.Last)
	near := field[:min(len(field), mostTried)]
	trials := a.trials(near)
	search := &reason.Search{Weights: weightsOf(near), Settled: sureEnough, Unknown: a.inVain(near)}
	for i := range trials {
		search.Tests = append(search.Tests, trials[i].test())
	}
	a.shareSetUp(search, trials)
	for _, c := range search.Choose() {
		if c.Bits < leastBits {
			continue
		}
		list := &v.Next
		if len(v.Next) == mostNext {
			list = &v.Further
		}
		t := &trials[c.Test]
		p := a.procedures[t.procedure]
		n := Next{
			Procedure: p, Title: p.Title, Minutes: t.minutes, Bits: c.Bits, PerMinute: c.PerMinute,
			Because: a.splits(t, near), Readings: a.readingsOf(t),
		}
		if !math.IsNaN(c.Left) {
			n.Left = c.Left
		}
		*list = append(*list, n)
	}
	a.stop(v, field)
	return nil
}

// inVain is what each bit costs that is not known in the end, in minutes. With two faults equally probable the wrong one is seen to
// first half of the time.
func (a *analysis) inVain(field []live) float64 {
	minutes, total := 0.0, 0.0
	for _, l := range field {
		if l.hypothesis >= firstFault {
			minutes += l.weight * a.list[l.hypothesis].words.Minutes
			total += l.weight
		}
	}
	if total == 0 {
		return 0
	}
	return minutes / total / 2
}

// trials of all procedures that have readings left that tell something.
func (a *analysis) trials(field []live) []trial {
	seen := map[string]bool{}
	for _, o := range a.observations {
		seen[o.key] = true
	}
	var trials []trial
	var column column
	var open []outcomes
	for p := range a.procedures {
		open = open[:0]
		a.columnInto(&column, p, field)
		for r := range a.procedures[p].Readings {
			if seen[keyOf(a.procedures[p], &a.procedures[p].Readings[r])] {
				continue
			}
			if o := a.outcomesIn(&column, r, field, leastOpen); o.ok {
				open = append(open, o)
			}
		}
		if t, ok := a.best(p, open, field); ok {
			trials = append(trials, t)
		}
	}
	return trials
}

// test of the search for what is the matter.
func (t *trial) test() reason.Test {
	return reason.Test{Minutes: t.minutes, Outcomes: len(t.joint[0]), Chances: func(h int, p []float64) { copy(p, t.joint[h]) }}
}

func (a *analysis) readingsOf(t *trial) []Wanted {
	var out []Wanted
	for _, o := range t.readings {
		out = append(out, Wanted{o.r.ID, o.r.Place, o.r.Title})
	}
	return out
}

// best picks the readings of a procedure that together tell most for the minutes. A procedure takes the same time whatever
// is read; on a round only the places gone to count.
func (a *analysis) best(p int, open []outcomes, field []live) (trial, bool) {
	j := join(mostTelling(open))
	j.weigh(field)
	t := trial{procedure: p}
	round, whole := a.procedures[p].Round(), a.minutes(p, nil)
	for {
		found := -1
		var best reason.Worth
		var minutes float64
		for i := range j.open {
			if slices.Contains(j.taken, i) || j.outcomes()*len(j.open[i].rows[0]) > mostJoint {
				continue
			}
			m := whole
			if round {
				m = a.minutes(p, append(slices.Clone(t.readings), j.open[i]))
			}
			w := reason.Worth{Bits: j.with(i)}
			w.PerMinute = w.Bits / m
			if found < 0 || w.PerMinute > best.PerMinute*(1+1e-9) {
				found, best, minutes = i, w, m
			}
		}
		if found < 0 || len(t.readings) > 0 && best.PerMinute < t.worth.PerMinute*1.02 {
			t.joint = j.byLive()
			return t, len(t.readings) > 0
		}
		j.take(found)
		t.readings, t.worth, t.minutes = append(t.readings, j.open[found]), best, minutes
	}
}

// mostOpen readings of one procedure are tried together.
const mostOpen = 10

// mostTelling sorts the readings by what they tell by themselves, and keeps the first.
func mostTelling(open []outcomes) []outcomes {
	if len(open) <= mostOpen {
		return open
	}
	slices.SortStableFunc(open, func(x, y outcomes) int { return -compareCoarse(x.bits, y.bits) })
	return open[:mostOpen]
}

// minutes of a procedure with some of its readings, set-up included.
func (a *analysis) minutes(p int, readings []outcomes) float64 {
	pr := a.procedures[p]
	if !pr.Round() {
		return a.setUp(pr) + pr.Minutes
	}
	minutes, gone := a.setUp(pr)+roundMinute, []string{}
	for _, o := range readings {
		id, _, _ := strings.Cut(o.r.Place, ".")
		if place := placeOf(a.circuit, id); !slices.Contains(gone, place) {
			gone = append(gone, place)
			minutes += o.r.Access
		}
		minutes += pr.EachPlace()
	}
	return minutes
}

// splits says in words what a trial's most telling reading does to the suspects.
func (a *analysis) splits(t *trial, field []live) string {
	o := &t.readings[0]
	labels := a.labels(o)
	groups := make([][]string, len(labels))
	count := 0
	for i, l := range field {
		if l.hypothesis < firstFault || l.weight < field[0].weight/200 {
			continue
		}
		best := 0
		chances := o.chances(i)
		for k, x := range chances {
			if x > chances[best]*(1+1e-9) {
				best = k
			}
		}
		groups[best] = append(groups[best], a.short(l.hypothesis))
		count++
	}
	var sizes, sides []string
	for k, g := range groups {
		if len(g) > 0 {
			sizes = append(sizes, fmt.Sprint(len(g)))
			sides = append(sides, fmt.Sprintf("%s: %s", labels[k], listed(g, 4)))
		}
	}
	if len(sizes) < 2 {
		return fmt.Sprintf("makes the suspects more or less likely by %s, without parting them for certain", whichOf(o.r))
	}
	return fmt.Sprintf("splits %d suspects %s by %s: %s", count, strings.Join(sizes, " to "), whichOf(o.r), strings.Join(sides, "; "))
}

// whichOf puts a reading after "by": "the drop", "what the gauge shows", "whether the lamp is lit".
func whichOf(r *procedure.Reading) string {
	switch {
	case r.Form == procedure.YesNo:
		return "whether " + r.Title
	case strings.HasPrefix(r.Title, "what "):
		return r.Title
	}
	return "the " + r.Title
}

// short name of a fault: "air dryer (cartridge plugged)".
func (a *analysis) short(h int) string {
	return fmt.Sprintf("%s (%s)", nameOf(a.circuit, a.list[h].fault.Target), a.list[h].fault.Mode)
}
