package main

import (
	"fmt"
	"strings"

	"airpath/trace"
)

// findSplits looks for what would split each group that no procedure tells apart.
func (p *program) findSplits(t *traced) error {
	for _, g := range t.verdict.Inseparable {
		s, err := t.tracer.SplitBy(p.ctx, g)
		if err != nil {
			return err
		}
		t.splits = append(t.splits, s)
	}
	return nil
}

func (p *program) printSplits(t *traced, all bool) {
	said := false
	for i, s := range t.splits {
		g := t.verdict.Inseparable[i]
		if !all && g.Weight < worthGroup {
			continue
		}
		if !said {
			p.heading("what would tell them apart")
			said = true
		}
		fmt.Fprintf(p.out, "  %5s  %s\n", percent(g.Weight), wrap(strings.Join(faultNames(g.Faults), "; "), "         ", textWidth))
		if s.Tap != nil {
			p.field("add", fmt.Sprintf("%s, %.0f min (%s)", s.Tap.At, s.Tap.Minutes, s.Tap.Reads))
			p.field("splits", partsInWords(trace.Inseparable{Faults: g.Faults, Tap: s.Tap}))
		}
		p.field("hand", s.LookAt+": "+s.Look)
	}
}

type splitJSON struct {
	Add     string  `json:"add"`
	Minutes float64 `json:"minutes"`
	Reads   string  `json:"reads"`
	Part    string  `json:"part"`
	ByHand  string  `json:"by_hand"`
}

func splitsJSON(splits []trace.Split) []splitJSON {
	var out []splitJSON
	for _, s := range splits {
		j := splitJSON{Part: s.LookAt, ByHand: s.Look}
		if s.Tap != nil {
			j.Add, j.Minutes, j.Reads = s.Tap.At, s.Tap.Minutes, s.Tap.Reads
		}
		out = append(out, j)
	}
	return out
}
