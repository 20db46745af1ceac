package engine

import (
	"math"
	"slices"
	"strings"

	"airpath/circuit"
	"airpath/circuit/airflow"
)

// curves are what the gauges have shown over time, and the reservoirs that no gauge shows.
type curves struct {
	names   []string
	gauges  int      // the first so many are gauges
	of      []string // component of each gauge, room of the others
	every   float64  // s
	from    float64  // of the first sample
	times   []float64
	now     [][]float64
	healthy [][]float64 // NaN where there was no fault
}

// mostSamples bounds their length; beyond it every other sample goes.
const mostSamples = 4000

func newCurves(n *airflow.Network) curves {
	c := curves{}
	vehicle := n.Circuit()
	shown := map[string]bool{}
	plumbing := circuit.NewPlumbing(vehicle)
	for _, id := range n.Gauges() {
		c.names, c.of = append(c.names, vehicle.Component(id).Name), append(c.of, id)
		room, _ := n.GaugedRoom(id)
		for _, r := range plumbing.Reach(room, func(_, passage string) bool { return passage == circuit.Bore }) {
			shown[r] = true
		}
	}
	c.gauges = len(c.names)
	for _, r := range vehicle.Reservoirs() {
		if !shown[r.Room] {
			name := r.Spec.About
			if len(r.Component.Kind.Rooms) == 1 {
				name = r.Component.Name
			}
			c.names, c.of = append(c.names, strings.TrimSpace(name)), append(c.of, r.Room)
		}
	}
	return c.fresh()
}

// fresh curves of the same things, with nothing in them.
func (c *curves) fresh() curves {
	return curves{names: c.names, gauges: c.gauges, of: c.of, every: 0.25,
		now: make([][]float64, len(c.names)), healthy: make([][]float64, len(c.names))}
}

// next is when the next sample is due.
func (c *curves) next(t float64) float64 {
	k := math.Floor((t-c.from)/c.every+1e-6) + 1
	return c.from + k*c.every
}

func (c *curves) due(t float64) bool {
	return len(c.times) == 0 || t >= c.times[len(c.times)-1]+c.every-1e-6
}

func (c *curves) sample(t float64, now, healthy *airflow.Run) {
	if len(c.times) == 0 {
		c.from = t
	}
	c.times = append(c.times, t)
	for i := range c.names {
		c.now[i] = append(c.now[i], c.read(i, now))
		v := math.NaN()
		if healthy != nil {
			v = c.read(i, healthy)
		}
		c.healthy[i] = append(c.healthy[i], v)
	}
	if len(c.times) > mostSamples {
		c.times = everyOther(c.times)
		for i := range c.names {
			c.now[i], c.healthy[i] = everyOther(c.now[i]), everyOther(c.healthy[i])
		}
		c.every *= 2
	}
}

func (c *curves) read(i int, r *airflow.Run) float64 {
	if i < c.gauges {
		return r.Gauge(c.of[i])
	}
	return r.Pressure(c.of[i])
}

func everyOther(v []float64) []float64 {
	out := make([]float64, 0, mostSamples+1)
	for i := 0; i < len(v); i += 2 {
		out = append(out, v[i])
	}
	return out
}

// cut drops what lies after a time. What has been handed out is not touched.
func (c *curves) cut(t float64) {
	n := len(c.times)
	for n > 0 && c.times[n-1] > t+1e-9 {
		n--
	}
	c.times = slices.Clip(c.times[:n])
	for i := range c.names {
		c.now[i], c.healthy[i] = slices.Clip(c.now[i][:n]), slices.Clip(c.healthy[i][:n])
	}
}

// frame is what is known now. Later samples are put behind it, in the same memory or in new.
func (c *curves) frame() []Trace {
	out := make([]Trace, len(c.names))
	for i, name := range c.names {
		out[i] = Trace{Name: name, Gauge: i < c.gauges, Time: c.times, Now: c.now[i], Healthy: c.healthy[i]}
	}
	return out
}
