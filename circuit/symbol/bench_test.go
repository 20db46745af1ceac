package symbol

import (
	"image"
	"testing"
)

func BenchmarkLayOut(b *testing.B) {
	c := gritter(b)
	for b.Loop() {
		NewSheet(c)
	}
}

func BenchmarkLayOutWithoutCorners(b *testing.B) {
	c := unrouted(b)
	for b.Loop() {
		NewSheet(c)
	}
}

func BenchmarkPlaceNames(b *testing.B) {
	sh := NewSheet(gritter(b))
	look := Look{Palette: Light, Scale: 5.7}
	for b.Loop() {
		sh.placeLabels(look)
	}
}

// nowhere is a surface that costs nothing, to measure the drawing itself.
type nowhere struct{}

func (nowhere) Begin(id, title string)                {}
func (nowhere) End()                                  {}
func (nowhere) Poly(points []Point, c bool, s Style)  {}
func (nowhere) Text(at Point, text string, font Font) {}

func BenchmarkDraw(b *testing.B) {
	sh := NewSheet(gritter(b))
	look, marks := Look{Palette: Light, Scale: 5.7}, marksForTests()
	b.ReportAllocs()
	for b.Loop() {
		sh.Draw(nowhere{}, look, marks)
	}
}

func BenchmarkRaster(b *testing.B) {
	sh := NewSheet(gritter(b))
	look, marks := Look{Palette: Light, Scale: 5.7}, marksForTests()
	img := image.NewRGBA(image.Rect(0, 0, 820, 720))
	for b.Loop() {
		sh.Draw(NewRaster(img, look.Scale, Point{}), look, marks)
	}
}

func BenchmarkHit(b *testing.B) {
	sh := NewSheet(gritter(b))
	for b.Loop() {
		sh.Hit(Point{X: 60, Y: 60}, 2)
	}
}
