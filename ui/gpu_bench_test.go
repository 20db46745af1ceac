package ui

import (
	"fmt"
	"image"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"
)

// BenchmarkGPU is what a frame takes at 3840 by 2160 where a graphics card draws, on a screen of one pixel to a dp, where most is to be
// seen, and on a dense one. ms/frame is as a window does it: frames are handed over one after the other, and only at the end is the
// card waited for. ms/alone waits for every frame, which no window does; the middle and the slowest of forty are told.
// Build it with go test -c ./ui and run it where the card is: ./ui.test -test.run='^$' -test.bench=BenchmarkGPU
func BenchmarkGPU(b *testing.B) {
	vehicle := busy(b)
	list := append(uses(), use{name: "flow", opts: Options{Path: largest, Area: "Flow", Vehicle: vehicle},
		step: func(*harness, int) { vehicle(nil, nil).(*replay).at++ }})
	size := image.Pt(3840, 2160)
	one := image.NewRGBA(image.Rect(0, 0, 1, 1))
	for _, u := range list {
		for _, u.density = range []float32{1, 2} {
			b.Run(fmt.Sprintf("%s/density=%g", u.name, u.density), func(b *testing.B) {
				h := benchHarness(b, u, size)
				screen := newScreenFor(b, size)
				i := 0
				draw := func() {
					u.step(h, i)
					i++
					h.frame()
					if err := screen.Frame(&h.ops); err != nil {
						b.Fatal(err)
					}
				}
				wait := func() {
					if err := screen.Screenshot(one); err != nil {
						b.Fatal(err)
					}
				}
				for range 45 { // pictures and paths go to the card once
					draw()
				}
				wait()
				alone := make([]time.Duration, 40)
				for k := range alone {
					begun := time.Now()
					draw()
					wait()
					alone[k] = time.Since(begun)
				}
				slices.Sort(alone)
				b.ResetTimer()
				for range b.N {
					draw()
				}
				wait()
				ms := func(d time.Duration) float64 { return d.Seconds() * 1000 }
				b.ReportMetric(ms(b.Elapsed())/float64(b.N), "ms/frame")
				b.ReportMetric(ms(alone[20]), "ms/alone")
				b.ReportMetric(ms(alone[39]), "ms/alone-slowest")
				b.ReportMetric(0, "ns/op")
				b.Logf("drawn by %s", driver())
			})
		}
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
