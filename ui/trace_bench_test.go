package ui

import (
	"image"
	"math"
	"runtime"
	"testing"

	"gioui.org/f32"
	"gioui.org/gpu/headless"
	"gioui.org/io/pointer"

	"airpath/circuit"
)

// largest is the largest vehicle of the library.
const largest = "tractor_trailer"

// A use is something done with the sheet of the largest vehicle, one frame after the other.
type use struct {
	name string
	opts Options
	step func(h *harness, i int)

	density float32 // pixels to a dp; 0 is one
}

// uses of Trace: still, the pointer going over the sheet, the sheet being moved, zoomed.
func uses() []use {
	opts := Options{Path: largest}
	return []use{
		{name: "still", opts: opts, step: func(*harness, int) {}},
		{name: "hover", opts: opts, step: func(h *harness, i int) {
			t := float64(i) / 20
			w, v := float64(h.size.X)*0.3, float64(h.size.Y)*0.45
			at := f32.Pt(float32(w+w*0.9*math.Sin(t)), float32(v+v*0.7*math.Cos(1.7*t)))
			h.router.Queue(pointer.Event{Kind: pointer.Move, Source: pointer.Mouse, Position: at})
		}},
		{name: "pan", opts: opts, step: func(h *harness, i int) {
			by := image.Pt(7, 3)
			if i/20%2 == 1 {
				by = by.Mul(-1)
			}
			h.shell.area.Pan(by)
		}},
		{name: "zoom", opts: opts, step: func(h *harness, i int) {
			factor := 1.05
			if i/20%2 == 1 {
				factor = 1 / factor
			}
			h.shell.area.Zoom(factor)
		}},
	}
}

// benchHarness has what a technician has on the sheet: a limit broken, suspects, a lit path.
func benchHarness(b *testing.B, u use, size image.Point) *harness {
	u.opts.Size = size
	h := newHarness(b, u.opts)
	h.density = u.density
	if err := h.shell.session.Enter(circuit.Finding{Procedure: "build-up-85-100", Reading: "time", Result: circuit.Result{Kind: circuit.Number, Text: "70 s"}}); err != nil {
		b.Fatal(err)
	}
	h.settle()
	h.key("J", 0)
	for i := range 45 { // everything that can be seen has been drawn once
		u.step(h, i)
		h.frame()
	}
	return h
}

// BenchmarkTraceFrame is the processor's side of a frame of Trace with the largest vehicle: recording and layout.
func BenchmarkTraceFrame(b *testing.B) {
	for _, u := range uses() {
		b.Run(u.name, func(b *testing.B) {
			h := benchHarness(b, u, image.Pt(1280, 800))
			b.ReportAllocs()
			i := 0
			for b.Loop() {
				u.step(h, i)
				h.frame()
				i++
			}
			b.StopTimer()
			b.ReportMetric(most(300, func() {
				u.step(h, i)
				h.frame()
				i++
			}), "allocs/worst")
		})
	}
}

// most allocations that one of several frames makes.
func most(frames int, frame func()) float64 {
	var before, after runtime.MemStats
	worst := uint64(0)
	for range frames {
		runtime.ReadMemStats(&before)
		frame()
		runtime.ReadMemStats(&after)
		worst = max(worst, after.Mallocs-before.Mallocs)
	}
	return float64(worst)
}

// BenchmarkTraceDrawn draws the frames as well, each to its end, with whatever driver there is. cpu-ms is what all processors together
// spent on a frame, which other work on the machine does not lengthen.
func BenchmarkTraceDrawn(b *testing.B) {
	one := image.NewRGBA(image.Rect(0, 0, 1, 1))
	for _, u := range uses() {
		b.Run(u.name, func(b *testing.B) {
			h := benchHarness(b, u, image.Pt(1280, 800))
			screen := newScreenFor(b, h.size)
			i := 0
			spent := processor(b)
			for b.Loop() {
				u.step(h, i)
				i++
				h.frame()
				if err := screen.Frame(&h.ops); err != nil {
					b.Fatal(err)
				}
				if err := screen.Screenshot(one); err != nil { // waits until it is drawn
					b.Fatal(err)
				}
			}
			b.ReportMetric((processor(b)-spent)/float64(b.N), "cpu-ms/op")
		})
	}
}

// newScreenFor is somewhere to draw; without a driver the benchmark is left out, in words.
func newScreenFor(b testing.TB, size image.Point) *headless.Window {
	screen, err := headless.NewWindow(size.X, size.Y)
	if err != nil {
		b.Skipf("nothing can be drawn here: %v; run it with EGL_PLATFORM=surfaceless and Mesa (Debian package libgl1-mesa-dri)", err)
	}
	b.Cleanup(screen.Release)
	return screen
}
