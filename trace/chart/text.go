package chart

import (
	"fmt"
	"math"
	"strings"
	"unicode/utf8"

	"airpath/circuit/airflow/procedure"
	"airpath/circuit/symbol"
	"airpath/trace"
)

const textWidth = 110

// bounds is what a chart does not decide.
const bounds = "Airpath does not certify a vehicle: local regulations, the vehicle maker's data and a licensed technician decide."

// Text of the chart: cautions, the tree, the repairs, the limits with their sources, and how each test is done.
func (c *Chart) Text() string {
	var b strings.Builder
	fmt.Fprintf(&b, "TROUBLESHOOTING CHART: %s\n%s\n\n", c.Heading(), c.Title)
	for _, line := range c.preface() {
		fmt.Fprintln(&b, wrapped(line, "", textWidth))
	}
	fmt.Fprint(&b, "\nBEFORE ANY WORK\n")
	for _, s := range procedure.Safety() {
		fmt.Fprintf(&b, "  - %s\n", wrapped(s, "    ", textWidth))
	}
	fmt.Fprint(&b, "\nTHE CHART\n")
	c.treeText(&b)
	fmt.Fprint(&b, "\nREPAIRS\n")
	for i, r := range c.Repairs {
		fmt.Fprintf(&b, "  R%-3d %s\n", i+1, wrapped(fmt.Sprintf("%s (%s/%s), about %.0f min", r.Title, r.Component, r.Mode, r.Minutes), "       ", textWidth))
		fmt.Fprintf(&b, "       confirm  %s\n", wrapped(r.Confirm, "                ", textWidth))
		fmt.Fprintf(&b, "       repair   %s\n", wrapped(r.Repair, "                ", textWidth))
		for _, s := range r.Cautions {
			fmt.Fprintf(&b, "       caution  %s\n", wrapped(s, "                ", textWidth))
		}
	}
	if len(c.Limits) > 0 {
		fmt.Fprint(&b, "\nLIMITS\n")
	}
	for i, l := range c.Limits {
		fmt.Fprintf(&b, "  L%-3d %s\n", i+1, wrapped(fmt.Sprintf("%s: %s; %s (%s)", l.Reading, l.Wanted, l.Source, l.Jurisdiction), "       ", textWidth))
	}
	fmt.Fprint(&b, "\nHOW EACH TEST IS DONE\n")
	for _, p := range c.Tests {
		fmt.Fprintf(&b, "\n%s\n", strings.TrimRight(procedure.TextIn(p, c.Unit), "\n"))
	}
	fmt.Fprintf(&b, "\n%s\n", bounds)
	return b.String()
}

// Heading of a chart: what it is about.
func (c *Chart) Heading() string {
	switch {
	case c.Complaint != "":
		return c.Complaint
	case len(c.Findings) > 0:
		return "from what was found"
	}
	return "an air complaint"
}

// preface says what the chart rests on.
func (c *Chart) preface() []string {
	var out []string
	for _, h := range c.Heard.Heard {
		out = append(out, fmt.Sprintf("The complaint is taken as %q: %s.", h.Meaning.Saying, h.Meaning.Means))
	}
	if len(c.Heard.Heard) > 0 {
		out = append(out, fmt.Sprintf("A complaint is weak evidence, and counts as such: it raises one fault over another %.0f times at most.", trace.MostComplaint()))
	}
	for _, u := range c.Heard.Unheard {
		out = append(out, fmt.Sprintf("Not understood, and not used: %q; %s", u.Words, u.Suggestion))
	}
	for _, f := range c.Findings {
		at := ""
		if f.Place != "" {
			at = " at " + f.Place
		}
		out = append(out, fmt.Sprintf("Found before: %s, %s%s: %s.", f.Procedure, f.Reading, at, f.Result.Text))
	}
	out = append(out, fmt.Sprintf("Begin at 1. It takes %.0f minutes of testing on average, set-up included. Percentages are how often a vehicle with this complaint gets there, by the tracer's own reckoning; rates of failure are engineering judgement.", c.Minutes))
	if c.Cut >= 0.005 {
		out = append(out, fmt.Sprintf("In %s of cases the paper ends before the reasoning does, and a trace of the case goes on.", Percent(c.Cut)))
	}
	return out
}

func (c *Chart) treeText(b *strings.Builder) {
	for _, n := range c.Nodes {
		head := fmt.Sprintf("%4d  ", n.Number)
		if n.Leaf != nil {
			c.leafText(b, head, n)
			continue
		}
		fmt.Fprintf(b, "%s%s\n", head, wrapped(n.question(), "      ", textWidth))
		fmt.Fprintf(b, "      %s\n", wrapped(n.reads(), "      ", textWidth))
		if len(n.Ask.Readings) > 1 {
			fmt.Fprintf(b, "      %s\n", wrapped(n.places(), "      ", textWidth))
		}
		if l := n.limitRefs(); l != "" {
			fmt.Fprintf(b, "      limits: %s\n", l)
		}
		for _, br := range n.Branches {
			fmt.Fprintf(b, "        %s\n", wrapped(fmt.Sprintf("%s  → %s", answerWords(&br), br.leads()), "          ", textWidth))
		}
	}
}

func (c *Chart) leafText(b *strings.Builder, head string, n *Node) {
	fmt.Fprintf(b, "%s%s\n", head, n.Leaf.advice())
	for _, l := range n.Leaf.Likely {
		r := c.Repairs[l.Repair-1]
		fmt.Fprintf(b, "        %5s  R%-3d %s\n", Percent(l.Probability), l.Repair, wrapped(r.Title, "                    ", textWidth))
	}
	if rest := n.Leaf.restWords(); rest != "" {
		fmt.Fprintf(b, "               %s\n", wrapped(rest, "               ", textWidth))
	}
	fmt.Fprintf(b, "        %s\n", wrapped(n.Leaf.Why, "        ", textWidth))
}

// leads says where a branch goes on.
func (b *Branch) leads() string {
	if b.To == nil {
		return b.End
	}
	return fmt.Sprint(b.To.Number)
}

// question of a node in one line.
func (n *Node) question() string {
	if n.Ask.Minutes == 0 {
		return fmt.Sprintf("%s, the same again: another of its readings", n.Ask.Procedure.Title)
	}
	return fmt.Sprintf("%s (%s), %.0f min", n.Ask.Procedure.Title, n.Ask.Procedure.ID, n.Ask.Minutes)
}

// reads says what is read.
func (n *Node) reads() string {
	if len(n.Ask.Readings) > 1 {
		return "Where is air heard? Go to these places in this order."
	}
	r := n.Ask.Readings[0]
	if r.Form == procedure.YesNo {
		return "Is it so: " + r.Title + "?"
	}
	if strings.HasPrefix(r.Title, "what ") || strings.HasPrefix(r.Title, "where ") {
		return "Read " + r.Title
	}
	return "Read the " + r.Title
}

// places of a round, in the order of going.
func (n *Node) places() string {
	var out []string
	for _, r := range n.Ask.Readings {
		_, place := foundAt(r.Title)
		out = append(out, place)
	}
	return strings.Join(out, "; ")
}

func (n *Node) limitRefs() string {
	var out []string
	for _, l := range n.Limits {
		out = append(out, fmt.Sprintf("L%d", l))
	}
	return strings.Join(out, ", ")
}

// advice of a leaf, in a few words.
func (l *Leaf) advice() string {
	switch {
	case len(l.Likely) == 0 || l.NoFault > 0.5:
		return "Nothing is found wrong"
	case l.Cut:
		return "Go on with a trace; so far"
	case len(l.Likely) == 1:
		return "Confirm by hand, then repair"
	}
	return "Confirm by hand, in this order, then repair"
}

// restWords says what else it could be.
func (l *Leaf) restWords() string {
	var parts []string
	if l.Rest >= 0.005 {
		parts = append(parts, "all others "+Percent(l.Rest))
	}
	if l.NoFault >= 0.005 {
		parts = append(parts, "nothing wrong "+Percent(l.NoFault))
	}
	if l.SomethingElse >= 0.005 {
		parts = append(parts, "something not in the catalogue "+Percent(l.SomethingElse))
	}
	return strings.Join(parts, "; ")
}

// Percent writes a probability as people say it.
func Percent(x float64) string {
	switch {
	case x >= 0.995 && x < 1:
		return ">99 %"
	case x >= 0.0095:
		return fmt.Sprintf("%.0f %%", math.Round(100*x))
	case x >= 0.00095:
		return fmt.Sprintf("%.1f %%", 100*x)
	}
	return "<0.1 %"
}

// wrapped breaks text into lines of at most width characters; the lines after the first begin with the indent.
func wrapped(text, indent string, width int) string {
	var b strings.Builder
	column := utf8.RuneCountInString(indent)
	for i, word := range symbol.Unbroken(text) {
		n := utf8.RuneCountInString(word)
		switch {
		case i == 0:
		case column+1+n > width:
			b.WriteString("\n" + indent)
			column = utf8.RuneCountInString(indent)
		default:
			b.WriteByte(' ')
			column++
		}
		b.WriteString(word)
		column += n
	}
	return b.String()
}
