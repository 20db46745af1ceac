package procedure

import (
	"cmp"
	"slices"
	"strings"
	"sync"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuit/airflow/effort"
)

// A vehicle is a circuit seen by what its parts are for: what the templates of procedures need to know of it.
type vehicle struct {
	network    *airflow.Network
	circuit    *circuit.Circuit
	dash       []tap // the driver's gauges
	wet        tap   // a service gauge on the reservoir that the compressor fills
	compressor *circuit.Component
	governor   *circuit.Component
	dryer      *circuit.Component
	foot       *circuit.Component
	park       *circuit.Component
	reservoirs []reservoir
	checks     []checkValve
	lowSwitch  []*circuit.Component // low pressure switches
	warnings   []*circuit.Component // lamps and buzzers that they are wired to
	stopLamps  []*circuit.Component
	springs    []*circuit.Component // chambers with a spring

	at       starts
	plumbing *circuit.Plumbing
	wheels   func() (*effort.Vehicle, error) // of the healthy vehicle, made when they are first asked for
}

// A tap is a place where a pressure can be read: a dash gauge, or a room with a service gauge on it.
type tap struct {
	place string // component whose needle it is, or the test connection or component that the service gauge sits on
	name  string // "primary gauge"
	gauge bool   // a dash gauge, with whatever is wrong with it; a service gauge reads true
	room  string
}

// read the needle, Pa absolute.
func (t tap) read(r *airflow.Run) float64 {
	if t.gauge {
		return r.Gauge(t.place)
	}
	return r.Pressure(t.room)
}

// A reservoir with its drain and the gauge that shows it, where there are such.
type reservoir struct {
	room  string
	name  string // "primary compartment"
	drain *circuit.Component
	dash  *tap
	wet   bool // filled by the compressor, not by another reservoir
}

// A checkValve keeps one reservoir's air when another's is lost.
type checkValve struct {
	part *circuit.Component
	keep reservoir
	lose reservoir
}

func newVehicle(n *airflow.Network) *vehicle {
	c := n.Circuit()
	v := &vehicle{network: n, circuit: c, plumbing: circuit.NewPlumbing(c)}
	v.wheels = sync.OnceValues(func() (*effort.Vehicle, error) { return effort.New(n, nil) })
	v.compressor, v.governor, v.dryer = v.first("compressor"), v.first("governor"), v.first("air-dryer")
	v.foot, v.park = v.first("foot-valve"), v.first("park-control")
	v.lowSwitch = v.all("pressure-switch")
	v.springs = v.all("spring-brake-chamber")
	for _, id := range n.Gauges() {
		if part := c.Component(id); part != nil {
			room, _ := n.GaugedRoom(id)
			v.dash = append(v.dash, tap{place: id, name: part.Name, gauge: true, room: room})
		}
	}
	for _, r := range c.Reservoirs() {
		v.reservoirs = append(v.reservoirs, v.describe(r))
	}
	for _, r := range v.reservoirs {
		if r.wet && v.wet.place == "" {
			v.wet = v.serviceGauge(r.room, r.name)
		}
	}
	for _, part := range v.all("check-valve") {
		to, kept := v.reservoirAt(part.Room("2"))
		from, lost := v.reservoirAt(part.Room("1"))
		if kept && lost && to.dash != nil && from.drain != nil {
			v.checks = append(v.checks, checkValve{part, to, from})
		}
	}
	v.warnings = v.wiredTo(v.lowSwitch)
	v.stopLamps = v.wiredTo(v.all("stop-lamp-switch"))
	if v.compressor != nil {
		v.at = v.starts()
	}
	return v
}

func (v *vehicle) all(kind string) []*circuit.Component {
	var found []*circuit.Component
	for _, c := range v.circuit.Components {
		if c.Kind.Name == kind {
			found = append(found, c)
		}
	}
	return found
}

func (v *vehicle) first(kind string) *circuit.Component {
	if found := v.all(kind); len(found) > 0 {
		return found[0]
	}
	return nil
}

// joined lists the rooms that share a room's air for good: through lines alone.
func (v *vehicle) joined(room string) []string {
	return v.plumbing.Reach(room, func(_, passage string) bool { return passage == circuit.Bore })
}

func (v *vehicle) describe(r circuit.Reservoir) reservoir {
	out := reservoir{room: r.Room, name: cmp.Or(r.Spec.About, r.Component.Name), wet: len(r.FedBy) == 0}
	joined := v.joined(r.Room)
	for _, d := range v.all("drain-valve") {
		if out.drain == nil && slices.Contains(joined, d.Room("1")) {
			out.drain = d
		}
	}
	for i := range v.dash {
		if out.dash == nil && slices.Contains(joined, v.dash[i].room) {
			out.dash = &v.dash[i]
		}
	}
	return out
}

// serviceGauge puts a gauge on a room: on its test connection if it has one.
func (v *vehicle) serviceGauge(room, name string) tap {
	joined := v.joined(room)
	for _, c := range v.all("test-connection") {
		if slices.Contains(joined, c.Room("1")) {
			return tap{place: c.ID, name: "service gauge on the " + c.Name, room: room}
		}
	}
	id, _, _ := strings.Cut(room, ".")
	return tap{place: id, name: "service gauge on the " + name, room: room}
}

func (v *vehicle) reservoirAt(room string) (reservoir, bool) {
	joined := v.joined(room)
	for _, r := range v.reservoirs {
		if slices.Contains(joined, r.room) {
			return r, true
		}
	}
	return reservoir{}, false
}

// kept are the reservoirs that the driver sees and that can be drained by hand, in file order.
func (v *vehicle) kept() []reservoir {
	var out []reservoir
	for _, r := range v.reservoirs {
		if !r.wet && r.drain != nil && r.dash != nil {
			out = append(out, r)
		}
	}
	return out
}

// wetReservoir is the one that the compressor fills; ok is false where it has no drain.
func (v *vehicle) wetReservoir() (reservoir, bool) {
	for _, r := range v.reservoirs {
		if r.wet && r.drain != nil {
			return r, true
		}
	}
	return reservoir{}, false
}

// wiredTo lists the lamps and buzzers that wires join to any of some switches, in file order.
func (v *vehicle) wiredTo(switches []*circuit.Component) []*circuit.Component {
	reached := map[string]bool{}
	for _, s := range switches {
		reached[s.ID] = true
	}
	for grown := true; grown; {
		grown = false
		for _, l := range v.circuit.Lines {
			if l.Type.Medium() == circuit.Current && reached[l.From.Component] != reached[l.To.Component] {
				reached[l.From.Component], reached[l.To.Component] = true, true
				grown = true
			}
		}
	}
	var out []*circuit.Component
	for _, id := range v.network.Sinks() {
		if reached[id] {
			out = append(out, v.circuit.Component(id))
		}
	}
	return out
}

// cutOut is the governor's latch: up while it sends air to the unloader.
func (v *vehicle) cutOut() string {
	if v.governor != nil {
		for _, name := range v.network.Latches() {
			if strings.HasPrefix(name, v.governor.ID+".") {
				return name
			}
		}
	}
	return ""
}

// purge is the port that the dryer blows out at, "" without a dryer.
func (v *vehicle) purge() string {
	if v.dryer == nil {
		return ""
	}
	for _, p := range v.dryer.Kind.Ports {
		if p.Vent {
			return v.dryer.ID + "." + p.Name
		}
	}
	return ""
}

// builds says whether the vehicle makes its own air, under a governor and with needles to see it by.
func (v *vehicle) builds() bool {
	return v.compressor != nil && v.cutOut() != "" && len(v.dash) > 0
}

// brakes says whether there is a pedal to press and a gauge to watch.
func (v *vehicle) brakes() bool { return v.builds() && v.foot != nil }

// taps are the pressures that every procedure records: the driver's needles, and the wet reservoir where it can be got at.
func (v *vehicle) taps() []tap {
	out := slices.Clone(v.dash)
	if v.wet.place != "" {
		out = append(out, v.wet)
	}
	return out
}

// nameOf a place as a person says it.
func (v *vehicle) nameOf(place string) string {
	id, port, hasPort := strings.Cut(place, ".")
	if l := v.circuit.Line(id); l != nil {
		return l.Name
	}
	c := v.circuit.Component(id)
	if c == nil {
		return place
	}
	if hasPort {
		if spec, ok := c.Kind.Port(port); ok {
			return c.Name + ", " + spec.About
		}
	}
	return c.Name
}
