package chart

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"airpath/circuit"
	"airpath/circuit/airflow/procedure"
	"airpath/trace"
)

// Options of growing. Zero fields take the defaults.
type Options struct {
	Deepest     int     // questions one after the other; 7
	LeastChance float64 // of a node that is still asked about; 0.03
	LeastBits   float64 // that a question must tell; 0.2
	MostNodes   int     // questions in all; 40
	Unit        string  // that figures are written in; psi
}

// Defaults of Options.
const (
	deepest     = 7
	leastChance = 0.03
	leastBits   = 0.2
	mostNodes   = 40
)

// shown is how much of the probability of a leaf is named, and mostShown the number of faults that are.
const (
	shown     = 0.9
	mostShown = 4
)

// settledAt is the probability of the named faults together from which on a leaf is worth acting on by hand.
const settledAt = 0.6

// A Chart is a troubleshooting tree.
type Chart struct {
	Title     string // of the vehicle
	Circuit   string // its name
	Complaint string
	Heard     trace.Complaint
	Findings  []circuit.Finding // what was known before
	Unit      string

	Root    *Node
	Nodes   []*Node // in the order of their numbers, from 1
	Repairs []Repair
	Tests   []*procedure.Procedure // used in it, in the order of the chart
	Limits  []Limit                // published limits of what is read

	Minutes float64 // expected, until a leaf
	Cut     float64 // chance of ending where paper, not reason, sets an end
}

// A Node is a question, or where none is left, a leaf.
type Node struct {
	Number   int
	Chance   float64 // of coming here
	Ask      *trace.Ask
	Branches []Branch
	Leaf     *Leaf
	Limits   []int // numbers of Chart.Limits, for a question
}

// A Branch is an answer.
type Branch struct {
	Words  string
	Chance float64 // of coming here and then going this way
	To     *Node   // nil where End says what to do instead
	End    string
}

// A Leaf says what to confirm and repair.
type Leaf struct {
	Likely        []Likely // in the order in which to try them
	Rest          float64  // probability of the faults that are not named, together
	NoFault       float64
	SomethingElse float64
	Why           string
	Cut           bool // the paper ends here, not the reasoning
	set           string
}

// Likely is one fault of a leaf.
type Likely struct {
	Repair      int // number of Chart.Repairs, from 1
	Probability float64
}

// A Repair is one fault with how it is proven and mended.
type Repair struct {
	Component, Mode, Title, Confirm, Repair string
	Minutes                                 float64
	Cautions                                []string
}

// A Limit is a published bound of a reading of the chart.
type Limit struct {
	Reading, Wanted, Source, Jurisdiction string
}

type growing struct {
	ctx      context.Context
	tracer   *trace.Tracer
	options  Options
	progress func(done, total int)
	chart    *Chart
	asked    int
	settled  float64
}

// Grow a chart from a case: its complaint and its findings, both of which may be missing. progress, where given, hears how
// much of the probability is settled, in parts of a thousand.
func Grow(ctx context.Context, t *trace.Tracer, c *circuit.Circuit, k *circuit.Case, o Options, progress func(done, total int)) (*Chart, error) {
	if o.Deepest == 0 {
		o.Deepest = deepest
	}
	if o.LeastChance == 0 {
		o.LeastChance = leastChance
	}
	if o.LeastBits == 0 {
		o.LeastBits = leastBits
	}
	if o.MostNodes == 0 {
		o.MostNodes = mostNodes
	}
	if o.Unit == "" {
		o.Unit = "psi"
	}
	g := &growing{ctx: ctx, tracer: t, options: o, progress: progress, chart: &Chart{
		Title: c.Title, Circuit: c.Name, Complaint: k.Complaint, Heard: trace.HearComplaint(k.Complaint), Findings: k.Findings, Unit: o.Unit,
	}}
	g.chart.Root = &Node{Chance: 1}
	if err := g.grow(pending{node: g.chart.Root, kase: k}); err != nil {
		return nil, err
	}
	g.chart.Root.tidy()
	g.chart.finish(k.Jurisdiction)
	return g.chart, nil
}

// pending is a node that has yet to be asked about.
type pending struct {
	node  *Node
	kase  *circuit.Case
	done  string // procedure that has just been carried out
	depth int
}

// grow from a node on, the likeliest first, so that the room on the paper goes where most vehicles go.
func (g *growing) grow(root pending) error {
	queue := []pending{root}
	for len(queue) > 0 {
		if err := g.ctx.Err(); err != nil {
			return err
		}
		at := 0
		for i := range queue {
			if queue[i].node.Chance > queue[at].node.Chance*(1+1e-9) {
				at = i
			}
		}
		next := queue[at]
		queue = slices.Delete(queue, at, at+1)
		more, err := g.ask(next)
		if err != nil {
			return err
		}
		queue = append(queue, more...)
	}
	return nil
}

// ask about one node: it becomes a question whose answers are pending, or a leaf.
func (g *growing) ask(p pending) ([]pending, error) {
	in, err := g.tracer.Inquire(g.ctx, p.kase, p.done)
	if err != nil {
		return nil, err
	}
	n := p.node
	rare := p.depth > 0 && n.Chance < g.options.LeastChance
	dull := p.depth > 0 && in.Ask != nil && in.Ask.Bits < g.options.LeastBits
	if in.Stop != "" || rare || dull || p.depth >= g.options.Deepest || g.asked >= g.options.MostNodes {
		n.Leaf = g.leaf(in, in.Stop)
		g.settle(n.Chance)
		return nil, nil
	}
	g.asked++
	n.Ask = in.Ask
	var out []pending
	var rarely []trace.Answer
	for _, a := range in.Ask.Answers {
		share := a.Chance * n.Chance
		if a.Chance < 0.02 || share < g.options.LeastChance/4 {
			rarely = append(rarely, a)
			continue
		}
		next := *p.kase
		next.Findings = slices.Clone(p.kase.Findings)
		for _, f := range a.Findings {
			f.ID = fmt.Sprintf("chart%d", len(next.Findings)+1)
			next.Findings = append(next.Findings, f)
		}
		to := &Node{Chance: share}
		n.Branches = append(n.Branches, Branch{Words: a.Words, Chance: share, To: to})
		out = append(out, pending{to, &next, in.Ask.Procedure.ID, p.depth + 1})
	}
	g.rarely(n, rarely)
	return out, nil
}

// What is done after an answer that hardly anybody gets.
const (
	goOn = "go on with a trace of this case"
	soap = "soap it there, and repair what leaks"
	mend = "repair it there"
)

// foundAt takes an answer of a round apart: "air is heard", "at the governor".
func foundAt(words string) (what, place string) {
	if i := strings.Index(words, " at "); i > 0 {
		return words[:i], words[i+1:]
	}
	return "", words
}

// rarely puts the answers that hardly anybody gets together, before the last one.
func (g *growing) rarely(n *Node, answers []trace.Answer) {
	share := 0.0
	var words []string
	for _, a := range answers {
		share += a.Chance * n.Chance
		_, place := foundAt(a.Words)
		words = append(words, place)
	}
	g.settle(share)
	if len(answers) == 0 || share < g.options.LeastChance/100 {
		return
	}
	b := Branch{Words: "any other result", Chance: share, End: goOn}
	switch {
	case len(n.Ask.Readings) > 1:
		what, _ := foundAt(answers[0].Words)
		b.Words, b.End = what+" "+strings.Join(words, ", or "), mend
		if n.Ask.Readings[0].Sense == procedure.Ear {
			b.End = soap
		}
	case len(answers) == 1:
		b.Words = answers[0].Words
	}
	n.Branches = slices.Insert(n.Branches, max(len(n.Branches)-1, 0), b)
}

func (g *growing) settle(chance float64) {
	g.settled += chance
	if g.progress != nil {
		g.progress(min(int(1000*g.settled), 1000), 1000)
	}
}

// tidy a tree from its leaves up: answers after which the same is done become one, and a question whose answers all lead to the
// same is not worth asking.
func (n *Node) tidy() {
	for _, b := range n.Branches {
		if b.To != nil {
			b.To.tidy()
		}
	}
	n.merge()
	if len(n.Branches) == 1 && n.Branches[0].To != nil && n.Branches[0].To.Leaf != nil {
		n.Ask, n.Leaf, n.Branches = nil, n.Branches[0].To.Leaf, nil
	}
}

// merge answers after which the same is done.
func (n *Node) merge() {
	var out []Branch
	for _, b := range n.Branches {
		at := slices.IndexFunc(out, func(o Branch) bool {
			return o.To != nil && b.To != nil && o.To.Leaf != nil && b.To.Leaf != nil && o.To.Leaf.set == b.To.Leaf.set
		})
		if at < 0 {
			out = append(out, b)
			continue
		}
		o := &out[at]
		o.Words += " or " + b.Words
		o.To.Leaf.join(b.To.Leaf, o.Chance, b.Chance)
		o.Chance += b.Chance
		o.To.Chance += b.To.Chance
	}
	n.Branches = out
}

// join two leaves with the same faults in the same order: their probabilities are weighed by how often each is come to.
func (l *Leaf) join(m *Leaf, a, b float64) {
	mix := func(x, y float64) float64 { return (x*a + y*b) / (a + b) }
	for i := range l.Likely {
		l.Likely[i].Probability = mix(l.Likely[i].Probability, m.Likely[i].Probability)
	}
	l.Rest, l.NoFault, l.SomethingElse = mix(l.Rest, m.Rest), mix(l.NoFault, m.NoFault), mix(l.SomethingElse, m.SomethingElse)
}

// leaf names the faults to confirm, in the order of probability for the work.
func (g *growing) leaf(in *trace.Inquiry, stop string) *Leaf {
	l := &Leaf{NoFault: in.NoFault, SomethingElse: in.SomethingElse, Why: stop}
	named := 0.0 // of what has been found wrong, these faults
	var likely []trace.Standing
	for _, s := range in.Standing {
		if len(likely) == mostShown || named > shown && len(likely) > 0 || s.Probability < 0.02 && len(likely) > 0 {
			continue
		}
		named += s.Probability
		likely = append(likely, s)
	}
	l.Rest = max(0, 1-named-in.NoFault-in.SomethingElse)
	order, _ := trace.RepairOrder(likely)
	for _, i := range order {
		r := g.repair(likely[i])
		l.Likely = append(l.Likely, Likely{r, likely[i].Probability})
		l.set += fmt.Sprintf("%d ", r)
	}
	switch {
	case stop != "":
	case named >= settledAt:
		l.Why = "Further tests pay less than looking at these by hand."
	default:
		l.Cut, l.Why = true, "The paper ends here, not the reasoning: "+goOn+"."
	}
	l.set += fmt.Sprint(l.Cut)
	return l
}

// repair finds the number of a fault's repair, and adds it where it is new.
func (g *growing) repair(s trace.Standing) int {
	at := slices.IndexFunc(g.chart.Repairs, func(r Repair) bool { return r.Component == s.Fault.Target && r.Mode == s.Fault.Mode })
	if at < 0 {
		at = len(g.chart.Repairs)
		g.chart.Repairs = append(g.chart.Repairs, Repair{
			s.Fault.Target, s.Fault.Mode, s.Title, s.Words.Confirm, s.Words.Repair, s.Words.Minutes, s.Words.Cautions,
		})
	}
	return at + 1
}

// finish numbers the nodes in the order in which they are read, and gathers the tests and the limits.
func (c *Chart) finish(jurisdiction string) {
	used := make([]bool, len(c.Repairs)+1)
	var walk func(n *Node)
	walk = func(n *Node) {
		n.Number = len(c.Nodes) + 1
		c.Nodes = append(c.Nodes, n)
		if n.Leaf != nil {
			for _, l := range n.Leaf.Likely {
				used[l.Repair] = true
			}
			if n.Leaf.Cut {
				c.Cut += n.Chance
			}
			return
		}
		c.Minutes += n.Chance * n.Ask.Minutes
		if !slices.Contains(c.Tests, n.Ask.Procedure) {
			c.Tests = append(c.Tests, n.Ask.Procedure)
		}
		for _, r := range n.Ask.Readings {
			for _, l := range r.LimitsIn(jurisdiction) {
				limit := Limit{r.Title, l.Wanted(), l.Source, l.Jurisdiction}
				at := slices.Index(c.Limits, limit)
				if at < 0 {
					at = len(c.Limits)
					c.Limits = append(c.Limits, limit)
				}
				n.Limits = append(n.Limits, at+1)
			}
		}
		for _, b := range n.Branches {
			if b.To != nil {
				walk(b.To)
			} else if b.End == goOn {
				c.Cut += b.Chance
			}
		}
	}
	walk(c.Root)
	c.renumberRepairs(used)
}

// renumberRepairs in the order in which the leaves name them, leaving out those of leaves that were merged away.
func (c *Chart) renumberRepairs(used []bool) {
	number := make([]int, len(used))
	var kept []Repair
	for _, n := range c.Nodes {
		if n.Leaf == nil {
			continue
		}
		for i, l := range n.Leaf.Likely {
			if used[l.Repair] && number[l.Repair] == 0 {
				kept = append(kept, c.Repairs[l.Repair-1])
				number[l.Repair] = len(kept)
			}
			n.Leaf.Likely[i].Repair = number[l.Repair]
		}
	}
	c.Repairs = kept
}
