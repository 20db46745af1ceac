package canvas

import (
	"image"
	"math"

	"airpath/circuit"
	"airpath/circuit/symbol"
)

// A Camera says which part of the sheet is seen, and how large. Its offset is in whole pixels.
type Camera struct {
	Scale float64     // pixels per grid step
	Off   image.Point // where the sheet's origin is in the view
}

// Bounds of the zoom, in pixels per grid step at one pixel per dp.
const (
	leastScale = 2
	mostScale  = 40
)

// Pixel is where a point of the sheet is seen.
func (c Camera) Pixel(p circuit.Point) (x, y float64) {
	return p.X*c.Scale + float64(c.Off.X), p.Y*c.Scale + float64(c.Off.Y)
}

// Sheet is the point of the sheet that is seen at a pixel.
func (c Camera) Sheet(x, y float64) circuit.Point {
	return circuit.Point{X: (x - float64(c.Off.X)) / c.Scale, Y: (y - float64(c.Off.Y)) / c.Scale}
}

// View is the part of the sheet that a window of this size shows.
func (c Camera) View(size image.Point) symbol.Box {
	return symbol.Box{Min: c.Sheet(0, 0), Max: c.Sheet(float64(size.X), float64(size.Y))}
}

// Fit shows all of the box, centred, with a margin in pixels.
func Fit(box symbol.Box, size image.Point, margin int, density float64) Camera {
	w, h := float64(size.X-2*margin), float64(size.Y-2*margin)
	scale := math.Inf(1)
	if box.Width() > 0 {
		scale = w / box.Width()
	}
	if box.Height() > 0 {
		scale = min(scale, h/box.Height())
	}
	if math.IsInf(scale, 1) {
		scale = 8 * density
	}
	scale = min(max(scale, leastScale*density), 16*density)
	m := box.Center()
	return Camera{Scale: scale, Off: image.Pt(whole(float64(size.X)/2-m.X*scale), whole(float64(size.Y)/2-m.Y*scale))}
}

// Zoom makes everything larger by factor and keeps the point under the given pixel where it is.
func (c Camera) Zoom(x, y, factor, density float64) Camera {
	p := c.Sheet(x, y)
	scale := min(max(c.Scale*factor, leastScale*density), mostScale*density)
	return Camera{Scale: scale, Off: image.Pt(whole(x-p.X*scale), whole(y-p.Y*scale))}
}

// Pan moves the sheet by whole pixels.
func (c Camera) Pan(d image.Point) Camera {
	c.Off = c.Off.Add(d)
	return c
}

// Keep pans as little as is needed to bring the box into the window of this size.
func (c Camera) Keep(box symbol.Box, size image.Point, margin int) Camera {
	x0, y0 := c.Pixel(box.Min)
	x1, y1 := c.Pixel(box.Max)
	return c.Pan(image.Pt(shift(x0, x1, size.X, margin), shift(y0, y1, size.Y, margin)))
}

func shift(low, high float64, size, margin int) int {
	m, s := float64(margin), float64(size)
	switch {
	case high-low > s-2*m: // does not fit: show its middle
		return whole(s/2 - (low+high)/2)
	case low < m:
		return whole(m - low)
	case high > s-m:
		return whole(s - m - high)
	}
	return 0
}

func whole(v float64) int { return int(math.Round(v)) }
