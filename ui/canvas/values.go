package canvas

import (
	"math"
	"strconv"
	"time"

	"gioui.org/layout"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuit/symbol"
	"airpath/ui/theme"
)

// values are the numbers beside dials. They follow a few times a second, so that they can be read.
type values struct {
	of    map[string]int // gauge by component
	key   groundKey
	spots []spot
	at    time.Time
}

type spot struct {
	symbol.ValueSpot
	gauge int
	pa    float64
	tenth int // what is written, in tenths of a unit
	text  string
}

// valuesEvery is how often numbers change.
const valuesEvery = 200 * time.Millisecond

func (m *Motion) dials(n *airflow.Network) map[string]int { return n.Index().Gauge }

func (v *values) draw(gtx layout.Context, m *Motion, s *Sheet, th *theme.Theme, look symbol.Look, g *airflow.Glance, moving bool) {
	if v.key != m.key {
		v.key, v.spots, v.at = m.key, v.spots[:0], time.Time{}
		for _, at := range m.sheet.ValueSpots(look) {
			if i, ok := v.of[at.ID]; ok {
				v.spots = append(v.spots, spot{ValueSpot: at, gauge: i, tenth: math.MinInt})
			}
		}
	}
	fresh := !moving || gtx.Now.Sub(v.at) >= valuesEvery || gtx.Now.Before(v.at)
	if fresh {
		v.at = gtx.Now
	}
	p := surface{ops: gtx.Ops, shaper: th.Shaper, cam: s.cam}
	for i := range v.spots {
		x := &v.spots[i]
		if fresh || math.Abs(g.Needle[x.gauge]-x.pa) > 3*circuit.PSI {
			x.pa = g.Needle[x.gauge]
			x.follow(g.Needle[x.gauge], look.Unit)
		}
		m.number(&p, x.At, x.text, x.Font, th.Paper)
	}
}

// follow writes a new text only where the number has changed.
func (x *spot) follow(pa float64, unit string) {
	if unit == "" {
		unit = "psi"
	}
	v, _ := circuit.In(pa, circuit.Pressure, unit)
	tenth := int(math.Round(v)) * 10
	decimals := 0
	if unit == "bar" {
		tenth, decimals = int(math.Round(10*v)), 1
	}
	if tenth == x.tenth && x.text != "" {
		return
	}
	x.tenth, x.text = tenth, strconv.FormatFloat(float64(tenth)/10, 'f', decimals, 64)+" "+unit
}

// badges number the lit path.
func (m *Motion) badges(p *surface, look symbol.Look) {
	if len(m.marks.Path) == 0 {
		return
	}
	m.sheet.DrawLayer(p, symbol.MarkLayer, look, symbol.Marks{Path: m.marks.Path})
}
