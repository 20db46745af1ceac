package airflow

import (
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"airpath/circuits"
)

// The other vehicles of the library under test, worked like the gritter.

// fleet is every vehicle that makes its own air, in the order in which kinds are tried on them.
var fleet = []string{"tractor_trailer", "refuse_collector", "coach", "bench_board", "tractor"}

var (
	fleetLock     sync.Mutex
	fleetNetworks = map[string]*Network{}
)

// networkOf a library vehicle, compiled once for all tests.
func networkOf(t testing.TB, name string) *Network {
	t.Helper()
	fleetLock.Lock()
	defer fleetLock.Unlock()
	if n := fleetNetworks[name]; n != nil {
		return n
	}
	c, err := circuits.Load(name)
	require.NoError(t, err)
	n, err := Compile(c)
	require.NoError(t, err)
	fleetNetworks[name] = n
	return n
}

// vehicle is empty, engine off, knobs out, key on.
func vehicle(t testing.TB, name string, faults ...string) *rig {
	t.Helper()
	n := networkOf(t, name)
	var list []Fault
	for _, text := range faults {
		f, err := ParseFault(n.Circuit(), text)
		require.NoError(t, err)
		list = append(list, f)
	}
	r, err := n.Start(list, Scatter{})
	require.NoError(t, err)
	g := &rig{Run: r, t: t, n: n}
	g.set(Key, 1, 0)
	return g
}

// cutOutOf is the latch of the vehicle's governor.
func cutOutOf(n *Network) string {
	for _, l := range n.Latches() {
		if strings.HasSuffix(l, "governor.cutout") {
			return l
		}
	}
	return ""
}

// has tells whether the vehicle has a control of a bare name.
func (g *rig) has(control string) bool {
	for _, c := range g.n.Controls() {
		if c == control || strings.HasSuffix(c, "."+control) {
			return true
		}
	}
	return false
}

// ready is a vehicle charged to cut-out with its knobs in, engine then off and the air given time to cool. Gladhands with nothing
// on them are shut off.
func ready(t testing.TB, name string, faults ...string) *rig {
	t.Helper()
	g := vehicle(t, name, faults...)
	full := Event{Latch: cutOutOf(g.n), Value: true}
	if g.has("shut") {
		g.set("shut", 1, 0)
	}
	g.engine(g.n.Circuit().Engine.Rated.SI)
	g.until(600, full)
	if g.has("knob") {
		g.knob(1)
		g.wait(60)
		g.until(600, full)
	}
	g.engine(0)
	g.wait(180)
	return g
}

// fill brings every reservoir to a pressure, as a test rig does.
func (g *rig) fill(psig float64) {
	g.t.Helper()
	for _, r := range g.n.Circuit().Reservoirs() {
		require.NoError(g.t, g.Fill(r.Room, absolute(psig)))
	}
}
