package airflow

import (
	"testing"

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
