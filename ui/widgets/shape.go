package widgets

import (
	"image"
	"image/color"
	"math"

	"gioui.org/layout"
	"gioui.org/op/clip"
	"gioui.org/op/paint"
	"gioui.org/unit"

	"airpath/circuit/symbol"
	"airpath/ui/theme"
)

// Fill paints the least size of the constraints with one colour, as a plain rectangle: the cheapest thing to draw.
func Fill(gtx layout.Context, c color.NRGBA, size image.Point) layout.Dimensions {
	paint.FillShape(gtx.Ops, c, clip.Rect{Max: size}.Op())
	return layout.Dimensions{Size: size}
}

// Rule is a thin line across the width.
func Rule(gtx layout.Context, th *theme.Theme) layout.Dimensions {
	return Fill(gtx, th.Rule, image.Pt(gtx.Constraints.Max.X, max(1, gtx.Dp(1))))
}

// Box fills a rounded rectangle and draws an edge around it.
func Box(gtx layout.Context, size image.Point, fill, edge color.NRGBA, width unit.Dp) {
	r := min(gtx.Dp(theme.Round), size.X/2, size.Y/2)
	w := gtx.Dp(width)
	if edge.A == 0 {
		w = 0
	}
	if r <= 0 {
		Rect(gtx, fill, image.Rectangle{Max: size})
		return
	}
	// Four quarters of a disc in the corners, and rectangles between: no path.
	disc := theme.Stamped(theme.Stamp{What: "corners", Size: r, Width: w, Color: fill, Edge: edge}, corners)
	for _, at := range [4]image.Point{{}, {X: 1}, {Y: 1}, {X: 1, Y: 1}} {
		to := image.Pt(at.X*(size.X-r), at.Y*(size.Y-r))
		area := clip.Rect{Min: to, Max: to.Add(image.Pt(r, r))}.Push(gtx.Ops)
		theme.Put(gtx.Ops, disc, to.Sub(at.Mul(r)))
		area.Pop()
	}
	Rect(gtx, edge, image.Rect(r, 0, size.X-r, w))
	Rect(gtx, edge, image.Rect(r, size.Y-w, size.X-r, size.Y))
	Rect(gtx, edge, image.Rect(0, r, w, size.Y-r))
	Rect(gtx, edge, image.Rect(size.X-w, r, size.X, size.Y-r))
	Rect(gtx, fill, image.Rect(r, w, size.X-r, r))
	Rect(gtx, fill, image.Rect(w, r, size.X-w, size.Y-r))
	Rect(gtx, fill, image.Rect(r, size.Y-r, size.X-r, size.Y-w))
}

// corners draws a disc whose quarters are the corners of a rounded box.
func corners(k theme.Stamp) *image.RGBA {
	side := 2 * k.Size
	img := image.NewRGBA(image.Rect(0, 0, side, side))
	raster := symbol.NewRaster(img, 1, symbol.Point{})
	mid := float64(k.Size)
	circle := func(radius float64, c color.NRGBA) {
		var points []symbol.Point
		for i := range 48 {
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / 48)
			points = append(points, symbol.Point{X: mid + radius*cos, Y: mid + radius*sin})
		}
		raster.Poly(points, true, symbol.Style{Fill: c})
	}
	if k.Width > 0 {
		circle(mid, k.Edge)
	}
	circle(mid-float64(k.Width), k.Color)
	return img
}

// Ring shows where the keyboard is: a thick outline just inside the bounds, so that no neighbour cuts it off.
func Ring(gtx layout.Context, th *theme.Theme, size image.Point) {
	outline(gtx, size, th.Focus, 3)
}

// outline strokes a rounded rectangle inside its bounds.
func outline(gtx layout.Context, size image.Point, c color.NRGBA, width unit.Dp) {
	w := float32(gtx.Dp(width))
	half := int(w / 2)
	rect := image.Rectangle{Min: image.Pt(half, half), Max: size.Sub(image.Pt(half, half))}
	if rect.Empty() {
		return
	}
	path := clip.UniformRRect(rect, gtx.Dp(theme.Round)).Path(gtx.Ops)
	paint.FillShape(gtx.Ops, c, clip.Stroke{Path: path, Width: w}.Op())
}

// Card lays content on a raised ground with an inset.
func Card(gtx layout.Context, th *theme.Theme, fill, edge color.NRGBA, w layout.Widget) layout.Dimensions {
	return layout.Background{}.Layout(gtx,
		func(gtx layout.Context) layout.Dimensions {
			Box(gtx, gtx.Constraints.Min, fill, edge, 1)
			return layout.Dimensions{Size: gtx.Constraints.Min}
		},
		func(gtx layout.Context) layout.Dimensions {
			return layout.UniformInset(theme.Step).Layout(gtx, w)
		})
}

// Space leaves room along both axes; Flex uses the one it runs along.
func Space(d unit.Dp) layout.FlexChild {
	if i := int(d); unit.Dp(i) == d && i >= 0 && i < len(spaces) {
		return spaces[i]
	}
	return space(d)
}

func space(d unit.Dp) layout.FlexChild {
	return layout.Rigid(layout.Spacer{Width: d, Height: d}.Layout)
}

// spaces are those in use, made once: there are many in every frame.
var spaces = func() (out [33]layout.FlexChild) {
	for i := range out {
		out[i] = space(unit.Dp(i))
	}
	return out
}()

// Column stacks widgets from top to bottom.
func Column(gtx layout.Context, children ...layout.FlexChild) layout.Dimensions {
	return layout.Flex{Axis: layout.Vertical}.Layout(gtx, children...)
}

// Row puts widgets side by side, centred on one another.
func Row(gtx layout.Context, children ...layout.FlexChild) layout.Dimensions {
	return layout.Flex{Alignment: layout.Middle}.Layout(gtx, children...)
}

// Disc is a filled circle.
func Disc(gtx layout.Context, c color.NRGBA, side int) {
	paint.FillShape(gtx.Ops, c, clip.Ellipse{Max: image.Pt(side, side)}.Op(gtx.Ops))
}

// Rect fills an upright rectangle on whole pixels.
func Rect(gtx layout.Context, c color.NRGBA, r image.Rectangle) {
	if !r.Empty() {
		paint.FillShape(gtx.Ops, c, clip.Rect(r).Op())
	}
}
