package airflow

import (
	"fmt"
	"maps"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"airpath/circuit"
	"airpath/circuits"
)

// chainOf is a vehicle of many axles, ten parts each: a tee in the supply and one in the control line, a reservoir with its drain, a
// relay, two chambers, two slack adjusters and a gauge. The first axle has the compressor's place: a large tank feeds it. Apart, each
// axle has a tank and a foot valve of its own, and nothing to do with the others.
func chainOf(tb testing.TB, axles int, apart bool) *circuit.Circuit {
	tb.Helper()
	gritter, err := circuits.Load("gritter") // has the numbers of its parts
	require.NoError(tb, err)
	c := &circuit.Circuit{Name: "chain", Class: "truck"}
	add := func(id, kind string, given map[string]string) {
		k, err := circuit.KindNamed(kind)
		require.NoError(tb, err)
		part := &circuit.Component{ID: id, Name: id, Kind: k, Place: "board", Given: map[string]circuit.Quantity{}}
		if i := slices.IndexFunc(gritter.Components, func(c *circuit.Component) bool { return c.Kind == k }); i >= 0 {
			part.Given = maps.Clone(gritter.Components[i].Given)
		}
		for name, text := range given {
			p, ok := k.Param(name)
			require.True(tb, ok, "%s of %s", name, kind)
			q, err := circuit.ParseQuantity(text, p.Dimension)
			require.NoError(tb, err)
			part.Given[name] = q
		}
		c.Components = append(c.Components, part)
	}
	join := func(from, fromPort, to, toPort, length, bore string) {
		l, err := circuit.ParseQuantity(length, circuit.Length)
		require.NoError(tb, err)
		b, err := circuit.ParseQuantity(bore, circuit.Length)
		require.NoError(tb, err)
		c.Lines = append(c.Lines, &circuit.Line{
			ID: fmt.Sprintf("line_%d", len(c.Lines)), Name: "line", Type: "tube", Length: l, Bore: b,
			From: circuit.PortRef{Component: from, Port: fromPort}, To: circuit.PortRef{Component: to, Port: toPort},
		})
	}
	var supply, supplyPort, control, controlPort string
	for i := range axles {
		id := func(part string) string { return fmt.Sprintf("%s_%d", part, i) }
		if apart || i == 0 {
			add(id("source"), "reservoir", map[string]string{"volume": "200 L"})
			add(id("foot_valve"), "foot-valve", nil)
			join(id("source"), "21", id("foot_valve"), "11", "1 m", "12 mm")
			supply, supplyPort, control, controlPort = id("source"), "22", id("foot_valve"), "21"
		}
		add(id("supply"), "tee", nil)
		add(id("control"), "tee", nil)
		add(id("tank"), "reservoir", map[string]string{"volume": "20 L"})
		add(id("drain"), "drain-valve", nil)
		add(id("relay"), "relay-valve", nil)
		add(id("gauge"), "gauge", nil)
		join(supply, supplyPort, id("supply"), "a", "2 m", "12 mm")
		join(id("supply"), "b", id("tank"), "11", "0.5 m", "12 mm")
		join(control, controlPort, id("control"), "a", "2 m", "8 mm")
		join(id("control"), "b", id("relay"), "4", "0.5 m", "8 mm")
		join(id("tank"), "21", id("relay"), "1", "1 m", "12 mm")
		join(id("tank"), "31", id("drain"), "1", "0.1 m", "8 mm")
		join(id("tank"), "22", id("gauge"), "1", "1 m", "4 mm")
		for k, side := range []string{"left", "right"} {
			add(id(side), "service-chamber", nil)
			add(id(side+"_slack"), "slack-adjuster", nil)
			join(id("relay"), []string{"21", "22"}[k], id(side), "1", "1 m", "10 mm")
		}
		supply, supplyPort, control, controlPort = id("supply"), "c", id("control"), "c"
	}
	return c
}

// What one transient costs by the size of the vehicle, in ns for each component and each try of a step: an application and its
// release, of three seconds each, on 4 to 400 axles (40 to 4,000 components), one behind the other and apart from each other. Linear is
// where ns/try/component stays the same.
//
// Apart, the tries stay the same: nothing is lost by one measure of the error for all. One behind the other they grow, and with them
// the cost of a component, because the pressure comes to one axle after the other (reached says how many relays have opened), each
// of which does what the first has done when that is long over; all others take its steps along.
func BenchmarkChainedAxles(b *testing.B) {
	for _, apart := range []bool{false, true} {
		for _, axles := range []int{4, 40, 400} {
			name := map[bool]string{false: "chained", true: "apart"}[apart]
			b.Run(fmt.Sprintf("%s/axles=%d", name, axles), func(b *testing.B) {
				c := chainOf(b, axles, apart)
				n, err := Compile(c)
				require.NoError(b, err)
				r, err := n.Start(nil, Scatter{})
				require.NoError(b, err)
				for _, room := range n.Rooms() {
					if n.plan.rooms[n.plan.roomIndex[room]].thermal {
						require.NoError(b, r.Fill(room, atPSI(110)))
					}
				}
				require.NoError(b, r.Advance(60))
				charged := r.Snapshot()
				b.ReportAllocs()
				before, _ := r.Tries()
				reached := 0
				for b.Loop() {
					r.Restore(charged)
					setControl(b, r, "pedal", 0.6, 0.2)
					require.NoError(b, r.Advance(3))
					reached = 0
					for i := range axles {
						if r.Pressure(fmt.Sprintf("left_%d.service", i)) > atPSI(5) {
							reached++
						}
					}
					setControl(b, r, "pedal", 0, 0.2)
					require.NoError(b, r.Advance(3))
				}
				after, _ := r.Tries()
				tries, parts := float64(after-before), float64(len(c.Components))
				b.ReportMetric(float64(b.Elapsed().Nanoseconds())/tries/parts, "ns/try/component")
				b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/parts, "ns/op/component")
				b.ReportMetric(tries/float64(b.N), "tries/op")
				b.ReportMetric(float64(reached), "reached")
			})
		}
	}
}

// Compiling too must not be worse than in proportion, or a long vehicle could not be opened.
func BenchmarkCompileChainedAxles(b *testing.B) {
	for _, axles := range []int{4, 40, 400} {
		b.Run(fmt.Sprintf("axles=%d", axles), func(b *testing.B) {
			c := chainOf(b, axles, false)
			for b.Loop() {
				if _, err := Compile(c); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(len(c.Components)), "ns/op/component")
		})
	}
}
