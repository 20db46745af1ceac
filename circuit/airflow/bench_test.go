package airflow

import (
	"fmt"
	"testing"

	"airpath/circuit"
	"airpath/circuits"
)

// truckNetwork is the library's two-axle truck, compiled.
func truckNetwork(tb testing.TB) *Network {
	tb.Helper()
	c, err := circuits.Load("gritter")
	if err != nil {
		tb.Fatal(err)
	}
	n, err := Compile(c)
	if err != nil {
		tb.Fatal(err)
	}
	return n
}

// chargeUp builds a vehicle up at rated speed with the park released, to beyond its first cut-out.
func chargeUp(tb testing.TB, r *Run) {
	tb.Helper()
	setControl(tb, r, Key, 1, 0)
	setControl(tb, r, Engine, r.network.Circuit().Engine.Rated.SI, 1)
	if fired, err := r.Until(600, Event{Latch: "governor.cutout", Value: true}); err != nil || !fired {
		tb.Fatal(fired, err)
	}
	if err := r.Advance(20); err != nil {
		tb.Fatal(err)
	}
}

func setControl(tb testing.TB, r *Run, control string, value, over float64) {
	tb.Helper()
	if err := r.Set(control, value, over); err != nil {
		tb.Fatal(err)
	}
}

// One build-up of the whole truck from empty to cut-out, beginning with the edit of the numbers.
func BenchmarkBuildUpFromEmpty(b *testing.B) {
	n := truckNetwork(b)
	r, err := n.Start(nil, Scatter{})
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	tries := 0
	for b.Loop() {
		if err := r.Restart(nil, Scatter{}); err != nil {
			b.Fatal(err)
		}
		setControl(b, r, Engine, n.Circuit().Engine.Rated.SI, 1)
		if fired, err := r.Until(600, Event{Latch: "governor.cutout", Value: true}); err != nil || !fired {
			b.Fatal(fired, err)
		}
		n, _ := r.Tries()
		tries += n
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(tries), "ns/try")
}

// A full application and release on a charged truck: the stiffest thing that it does. Reports the cost of one try.
func BenchmarkApplication(b *testing.B) {
	n := truckNetwork(b)
	r, err := n.Start(nil, Scatter{})
	if err != nil {
		b.Fatal(err)
	}
	chargeUp(b, r)
	setControl(b, r, Engine, 0, 1)
	if err := r.Advance(5); err != nil {
		b.Fatal(err)
	}
	charged := r.Snapshot()
	b.ReportAllocs()
	before, _ := r.Tries()
	for b.Loop() {
		r.Restore(charged)
		setControl(b, r, "pedal", 1, 0.1)
		if err := r.Advance(2); err != nil {
			b.Fatal(err)
		}
		setControl(b, r, "pedal", 0, 0.1)
		if err := r.Advance(2); err != nil {
			b.Fatal(err)
		}
	}
	after, _ := r.Tries()
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(after-before), "ns/try")
}

// The two costs of a run that are not steps: making one, and putting one back to the beginning.
func BenchmarkRestart(b *testing.B) {
	n := truckNetwork(b)
	r, err := n.Start(nil, Scatter{})
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if err := r.Restart(nil, Scatter{}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkCompile(b *testing.B) {
	c, err := circuits.Load("gritter")
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := Compile(c); err != nil {
			b.Fatal(err)
		}
	}
}

// The price of one step on a bare network of 60 isothermal rooms and 80 elements, a quarter of them valves.
func BenchmarkStep60(b *testing.B) {
	d := newBoard()
	rooms := make([]int32, 60)
	for i := range rooms {
		rooms[i] = d.room(fmt.Sprintf("room %d", i), []float64{1e-5, 1e-4, 2e-3, 2e-2}[i%4])
		if i == 0 {
			continue
		}
		from := rooms[(i*7)%i]
		o := open
		if i%4 == 0 { // a check valve
			o = opening{base: -1, low: 0, high: 1, terms: []term{{roomTerm, from, 1 / circuit.PSI}, {roomTerm, rooms[i], -1 / circuit.PSI}}}
		}
		d.pass(fmt.Sprintf("line %d", i), from, rooms[i], 1+float64(i%9), 0.3, o)
		if i%3 == 0 {
			d.pass(fmt.Sprintf("leak %d", i), rooms[i], outside, 0.01, 0.5, open)
		}
	}
	r, err := newNetwork(d.p).Start(nil, Scatter{})
	if err != nil {
		b.Fatal(err)
	}
	if err := r.Fill("room 0", atPSI(120)); err != nil {
		b.Fatal(err)
	}
	if err := r.Advance(0.5); err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		r.s.begin(0)
		if e, _ := r.s.step(0.01, 0); e < 0 {
			b.Fatal(e)
		}
	}
}
