package widgets

import (
	"image"
	"image/color"
	"image/draw"
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
	if size.X*size.Y <= mostOnePiece {
		whole := theme.Stamped(theme.Stamp{What: "box", Of: size, Size: r, Width: w, Color: fill, Edge: edge}, box)
		theme.Put(gtx.Ops, whole, image.Point{})
		return
	}
	// Four quarters of a disc in the corners, and rectangles between: no path.
	disc := theme.Stamped(theme.Stamp{What: "corners", Size: r, Width: w, Color: fill, Edge: edge}, corners)
	atCorners(gtx, size, r, disc)
	Rect(gtx, edge, image.Rect(r, 0, size.X-r, w))
	Rect(gtx, edge, image.Rect(r, size.Y-w, size.X-r, size.Y))
	Rect(gtx, edge, image.Rect(0, r, w, size.Y-r))
	Rect(gtx, edge, image.Rect(size.X-w, r, size.X, size.Y-r))
	Rect(gtx, fill, image.Rect(r, w, size.X-r, r))
	Rect(gtx, fill, image.Rect(w, r, size.X-w, size.Y-r))
	Rect(gtx, fill, image.Rect(r, size.Y-r, size.X-r, size.Y-w))
}

// mostOnePiece is how large a box may be, in pixels, that is kept as one picture: a button is. What is handed to the screen costs by the piece.
const mostOnePiece = 160 * 64

// box draws a whole rounded rectangle with its edge.
func box(k theme.Stamp) *image.RGBA {
	size := k.Of.(image.Point)
	img := image.NewRGBA(image.Rectangle{Max: size})
	quarter := corners(k)
	r, w := k.Size, k.Width
	for _, at := range [4]image.Point{{}, {X: 1}, {Y: 1}, {X: 1, Y: 1}} {
		to := image.Pt(at.X*(size.X-r), at.Y*(size.Y-r))
		draw.Draw(img, image.Rectangle{Min: to, Max: to.Add(image.Pt(r, r))}, quarter, at.Mul(r), draw.Src)
	}
	fill := func(c color.NRGBA, x0, y0, x1, y1 int) {
		draw.Draw(img, image.Rect(x0, y0, x1, y1), image.NewUniform(c), image.Point{}, draw.Src)
	}
	for _, b := range [2][4]int{{r, 0, size.X - r, size.Y}, {0, r, size.X, size.Y - r}} {
		fill(k.Edge, b[0], b[1], b[2], b[3])
	}
	for _, b := range [2][4]int{{r, w, size.X - r, size.Y - w}, {w, r, size.X - w, size.Y - r}} {
		fill(k.Color, b[0], b[1], b[2], b[3])
	}
	return img
}

// atCorners puts each quarter of a picture into its corner.
func atCorners(gtx layout.Context, size image.Point, r int, img paint.ImageOp) {
	for _, at := range [4]image.Point{{}, {X: 1}, {Y: 1}, {X: 1, Y: 1}} {
		to := image.Pt(at.X*(size.X-r), at.Y*(size.Y-r))
		area := clip.Rect{Min: to, Max: to.Add(image.Pt(r, r))}.Push(gtx.Ops)
		theme.Put(gtx.Ops, img, to.Sub(at.Mul(r)))
		area.Pop()
	}
}

// corners draws a disc whose quarters are the corners of a rounded box.
func corners(k theme.Stamp) *image.RGBA {
	side := 2 * k.Size
	img := image.NewRGBA(image.Rect(0, 0, side, side))
	raster := symbol.NewRaster(img, 1, symbol.Point{})
	mid := float64(k.Size)
	if k.Width > 0 {
		raster.Poly(circle(mid, mid), true, symbol.Style{Fill: k.Edge})
	}
	raster.Poly(circle(mid, mid-float64(k.Width)), true, symbol.Style{Fill: k.Color})
	return img
}

// circle around (mid, mid), as a polygon.
func circle(mid, radius float64) []symbol.Point {
	points := make([]symbol.Point, 48)
	for i := range points {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / 48)
		points[i] = symbol.Point{X: mid + radius*cos, Y: mid + radius*sin}
	}
	return points
}

// Ring shows where the keyboard is: a thick outline just inside the bounds, so that no neighbour cuts it off.
func Ring(gtx layout.Context, th *theme.Theme, size image.Point) {
	outline(gtx, size, th.Focus, 3)
}

// outline of a rounded rectangle, inside its bounds.
func outline(gtx layout.Context, size image.Point, c color.NRGBA, width unit.Dp) {
	w := gtx.Dp(width)
	r := min(max(gtx.Dp(theme.Round), w), size.X/2, size.Y/2)
	if r <= 0 {
		return
	}
	bend := theme.Stamped(theme.Stamp{What: "bends", Size: r, Width: w, Color: c}, bends)
	atCorners(gtx, size, r, bend)
	Rect(gtx, c, image.Rect(r, 0, size.X-r, w))
	Rect(gtx, c, image.Rect(r, size.Y-w, size.X-r, size.Y))
	Rect(gtx, c, image.Rect(0, r, w, size.Y-r))
	Rect(gtx, c, image.Rect(size.X-w, r, size.X, size.Y-r))
}

// bends draws a ring whose quarters are the corners of an outline.
func bends(k theme.Stamp) *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, 2*k.Size, 2*k.Size))
	mid, wide := float64(k.Size), float64(min(k.Width, k.Size))
	symbol.NewRaster(img, 1, symbol.Point{}).Poly(circle(mid, mid-wide/2), true, symbol.Style{Stroke: k.Color, Width: wide})
	return img
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
	theme.Put(gtx.Ops, theme.Stamped(theme.Stamp{What: "disc", Size: side, Color: c}, disc), image.Point{})
}

func disc(k theme.Stamp) *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, k.Size, k.Size))
	mid := float64(k.Size) / 2
	symbol.NewRaster(img, 1, symbol.Point{}).Poly(circle(mid, mid), true, symbol.Style{Fill: k.Color})
	return img
}

// Rect fills an upright rectangle on whole pixels.
func Rect(gtx layout.Context, c color.NRGBA, r image.Rectangle) {
	if !r.Empty() {
		paint.FillShape(gtx.Ops, c, clip.Rect(r).Op())
	}
}
