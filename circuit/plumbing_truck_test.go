package circuit

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func vertexNames(vs []Vertex) []string {
	var names []string
	for _, v := range vs {
		names = append(names, v.Name)
	}
	return names
}

func wayIDs(ways []Way) []string {
	var ids []string
	for _, w := range ways {
		ids = append(ids, w.ID)
	}
	return ids
}

// What the truck is built for, read off its drawing.
func TestPathsOfTheTruck(t *testing.T) {
	c := readGritter(t)
	p := NewPlumbing(c)

	path, ok := p.Path("compressor.head", "tank.supply", nil)
	require.True(t, ok)
	assert.Equal(t, []string{"discharge_line/bore", "dryer_inlet_line/bore", "dryer/cartridge", "dryer/outlet check", "supply_line/bore"}, wayIDs(path.Ways))
	assert.Equal(t, []string{"compressor.head", "tee_discharge.body", "dryer.1", "dryer.purge", "dryer.2", "tank.supply"}, path.Rooms)

	// Every path to the primary compartment passes the dryer and the check valve.
	filling, err := p.Forward().Dominators(Atmosphere, nil)
	require.NoError(t, err)
	must, ok := filling.Must("tank.primary")
	require.True(t, ok)
	for _, want := range []string{"compressor/intake filter", "compressor/pump", "dryer/cartridge", "dryer/outlet check", "tank.supply", "check_primary/seat"} {
		assert.Contains(t, vertexNames(must), want)
	}
	assert.Equal(t, "check_primary.2", filling.Immediate("tank.primary"))
	// The springs can be held off from either service compartment: neither check valve is a cut.
	// With the pedal up their air comes by the park control alone; with the pedal down, by the anti-compounding check too.
	pedalUp := func(component, passage string) bool {
		return component != "foot_valve" && p.Healthy()(component, passage)
	}
	cuts := wayIDs(p.Forward().Cuts("tank.supply", "rear_left_chamber.spring", pedalUp))
	assert.Contains(t, cuts, "park_control/inlet")
	assert.NotContains(t, wayIDs(p.Forward().Cuts("tank.supply", "rear_left_chamber.spring", nil)), "park_control/inlet")
	assert.NotContains(t, cuts, "check_primary/seat")
	assert.NotContains(t, cuts, "check_secondary/seat")
	assert.Empty(t, p.Cuts("nowhere", "tank.primary", nil))
	assert.Empty(t, p.Cuts("gauge_primary.1", "compressor.head", nil), "no air gets there anyway")

	assert.Equal(t, []string{"compressor.intake"}, p.Forward().Sources("tank.supply", nil))
	assert.Equal(t, []string{"compressor.intake", "tank.primary", "tank.secondary", "tank.supply"}, p.Forward().Sources("park_control.1", nil))
	assert.Nil(t, p.Sources("nowhere", nil))
	assert.Contains(t, p.Feeders("rear_left_chamber.spring", nil), "tank.secondary")
	assert.NotContains(t, p.Reach("tank.primary", nil), "tank.supply", "the check valve holds")

	leaking, err := p.LeakingBack("check_primary/seat")
	require.NoError(t, err)
	assert.Contains(t, leaking.Reach("tank.primary", nil), "tank.supply", "unless it leaks back")
	path, ok = leaking.Path("tank.primary", "tank.supply", nil)
	require.True(t, ok)
	assert.Equal(t, []string{"primary_fill/bore", "check_primary/seat", "primary_feed/bore"}, wayIDs(path.Ways))

	// Worn passages take part only when they are opened.
	assert.Equal(t, [][]string{{"tank.primary"}}, containing(p.Zones(func(_, _ string) bool { return false }), "tank.primary"))
	wall := func(component, passage string) bool { return Passage(component, passage) == "tank/supply-primary wall" }
	assert.Equal(t, [][]string{{"tank.primary", "tank.supply"}}, containing(p.Zones(wall), "tank.primary"))
	healthy := p.Healthy()
	assert.False(t, healthy("tank", "supply-primary wall"))
	assert.True(t, healthy("discharge_line", "bore"))
	assert.False(t, healthy("nobody", "bore"))
}

func containing(zones [][]string, room string) [][]string {
	return slices.DeleteFunc(zones, func(z []string) bool { return !slices.Contains(z, room) })
}

// At rest, pedal up and parked, what is behind the exhausts is vented, and the reservoirs are not.
func TestZonesOfTheParkedTruck(t *testing.T) {
	p := NewPlumbing(readGritter(t))
	shut := []string{"rear_relay/inlet seat", "foot_valve/primary inlet", "foot_valve/secondary inlet", "park_control/inlet", "governor/inlet", "drain_supply/cock", "drain_primary/cock", "drain_secondary/cock",
		"safety_valve/seat", "dryer_relief/seat", "dryer/purge valve"}
	parked := func(component, passage string) bool {
		w, _ := p.Way(Passage(component, passage))
		return !w.Worn && !slices.Contains(shut, w.ID)
	}
	vented := containing(p.Zones(parked), Atmosphere)
	require.Len(t, vented, 1)
	for _, room := range []string{"rear_relay.2", "rear_left_chamber.service", "front_release.2", "front_right_chamber.service", "rear_left_chamber.spring", "park_control.2", "compressor.intake", "governor.2", "dryer.4"} {
		assert.Contains(t, vented[0], room)
	}
	for _, room := range []string{"tank.supply", "tank.primary", "tank.secondary", "rear_relay.1", "park_control.1", "compressor.head"} {
		assert.NotContains(t, vented[0], room)
	}
	// The relay's supply has the primary compartment's pressure.
	primary := containing(p.Zones(parked), "tank.primary")
	assert.Contains(t, primary[0], "rear_relay.1")
	assert.NotContains(t, primary[0], "tank.supply")
}

// The order of the file changes nothing: not one answer.
func TestTheOrderOfTheFileChangesNothing(t *testing.T) {
	answers := func(c *Circuit) string {
		p := NewPlumbing(c)
		var b strings.Builder
		d, err := p.Dominators("tank.supply", nil)
		require.NoError(t, err)
		for _, room := range p.Rooms() {
			path, ok := p.Path("tank.supply", room, nil)
			must, _ := d.Must(room)
			paths, complete := p.Paths("tank.supply", room, nil, 5)
			fmt.Fprintln(&b, room, ok, path.Rooms, wayIDs(path.Ways), vertexNames(must), p.Reach(room, nil), p.Feeders(room, nil), p.Sources(room, nil), len(paths), complete)
			for _, q := range paths {
				fmt.Fprintln(&b, wayIDs(q.Ways))
			}
		}
		fmt.Fprintln(&b, p.Zones(nil), wayIDs(p.Ways()))
		return b.String()
	}
	c := readGritter(t)
	want := answers(c)
	for seed := range uint64(3) {
		r := rand.New(rand.NewPCG(seed, 7))
		r.Shuffle(len(c.Components), func(i, j int) { c.Components[i], c.Components[j] = c.Components[j], c.Components[i] })
		r.Shuffle(len(c.Lines), func(i, j int) { c.Lines[i], c.Lines[j] = c.Lines[j], c.Lines[i] })
		assert.Equal(t, want, answers(c))
	}
}

// The container holds what the arrays were made of.
func TestGraphOfTheTruck(t *testing.T) {
	c := readGritter(t)
	p := NewPlumbing(c)
	order, err := p.Graph().Order()
	require.NoError(t, err)
	assert.Equal(t, len(p.Rooms())+len(p.Ways()), order)
	v, err := p.Graph().Vertex("rear_relay/inlet seat")
	require.NoError(t, err)
	assert.Equal(t, "rear_relay.1", v.Way.From)
	v, err = p.Graph().Vertex("rear_relay.1")
	require.NoError(t, err)
	assert.Nil(t, v.Way)
	air := 0
	for _, l := range c.Lines {
		if l.Type.Medium() == Air {
			air++
			w, ok := p.Way(Passage(l.ID, Bore))
			require.True(t, ok)
			assert.True(t, w.Line)
		}
	}
	passages := 0
	for _, comp := range c.Components {
		passages += len(comp.Kind.Passages)
	}
	assert.Len(t, p.Ways(), air+passages)
}

func BenchmarkReach(b *testing.B) {
	p := NewPlumbing(readGritter(b))
	b.ReportAllocs()
	for b.Loop() {
		p.Reach("tank.supply", nil)
	}
}

func BenchmarkNewPlumbing(b *testing.B) {
	c := readGritter(b)
	b.ReportAllocs()
	for b.Loop() {
		NewPlumbing(c)
	}
}
