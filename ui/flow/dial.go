package flow

import (
	"fmt"
	"image"
	"image/color"
	"math"

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

	needle, healthy needle
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
		if a.frame.Healthy != nil {
			d.healthy.layout(gtx, side, d.angle(a.frame.Healthy.Needle[d.index]), 0.43, gtx.Dp(2), th.Healthy)
		}
		c := th.Ink
		if a.frame.Healthy != nil {
			c = th.Mark
		}
		d.needle.layout(gtx, side, d.angle(pa), 0.40, gtx.Dp(4), c)
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

// A needle is one small filled triangle with a hub, kept as a picture until it is seen to move: a path costs its whole area in every frame.
type needle struct {
	key   needleKey
	image paint.ImageOp
	at    image.Point
}

type needleKey struct {
	side, width, step int
	length            float64 // as a share of the side
	color             color.NRGBA
}

// needleSteps are how many places a needle has in a full turn: a third of a pixel apart at its tip.
const needleSteps = 720

func (n *needle) layout(gtx ctx, side int, angle, length float64, width int, c color.NRGBA) {
	key := needleKey{side, width, int(math.Round(angle / (2 * math.Pi) * needleSteps)), length, c}
	if n.key != key {
		n.key = key
		n.draw()
	}
	at(gtx, n.at, func() {
		area := clip.Rect{Max: n.image.Size()}.Push(gtx.Ops)
		n.image.Add(gtx.Ops)
		paint.PaintOp{}.Add(gtx.Ops)
		area.Pop()
	})
}

func (n *needle) draw() {
	k := n.key
	sin, cos := math.Sincos(float64(k.step) / needleSteps * 2 * math.Pi)
	mid, long, wide := float64(k.side)/2, float64(k.side)*k.length, float64(k.width)
	place := func(along, across float64) symbol.Point {
		return symbol.Point{X: mid + along*cos - across*sin, Y: mid + along*sin + across*cos}
	}
	points := []symbol.Point{place(long, 0), place(-0.12*long, wide), place(-0.12*long, -wide)}
	low, high := points[0], points[0]
	for _, p := range points[1:] {
		low = symbol.Point{X: min(low.X, p.X), Y: min(low.Y, p.Y)}
		high = symbol.Point{X: max(high.X, p.X), Y: max(high.Y, p.Y)}
	}
	n.at = image.Pt(int(math.Floor(low.X)), int(math.Floor(low.Y)))
	img := image.NewRGBA(image.Rect(0, 0, int(math.Ceil(high.X))-n.at.X, int(math.Ceil(high.Y))-n.at.Y))
	symbol.NewRaster(img, 1, symbol.Point{X: float64(n.at.X), Y: float64(n.at.Y)}).Poly(points, true, symbol.Style{Fill: k.color})
	n.image = paint.NewImageOp(img)
	n.image.Filter = paint.FilterNearest
}

// drawFace shows the face, drawn anew where its size, unit or colours have changed.
func (d *dial) drawFace(gtx ctx, th *theme.Theme, side int, unit string) {
	key := faceKey{side, unit, th.Sheet}
	if key != d.faceKey {
		d.faceKey = key
		d.face = paint.NewImageOp(d.picture(th, side, unit))
		d.face.Filter = paint.FilterNearest
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
