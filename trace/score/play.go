package score

import (
	"context"
	"fmt"
	"slices"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/trace"
)

// How a game ends.
const (
	found     = "found"
	gaveUp    = "gave up"
	outOfTime = "out of time"
)

// A table is a game being played.
type table struct {
	*worker
	s       *subject
	game    *Game
	kase    *circuit.Case
	seen    map[[2]int]bool // readings in the case, by procedure and reading
	done    map[int]bool    // procedures carried out in full
	begun   map[int]bool    // procedures begun at least
	left    []airflow.Fault // true faults not mended yet
	odd     string          // the part with something unmodelled, while it is there; "" for none
	tried   map[string]bool // parts that have been changed
	named   bool            // a part has been named in this stage
	opened  int             // cases
	minutes float64
	tests   int
}

// play one vehicle. A part that is changed is changed for good, right or wrong; the vehicle is tried, and the work goes on
// until it is in order, nothing is left to change, or the time is up.
func (k *worker) play(ctx context.Context, s *subject, st strategy) (*Game, error) {
	t := &table{worker: k, s: s, game: &Game{Strategy: st.name()}, left: slices.Clone(s.truths), odd: s.where}
	reasoner := k.reasoner(s)
	if err := t.open(ctx, s.symptom); err != nil {
		return t.game, err
	}
	k.tell("  %s", st.name())
	for t.game.Ended == "" {
		v, err := reasoner.Trace(ctx, t.kase, nil)
		if err != nil {
			return t.game, err
		}
		if err := t.hear(ctx, v); err != nil {
			return t.game, err
		}
		if t.minutes > k.world.options.Budget {
			t.end(outOfTime)
			break
		}
		if v.Stop == "" {
			if c := st.choose(t, v); c != nil {
				if err := t.carryOut(ctx, c); err != nil {
					return t.game, err
				}
				continue
			}
		}
		if err := t.shuffle(ctx, reasoner, v); err != nil {
			return t.game, err
		}
		if err := t.repair(ctx, v); err != nil {
			return t.game, err
		}
	}
	return t.game, nil
}

// open a case with the symptom that the vehicle came in with.
func (t *table) open(ctx context.Context, s symptom) error {
	t.kase = &circuit.Case{Circuit: t.world.circuit.Name, Title: fmt.Sprintf("vehicle %d", t.s.vehicle), Jurisdiction: "US"}
	t.seen, t.done, t.begun = map[[2]int]bool{}, map[int]bool{}, map[int]bool{}
	t.tried, t.named = map[string]bool{}, false
	t.opened++
	if err := t.enter(ctx, s.procedure, s.reading); err != nil || len(t.kase.Findings) == 0 {
		return err
	}
	t.kase.Reported = t.kase.Findings[0].ID
	return nil
}

// enter a reading into the case as it is written down.
func (t *table) enter(ctx context.Context, p, r int) error {
	if t.seen[[2]int{p, r}] {
		return nil
	}
	result, ok, err := t.s.hidden.read(ctx, p, r)
	if err != nil || !ok {
		return err
	}
	t.seen[[2]int{p, r}] = true
	reading := &t.world.procedures[p].Readings[r]
	t.kase.Findings = append(t.kase.Findings, circuit.Finding{
		ID: fmt.Sprintf("f%d", len(t.kase.Findings)+1), Procedure: t.world.procedures[p].ID, Reading: reading.ID, Place: reading.Place, Result: result,
	})
	if t.telling {
		return t.explain(ctx, p, r, result)
	}
	return nil
}

// A choice is a procedure to do; of a round by ear, which whereabouts are gone to, and of one with soap, which places.
type choice struct {
	procedure int
	gone      []string // whereabouts, or places where each is brushed by itself; nil: everywhere
	minutes   float64
}

// carryOut a procedure, and write everything down that is read where one has gone.
func (t *table) carryOut(ctx context.Context, c *choice) error {
	p := t.world.procedures[c.procedure]
	t.minutes += c.minutes
	t.tests++
	t.tell("    %s (%.1f minutes, %.1f in all)", p.ID, c.minutes, t.minutes)
	for r := range p.Readings {
		if c.gone == nil || slices.Contains(c.gone, t.world.goneTo(p, p.Readings[r].Place)) {
			if err := t.enter(ctx, c.procedure, r); err != nil {
				return err
			}
		}
	}
	t.begun[c.procedure] = true
	if t.kase.Last = p.ID; t.s.hidden.outcomes[c.procedure] == nil || t.s.hidden.outcomes[c.procedure].Undone != "" {
		t.kase.Last = "" // who knows how it was left
	}
	t.done[c.procedure] = c.gone == nil || t.done[c.procedure]
	return nil
}

// hear a verdict out.
func (t *table) hear(ctx context.Context, v *trace.Verdict) error {
	g := t.game
	g.Verdicts++
	for _, c := range v.Cleared {
		if slices.ContainsFunc(t.left, func(f airflow.Fault) bool { return same(f, c.Fault) }) {
			g.Cleared = true
			t.tell("    CLEARED the true fault: %s", c.Because)
		}
	}
	for _, c := range v.Suspects {
		k := slices.IndexFunc(t.left, func(f airflow.Fault) bool { return same(f, c.Fault) })
		if !c.Beside || k < 0 {
			continue
		}
		gave, err := t.gave(ctx, k)
		if err != nil {
			return err
		}
		if gave {
			g.Wronged = true
			t.tell("    NOT THE CAUSE is said of the true fault: %s", c.Because)
		}
	}
	p := t.probability(v)
	what, top, right := t.leading(v)
	g.Said = append(g.Said, Saying{P: top, True: right, Case: t.opened - 1, Findings: len(t.kase.Findings)})
	t.tell("    truth %.4f, leading %.4f %s; %d stand, %d cleared; %s", p, top, what, len(v.Suspects), len(v.Cleared), v.Stop)
	if t.telling {
		t.tellRivals(v)
	}
	return nil
}

// mostRivals of a verdict are told.
const mostRivals = 5

// tellRivals of a verdict: the likeliest suspects, those among them that are grouped, and the likeliest two together.
func (t *table) tellRivals(v *trace.Verdict) {
	text := fmt.Sprintf("nothing %.4f, something else %.4f", v.NoFault, v.SomethingElse)
	for _, s := range v.Suspects[:min(len(v.Suspects), mostRivals)] {
		text += fmt.Sprintf("; %s %.4f", s.Fault, s.Probability)
	}
	t.tell("      %s", text)
	for _, g := range v.Inseparable[:min(len(v.Inseparable), 2)] {
		t.tell("      no procedure tells apart (%.4f): %v", g.Weight, g.Faults)
	}
	if len(v.Pairs) > 0 {
		t.tell("      together %.4f: %v", v.Pairs[0].Probability, v.Pairs[0].Faults)
	}
}

// repair what is named first and has not been tried yet.
func (t *table) repair(ctx context.Context, v *trace.Verdict) error {
	what, _, right := t.leading(v)
	if !t.named {
		t.name(v, what)
		if what == nothing || what == somethingElse {
			if right && len(t.left) == 0 {
				t.game.Minutes, t.game.Tests = t.minutes, t.tests
				t.end(found)
				return nil
			}
		}
	}
	for i := range v.Suspects {
		s := &v.Suspects[i]
		if t.tried[s.Fault.Target] {
			continue
		}
		t.tried[s.Fault.Target] = true
		k := slices.IndexFunc(t.left, func(f airflow.Fault) bool { return f.Target == s.Fault.Target })
		mends := k >= 0 || t.odd == s.Fault.Target
		if mends && t.game.Found == 0 {
			t.game.Minutes, t.game.Tests = t.minutes, t.tests
		}
		t.minutes += s.RepairTime
		t.tell("    change %s (%.0f minutes, %.1f in all): %v", s.Fault.Target, s.RepairTime, t.minutes, mends)
		if !mends {
			t.game.GoodParts++
			if t.minutes > t.world.options.Budget {
				t.end(outOfTime)
				return nil
			}
			continue
		}
		t.game.Found++
		t.file()
		if k >= 0 {
			t.left = slices.Delete(t.left, k, k+1)
		} else {
			t.odd = ""
			t.s.hidden.network, t.s.hidden.real = t.world.hidden, t.world.real
		}
		if t.inOrder() {
			t.end(found)
			return nil
		}
		return t.again(ctx)
	}
	t.end(gaveUp)
	return nil
}

// again: one of two things is mended, and the vehicle is still not in order. What was found before was found on another vehicle;
// a new case is begun with what is noticed now.
func (t *table) again(ctx context.Context) error {
	h := t.s.hidden
	h.stage++
	if err := h.put(t.worker, 0, slices.Clone(t.left)); err != nil {
		return err
	}
	found, ok, err := h.notice(ctx, t.s.twin)
	if err != nil {
		return err
	}
	if !ok {
		found = t.s.symptom
	}
	t.tell("    one of two is mended; still: %s", t.world.nameOf(found.procedure, found.reading))
	return t.open(ctx, found)
}

func (t *table) end(how string) {
	t.file()
	t.game.Ended, t.game.Total = how, t.minutes
	if t.game.Found == 0 && how != found {
		t.game.Minutes, t.game.Tests = t.minutes, t.tests
	}
	t.tell("  %s after %.1f minutes", how, t.minutes)
}
