package tracing

import (
	"image"
	"math"

	"airpath/circuit"
	"airpath/ui/model"
)

// frame is the plot's inner rectangle with its scales.
type frame struct {
	rect   image.Rectangle
	t0, t1 float64
	p0, p1 float64 // in the unit shown
	units  model.Units
}

func (f frame) x(t float64) float32 {
	return float32(f.rect.Min.X) + float32((t-f.t0)/(f.t1-f.t0))*float32(f.rect.Dx())
}

func (f frame) y(pa float64) float32 {
	v, _ := circuit.In(pa, circuit.Pressure, string(f.units))
	return float32(f.rect.Max.Y) - float32((v-f.p0)/(f.p1-f.p0))*float32(f.rect.Dy())
}

// frameOf makes room for everything that is drawn.
func frameOf(gtx ctx, size image.Point, u model.Units, m *model.Plot) frame {
	f := frame{t0: math.Inf(1), t1: math.Inf(-1), p0: math.Inf(1), p1: math.Inf(-1), units: u}
	for _, c := range m.Curves {
		for i, t := range c.Time {
			f.t0, f.t1 = min(f.t0, t), max(f.t1, t)
			f.include(c.Value[i])
		}
	}
	for _, l := range m.Marks {
		f.include(l.From)
		f.include(l.To)
		if !math.IsNaN(l.End) {
			f.t1 = max(f.t1, l.End*1.02)
		}
	}
	if !(f.t1 > f.t0) {
		f.t1 = f.t0 + 1
	}
	pad := max((f.p1-f.p0)*0.06, 1e-3)
	f.p0, f.p1 = max(0, f.p0-pad), f.p1+pad
	f.rect = image.Rect(gtx.Sp(64), gtx.Dp(10), size.X-min(gtx.Sp(206), size.X/3), size.Y-gtx.Sp(30))
	return f
}

func (f *frame) include(pa float64) {
	if v, ok := circuit.In(pa, circuit.Pressure, string(f.units)); ok && !math.IsNaN(v) {
		f.p0, f.p1 = min(f.p0, v), max(f.p1, v)
	}
}

// ticks are round numbers between two bounds, about n of them.
func ticks(low, high float64, n int) (first, step float64) {
	raw := (high - low) / float64(max(n, 1))
	mag := math.Pow(10, math.Floor(math.Log10(raw)))
	step = 10 * mag
	for _, k := range []float64{1, 2, 2.5, 5} {
		if k*mag >= raw {
			step = k * mag
			break
		}
	}
	return math.Ceil(low/step-1e-9)*step + 0, step // + 0 turns a negative zero into zero
}
