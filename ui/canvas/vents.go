package canvas

import (
	"image/color"
	"math"

	"gioui.org/f32"
	"gioui.org/layout"

	"airpath/circuit/airflow"
	"airpath/ui/theme"
)

// What blows off is drawn as strokes that fly out of the place in a fan, the longer the more air.
const puffPeriod = 14 // dp from one stroke to the next

// blowing is the flow, kg/s, from which on it is drawn: about where a leak is heard in a quiet bay.
const blowing = 1e-5

func (m *Motion) drawVents(gtx layout.Context, p *surface, th *theme.Theme, g *airflow.Glance) {
	for i := range m.vents {
		v := &m.vents[i]
		flow := g.Vent[v.index]
		if math.Abs(flow) < blowing {
			continue
		}
		x, y := p.cam.Pixel(v.at)
		o := v.out.Step()
		c := th.Sheet.Ink
		if v.part {
			c = th.Sheet.Bad // air that should not come out here
		}
		m.fan(p, pt(x, y), f32.Pt(float32(o.X), float32(o.Y)), flow, m.blow[i]*m.key.density, v.part, c)
	}
}

// fan of strokes around a direction; a leak blows to all sides.
func (m *Motion) fan(p *surface, at, out f32.Point, flow, phase float64, round bool, c color.NRGBA) {
	d := m.key.density
	reach := d * (8 + 9*math.Log10(math.Abs(flow)/blowing))
	period := puffPeriod * d
	turn := math.Mod(phase, period)
	if turn < 0 {
		turn += period
	}
	rays, spread := 3, 0.42
	if round {
		rays, spread = 6, 2*math.Pi/6
	}
	base := math.Atan2(float64(out.Y), float64(out.X))
	w := float32(max(1.5, 1.6*d))
	for k := range rays {
		a := base + (float64(k)-float64(rays-1)/2)*spread
		sin, cos := math.Sincos(a)
		dir := f32.Pt(float32(cos), float32(sin))
		for s := turn - period; s < reach; s += period {
			from, to := max(2*d, s), min(reach, s+6*d)
			if to-from < d {
				continue
			}
			side := f32.Pt(-dir.Y, dir.X).Mul(w / 2 * float32(1+0.6*from/reach))
			a, b := at.Add(dir.Mul(float32(from))), at.Add(dir.Mul(float32(to)))
			p.shape(c, a.Add(side), b.Add(side), b.Sub(side), a.Sub(side))
		}
	}
	p.flush()
}
