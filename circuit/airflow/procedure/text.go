package procedure

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"airpath/circuit"
)

// Text of a procedure for print, with pressures in psi.
func Text(p *Procedure) string { return TextIn(p, "psi") }

// TextIn is Text with pressures in psi, bar or kPa.
func TextIn(p *Procedure, unit string) string {
	var b strings.Builder
	say := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	say("%s", strings.ToUpper(p.Title))
	say("%s", p.About)
	say("\nAbout %s: %s to the starting state, %s for the test.", minutes(p.Total()), minutes(p.SetUp), minutes(p.Minutes))
	say("Read with %s.", sayState(p.State))
	if len(p.Tools) > 0 {
		say("Tools: %s.", list(p.Tools, "and"))
	}
	say("\nBefore you begin")
	for _, c := range p.Cautions {
		say("  ! %s", c)
	}
	n := 0
	number := func(steps []Step) {
		for _, s := range steps {
			n++
			say("  %2d. [ ] %s", n, s.Words(unit))
		}
	}
	say("\nStarting state: %s", p.Start.Title)
	number(p.Start.All())
	say("\nThe test")
	number(p.Steps)
	say("\nReadings")
	var told []string
	for _, r := range p.Readings {
		if r.ID == "hiss" {
			continue
		}
		blank := "____"
		if r.Form == YesNo {
			blank = "yes / no"
		} else if u := circuit.UnitFor(r.Dimension, unit); u != "" {
			blank += " " + u
		}
		say("  %s (%s): %s", r.Title, r.Instrument, blank)
		for _, l := range r.Limits {
			if line := fmt.Sprintf("      %s: %s, %s", l.Jurisdiction, l.Wanted(), l.Source); !slices.Contains(told, r.ID+line) {
				told = append(told, r.ID+line)
				say("%s", line)
			}
		}
	}
	if places := p.heard(); len(places) > 0 {
		say("  heard at, yes or no:")
		for _, place := range places {
			say("      [ ] %s (%s)", p.vehicle.nameOf(place), place)
		}
	}
	return b.String()
}

// minutes to the next half.
func minutes(m float64) string { return plural(math.Ceil(2*m)/2, "minute") }

// heard lists the places of a round by ear in the order of going round: by where they are, then by name.
func (p *Procedure) heard() []string {
	var out []string
	for _, w := range circuit.Places {
		for _, r := range p.Readings {
			if r.ID == "hiss" && p.vehicle.whereabouts(r.Place) == w {
				out = append(out, r.Place)
			}
		}
	}
	return out
}
