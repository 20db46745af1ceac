package engine

import (
	"strings"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuit/airflow/effort"
	"airpath/circuit/airflow/moisture"
)

// Water is what the air has left behind since the start. The air's own flow is reckoned at 20 °C whatever the weather: only
// the water follows it.
type Water struct {
	Temperature float64 // K, outside
	Humidity    float64 // share of saturation
	DrawnIn     float64 // kg, with the air
	BlownOut    float64 // kg, by the dryer
	DewPoint    float64 // K, in the reservoirs
	Tanks       []TankWater
	Freezing    []string // places where ice can be met, in words
}

// TankWater is the water in a reservoir.
type TankWater struct {
	Room string
	Kg   float64
}

// tally is what has been counted. It goes with a moment of the time line.
type tally struct {
	temperature, humidity float64
	seconds               float64 // in this weather
	pumped, purged        float64 // kg
	loaded                float64 // s that the compressor pumped
	pressure              float64 // Pa·s in the supply reservoir while it did
	purges                float64
	blowing               bool
	before                Water     // of the weathers before this one
	drained               []float64 // kg let out of each tank
}

func (t tally) clone() tally {
	t.drained = append([]float64(nil), t.drained...)
	t.before.Tanks = append([]TankWater(nil), t.before.Tanks...)
	return t
}

// water counts the air as the moisture package wants it counted.
type water struct {
	tally
	brakes   *effort.Vehicle
	tanks    []circuit.Reservoir
	drains   [][]int // of each tank: controls of its drains, in the glance
	pumpWays []int   // passages through which compressors deliver
	supply   int     // room of the reservoir that they fill; -1 for none
	purge    []int   // vents of the dryers
	shown    Water
	shownAt  float64 // seconds and drains when it was worked out
}

func newWater(n *airflow.Network) (water, error) {
	w := water{supply: -1}
	var err error
	if w.brakes, err = effort.New(n, nil); err != nil {
		return w, err
	}
	c, x := n.Circuit(), n.Index()
	for _, id := range n.Pumps() {
		for _, p := range c.Component(id).Kind.Passages {
			if i, ok := x.Passage[circuit.Passage(id, p.Name)]; ok && p.OneWay {
				w.pumpWays = append(w.pumpWays, i)
			}
		}
	}
	w.tanks = c.Reservoirs()
	for _, t := range w.tanks {
		if len(t.FedBy) == 0 && w.supply < 0 {
			w.supply = x.Room[t.Room]
		}
		w.drains = append(w.drains, drainsOf(c, x, t))
	}
	for _, part := range c.Components {
		if _, ok := part.Kind.Param("purge_volume"); !ok {
			continue
		}
		for _, p := range part.Kind.Ports {
			if i, ok := x.Vent[part.ID+"."+p.Name]; ok && p.Role() == circuit.Exhaust {
				w.purge = append(w.purge, i)
			}
		}
	}
	return w, nil
}

// drainsOf a reservoir: what is fastened to the port that its kind calls its drain, and worked by hand.
func drainsOf(c *circuit.Circuit, x *airflow.Index, t circuit.Reservoir) []int {
	var out []int
	for _, p := range t.Component.Kind.Ports {
		if t.Component.Room(p.Room) != t.Room || !strings.HasSuffix(p.About, "drain") {
			continue
		}
		ref := circuit.PortRef{Component: t.Component.ID, Port: p.Name}
		l := c.LineAt(ref)
		if l == nil {
			continue
		}
		if cock := c.Component(l.Other(ref).Component); cock != nil {
			for _, k := range cock.Kind.Controls {
				if i, ok := x.Control[cock.ID+"."+k.Name]; ok {
					out = append(out, i)
				}
			}
		}
	}
	return out
}

// A mild, damp day, until somebody says otherwise.
const (
	usualTemperature = 288.15
	usualHumidity    = 0.7
)

func (w *water) clear() {
	temperature, humidity := w.temperature, w.humidity
	if temperature == 0 {
		temperature, humidity = usualTemperature, usualHumidity
	}
	w.tally = tally{temperature: temperature, humidity: humidity, drained: make([]float64, len(w.tanks))}
	w.shownAt = -1
}

// Flow of a purge that counts as begun, and as ended, kg/s.
const purgeBegins, purgeEnds = 1e-3, 1e-4

// drainRate is how fast water leaves by an open drain, kg/s: a cupful in a few seconds. Engineering judgement.
const drainRate = 0.05

// count what happened in the last stretch of time, by the flows at its end.
func (w *water) count(of *Worked, g *airflow.Glance, seconds float64) {
	if seconds <= 0 {
		return
	}
	w.seconds += seconds
	flow := 0.0
	for _, i := range w.pumpWays {
		flow += max(0, g.Flow[i])
	}
	w.pumped += flow * seconds
	if flow > 1e-5 && w.supply >= 0 {
		w.loaded += seconds
		w.pressure += g.Pressure[w.supply] * seconds
	}
	blow := 0.0
	for _, i := range w.purge {
		blow += max(0, g.Vent[i])
	}
	w.purged += blow * seconds
	was := w.blowing
	w.blowing = blow > purgeBegins || was && blow > purgeEnds
	if w.blowing && !was {
		w.purges++
	}
	for i, drains := range w.drains {
		for _, k := range drains {
			if g.Control[k] > 0.05 && w.drained[i] < w.gathered(i) {
				w.drained[i] = min(w.gathered(i), w.drained[i]+drainRate*seconds)
				w.shownAt = -1
			}
		}
	}
}

// gathered is all the water that has come into a tank.
func (w *water) gathered(i int) float64 {
	if i < len(w.shown.Tanks) {
		return w.shown.Tanks[i].Kg + w.drained[i]
	}
	return 0
}

// weather changes from now on. What has been left behind so far stays.
func (w *water) weather(temperature, humidity float64) {
	total := w.total()
	w.tally = tally{temperature: temperature, humidity: humidity, before: total, drained: w.drained, blowing: w.blowing}
	w.shownAt = -1
}

// total is the water of all weathers so far, drains not counted.
func (w *water) total() Water {
	out := Water{Temperature: w.temperature, Humidity: w.humidity, DrawnIn: w.before.DrawnIn, BlownOut: w.before.BlownOut}
	for i, t := range w.tanks {
		kg := 0.0
		if i < len(w.before.Tanks) {
			kg = w.before.Tanks[i].Kg
		}
		out.Tanks = append(out.Tanks, TankWater{t.Room, kg})
	}
	d := moisture.Duty{Pressure: circuit.AtmospherePressure}
	if w.seconds > 0 {
		d.Pumped, d.Purged, d.Loaded, d.Purges = w.pumped/w.seconds, w.purged/w.seconds, w.loaded/w.seconds, w.purges/w.seconds
	}
	if w.loaded > 0 {
		d.Pressure, d.Flow = w.pressure/w.loaded, w.pumped/w.loaded
	}
	r, err := moisture.Follow(w.brakes, d, moisture.Weather{Temperature: w.temperature, Humidity: w.humidity}, min(w.seconds, 86400))
	if err != nil {
		return out // the controls keep the weather within what can be followed
	}
	out.DrawnIn += r.DrawnIn
	out.BlownOut += r.BlownOut
	out.DewPoint = r.DewPoint
	for i := range out.Tanks {
		out.Tanks[i].Kg += r.Tanks[i].PerDay
	}
	for _, f := range r.Freezing {
		out.Freezing = append(out.Freezing, nameOf(w.brakes.Circuit, f.Component)+": "+f.Why)
	}
	return out
}

// nameOf a component or line.
func nameOf(c *circuit.Circuit, id string) string {
	if part := c.Component(id); part != nil {
		return part.Name
	}
	if l := c.Line(id); l != nil && l.Name != "" {
		return l.Name
	}
	return id
}

// faults that the vehicle has from now on: some change what becomes of the water.
func (w *water) faults(n *airflow.Network, faults []airflow.Fault) error {
	brakes, err := effort.New(n, faults)
	if err == nil {
		w.brakes, w.shownAt = brakes, -1
	}
	return err
}

// frame is what has come together by now. It is worked out anew after so many seconds of the vehicle.
func (w *water) frame(after float64) Water {
	if at := w.seconds; w.shownAt < 0 || at < w.shownAt || at >= w.shownAt+after {
		w.shown = w.total()
		for i := range w.shown.Tanks {
			w.drained[i] = min(w.drained[i], w.shown.Tanks[i].Kg)
			w.shown.Tanks[i].Kg -= w.drained[i]
		}
		w.shownAt = at
	}
	return w.shown
}
