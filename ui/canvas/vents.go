package canvas

import (
	"image/color"
	"math"

	"airpath/circuit/airflow"
	"airpath/circuit/symbol"
	"airpath/ui/theme"
)

// What blows off is drawn as strokes that fly out of the place in a fan, the longer the more air.
const puffPeriod = 14 // dp from one stroke to the next

// blowing is the flow, kg/s, from which on it is drawn: about where a leak is heard in a quiet bay.
const blowing = 1e-5

func (m *Motion) drawVents(cam Camera, th *theme.Theme, g *airflow.Glance) {
	for i := range m.vents {
		v := &m.vents[i]
		flow := g.Vent[v.index]
		if math.Abs(flow) < blowing {
			continue
		}
		x, y := cam.Pixel(v.at)
		c := th.Sheet.Ink
		if v.part {
			c = th.Sheet.Bad // air that should not come out here
		}
		m.fan(symbol.Point{X: x, Y: y}, v.out.Step(), flow, m.blow[i]*m.key.density, v.part, c)
	}
}

// Blowing is what comes out of the vehicle at a moment, kg/s: where it is meant to, and where it is not.
func (m *Motion) Blowing(g *airflow.Glance) (exhaust, leak float64) {
	for i := range m.vents {
		switch flow := max(0, g.Vent[m.vents[i].index]); {
		case m.vents[i].part:
			leak += flow
		default:
			exhaust += flow
		}
	}
	return exhaust, leak
}

// fan of strokes around a direction; a leak blows to all sides.
func (m *Motion) fan(at, out symbol.Point, flow, phase float64, round bool, c color.NRGBA) {
	m.strokes.fan++
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
	base := math.Atan2(out.Y, out.X)
	w := max(1.5, 1.6*d)
	for k := range rays {
		sin, cos := math.Sincos(base + (float64(k)-float64(rays-1)/2)*spread)
		for s := turn - period; s < reach; s += period {
			from, to := max(2*d, s), min(reach, s+6*d)
			if to-from < d {
				continue
			}
			half := w / 2 * (1 + 0.6*from/reach)
			x, y := -sin*half, cos*half
			a, b := symbol.Point{X: at.X + cos*from, Y: at.Y + sin*from}, symbol.Point{X: at.X + cos*to, Y: at.Y + sin*to}
			m.strokes.shape(c, symbol.Point{X: a.X + x, Y: a.Y + y}, symbol.Point{X: b.X + x, Y: b.Y + y}, symbol.Point{X: b.X - x, Y: b.Y - y}, symbol.Point{X: a.X - x, Y: a.Y - y})
		}
	}
}
