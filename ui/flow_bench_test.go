package ui

import (
	"image"
	"testing"
	"time"

	"gioui.org/gpu/headless"
	"github.com/stretchr/testify/require"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuits"
	"airpath/ui/engine"
	"airpath/ui/flow"
)

// replay is a vehicle whose frames have been worked out before: what is measured is the window alone.
type replay struct {
	frames []*engine.Frame
	at     int
	still  *engine.Still
}

func (r *replay) Frame() *engine.Frame { return r.frames[r.at%len(r.frames)] }

func (r *replay) Do(deed func(*engine.Worked)) { r.still.Do(deed) }

func (r *replay) Close() {}

// busy is the largest vehicle of the library while much happens: released, building up, the pedal going down and up.
func busy(t testing.TB) func(*circuit.Circuit, func()) flow.Vehicle {
	c, err := circuits.Load("tractor_trailer")
	require.NoError(t, err)
	n, err := airflow.Compile(c)
	require.NoError(t, err)
	s, err := engine.NewStill(n)
	require.NoError(t, err)
	r := &replay{still: s}
	now := time.Unix(0, 0)
	s.Do(func(w *engine.Worked) {
		w.Set("knob", 1, 0, now, "released")
		w.Set(airflow.Engine, c.Engine.Rated.SI, 0, now, "engine")
		w.Advance(20, time.Time{})
		w.Play(true)
	})
	for i := range 300 {
		switch i % 60 {
		case 0:
			s.Do(func(w *engine.Worked) { w.Set("pedal", 0.7, 0.3, now, "down") })
		case 30:
			s.Do(func(w *engine.Worked) { w.Set("pedal", 0, 0.3, now, "up") })
		}
		s.Tick(33 * time.Millisecond)
		r.frames = append(r.frames, s.Frame())
	}
	return func(*circuit.Circuit, func()) flow.Vehicle { return r }
}

// BenchmarkFlowFrame records frames of Flow on the largest vehicle while it is worked: the processor's side.
func BenchmarkFlowFrame(b *testing.B) {
	vehicle := busy(b)
	for _, c := range []struct {
		name string
		size image.Point
	}{{"1280x800", image.Pt(1280, 800)}, {"3840x2160", image.Pt(3840, 2160)}} {
		b.Run(c.name, func(b *testing.B) {
			h := newHarness(b, Options{Size: c.size, Path: "tractor_trailer", Area: "Flow", Vehicle: vehicle})
			r := vehicle(nil, nil).(*replay)
			b.ReportAllocs()
			for b.Loop() {
				r.at++
				h.frame()
			}
			b.StopTimer()
			b.ReportMetric(most(300, func() { r.at++; h.frame() }), "allocs/worst")
		})
	}
}

// BenchmarkFlowDrawn draws them as well, with whatever driver there is; under Mesa without a graphics card that is the
// slowest machine that a workshop has.
func BenchmarkFlowDrawn(b *testing.B) {
	vehicle := busy(b)
	for _, c := range []struct {
		name string
		size image.Point
	}{{"1280x800", image.Pt(1280, 800)}, {"3840x2160", image.Pt(3840, 2160)}} {
		b.Run(c.name, func(b *testing.B) {
			screen, err := headless.NewWindow(c.size.X, c.size.Y)
			if err != nil {
				b.Skipf("nothing can be drawn here: %v; run it with EGL_PLATFORM=surfaceless and Mesa", err)
			}
			defer screen.Release()
			h := newHarness(b, Options{Size: c.size, Path: "tractor_trailer", Area: "Flow", Vehicle: vehicle})
			r := vehicle(nil, nil).(*replay)
			one := image.NewRGBA(image.Rect(0, 0, 1, 1))
			draw := func() {
				r.at++
				h.frame()
				if err := screen.Frame(&h.ops); err != nil {
					b.Fatal(err)
				}
				if err := screen.Screenshot(one); err != nil { // waits until it is drawn
					b.Fatal(err)
				}
			}
			for range 45 { // as in Trace: everything that can be seen has been drawn once
				draw()
			}
			spent := processor(b)
			for b.Loop() {
				draw()
			}
			b.ReportMetric((processor(b)-spent)/float64(b.N), "cpu-ms/op")
		})
	}
}
