package airflow

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"airpath/circuit"
	"airpath/circuits"
)

// Any circuit that the checker passes can be followed, with any faults: made of parts drawn from the table of kinds, or a vehicle
// of the library with parts, lines and numbers changed. What is asked is in followAnyCircuit.

// drawParam draws a parameter within its bounds, evenly by ratio where it can't be 0.
func drawParam(t *rapid.T, p circuit.ParamSpec) circuit.Quantity {
	low, high := circuit.MustQuantity(p.Min, p.Dimension).SI, circuit.MustQuantity(p.Max, p.Dimension).SI
	share := rapid.Float64Range(0, 1).Draw(t, p.Name)
	v := low + (high-low)*share
	if low > 0 {
		v = low * math.Pow(high/low, share)
	}
	return circuit.Quantity{Dimension: p.Dimension, Text: "drawn", SI: min(max(v, low), high)}
}

// drawGiven draws some of a component's parameters, and all that a file must give; one that another must lie above stays the
// kind's own.
func drawGiven(t *rapid.T, c *circuit.Component, often int) {
	for _, p := range c.Kind.Params {
		if p.Default != "" && rapid.IntRange(0, often).Draw(t, "given") > 0 {
			continue
		}
		was, had := c.Given[p.Name]
		c.Given[p.Name] = drawParam(t, p)
		if !inOrder(c) {
			if delete(c.Given, p.Name); had {
				c.Given[p.Name] = was
			}
		}
	}
}

func inOrder(c *circuit.Component) bool {
	value := func(name string) (float64, bool) {
		if q, ok := c.Given[name]; ok {
			return q.SI, true
		}
		p, _ := c.Kind.Param(name)
		if p.Default == "" {
			return 0, false
		}
		return circuit.MustQuantity(p.Default, p.Dimension).SI, true
	}
	for _, p := range c.Kind.Params {
		a, known := value(p.Name)
		if p.Below == "" || !known {
			continue
		}
		if b, ok := value(p.Below); ok && a >= b {
			return false
		}
	}
	return true
}

func drawLine(t *rapid.T, id string, from, to circuit.PortRef) *circuit.Line {
	return &circuit.Line{
		ID: id, Name: id, Type: rapid.SampledFrom([]circuit.LineType{"tube", "hose"}).Draw(t, "type"), From: from, To: to,
		Length: circuit.Quantity{Dimension: circuit.Length, SI: math.Pow(10, rapid.Float64Range(-2, 2).Draw(t, "log length"))},
		Bore:   circuit.Quantity{Dimension: circuit.Length, SI: 1e-3 * math.Pow(60, rapid.Float64Range(0, 1).Draw(t, "log bore"))},
	}
}

func freePorts(c *circuit.Circuit, part *circuit.Component) (ports []circuit.PortRef) {
	for _, p := range part.Kind.Ports {
		ref := circuit.PortRef{Component: part.ID, Port: p.Name}
		if p.Medium == circuit.Air && !p.Vent && c.LineAt(ref) == nil {
			ports = append(ports, ref)
		}
	}
	return ports
}

// drawCircuit grows a tree of parts from a compressor, then joins some of the ports that are left.
func drawCircuit(t *rapid.T) *circuit.Circuit {
	c := &circuit.Circuit{Name: "drawn", Title: "drawn", Class: "truck", Engine: circuit.Engine{
		Idle:  circuit.Quantity{Dimension: circuit.Speed, SI: 600.0 / 60},
		Rated: circuit.Quantity{Dimension: circuit.Speed, SI: 2000.0 / 60},
	}, Sheet: circuit.Sheet{Width: 500, Height: 500}}
	kinds := circuit.Kinds()
	add := func(k *circuit.Kind) *circuit.Component {
		i := len(c.Components)
		part := &circuit.Component{ID: fmt.Sprintf("part_%d", i), Name: "part", Kind: k, Place: "board", Given: map[string]circuit.Quantity{},
			At: circuit.Point{X: float64(10 + 20*(i%20)), Y: float64(10 + 20*(i/20))}}
		drawGiven(t, part, 3)
		c.Components = append(c.Components, part)
		return part
	}
	join := func(a, b circuit.PortRef) {
		c.Lines = append(c.Lines, drawLine(t, fmt.Sprintf("line_%d", len(c.Lines)), a, b))
	}
	open := func() (all []circuit.PortRef) {
		for _, part := range c.Components {
			all = append(all, freePorts(c, part)...)
		}
		return all
	}
	source, err := circuit.KindNamed("compressor")
	require.NoError(t, err)
	add(source)
	for range rapid.IntRange(1, 14).Draw(t, "parts") {
		before := open()
		ports := freePorts(c, add(rapid.SampledFrom(kinds).Draw(t, "kind")))
		if len(before) > 0 && len(ports) > 0 {
			join(rapid.SampledFrom(before).Draw(t, "from"), rapid.SampledFrom(ports).Draw(t, "to"))
		}
	}
	for range rapid.IntRange(0, 6).Draw(t, "more lines") {
		if left := open(); len(left) > 1 {
			a := rapid.SampledFrom(left).Draw(t, "from")
			if b := rapid.SampledFrom(left).Draw(t, "to"); a.Component != b.Component {
				join(a, b)
			}
		}
	}
	return c
}

// spoil changes numbers, drops parts and lines, and turns lines round.
func spoil(t *rapid.T, c *circuit.Circuit) {
	c.Vehicle = circuit.Vehicle{} // which brakes are on which axle is no matter of air
	for range rapid.IntRange(0, 8).Draw(t, "numbers") {
		drawGiven(t, rapid.SampledFrom(c.Components).Draw(t, "part"), 1)
	}
	air := func(l *circuit.Line) bool { return l.Type.Medium() == circuit.Air }
	for i, l := range c.Lines {
		if !air(l) {
			continue
		}
		switch rapid.IntRange(0, 11).Draw(t, "line") {
		case 0:
			c.Lines[i] = drawLine(t, l.ID, l.From, l.To)
		case 1:
			c.Lines[i] = drawLine(t, l.ID, l.To, l.From)
		}
	}
	for range rapid.IntRange(0, 3).Draw(t, "lines off") {
		i := rapid.IntRange(0, len(c.Lines)-1).Draw(t, "line")
		c.Lines = slices.Delete(c.Lines, i, i+1)
	}
	for range rapid.IntRange(0, 2).Draw(t, "parts off") {
		i := rapid.IntRange(0, len(c.Components)-1).Draw(t, "part")
		id := c.Components[i].ID
		c.Components = slices.Delete(c.Components, i, i+1)
		c.Lines = slices.DeleteFunc(c.Lines, func(l *circuit.Line) bool { return l.From.Component == id || l.To.Component == id })
	}
}

// mostTries that a vehicle may need for each second that goes by, or each time that a hand is put to it, on average. A valve that
// truly sings costs about this.
const mostTries = 1000

// followAnyCircuit puts random faults of random severity, several at once, into a circuit, and drives it about. No panic, no NaN,
// no room with less air than none, mass kept, bounded work, the same again in every bit; and if it should be beyond the
// solver, that is said with component and time.
func followAnyCircuit(t *rapid.T, c *circuit.Circuit) {
	require.Empty(t, circuit.Check(c).Errors(), "a circuit that the checker passes")
	n, err := Compile(c)
	require.NoError(t, err)
	var faults []Fault
	if all := Catalogue(c); len(all) > 0 {
		for range rapid.IntRange(0, 4).Draw(t, "faults") {
			f := rapid.SampledFrom(all).Draw(t, "fault")
			mode, err := ModeOf(c, f)
			require.NoError(t, err)
			s := mode.Severity
			f.Severity = s.Mild + (s.Severe-s.Mild)*rapid.Float64Range(0, 1).Draw(t, "severity")
			if !slices.ContainsFunc(faults, func(g Fault) bool { return g.Target == f.Target && g.Mode == f.Mode }) {
				faults = append(faults, f)
			}
		}
	}
	r, err := n.Start(faults, Scatter{})
	if err != nil {
		t.Skip("faults that contradict each other are refused in words: ", err)
	}
	again, err := n.Start(faults, Scatter{})
	require.NoError(t, err)
	start, hands, most := r.Mass(), 1, r.Mass()
	var moves strings.Builder
	for range rapid.IntRange(1, 8).Draw(t, "moves") {
		k := rapid.IntRange(0, len(n.plan.controls)-1).Draw(t, "control")
		ctl := &n.plan.controls[k]
		to, over := rapid.Float64Range(0, 1).Draw(t, "to"), rapid.SampledFrom([]float64{0, 0.1, 1}).Draw(t, "over")
		seconds := rapid.SampledFrom([]float64{0.1, 2, 30, 300}).Draw(t, "seconds")
		for _, run := range []*Run{r, again} {
			require.NoError(t, run.Set(Engine, 2000.0/60, 1))
			if ctl.name != Engine {
				require.NoError(t, run.Set(ctl.name, to*ctl.max, over))
			}
			err = run.Advance(seconds)
		}
		hands++
		fmt.Fprintf(&moves, "move %s %v %v %v\n", ctl.name, to*ctl.max, over, seconds)
		require.Equal(t, state(r), state(again), "the same again")
		var failure *Failure
		if errors.As(err, &failure) {
			require.NotEmpty(t, failure.Where)
			require.NotEqual(t, "no room", failure.Where)
			t.Fatalf("beyond the solver: %v\n%s%s%s", err, told(c), toldFaults(faults), &moves)
		}
		require.NoError(t, err)
		for _, name := range n.Rooms() {
			p, k := r.Pressure(name), r.Temperature(name)
			require.True(t, p > 0 && p < 1e8 && k > 20 && k < 5000, "%s: %g Pa, %g K after %g s\n%s%s%s", name, p, k, r.Time(), told(c), toldFaults(faults), &moves)
		}
		most = max(most, r.Mass())
		require.InDelta(t, start, r.Mass()+r.Vented(), 1e-9*most+1e-11*r.Pumped())
		tried, _ := r.Tries()
		require.Less(t, float64(tried), mostTries*(r.Time()+10*float64(hands)), "%g s, mostly at %s:\n%s%s%s", r.Time(), r.roomOf(busiest(r)), told(c), toldFaults(faults), &moves)
	}
}

// busiest is the unknown that holds the steps short just now.
func busiest(r *Run) int {
	_, worst := r.s.step(10*r.h, r.t-r.segment)
	return worst
}

func TestAnyCircuitOfTheKinds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) { followAnyCircuit(t, drawCircuit(t)) })
}

func TestAnyEditOfTheLibrary(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, err := circuits.Load(rapid.SampledFrom(circuits.Names()).Draw(t, "vehicle"))
		require.NoError(t, err)
		spoil(t, c)
		followAnyCircuit(t, c)
	})
}
