package flow

import (
	"fmt"
	"image"
	"image/color"
	"math"

	"gioui.org/f32"
	"gioui.org/op/clip"
	"gioui.org/op/paint"

	"airpath/circuit"
	"airpath/circuit/symbol"
	"airpath/ui/theme"
	"airpath/ui/widgets"
)

// A dial is a gauge as it is seen on the dash. Its face is drawn once and kept.
type dial struct {
	part  *circuit.Component
	index int
	full  float64 // Pa, end of the scale above the atmosphere
	low   float64 // Pa, below which the face warns; 0 for nowhere

	face    paint.ImageOp
	faceKey faceKey
	shown   float64 // where the needle of the number stands, in the unit shown
	words   string
	unit    string
}

type faceKey struct {
	side    int
	unit    string
	palette *symbol.Palette
}

func newDial(part *circuit.Component, index int) *dial {
	d := &dial{part: part, index: index, full: 150 * circuit.PSI, low: lowAir, shown: math.NaN()}
	if _, ok := part.Kind.Param("full_scale"); ok {
		d.full = part.Value("full_scale") - circuit.AtmospherePressure
	}
	return d
}

// lowAir is the pressure above the atmosphere under which the face is marked: 49 CFR 571.121 S5.1.5 wants the warning on
// below 60 psi.
const lowAir = 60 * circuit.PSI

// sweep is the scale's turn, from its beginning at the lower left, clockwise.
const (
	sweepFrom = 0.75 * math.Pi
	sweep     = 1.5 * math.Pi
)

func (d *dial) layout(gtx ctx, a *Area) dims {
	th := a.set.Theme
	side := min(gtx.Dp(100), gtx.Constraints.Max.Y-gtx.Sp(18))
	width := max(side+gtx.Dp(theme.Step), gtx.Dp(dialWide))
	pa := a.frame.Now.Needle[d.index]
	d.write(pa, string(a.set.Prefs.Units))
	label := d.part.Name + ": " + d.words
	if a.frame.Healthy != nil {
		label += ", healthy " + sayPressure(a.frame.Healthy.Needle[d.index], string(a.set.Prefs.Units))
	}
	return widgets.Labelled(gtx, label, "", func(gtx ctx) dims {
		d.drawFace(gtx, th, side, string(a.set.Prefs.Units))
		mid := f32.Pt(float32(side)/2, float32(side)/2)
		if a.frame.Healthy != nil {
			needle(gtx, mid, d.angle(a.frame.Healthy.Needle[d.index]), float32(side)*0.43, float32(gtx.Dp(2)), th.Healthy)
		}
		c := th.Ink
		if a.frame.Healthy != nil {
			c = th.Mark
		}
		needle(gtx, mid, d.angle(pa), float32(side)*0.40, float32(gtx.Dp(4)), c)
		at(gtx, image.Pt(0, side*78/100), func() {
			g := gtx
			g.Constraints.Min, g.Constraints.Max = image.Pt(side, 0), image.Pt(side, gtx.Sp(40))
			widgets.Text{Words: d.words, Size: theme.Small, Weight: theme.Strong, Align: middle, Lines: 1}.Layout(g, th)
		})
		at(gtx, image.Pt(0, side+gtx.Sp(1)), func() {
			g := gtx
			g.Constraints.Min, g.Constraints.Max = image.Pt(side, 0), image.Pt(width, gtx.Sp(40))
			widgets.Text{Words: d.part.Name, Size: theme.Small, Color: th.Soft, Align: middle, Lines: 1}.Layout(g, th)
		})
		return dims{Size: image.Pt(width, gtx.Constraints.Max.Y)}
	})
}

// write the number anew where it has changed by as much as is shown.
func (d *dial) write(pa float64, unit string) {
	v, _ := circuit.In(pa, circuit.Pressure, unit)
	step := 1.0
	if unit == "bar" {
		step = 0.1
	}
	if math.Abs(v-d.shown) < 0.7*step && d.words != "" && d.unit == unit {
		return
	}
	d.shown, d.unit = math.Round(v/step)*step, unit
	d.words = sayPressure(pa, unit)
}

func sayPressure(pa float64, unit string) string {
	v, _ := circuit.In(pa, circuit.Pressure, unit)
	if unit == "bar" {
		return fmt.Sprintf("%.1f bar", math.Round(v*10)/10+0)
	}
	return fmt.Sprintf("%.0f %s", math.Round(v)+0, unit)
}

func (d *dial) angle(pa float64) float64 {
	share := (pa - circuit.AtmospherePressure) / d.full
	return sweepFrom + sweep*min(max(share, -0.02), 1.02)
}

// needle is one small filled triangle with a hub.
func needle(gtx ctx, mid f32.Point, angle float64, length, width float32, c color.NRGBA) {
	sin, cos := math.Sincos(angle)
	u := f32.Pt(float32(cos), float32(sin))
	n := f32.Pt(-u.Y, u.X)
	var p clip.Path
	p.Begin(gtx.Ops)
	p.MoveTo(mid.Add(u.Mul(length)))
	p.LineTo(mid.Add(n.Mul(width)).Sub(u.Mul(length * 0.12)))
	p.LineTo(mid.Sub(n.Mul(width)).Sub(u.Mul(length * 0.12)))
	p.Close()
	paint.FillShape(gtx.Ops, c, clip.Outline{Path: p.End()}.Op())
}

// drawFace shows the face, drawn anew where its size, unit or colours have changed.
func (d *dial) drawFace(gtx ctx, th *theme.Theme, side int, unit string) {
	key := faceKey{side, unit, th.Sheet}
	if key != d.faceKey {
		d.faceKey = key
		d.face = paint.NewImageOp(d.picture(th, side, unit))
	}
	area := clip.Rect{Max: image.Pt(side, side)}.Push(gtx.Ops)
	d.face.Add(gtx.Ops)
	paint.PaintOp{}.Add(gtx.Ops)
	area.Pop()
}

func (d *dial) picture(th *theme.Theme, side int, unit string) *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, side, side))
	r := symbol.NewRaster(img, 1, symbol.Point{})
	mid, radius := float64(side)/2, float64(side)/2-1
	around := func(angle, share float64) symbol.Point {
		sin, cos := math.Sincos(angle)
		return symbol.Point{X: mid + radius*share*cos, Y: mid + radius*share*sin}
	}
	ring := func(share, from, to float64) []symbol.Point {
		var out []symbol.Point
		for i := range 49 {
			out = append(out, around(from+(to-from)*float64(i)/48, share))
		}
		return out
	}
	line := float64(side) / 104
	r.Poly(ring(0.985, 0, 2*math.Pi), true, symbol.Style{Fill: th.Card, Stroke: th.Edge, Width: 1.6 * line})
	if d.low > 0 {
		r.Poly(ring(0.90, sweepFrom, sweepFrom+sweep*d.low/d.full), false, symbol.Style{Stroke: th.Broken, Width: 4 * line})
	}
	top, _ := circuit.In(d.full+circuit.AtmospherePressure, circuit.Pressure, unit)
	major, minor := scaleSteps(top)
	for k := 0; float64(k)*minor <= top*1.001; k++ {
		angle := sweepFrom + sweep*float64(k)*minor/top
		inner, w := 0.86, 1.2*line
		whole := math.Abs(math.Remainder(float64(k)*minor, major)) < minor/4
		if whole {
			inner, w = 0.80, 2*line
		}
		r.Poly([]symbol.Point{around(angle, 0.95), around(angle, inner)}, false, symbol.Style{Stroke: th.Ink, Width: w})
		if whole {
			at := around(angle, 0.62)
			size := 10.5 * line
			r.Text(symbol.Point{X: at.X, Y: at.Y + 0.35*size}, fmt.Sprintf("%g", math.Round(float64(k)*minor*10)/10), symbol.Font{Size: size, Color: th.Ink, Anchor: symbol.Middle})
		}
	}
	return img
}

// scaleSteps are the steps of a dial's long and short strokes: about five long ones.
func scaleSteps(top float64) (major, minor float64) {
	raw := top / 6
	mag := math.Pow(10, math.Floor(math.Log10(raw)))
	for _, k := range []float64{1, 2, 3, 5, 10} {
		if major = k * mag; major >= raw {
			break
		}
	}
	return major, major / 5
}
