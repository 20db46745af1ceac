package flow

import (
	"fmt"
	"image"
	"image/color"

	"gioui.org/op/clip"
	"gioui.org/op/paint"

	"airpath/circuit"
	"airpath/circuit/symbol"
	"airpath/ui/theme"
	"airpath/ui/widgets"
)

// colourScale tells which colour of a line is which pressure. Its bar is drawn once and kept.
type colourScale struct {
	bar  paint.ImageOp
	side image.Point
	of   *symbol.Palette
	unit string
	top  float64 // Pa absolute, at its right end
	ends string
}

// Size of the bar, dp, and in how many steps it is drawn.
const (
	barWide, barHigh = 112, 10
	barSteps         = 16
)

// topOf the scale in a unit: a round number about where governors cut out.
var topOf = map[string]float64{"psi": 120, "bar": 8, "kPa": 800}

// layout the bar with its ends' numbers, right-aligned; it returns the width that it takes.
func (k *colourScale) layout(gtx ctx, th *theme.Theme, unit string) int {
	side := image.Pt(gtx.Dp(barWide), gtx.Dp(barHigh))
	if k.of != th.Sheet || k.unit != unit || k.side != side {
		k.of, k.unit, k.side = th.Sheet, unit, side
		top := circuit.MustQuantity(fmt.Sprintf("%g %s", topOf[unit], unit), circuit.Pressure)
		k.top, k.ends = top.SI, fmt.Sprintf("%g %s", topOf[unit], unit)
		k.bar = paint.NewImageOp(k.picture(th))
		k.bar.Filter = paint.FilterNearest
	}
	words := gtx.Sp(64)
	zero := gtx.Sp(14)
	total := zero + side.X + gtx.Dp(theme.Half) + words
	x := gtx.Constraints.Max.X - total
	widgets.Labelled(gtx, "Colours of pressure: pale and thin at 0, deep and thick at "+k.ends, "", func(gtx ctx) dims {
		write := func(x, width int, s string) {
			at(gtx, image.Pt(x, gtx.Dp(theme.Half)), func() {
				g := gtx
				g.Constraints.Min, g.Constraints.Max = image.Point{}, image.Pt(width, gtx.Sp(30))
				widgets.Text{Words: s, Size: theme.Small, Color: th.Soft, Lines: 1}.Layout(g, th)
			})
		}
		write(x, zero, "0")
		at(gtx, image.Pt(x+zero, (gtx.Sp(22)-side.Y)/2+gtx.Dp(1)), func() {
			area := clip.Rect{Max: side}.Push(gtx.Ops)
			k.bar.Add(gtx.Ops)
			paint.PaintOp{}.Add(gtx.Ops)
			area.Pop()
		})
		write(x+zero+side.X+gtx.Dp(theme.Half), words, k.ends)
		return dims{Size: image.Pt(gtx.Constraints.Max.X, gtx.Sp(22))}
	})
	return total
}

// picture is a wedge: lines get thicker with their pressure as well as deeper in colour.
func (k *colourScale) picture(th *theme.Theme) *image.RGBA {
	img := image.NewRGBA(image.Rectangle{Max: k.side})
	for x := range k.side.X {
		step := x * barSteps / k.side.X
		share := float64(step) / (barSteps - 1)
		c := color.RGBA(th.Sheet.Pressure(circuit.AtmospherePressure + share*(k.top-circuit.AtmospherePressure)))
		half := max(1, int(share*float64(k.side.Y)/2))
		for y := k.side.Y/2 - half; y < k.side.Y/2+half; y++ {
			img.SetRGBA(x, y, c)
		}
	}
	return img
}
