package trace

import (
	"fmt"
	"strings"
)

// suspects lists what stands, with how it gets to the symptom and why.
func (a *analysis) suspects(v *Verdict) {
	for _, h := range a.standing() {
		list := &a.list[h]
		pro, con := a.votes(h)
		s := Suspect{
			Fault: a.faultOf(h), Title: list.title(a.circuit), Probability: a.posterior.Hypotheses[h], Severity: a.severityOf(h),
			Confirm: list.words.Confirm, Repair: list.words.Repair, RepairTime: list.words.Minutes, Cautions: list.words.Cautions,
			ForFindings: a.ids(pro), AgainstThose: a.ids(con), ExplainsAll: a.reachesAll(h), Beside: a.beside[h],
		}
		if r := a.bestRoute(h, pro); r != nil {
			s.Path, s.PathWords = r.steps, inWords(r.steps)
		}
		s.Because = a.because(h, pro, con, s.PathWords)
		v.Suspects = append(v.Suspects, s)
	}
}

func (a *analysis) ids(votes []vote) []string {
	var out []string
	for _, v := range votes {
		out = append(out, a.observations[v.observation].finding.ID)
	}
	return out
}

// bestRoute is the route to where air comes out, else to the abnormal finding that speaks most for a fault, else to any
// abnormal one; a direct one before an indirect one.
func (a *analysis) bestRoute(h int, pro []vote) *route {
	var order []int
	for i := range a.observations {
		if a.observations[i].r.Leak() {
			order = append(order, i)
		}
	}
	for _, v := range pro {
		order = append(order, v.observation)
	}
	for i := range a.observations {
		order = append(order, i)
	}
	var found *route
	for _, i := range order {
		r := a.paths.routes[i][h]
		if r == nil || !a.paths.abnormal[i] {
			continue
		}
		if !r.indirect {
			return r
		}
		if found == nil {
			found = r
		}
	}
	return found
}

// reachesAll tells whether a fault has a route to every abnormal finding, and there is one.
func (a *analysis) reachesAll(h int) bool {
	any := false
	for i, abnormal := range a.paths.abnormal {
		if abnormal {
			if a.paths.routes[i][h] == nil {
				return false
			}
			any = true
		}
	}
	return any
}

// because in words: what the fault would make of the findings that count, beside what a healthy vehicle makes of them.
func (a *analysis) because(h int, pro, con []vote, path string) string {
	var parts []string
	c, healthy := a.likeliestCell(h), &a.cells[a.list[noFault].cell]
	for i, v := range pro {
		if i == 2 {
			break
		}
		o := &a.observations[v.observation]
		parts = append(parts, fmt.Sprintf("%s; with this fault %s, healthy %s", a.found(o), a.expected(o, c), a.expected(o, healthy)))
	}
	if path != "" {
		parts = append(parts, "Path: "+path)
	}
	if len(con) > 0 {
		o := &a.observations[con[0].observation]
		parts = append(parts, fmt.Sprintf("Against it: %s, where this fault would give %s", a.found(o), a.expected(o, c)))
	}
	if len(parts) == 0 {
		return "No finding speaks for it or against it: nobody has looked there yet."
	}
	return strings.Join(parts, ". ") + "."
}
