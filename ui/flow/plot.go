package flow

import (
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"math"
	"time"

	"gioui.org/op/clip"
	"gioui.org/op/paint"

	"airpath/circuit"
	"airpath/circuit/symbol"
	"airpath/ui/engine"
	"airpath/ui/theme"
)

// plot is what the gauges have shown, over the whole time line: drawn by the processor a few times a second, for curves grow
// slowly and long ones are dear to draw.
type plot struct {
	img  *image.RGBA
	op   paint.ImageOp
	key  plotKey
	at   time.Time
	tall bool
}

type plotKey struct {
	size    image.Point
	samples int
	begin   float64
	end     float64
	palette *symbol.Palette
	unit    string
}

// plotEvery is how often growing curves are drawn again.
const plotEvery = 300 * time.Millisecond

// topOfPlot is the end of its pressure scale, Pa above the atmosphere.
const topOfPlot = 150 * circuit.PSI

func (p *plot) layout(gtx ctx, a *Area, rect image.Rectangle) {
	f := a.frame
	key := plotKey{size: rect.Size(), begin: f.Begin, end: f.End, palette: a.set.Theme.Sheet, unit: string(a.set.Prefs.Units)}
	if len(f.Curves) > 0 {
		key.samples = len(f.Curves[0].Time)
	}
	grown := key
	grown.samples, grown.end = p.key.samples, p.key.end
	late := gtx.Now.Sub(p.at) >= plotEvery || gtx.Now.Before(p.at)
	if p.img == nil || grown != p.key || key != p.key && (late || !f.Playing) {
		p.key, p.at = key, gtx.Now
		p.tall = rect.Dy() > gtx.Dp(100)
		p.draw(a, float64(gtx.Metric.PxPerDp))
		p.op = paint.NewImageOp(p.img)
		p.op.Filter = paint.FilterNearest // it lies on whole pixels
	}
	at(gtx, rect.Min, func() {
		area := clip.Rect{Max: p.op.Size()}.Push(gtx.Ops)
		p.op.Add(gtx.Ops)
		paint.PaintOp{}.Add(gtx.Ops)
		area.Pop()
	})
}

func (p *plot) draw(a *Area, density float64) {
	th, size := a.set.Theme, p.key.size
	if p.img == nil || p.img.Rect.Size() != size {
		p.img = image.NewRGBA(image.Rectangle{Max: size})
	}
	draw.Draw(p.img, p.img.Rect, image.NewUniform(th.Sunk), image.Point{}, draw.Src)
	r := symbol.NewRaster(p.img, 1, symbol.Point{})
	p.grid(r, th, density)
	for i := range a.frame.Curves {
		p.curve(r, &a.frame.Curves[i], true, th.Healthy, 1.4*density)
	}
	for i := range a.frame.Curves {
		c := th.Ink
		if a.frame.Healthy != nil {
			c = th.Mark
		}
		if !a.frame.Curves[i].Gauge {
			c = theme.Mix(th.Sunk, c, 0.5)
		}
		p.curve(r, &a.frame.Curves[i], false, c, 1.8*density)
	}
	if p.tall {
		p.names(r, a, density)
	}
}

func (p *plot) x(t float64) float64 {
	return (t - p.key.begin) / max(p.key.end-p.key.begin, 1e-9) * float64(p.key.size.X-3)
}

func (p *plot) y(pa float64) float64 {
	share := (pa - circuit.AtmospherePressure) / topOfPlot
	return float64(p.key.size.Y) - 3 - share*float64(p.key.size.Y-8)
}

// grid draws levels of pressure, and when there is room for them their numbers and those of time.
func (p *plot) grid(r *symbol.Raster, th *theme.Theme, density float64) {
	top, _ := circuit.In(circuit.AtmospherePressure+topOfPlot, circuit.Pressure, p.key.unit)
	step, _ := scaleSteps(top)
	font := symbol.Font{Size: 11 * density, Color: th.Soft}
	for v := step; v < top-step/2; v += step {
		q := circuit.MustQuantity(fmt.Sprintf("%g %s", v, p.key.unit), circuit.Pressure)
		y := p.y(q.SI)
		r.Poly([]symbol.Point{{X: 0, Y: y}, {X: float64(p.key.size.X), Y: y}}, false, symbol.Style{Stroke: th.Rule, Width: density})
		if p.tall {
			r.Text(symbol.Point{X: 4 * density, Y: y - 3*density}, fmt.Sprintf("%g %s", v, p.key.unit), font)
		}
	}
	if !p.tall {
		return
	}
	first, every := ticks(0, p.key.end-p.key.begin, 8)
	for v := first; v < p.key.end-p.key.begin; v += every {
		x := p.x(v + p.key.begin)
		r.Poly([]symbol.Point{{X: x, Y: 0}, {X: x, Y: float64(p.key.size.Y)}}, false, symbol.Style{Stroke: th.Rule, Width: density})
		if v > 0 {
			r.Text(symbol.Point{X: x + 3*density, Y: float64(p.key.size.Y) - 4*density}, fmt.Sprintf("%g s", v), font)
		}
	}
}

// ticks are round numbers between two bounds, about n of them.
func ticks(low, high float64, n int) (first, step float64) {
	raw := max(high-low, 1e-9) / float64(n)
	mag := math.Pow(10, math.Floor(math.Log10(raw)))
	for _, k := range []float64{1, 2, 5, 10} {
		if step = k * mag; step >= raw {
			break
		}
	}
	return math.Ceil(low/step-1e-9) * step, step
}

// curve draws one, a point for each pixel at most.
func (p *plot) curve(r *symbol.Raster, c *engine.Trace, healthy bool, ink color.NRGBA, width float64) {
	values := c.Now
	if healthy {
		values = c.Healthy
	}
	var points []symbol.Point
	flush := func() {
		if len(points) > 1 {
			r.Poly(points, false, symbol.Style{Stroke: ink, Width: width})
		}
		points = points[:0]
	}
	last := math.Inf(-1)
	for i, v := range values {
		if math.IsNaN(v) {
			flush()
			continue
		}
		x := p.x(c.Time[i])
		if x-last < 1 && i+1 < len(values) {
			continue
		}
		last = x
		points = append(points, symbol.Point{X: x, Y: p.y(v)})
	}
	flush()
}

// names stand at the end of each curve, moved apart where they would cover one another.
func (p *plot) names(r *symbol.Raster, a *Area, density float64) {
	th := a.set.Theme
	line := 13 * density
	taken := math.Inf(1)
	for _, i := range byLast(a.frame.Curves) {
		c := &a.frame.Curves[i]
		if len(c.Now) == 0 {
			continue
		}
		y := min(p.y(c.Now[len(c.Now)-1])-4*density, taken-line)
		if y < line {
			continue
		}
		taken = y
		font := symbol.Font{Size: 11 * density}
		x := float64(p.key.size.X) - 8*density
		ground := th.Sunk
		ground.A = 0xd8
		r.Poly([]symbol.Point{{X: x - font.Width(c.Name) - 3, Y: y - 10*density}, {X: x + 3, Y: y - 10*density}, {X: x + 3, Y: y + 3*density}, {X: x - font.Width(c.Name) - 3, Y: y + 3*density}}, true, symbol.Style{Fill: ground})
		r.Text(symbol.Point{X: x, Y: y}, c.Name, symbol.Font{Size: 11 * density, Color: th.Ink, Anchor: symbol.End})
	}
}

// byLast orders curves by their last value, the lowest first.
func byLast(curves []engine.Trace) []int {
	order := make([]int, len(curves))
	for i := range order {
		order[i] = i
		for k := i; k > 0 && lastOf(curves[order[k]]) < lastOf(curves[order[k-1]]); k-- {
			order[k], order[k-1] = order[k-1], order[k]
		}
	}
	return order
}

func lastOf(c engine.Trace) float64 {
	if len(c.Now) == 0 {
		return 0
	}
	return c.Now[len(c.Now)-1]
}
