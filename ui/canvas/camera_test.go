package canvas

import (
	"image"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"airpath/circuit"
	"airpath/circuit/symbol"
)

var sheet = symbol.Box{Max: circuit.Point{X: 132, Y: 112}}

func TestFitShowsEverything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		size := image.Pt(rapid.IntRange(300, 4000).Draw(t, "w"), rapid.IntRange(300, 3000).Draw(t, "h"))
		c := Fit(sheet, size, 8, 1)
		x0, y0 := c.Pixel(sheet.Min)
		x1, y1 := c.Pixel(sheet.Max)
		if x0 < 7 || y0 < 7 || x1 > float64(size.X)-7 || y1 > float64(size.Y)-7 {
			t.Fatalf("%v..%v, %v..%v in %v", x0, x1, y0, y1, size)
		}
	})
}

func TestZoomKeepsThePointUnderThePointer(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := Camera{Scale: rapid.Float64Range(3, 30).Draw(t, "scale"), Off: image.Pt(rapid.IntRange(-500, 500).Draw(t, "ox"), rapid.IntRange(-500, 500).Draw(t, "oy"))}
		x, y := rapid.Float64Range(0, 900).Draw(t, "x"), rapid.Float64Range(0, 700).Draw(t, "y")
		z := c.Zoom(x, y, rapid.Float64Range(0.2, 5).Draw(t, "factor"), 1)
		zx, zy := z.Pixel(c.Sheet(x, y))
		// the offset is rounded to whole pixels, so half a pixel may be lost
		if zx-x > 0.51 || x-zx > 0.51 || zy-y > 0.51 || y-zy > 0.51 {
			t.Fatalf("(%v, %v) went to (%v, %v)", x, y, zx, zy)
		}
	})
}

func TestKeepBringsABoxIntoSight(t *testing.T) {
	size := image.Pt(800, 600)
	c := Camera{Scale: 10, Off: image.Pt(-2000, 900)}
	box := symbol.Box{Min: circuit.Point{X: 10, Y: 10}, Max: circuit.Point{X: 16, Y: 14}}
	k := c.Keep(box, size, 20)
	x0, y0 := k.Pixel(box.Min)
	x1, y1 := k.Pixel(box.Max)
	assert.GreaterOrEqual(t, x0, 19.5)
	assert.GreaterOrEqual(t, y0, 19.5)
	assert.LessOrEqual(t, x1, 780.5)
	assert.LessOrEqual(t, y1, 580.5)
	assert.Equal(t, k, k.Keep(box, size, 20), "what is in sight stays where it is")
}
