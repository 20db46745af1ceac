package ui

import (
	"fmt"
	"image"
	"image/color"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"gioui.org/f32"
	"gioui.org/op"
	"gioui.org/op/clip"
	"gioui.org/op/paint"
)

// BenchmarkGPU is what a frame takes at 3840 by 2160 where a graphics card draws.
//
// headless is the toolkit's headless renderer as it stands, which takes up its context anew for every call, on a thread of its own: an
// empty frame tells what that alone costs. The others hold the context on one thread, as a window does: an empty frame, the window
// on a screen of one pixel to a dp, where most is to be seen, and on a dense one, and, to tell what is dear, a good number of each of
// the things that frames are made of.
//
// ms/frame is as a window draws: frames are handed over one after the other, and only at the end is the card waited for. ms/alone is
// the middle, ms/slowest the slowest, of thirty that were waited for one by one. record-ms is the part of ms/frame in which the window says
// what to draw, and card-ms what the card itself was at work, where the driver tells.
//
// Build it with go test -c ./ui and run it where the card is: ./ui.test -test.run='^$' -test.bench=BenchmarkGPU -test.benchtime=60x
func BenchmarkGPU(b *testing.B) {
	size := image.Pt(3840, 2160)
	empty := func(int) *op.Ops { return new(op.Ops) }
	trace := onCard(b, size, use{opts: Options{Path: largest}, step: func(*harness, int) {}})
	headlessly := func(b *testing.B, draw func(int) *op.Ops) {
		timeFrames(b, thrown{newScreenFor(b, size), image.NewRGBA(image.Rect(0, 0, 1, 1))}, draw)
	}
	inWindow := func(b *testing.B, draw func(int) *op.Ops) {
		s, err := newHeld(size)
		if err != nil {
			b.Skipf("no context of our own: %v", err)
		}
		defer s.release()
		timeFrames(b, s, draw)
	}
	b.Run("headless/empty", func(b *testing.B) { headlessly(b, empty) })
	b.Run("headless/still", func(b *testing.B) { headlessly(b, trace(1, func(*harness, int) {})) })
	b.Run("empty", func(b *testing.B) { inWindow(b, empty) })
	for _, density := range []float32{1, 2} {
		for _, u := range uses() {
			b.Run(fmt.Sprintf("%s/density=%g", u.name, density), func(b *testing.B) { inWindow(b, trace(density, u.step)) })
		}
	}
	vehicle := busy(b)
	flow := onCard(b, size, use{opts: Options{Path: largest, Area: "Flow", Vehicle: vehicle}, step: func(*harness, int) {}})
	for _, density := range []float32{1, 2} {
		b.Run(fmt.Sprintf("flow/density=%g", density), func(b *testing.B) {
			inWindow(b, flow(density, func(*harness, int) { vehicle(nil, nil).(*replay).at++ }))
		})
	}
	for _, p := range parts() {
		b.Run("part/"+p.name, func(b *testing.B) {
			var ops op.Ops
			inWindow(b, func(i int) *op.Ops {
				ops.Reset()
				p.draw(&ops)
				return &ops
			})
		})
	}
}

// onCard prepares the window once, and gives what draws a use of it at a density.
func onCard(b *testing.B, size image.Point, u use) func(density float32, step func(*harness, int)) func(int) *op.Ops {
	h := benchHarness(b, u, size)
	return func(density float32, step func(*harness, int)) func(int) *op.Ops {
		h.density = density
		return func(i int) *op.Ops {
			step(h, i)
			h.frame()
			return &h.ops
		}
	}
}

func timeFrames(b *testing.B, s surface, draw func(int) *op.Ops) {
	ms := func(d time.Duration) float64 { return d.Seconds() * 1000 }
	var recording time.Duration
	i := 0
	frame := func() {
		begun := time.Now()
		ops := draw(i)
		i++
		recording += time.Since(begun)
		if err := s.frame(ops); err != nil {
			b.Fatal(err)
		}
	}
	wait := func() {
		if err := s.wait(); err != nil {
			b.Fatal(err)
		}
	}
	for range 30 { // pictures and paths go to the card once
		frame()
	}
	wait()
	if b.N == 1 { // package testing tries one frame first
		return
	}
	alone := make([]time.Duration, 30)
	for k := range alone {
		begun := time.Now()
		frame()
		wait()
		alone[k] = time.Since(begun)
	}
	slices.Sort(alone)
	card, _ := s.(*held)
	counted := card != nil && card.spent != nil
	if counted {
		card.begin()
	}
	recording = 0
	b.ResetTimer()
	for range b.N {
		frame()
	}
	if counted {
		card.end()
	}
	wait()
	b.StopTimer()
	n := float64(b.N)
	if counted {
		b.ReportMetric(ms(card.spent())/n, "card-ms")
	}
	b.ReportMetric(ms(b.Elapsed())/n, "ms/frame")
	b.ReportMetric(ms(recording)/n, "record-ms")
	b.ReportMetric(ms(alone[15]), "ms/alone")
	b.ReportMetric(ms(alone[29]), "ms/slowest")
	b.ReportMetric(0, "ns/op")
	b.Logf("drawn by %s", driver())
}

// A part is many of one thing that frames are made of.
type part struct {
	name string
	draw func(*op.Ops)
}

func parts() []part {
	at := func(i int) image.Point { return image.Pt(i%60*60, i/60*60) }
	rect := func(ops *op.Ops, r image.Rectangle) {
		paint.FillShape(ops, color.NRGBA{R: 80, A: 255}, clip.Rect(r).Op())
	}
	outline := func(ops *op.Ops, side float32) clip.PathSpec {
		var p clip.Path
		p.Begin(ops)
		for k := range 8 {
			p.MoveTo(f32.Pt(0, float32(k)*side/8))
			p.LineTo(f32.Pt(side, float32(k)*side/8))
			p.LineTo(f32.Pt(side, float32(k)*side/8+2))
			p.Close()
		}
		return p.End()
	}
	var kept op.Ops
	m := op.Record(&kept)
	paint.FillShape(&kept, color.NRGBA{G: 80, A: 255}, clip.Outline{Path: outline(&kept, 40)}.Op())
	shape := m.Stop()
	small := paint.NewImageOp(image.NewRGBA(image.Rect(0, 0, 48, 20)))
	whole := paint.NewImageOp(image.NewRGBA(image.Rect(0, 0, 3840, 2160)))
	picture := func(ops *op.Ops, p paint.ImageOp, at image.Point) {
		defer op.Offset(at).Push(ops).Pop()
		p.Add(ops)
		paint.PaintOp{}.Add(ops)
	}
	return []part{
		{"1000 rectangles", func(ops *op.Ops) {
			for i := range 1000 {
				rect(ops, image.Rectangle{Min: at(i), Max: at(i).Add(image.Pt(40, 2))})
			}
		}},
		{"1000 pictures", func(ops *op.Ops) {
			for i := range 1000 {
				picture(ops, small, at(i))
			}
		}},
		{"300 outlines kept", func(ops *op.Ops) {
			for i := range 300 {
				o := op.Offset(at(i)).Push(ops)
				shape.Add(ops)
				o.Pop()
			}
		}},
		{"30 outlines new", func(ops *op.Ops) {
			for i := range 30 {
				o := op.Offset(at(i)).Push(ops)
				paint.FillShape(ops, color.NRGBA{G: 80, A: 255}, clip.Outline{Path: outline(ops, 40)}.Op())
				o.Pop()
			}
		}},
		{"10 outlines in 10 clips", func(ops *op.Ops) {
			for i := range 10 {
				o := op.Offset(at(i)).Push(ops)
				c := clip.UniformRRect(image.Rect(0, 0, 60, 60), 9).Push(ops)
				shape.Add(ops)
				c.Pop()
				o.Pop()
			}
		}},
		{"1 picture of everything", func(ops *op.Ops) { picture(ops, whole, image.Point{}) }},
		{"1 picture of 512 by 512 new", func(ops *op.Ops) {
			picture(ops, paint.NewImageOp(image.NewRGBA(image.Rect(0, 0, 512, 512))), image.Point{})
		}},
	}
}

// driver names the libraries that draw in this process, so that a processor is not taken for a card: Mesa's own
// (libgallium, swrast_dri, libvulkan_lvp) draw with the processor on a machine without one.
func driver() string {
	text, err := os.ReadFile("/proc/self/maps")
	if err != nil {
		return "what this system does not tell: " + err.Error()
	}
	known := regexp.MustCompile(`(?i)nvidia|gallium|_dri\.so|libvulkan_|LLVM`)
	var names []string
	for line := range strings.Lines(string(text)) {
		if f := strings.Fields(line); len(f) > 5 && known.MatchString(filepath.Base(f[5])) {
			names = append(names, filepath.Base(f[5]))
		}
	}
	slices.Sort(names)
	return strings.Join(slices.Compact(names), ", ")
}
