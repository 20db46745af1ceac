package main

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"airpath/circuit/airflow"
	"airpath/circuit/airflow/moisture"
	"airpath/circuit/airflow/procedure"
	"airpath/trace"
	"airpath/trace/record"
)

const (
	textWidth  = 110
	worthProof = 0.1  // suspects from here on are told with proof and repair
	worthGroup = 0.01 // groups under it are left out
	groupShown = 5    // members of a group that are named
	clearShown = 4    // faults that are named of those that the same findings clear
	nextShown  = 5
)

// printVerdict tells a technician what the findings come to, in the order in which a technician thinks: what is wrong,
// what it can be, what it can't be, what to do next.
func (p *program) printVerdict(t *traced, all bool, unit pressureUnit) {
	fmt.Fprintf(p.out, "%s, on %s\n", t.found.Title, t.circuit.Title)
	if t.found.Complaint != "" {
		fmt.Fprintf(p.out, "Complaint: %s\n", wrap(t.found.Complaint, "           ", textWidth))
		p.printComplaint(t.verdict.Complaint)
	}
	if at, ok := t.found.AmbientTemperature(); ok {
		fmt.Fprintf(p.out, "Ambient: %s; what is ice is taken to be %.3g times as likely as over the year\n", t.found.Ambient, moisture.IceOdds(airflow.Mode{Ice: true}, at))
	}
	p.printFindings(t)
	p.printSuspects(t.verdict, all, unit)
	p.printFits(t.verdict, unit)
	p.printAlike(t.verdict, all)
	p.printSplits(t, all)
	p.printPairs(t.verdict)
	p.printCleared(t.verdict, all)
	p.printBeside(t.verdict, all)
	p.printDoubts(t.verdict)
	p.printNext(t.verdict, all, unit)
}

func (p *program) heading(format string, args ...any) {
	fmt.Fprintf(p.out, "\n%s\n", strings.ToUpper(fmt.Sprintf(format, args...)))
}

func (p *program) printFindings(t *traced) {
	p.heading("what was found")
	var rows table
	for _, f := range t.found.Findings {
		title := f.Procedure + ", " + f.Reading
		if proc, r, _, err := procedure.BindUnder(t.found.Jurisdiction, t.procedures, f); err == nil {
			title = proc.Title + ": " + r.Title
		}
		if f.Place != "" {
			title += " (" + f.Place + ")"
		}
		rows.row("  "+f.ID, f.Result.Text, title)
		for _, l := range t.verdict.Limits {
			if l.Finding != f.ID {
				continue
			}
			outcome := "meets"
			if !l.Pass {
				outcome = "FAILS"
			}
			rows.row("", outcome, fmt.Sprintf("%s, %s (%s)", l.Limit.Wanted(), l.Limit.Source, l.Limit.Jurisdiction))
		}
	}
	rows.print(p.out)
}

func (p *program) printSuspects(v *trace.Verdict, all bool, unit pressureUnit) {
	p.heading("what it can be")
	if len(v.Suspects) == 0 {
		fmt.Fprintln(p.out, "  Nothing in the catalogue fits these findings; one of them may have been misread.")
	}
	hidden, weight := 0, 0.0
	for _, s := range v.Suspects {
		if s.Probability < record.LeastShown && !all {
			hidden++
			weight += s.Probability
			continue
		}
		title := s.Title
		if s.Severity.Means != "" && !math.IsNaN(s.Severity.Mid) {
			title += fmt.Sprintf("; %s %s", s.Severity.Means, unit.span(s.Severity.Low, s.Severity.High, s.Severity.Dimension))
		}
		fmt.Fprintf(p.out, "  %5s  %s\n", percent(s.Probability), wrap(title, "         ", textWidth))
		if !strings.Contains(s.Because, s.PathWords) {
			p.field("path", s.PathWords)
		}
		p.field("why", s.Because)
		if s.Probability >= worthProof || all {
			p.field("proof", s.Confirm)
			p.field("repair", s.Repair)
		}
	}
	if hidden > 0 {
		fmt.Fprintf(p.out, "  and %d more, together %s; --all prints them\n", hidden, percent(weight))
	}
	fmt.Fprintf(p.out, "  %5s  nothing is wrong\n  %5s  something that is not in the catalogue\n", percent(v.NoFault), percent(v.SomethingElse))
}

// field prints one thing about a suspect.
func (p *program) field(name, text string) {
	if text != "" {
		fmt.Fprintf(p.out, "         %-6s  %s\n", name, wrap(text, "                 ", textWidth))
	}
}

// percent writes a probability as people say it; what is small is never called zero.
func percent(x float64) string {
	switch {
	case x >= 0.995 && x < 1:
		return ">99 %"
	case x >= 0.01:
		return fmt.Sprintf("%.0f %%", 100*x)
	case x >= 0.001:
		return fmt.Sprintf("%.1f %%", 100*x)
	case x > 0:
		return "<0.1 %"
	}
	return "0 %"
}

func (p *program) printAlike(v *trace.Verdict, all bool) {
	var now, never []trace.Alike
	for _, a := range v.Alike {
		if a.Separable && (all || a.Weight >= worthGroup) {
			now = append(now, a)
		}
	}
	for _, a := range v.Inseparable {
		if all || a.Weight >= worthGroup {
			never = append(never, a)
		}
	}
	p.printGroups("what these findings can't tell apart yet", now, all)
	p.printGroups("what no procedure listed here tells apart", never, all)
}

func (p *program) printGroups(title string, groups []trace.Alike, all bool) {
	if len(groups) == 0 {
		return
	}
	p.heading("%s", title)
	for _, a := range groups {
		titles, more := a.Titles, ""
		if n := len(titles) - groupShown; n > 1 && !all {
			titles, more = titles[:groupShown], fmt.Sprintf("; and %d more", n)
		}
		fmt.Fprintf(p.out, "  %5s  %s\n", percent(a.Weight), wrap(strings.Join(titles, "; ")+more, "         ", textWidth))
	}
}

// printCleared lists what is ruled out, in short by the findings that did it, in full with each reason.
func (p *program) printCleared(v *trace.Verdict, all bool) {
	if len(v.Cleared) == 0 {
		return
	}
	p.heading("what is cleared: %d faults", len(v.Cleared))
	if all {
		for _, c := range v.Cleared {
			fmt.Fprintf(p.out, "  %s\n      %s\n", c.Title, wrap(c.Because, "      ", textWidth))
		}
		return
	}
	var order []string
	groups := map[string][]trace.Cleared{}
	for _, c := range v.Cleared {
		by := strings.Join(slices.Sorted(slices.Values(c.By)), " and ")
		if _, ok := groups[by]; !ok {
			order = append(order, by)
		}
		groups[by] = append(groups[by], c)
	}
	slices.SortStableFunc(order, func(a, b string) int { return len(groups[b]) - len(groups[a]) })
	for _, by := range order {
		members := groups[by]
		var titles []string
		for _, c := range members[:min(len(members), clearShown)] {
			titles = append(titles, c.Title)
		}
		such := strings.Join(titles, "; ")
		if n := len(members) - len(titles); n > 0 {
			such += fmt.Sprintf("; and %d more", n)
		}
		fmt.Fprintf(p.out, "  %s\n", wrap("by "+by+": "+such, "      ", textWidth))
		fmt.Fprintf(p.out, "      %s\n", wrap("the first: "+members[0].Because, "      ", textWidth))
	}
	fmt.Fprintln(p.out, "  --all names each with its reason")
}

func (p *program) printDoubts(v *trace.Verdict) {
	if len(v.Unexplained)+len(v.Ignored)+len(v.Disagree) == 0 {
		return
	}
	p.heading("what does not fit")
	for _, u := range v.Unexplained {
		fmt.Fprintf(p.out, "  %s is explained by no suspect: %s\n", u.Finding, wrap(u.Because, "    ", textWidth))
	}
	for _, i := range v.Ignored {
		fmt.Fprintf(p.out, "  %s was not used: %s\n", i.Finding, wrap(i.Because, "    ", textWidth))
	}
	for _, d := range v.Disagree {
		fmt.Fprintf(p.out, "  %s\n", wrap(d, "    ", textWidth))
	}
}

// printNext tells the best procedure in full, and the ones after it in a line each.
func (p *program) printNext(v *trace.Verdict, all bool, unit pressureUnit) {
	p.heading("what to do next")
	if len(v.Next) == 0 {
		fmt.Fprintf(p.out, "  %s\n", wrap(v.Stop, "  ", textWidth))
		p.printBounds()
		return
	}
	var rows table
	for i, n := range v.Next {
		if i == nextShown && !all {
			break
		}
		rows.row(fmt.Sprintf("  %d.", i+1), n.Procedure.ID, fmt.Sprintf("%.0f min", n.Minutes), fmt.Sprintf("%.2f bit", n.Bits), n.Title)
	}
	rows.print(p.out)
	best := v.Next[0]
	fmt.Fprintf(p.out, "\n%s: %s\n", best.Title, wrap(best.Because, "  ", textWidth))
	for _, r := range best.Readings {
		place := ""
		if r.Place != "" {
			place = " at " + r.Place
		}
		fmt.Fprintf(p.out, "  Above all: %s%s (%s)\n", r.ID, place, r.Title)
	}
	p.printHowTo(best.Procedure, unit)
	p.printBounds()
}

// printBounds closes every report: what this program does not decide.
func (p *program) printBounds() {
	fmt.Fprint(p.out, `
Airpath does not certify a vehicle: local regulations, the vehicle maker's data and a licensed technician decide.
`)
}

// printHowTo tells how a procedure is done: cautions first, then tools and steps.
func (p *program) printHowTo(proc *procedure.Procedure, unit pressureUnit) {
	fmt.Fprintln(p.out, "  Before you start")
	for _, c := range proc.Cautions {
		fmt.Fprintf(p.out, "    - %s\n", wrap(c, "      ", textWidth))
	}
	if len(proc.Tools) > 0 {
		fmt.Fprintf(p.out, "  Tools: %s\n", wrap(strings.Join(proc.Tools, ", "), "    ", textWidth))
	}
	if proc.Start != nil {
		fmt.Fprintf(p.out, "  Begin from this state: %s\n", wrap(proc.Start.Title, "    ", textWidth))
		p.printSteps(proc.Start.All(), unit)
	}
	fmt.Fprintln(p.out, "  Then")
	p.printSteps(proc.Steps, unit)
}

func (p *program) printSteps(steps []procedure.Step, unit pressureUnit) {
	for i, s := range steps {
		fmt.Fprintf(p.out, "    %2d. %s\n", i+1, wrap(s.Words(string(unit)), "        ", textWidth))
	}
}
