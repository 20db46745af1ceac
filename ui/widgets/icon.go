package widgets

import (
	"image"
	"image/color"
	"math"

	"gioui.org/f32"
	"gioui.org/layout"
	"gioui.org/op"
	"gioui.org/unit"

	"airpath/circuit/symbol"
	"airpath/ui/theme"
)

// An Icon is a small drawing of strokes in a square of 24 by 24: each polyline is drawn with a line of 2.
type Icon [][]f32.Point

func line(xy ...float32) []f32.Point {
	p := make([]f32.Point, 0, len(xy)/2)
	for i := 0; i+1 < len(xy); i += 2 {
		p = append(p, f32.Pt(xy[i], xy[i+1]))
	}
	return p
}

// arc goes around (x, y) from one angle to the other, in turns clockwise from the right.
func arc(x, y, r float32, from, to float64) []f32.Point {
	const n = 16
	p := make([]f32.Point, 0, n+1)
	for i := range n + 1 {
		a := 2 * math.Pi * (from + (to-from)*float64(i)/n)
		p = append(p, f32.Pt(x+r*float32(math.Cos(a)), y+r*float32(math.Sin(a))))
	}
	return p
}

// The icons. Each stands beside a word or has a label read out for it.
var (
	IconUndo    = Icon{arc(13, 13, 6, 0.25, -0.5), line(7, 13, 3.5, 9.5), line(7, 13, 10.5, 9.5)}
	IconRedo    = Icon{arc(11, 13, 6, 0.25, 1), line(17, 13, 20.5, 9.5), line(17, 13, 13.5, 9.5)}
	IconClose   = Icon{line(6, 6, 18, 18), line(18, 6, 6, 18)}
	IconPlus    = Icon{line(12, 5, 12, 19), line(5, 12, 19, 12)}
	IconMinus   = Icon{line(5, 12, 19, 12)}
	IconTick    = Icon{line(5, 13, 10, 18, 19, 7)}
	IconUp      = Icon{line(6, 15, 12, 9, 18, 15)}
	IconDown    = Icon{line(6, 9, 12, 15, 18, 9)}
	IconRight   = Icon{line(9, 6, 15, 12, 9, 18)}
	IconLeft    = Icon{line(15, 6, 9, 12, 15, 18)}
	IconFit     = Icon{line(4, 9, 4, 4, 9, 4), line(15, 4, 20, 4, 20, 9), line(20, 15, 20, 20, 15, 20), line(9, 20, 4, 20, 4, 15)}
	IconHelp    = Icon{arc(12, 9, 4, -0.5, 0.15), line(14.4, 12.2, 12, 14, 12, 15.5), line(12, 19, 12, 19.6)}
	IconEdit    = Icon{line(5, 19, 6, 15, 15.5, 5.5, 18.5, 8.5, 9, 18, 5, 19), line(13, 8, 16, 11)}
	IconFolder  = Icon{line(4, 19, 4, 6, 9, 6, 11, 8, 20, 8, 20, 19, 4, 19)}
	IconDay     = Icon{arc(12, 12, 4, 0, 1), line(12, 3, 12, 5), line(12, 19, 12, 21), line(3, 12, 5, 12), line(19, 12, 21, 12), line(5.6, 5.6, 7, 7), line(17, 17, 18.4, 18.4), line(5.6, 18.4, 7, 17), line(17, 7, 18.4, 5.6)}
	IconNight   = Icon{append(arc(11, 12, 7.5, 0.13, 0.87), arc(16, 12, 6, 0.70, 0.30)...)}
	IconSave    = Icon{line(5, 5, 16, 5, 19, 8, 19, 19, 5, 19, 5, 5), line(8, 5, 8, 9, 14, 9, 14, 5), line(8, 19, 8, 14, 16, 14, 16, 19)}
	IconCurve   = Icon{line(4, 4, 4, 20, 20, 20), line(7, 17, 10, 12, 14, 9, 19, 7)}
	IconWarning = Icon{line(12, 4, 21, 20, 3, 20, 12, 4), line(12, 10, 12, 14), line(12, 17, 12, 17.6)}
	IconMark    = Icon{arc(12, 9, 5, 0.4, 1.1), line(8, 12, 12, 20, 16, 12)}
	IconErase   = Icon{line(5, 7, 19, 7), line(9, 7, 9, 4.5, 15, 4.5, 15, 7), line(6.5, 7, 7.5, 20, 16.5, 20, 17.5, 7), line(10.5, 10.5, 10.5, 16.5), line(13.5, 10.5, 13.5, 16.5)}
)

// Layout draws the icon in a square of the given side.
func (ic Icon) Layout(gtx layout.Context, c color.NRGBA, side unit.Dp) layout.Dimensions {
	px := gtx.Dp(side)
	img := theme.Stamped(theme.Stamp{What: "icon", Of: &ic[0], Size: px, Color: c}, func(theme.Stamp) *image.RGBA { return ic.picture(c, px) })
	theme.Put(gtx.Ops, img, image.Point{})
	return layout.Dimensions{Size: image.Pt(px, px)}
}

func (ic Icon) picture(c color.NRGBA, px int) *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, px, px))
	k := float64(px) / 24
	r := symbol.NewRaster(img, 1, symbol.Point{})
	for _, l := range ic {
		var points []symbol.Point
		for _, q := range l {
			points = append(points, symbol.Point{X: float64(q.X) * k, Y: float64(q.Y) * k})
		}
		r.Poly(points, false, symbol.Style{Stroke: c, Width: 2 * k})
		for _, end := range []symbol.Point{points[0], points[len(points)-1]} { // round ends
			var dot []symbol.Point
			for i := range 12 {
				sin, cos := math.Sincos(2 * math.Pi * float64(i) / 12)
				dot = append(dot, symbol.Point{X: end.X + k*cos, Y: end.Y + k*sin})
			}
			r.Poly(dot, true, symbol.Style{Fill: c})
		}
	}
	return img
}

// at runs a widget shifted by whole pixels.
func at(gtx layout.Context, p image.Point, w func()) {
	defer op.Offset(p).Push(gtx.Ops).Pop()
	w()
}

// IconLarger is a large letter, for larger text.
var IconLarger = Icon{line(4, 20, 12, 3, 20, 20), line(7, 14, 17, 14)}

// IconPaper is a written sheet.
var IconPaper = Icon{line(6, 3, 14, 3, 18, 7, 18, 21, 6, 21, 6, 3), line(9, 11, 15, 11), line(9, 14, 15, 14), line(9, 17, 13, 17)}

// IconSettings is two sliders.
var IconSettings = Icon{line(4, 8, 9, 8), line(15, 8, 20, 8), arc(12, 8, 3, 0, 1), line(4, 16, 6, 16), line(12, 16, 20, 16), arc(9, 16, 3, 0, 1)}

// Icons of what makes time run, stand and step.
var (
	IconPlay     = Icon{line(8, 5, 8, 19, 19, 12, 8, 5), line(9.5, 8, 9.5, 16), line(11.5, 9, 11.5, 15), line(13.5, 10, 13.5, 14)}
	IconPause    = Icon{line(8, 5, 8, 19), line(9.5, 5, 9.5, 19), line(14.5, 5, 14.5, 19), line(16, 5, 16, 19)}
	IconStep     = Icon{line(7, 5, 7, 19, 14, 12, 7, 5), line(17, 5, 17, 19)}
	IconStepBack = Icon{line(17, 5, 17, 19, 10, 12, 17, 5), line(7, 5, 7, 19)}
)
