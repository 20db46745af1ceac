package main

import (
	"fmt"
	"strings"

	"airpath/trace"
)

// besideShown are named of what did not give the findings, unless all is asked for.
const besideShown = 5

// printPairs lists two faults that explain the findings together.
func (p *program) printPairs(v *trace.Verdict) {
	if len(v.Pairs) == 0 && v.TakesMore == "" {
		return
	}
	p.heading("two faults at once")
	if v.TakesMore != "" {
		fmt.Fprintf(p.out, "  %s\n", wrap(v.TakesMore, "  ", textWidth))
	}
	if v.Unknown() {
		fmt.Fprintf(p.out, "  %s\n", wrap("No one fault in the catalogue explains all that was found. Read again what does not fit; and look whether it is two, such as", "  ", textWidth))
	}
	for _, pair := range v.Pairs {
		fmt.Fprintf(p.out, "  %5s  %s\n", percent(pair.Probability), wrap(pair.Titles[0]+"; and "+pair.Titles[1], "         ", textWidth))
	}
}

// printBeside lists what did not give the findings, but may be there too.
func (p *program) printBeside(v *trace.Verdict, all bool) {
	var titles []string
	for _, s := range v.Suspects {
		if s.Beside {
			titles = append(titles, s.Title)
		}
	}
	if len(titles) == 0 {
		return
	}
	p.heading("what did not give these findings: %d faults", len(titles))
	fmt.Fprintf(p.out, "  %s\n", wrap("They are not cleared: each may be there besides, where nobody has looked well enough yet.", "  ", textWidth))
	more := ""
	if n := len(titles) - besideShown; n > 0 && !all {
		titles, more = titles[:besideShown], fmt.Sprintf("; and %d more", n)
	}
	fmt.Fprintf(p.out, "  %s\n", wrap(strings.Join(titles, "; ")+more, "      ", textWidth))
}
