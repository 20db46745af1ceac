package symbol

import (
	"image/color"

	"airpath/circuit"
	"airpath/circuit/symbol/typeface"
)

// Point is a place on the sheet in grid steps, x to the right (the rear of the vehicle), y down (its left-hand side, seen
// from above with the front to the left).
type Point = circuit.Point

// A Surface is what drawings are drawn on: the window's canvas, an SVG file, an image. Coordinates, widths and sizes are
// grid steps; a surface scales them.
//
// A surface gets only these four calls. Curves arrive as polylines fine enough for any zoom in use. All parts of one thing
// come between Begin and End, so that a surface may keep them together: one path, one sprite, one SVG group.
type Surface interface {
	// Begin opens the group of one thing: a component or line by its id, or a layer such as "ghost". Groups do not nest.
	Begin(id, title string)
	// End closes it.
	End()
	// Poly strokes and fills one polyline; closed joins the last point to the first. Points must not be kept: the
	// drawing uses the slice again.
	Poly(points []Point, closed bool, style Style)
	// Text sets one line of text with its anchor at a point on the baseline.
	Text(at Point, text string, font Font)
}

// A Style says how a polyline looks. A colour with alpha 0 is left out.
type Style struct {
	Stroke color.NRGBA
	Fill   color.NRGBA
	Width  float64   // of the stroke, grid steps
	Dash   []float64 // on, off ... in grid steps; nil for a full line
}

// A Font says how a text looks; the typeface is always typeface.Family.
type Font struct {
	Size   float64 // height of the em, grid steps
	Bold   bool    // the semi-bold weight
	Color  color.NRGBA
	Anchor Anchor
}

// Anchor says which part of the text lies at its point.
type Anchor int

const (
	Start Anchor = iota
	Middle
	End
)

// Width of a text in grid steps.
func (f Font) Width(text string) float64 { return f.Size * typeface.Width(text, f.Bold) }

// A Box is an upright rectangle on the sheet, in grid steps.
type Box struct{ Min, Max Point }

// Width of the box.
func (b Box) Width() float64 { return b.Max.X - b.Min.X }

// Height of the box.
func (b Box) Height() float64 { return b.Max.Y - b.Min.Y }

// Center of the box.
func (b Box) Center() Point { return Point{X: (b.Min.X + b.Max.X) / 2, Y: (b.Min.Y + b.Max.Y) / 2} }

// Grow moves every side out by d.
func (b Box) Grow(d float64) Box {
	return Box{Point{X: b.Min.X - d, Y: b.Min.Y - d}, Point{X: b.Max.X + d, Y: b.Max.Y + d}}
}

// Contains a point, its border included.
func (b Box) Contains(p Point) bool {
	return p.X >= b.Min.X && p.X <= b.Max.X && p.Y >= b.Min.Y && p.Y <= b.Max.Y
}

// Overlaps another box in more than a border.
func (b Box) Overlaps(o Box) bool {
	return b.Min.X < o.Max.X && o.Min.X < b.Max.X && b.Min.Y < o.Max.Y && o.Min.Y < b.Max.Y
}

// Union of two boxes.
func (b Box) Union(o Box) Box {
	return Box{
		Point{X: min(b.Min.X, o.Min.X), Y: min(b.Min.Y, o.Min.Y)},
		Point{X: max(b.Max.X, o.Max.X), Y: max(b.Max.Y, o.Max.Y)},
	}
}
