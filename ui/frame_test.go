package ui

import (
	"image"
	"testing"
)

// BenchmarkFrame records one frame of the whole window, the sheet unchanged: the CPU's side of what a frame costs.
func BenchmarkFrame(b *testing.B) {
	for _, c := range []struct {
		name   string
		size   image.Point
		curves bool
	}{{"1280x800", image.Pt(1280, 800), false}, {"1280x800 with curves", image.Pt(1280, 800), true}, {"3840x2160", image.Pt(3840, 2160), true}} {
		b.Run(c.name, func(b *testing.B) {
			h := newHarness(b, Options{Size: c.size, Curves: c.curves})
			b.ReportAllocs()
			for b.Loop() {
				h.frame()
			}
		})
	}
}

// BenchmarkFrameZooming records a frame in which the whole sheet is drawn anew.
func BenchmarkFrameZooming(b *testing.B) {
	h := newHarness(b, Options{})
	b.ReportAllocs()
	factor := 1.01
	for b.Loop() {
		h.shell.area.Zoom(factor)
		factor = 1 / factor
		h.frame()
	}
}
