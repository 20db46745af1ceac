package chart

import (
	"context"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuit/airflow/procedure"
	"airpath/circuits"
	"airpath/trace"
)

var update = flag.Bool("update", false, "write the golden files anew")

var board = sync.OnceValues(func() (*trace.Tracer, error) {
	c, err := circuits.Load("bench_board")
	if err != nil {
		return nil, err
	}
	n, err := airflow.Compile(c)
	if err != nil {
		return nil, err
	}
	return trace.New(n, trace.Options{})
})

func grown(t *testing.T, complaint string) *Chart {
	t.Helper()
	tracer, err := board()
	require.NoError(t, err)
	c, err := circuits.Load("bench_board")
	require.NoError(t, err)
	last, settled := 0, 0
	chart, err := Grow(context.Background(), tracer, c, &circuit.Case{Circuit: "bench_board", Complaint: complaint}, Options{MostNodes: 12}, func(done, total int) {
		assert.GreaterOrEqual(t, done, last, "progress never goes back")
		last, settled = done, total
	})
	require.NoError(t, err)
	assert.Equal(t, 1000, settled)
	assert.GreaterOrEqual(t, last, 980, "all of the probability is settled in the end")
	return chart
}

func TestAChartIsATree(t *testing.T) {
	c := grown(t, "builds air slowly")
	require.NotNil(t, c.Root.Ask, "it begins with a question")
	reached := map[int]int{1: 1}
	for i, n := range c.Nodes {
		require.Equal(t, i+1, n.Number)
		require.True(t, (n.Ask == nil) != (n.Leaf == nil), "a box asks or it tells")
		if n.Leaf != nil {
			total := n.Leaf.Rest + n.Leaf.NoFault + n.Leaf.SomethingElse
			for _, l := range n.Leaf.Likely {
				require.Positive(t, l.Repair)
				require.LessOrEqual(t, l.Repair, len(c.Repairs))
				total += l.Probability
			}
			assert.InDelta(t, 1, total, 0.01, "a leaf accounts for all of the probability")
			continue
		}
		sum := 0.0
		for _, b := range n.Branches {
			sum += b.Chance
			require.True(t, (b.To == nil) != (b.End == ""))
			if b.To != nil {
				reached[b.To.Number]++
			}
		}
		assert.InDelta(t, n.Chance, sum, 0.02*n.Chance+0.002, "box %d: the answers make up all", n.Number)
	}
	for i := range c.Nodes {
		assert.Equal(t, 1, reached[i+1], "box %d has one way to it", i+1)
	}
	assert.Positive(t, c.Minutes)
	for _, r := range c.Repairs {
		assert.NotEmpty(t, r.Confirm, "%s/%s", r.Component, r.Mode)
		assert.NotEmpty(t, r.Repair, "%s/%s", r.Component, r.Mode)
	}
}

// The chart is the tracer's own policy: after the answers on the way to a leaf, a trace of that case has the leaf's first fault
// among its leading suspects.
func TestALeafSaysWhatATraceSays(t *testing.T) {
	tracer, err := board()
	require.NoError(t, err)
	k := &circuit.Case{Circuit: "bench_board", Complaint: "builds air slowly"}
	c := grown(t, k.Complaint)
	n, done := c.Root, 0
	for n.Leaf == nil {
		best := -1
		for i, b := range n.Branches { // the likeliest way
			if b.To != nil && (best < 0 || b.Chance > n.Branches[best].Chance) {
				best = i
			}
		}
		require.GreaterOrEqual(t, best, 0)
		in, err := tracer.Inquire(context.Background(), k, last(k))
		require.NoError(t, err)
		require.NotNil(t, in.Ask)
		require.Equal(t, n.Ask.Procedure.ID, in.Ask.Procedure.ID, "the same question again")
		for _, a := range in.Ask.Answers {
			if a.Words == n.Branches[best].Words {
				for _, f := range a.Findings {
					done++
					f.ID = string(rune('a' + done))
					k.Findings = append(k.Findings, f)
				}
			}
		}
		n = n.Branches[best].To
		if done > 80 {
			break
		}
	}
	require.NotEmpty(t, k.Findings)
	if len(n.Leaf.Likely) == 0 {
		return
	}
	v, err := tracer.Trace(context.Background(), k, nil)
	require.NoError(t, err)
	first := c.Repairs[n.Leaf.Likely[0].Repair-1]
	var leading []string
	for _, s := range v.Suspects[:min(8, len(v.Suspects))] {
		leading = append(leading, s.Fault.Target+"/"+s.Fault.Mode)
	}
	assert.Contains(t, leading, first.Component+"/"+first.Mode)
}

func last(k *circuit.Case) string {
	if n := len(k.Findings); n > 0 {
		return k.Findings[n-1].Procedure
	}
	return ""
}

func TestAChartIsTheSameEveryTime(t *testing.T) {
	a, b := grown(t, "builds air slowly"), grown(t, "builds air slowly")
	assert.Equal(t, a.Text(), b.Text())
	assert.Equal(t, a.Pages().SVG(), b.Pages().SVG())
	x, err := a.Pages().PDF()
	require.NoError(t, err)
	y, err := b.Pages().PDF()
	require.NoError(t, err)
	assert.Equal(t, x, y)
}

func TestGrowingCanBeCancelled(t *testing.T) {
	tracer, err := board()
	require.NoError(t, err)
	c, err := circuits.Load("bench_board")
	require.NoError(t, err)
	ctx, cancel := context.WithCancel(context.Background())
	_, err = Grow(ctx, tracer, c, &circuit.Case{Complaint: "builds air slowly"}, Options{}, func(int, int) { cancel() })
	require.ErrorIs(t, err, context.Canceled)
}

// Everything that a chart must say stands in it.
func TestTheTextIsComplete(t *testing.T) {
	text := grown(t, "builds air slowly").Text()
	for _, s := range procedure.Safety() {
		assert.Contains(t, strings.Join(strings.Fields(text), " "), s)
	}
	for _, want := range []string{"TROUBLESHOOTING CHART: builds air slowly", "weak evidence", "THE CHART", "REPAIRS", "HOW EACH TEST IS DONE", "confirm  ", "repair   ", bounds} {
		assert.Contains(t, text, want)
	}
}

func TestBoxesStayOnTheirPages(t *testing.T) {
	for name, c := range map[string]*Chart{"grown": grown(t, "builds air slowly"), "made": made(12), "wide": made(40)} {
		t.Run(name, func(t *testing.T) {
			p := c.Pages()
			seen := map[int]bool{}
			for page, s := range p.sheets {
				var boxes []*box
				var walk func(b *block)
				walk = func(b *block) {
					boxes = append(boxes, b.box)
					if b.node != nil && b.box.refers == nil {
						seen[b.node.Number] = true
					}
					if r := b.box.refers; r != nil {
						require.Positive(t, p.pageOf[r], "box %d refers to a page", r.Number)
					}
					for _, k := range b.children {
						walk(k)
					}
				}
				for _, r := range s.roots {
					walk(r)
				}
				for i, b := range boxes {
					require.GreaterOrEqual(t, b.x, margin-1e-9)
					require.LessOrEqual(t, b.x+boxWidth, pageWidth-margin+1e-9)
					require.GreaterOrEqual(t, b.y, topEdge-1e-9, "page %d", page+2)
					require.LessOrEqual(t, b.y+b.height(), bottomEdge+1e-9, "page %d", page+2)
					for _, o := range boxes[:i] {
						apart := b.x+boxWidth <= o.x || o.x+boxWidth <= b.x || b.y+b.height() <= o.y+1e-9 || o.y+o.height() <= b.y+1e-9
						require.True(t, apart, "page %d: two boxes overlap", page+2)
					}
				}
			}
			for _, n := range c.Nodes {
				require.True(t, seen[n.Number], "box %d is drawn", n.Number)
			}
		})
	}
}

// made is a chart made by hand, which no change of priors or procedures touches.
func made(leaves int) *Chart {
	c := &Chart{
		Title: "Depot cart: a made-up vehicle", Circuit: "cart", Complaint: "builds air slowly", Heard: trace.HearComplaint("builds air slowly"), Unit: "psi",
		Repairs: []Repair{
			{"pump", "worn", "pump: its rings are worn, so that it gives too little", "Time it.", "Exchange it.", 120, []string{"It is hot."}},
			{"line", "leaking", "line: it leaks at a fitting", "Soap it.", "Renew it.", 20, nil},
		},
	}
	start := &procedure.Start{ID: "empty", Title: "empty, engine off"}
	first := &procedure.Procedure{ID: "fill", Title: "Fill from empty", Start: start}
	time := &procedure.Reading{ID: "time", Title: "time to fill", Form: procedure.Measured, Dimension: circuit.Time}
	round := &procedure.Procedure{ID: "listen", Title: "Listen all round", Start: start}
	here := &procedure.Reading{ID: "hiss", Title: "air is heard at the line", Place: "line", Form: procedure.YesNo}
	there := &procedure.Reading{ID: "hiss", Title: "air is heard at the pump", Place: "pump", Form: procedure.YesNo}
	leaf := func(chance float64, repairs ...int) *Node {
		l := &Leaf{Why: "Further tests pay less than looking at these by hand.", SomethingElse: 0.05}
		for _, r := range repairs {
			l.Likely = append(l.Likely, Likely{r, 0.95 / float64(len(repairs))})
		}
		return &Node{Chance: chance, Leaf: l}
	}
	listen := &Node{Chance: 0.5, Ask: &trace.Ask{Procedure: round, Readings: []*procedure.Reading{here, there}, Minutes: 5}, Branches: []Branch{
		{Words: "air is heard at the line", Chance: 0.3, To: leaf(0.3, 2)},
		{Words: "air is heard at the pump", Chance: 0.02, End: soap},
		{Words: "at none of these places", Chance: 0.18, To: leaf(0.18, 1, 2)},
	}}
	c.Root = &Node{Chance: 1, Ask: &trace.Ask{Procedure: first, Readings: []*procedure.Reading{time}, Minutes: 10}, Branches: []Branch{{Words: "under 60 s", Chance: 0.5, To: listen}}}
	for range leaves {
		c.Root.Branches = append(c.Root.Branches, Branch{Words: "over 60 s", Chance: 0.5 / float64(leaves), To: leaf(0.5/float64(leaves), 1)})
	}
	c.finish("")
	return c
}

// Golden files: go test ./trace/chart -update writes them anew. Look at them before committing.
func TestGolden(t *testing.T) {
	c := made(2)
	for name, data := range map[string][]byte{"made.txt": []byte(c.Text()), "made.svg": c.Pages().SVG()} {
		path := filepath.Join("testdata", name)
		if *update {
			require.NoError(t, os.MkdirAll("testdata", 0o755))
			require.NoError(t, os.WriteFile(path, data, 0o644))
		}
		want, err := os.ReadFile(path)
		require.NoError(t, err)
		assert.Equal(t, string(want), string(data), "%s; go test ./trace/chart -update writes it anew", path)
	}
}
