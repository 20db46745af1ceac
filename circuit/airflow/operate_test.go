package airflow

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"airpath/circuit"
)

// A line taken off: its two ends stand open, nothing passes it, and all is as before when it is put back.
func TestLineOff(t *testing.T) {
	n := truckNetwork(t)
	r, err := n.Start(nil, Scatter{})
	require.NoError(t, err)
	start := r.Mass()
	setControl(t, r, Engine, 2000.0/60, 1)
	require.NoError(t, r.Advance(30))
	rising := r.Pressure("tank.primary")
	require.NoError(t, r.LineOff("discharge_line", true))
	require.NoError(t, r.Advance(20))
	assert.Less(t, r.Pressure("tank.primary"), rising+0.5*circuit.PSI, "nothing is added any more")
	assert.InDelta(t, -r.VentFlow("compressor.0"), r.VentFlow("discharge_line.from"), 1e-6, "all that is drawn in blows out at the open end")
	assert.Greater(t, r.VentFlow("discharge_line.from"), 3e-3)
	assert.Zero(t, r.PassageFlow("discharge_line/bore"))
	assert.Zero(t, r.PassageOpen("discharge_line/bore"))
	assert.InDelta(t, 0, toPSI(r.Pressure("dryer.1")), 0.01, "the far end stands open too")
	require.NoError(t, r.LineOff("discharge_line", true), "twice is once")
	require.NoError(t, r.LineOff("discharge_line", false))
	require.NoError(t, r.Advance(20))
	assert.Greater(t, r.Pressure("tank.primary"), rising+10*circuit.PSI)
	assert.Zero(t, r.VentFlow("discharge_line.from"))
	assert.Positive(t, r.VentedAt("discharge_line.from"))
	assert.InDelta(t, start, r.Mass()+r.Vented(), 1e-9*r.Mass())
	assert.ErrorContains(t, r.LineOff("no_such_line", true), "no_such_line")
	assert.ErrorContains(t, r.LineOff("primary_switch_wire", true), "no air line")
}

// A plug: on an exhaust it keeps the air in, on a port with a line it cuts that line off.
func TestPlug(t *testing.T) {
	n := truckNetwork(t)
	r, err := n.Start(nil, Scatter{})
	require.NoError(t, err)
	chargeUp(t, r)
	setControl(t, r, Engine, 0, 1)
	setControl(t, r, "pedal", 1, 0.2)
	require.NoError(t, r.Advance(3))
	require.NoError(t, r.Plug("rear_relay.3", true))
	setControl(t, r, "pedal", 0, 0.1)
	require.NoError(t, r.Advance(5))
	assert.Zero(t, r.VentFlow("rear_relay.3"))
	assert.Greater(t, toPSI(r.Pressure("rear_relay.2")), 50.0, "the rear brakes can't let go")
	assert.Less(t, toPSI(r.Pressure("front_release.2")), 2.0, "the front ones have")
	require.NoError(t, r.Plug("rear_relay.3", false))
	require.NoError(t, r.Advance(5))
	assert.Less(t, toPSI(r.Pressure("rear_relay.2")), 2.0)

	l := n.Circuit().Lines[0]
	for _, line := range n.Circuit().Lines {
		if line.ID == "front_left_hose" {
			l = line
		}
	}
	require.NoError(t, r.Plug(l.To.String(), true))
	setControl(t, r, "pedal", 1, 0.2)
	require.NoError(t, r.Advance(3))
	assert.Zero(t, r.PassageOpen(l.ID+"/bore"))
	assert.ErrorContains(t, r.Plug("rear_relay.nothing", true), "component.port")
}

// What can't be done is refused with what would be right.
func TestWrongCalls(t *testing.T) {
	n := truckNetwork(t)
	r, err := n.Start(nil, Scatter{})
	require.NoError(t, err)
	assert.ErrorContains(t, r.Set("brake", 1, 0), "foot_valve.pedal")
	assert.ErrorContains(t, r.Set("pedal", 1.5, 0), "0 to 1")
	assert.ErrorContains(t, r.Set("pedal", math.NaN(), 0), "0 to 1")
	assert.ErrorContains(t, r.Set("pedal", 1, -1), "-1 s")
	assert.ErrorContains(t, r.Advance(-1), "-1")
	assert.Error(t, r.Advance(math.NaN()))
	assert.Error(t, r.Advance(math.Inf(1)))
	assert.ErrorContains(t, r.Fill("tank.wet", 2e5), "component.room")
	assert.ErrorContains(t, r.Fill("tank.supply", 0), "tank.supply")
	for _, ev := range []Event{
		{}, {Room: "tank.wet", Level: 2e5}, {Gauge: "tank", Level: 2e5}, {Gauge: "no_gauge"}, {Vent: "nowhere"}, {Latch: "governor.cut"}, {Lamp: "lamp"},
		{Trip: "knob"}, {Room: "tank.supply", Latch: "governor.cutout"},
	} {
		_, err := r.Until(1, ev)
		assert.Error(t, err, "%+v", ev)
	}
	_, err = r.Until(math.Inf(1), Event{Room: "tank.supply"})
	assert.Error(t, err)
	_, err = n.Start([]Fault{{"tank", "on fire", 1}}, Scatter{})
	assert.ErrorContains(t, err, "primary leaking")
	_, err = n.Start([]Fault{{"tanks", "primary leaking", 1e-3}}, Scatter{})
	assert.ErrorContains(t, err, `"tanks"`)
	_, err = n.Start([]Fault{{"tank", "primary leaking", math.Inf(1)}}, Scatter{})
	assert.ErrorContains(t, err, "finite")
	for _, ask := range []float64{r.Pressure("x"), r.Temperature("x"), r.Volume("x"), r.Gauge("tank"), r.Stroke("tank"), r.VentFlow("x"), r.VentedAt("x"), r.PassageFlow("x"), r.PassageOpen("x"), r.Get("x")} {
		assert.True(t, math.IsNaN(ask), "of what there is not, nothing is known")
	}
	assert.False(t, r.Latch("x"))
	assert.False(t, r.Lit("x"))
	assert.False(t, r.Tripped("x"))
	assert.Equal(t, atm, r.Pressure(circuit.Atmosphere))
}

// Events: each sort, located as near as is promised, at once when it is already so, and not at all when the time is up.
func TestEvents(t *testing.T) {
	n := truckNetwork(t)
	r, err := n.Start(nil, Scatter{})
	require.NoError(t, err)
	setControl(t, r, Key, 1, 0)
	at := func(limit float64, ev Event) bool {
		fired, err := r.Until(limit, ev)
		require.NoError(t, err)
		return fired
	}
	assert.True(t, at(1, Event{Room: "tank.supply", Level: atPSI(50)}), "falling, and below from the start")
	assert.Zero(t, r.Time())
	assert.False(t, at(1, Event{Room: "tank.supply", Level: atPSI(50), Rising: true}))
	assert.Equal(t, 1.0, r.Time())
	setControl(t, r, Engine, 2000.0/60, 1)
	for _, level := range []float64{10, 33.3, 70} {
		require.True(t, at(300, Event{Room: "tank.supply", Level: atPSI(level), Rising: true}))
		assert.InDelta(t, atPSI(level), r.Pressure("tank.supply"), 2.001)
	}
	require.True(t, at(300, Event{Lamp: "warning_lamp", Value: false}))
	assert.InDelta(t, 70, toPSI(min(r.Pressure("switch_primary.1"), r.Pressure("switch_secondary.1"))), 0.01)
	require.True(t, at(300, Event{Gauge: "gauge_primary", Level: atPSI(100), Rising: true}))
	assert.InDelta(t, atPSI(100), r.Gauge("gauge_primary"), 2.001)
	require.True(t, at(300, Event{Latch: "governor.cutout", Value: true}))
	require.True(t, at(30, Event{Vent: "dryer.3", Level: 2e-3, Rising: true}))
	require.True(t, at(60, Event{Vent: "dryer.3", Level: 1e-5}))
	assert.InDelta(t, 1e-5, r.VentFlow("dryer.3"), 2e-8)
	setControl(t, r, Engine, 0, 1)
	setControl(t, r, "knob", 1, 0.1)
	require.NoError(t, r.Advance(5))
	assert.False(t, r.Tripped("park_control.knob"))
	setControl(t, r, "cock", 1, 0)
	require.True(t, at(600, Event{Trip: "park_control.knob"}))
	assert.True(t, r.Tripped("park_control.knob"))
	require.NoError(t, r.Advance(1))
	assert.Zero(t, r.Get("knob"))
	setControl(t, r, "knob", 1, 0.1)
	require.True(t, at(1, Event{Trip: "park_control.knob"}), "pushed in without air it does not stay")
}

// A needle: an offset shifts it, a dead band holds it, its dial ends.
func TestNeedle(t *testing.T) {
	g := gauge{full: atPSI(150), band: 5 * circuit.PSI}
	needle := atPSI(0)
	for _, row := range []struct{ pressure, shows float64 }{{3, 0}, {20, 15}, {100, 95}, {98, 95}, {91, 95}, {80, 85}, {0, 5}, {300, 150}} {
		needle = g.follow(needle, atPSI(row.pressure))
		assert.InDelta(t, row.shows, toPSI(g.shows(needle)), 1e-9, "after %g psi", row.pressure)
	}
	g.offset = -8 * circuit.PSI
	assert.InDelta(t, 92, toPSI(g.shows(atPSI(100))), 1e-9)
	assert.InDelta(t, 0, toPSI(g.shows(atPSI(3))), 1e-9, "no needle shows less than nothing")
}

// The wiring: two switches, a lamp, and a buzzer behind the lamp.
func TestWiring(t *testing.T) {
	const first, second, lamp, buzzer, wireFirst, wireSecond, wireBuzzer = 0, 1, 2, 3, 4, 5, 6
	healthy := func() *plan {
		return &plan{
			contacts: []contact{{owner: first, latch: 0, when: false}, {owner: second, latch: 1, when: false}},
			sinks:    []sink{{owner: lamp}, {owner: buzzer}},
			wires:    []wire{{owner: wireFirst, a: first, b: lamp}, {owner: wireSecond, a: second, b: lamp}, {owner: wireBuzzer, a: lamp, b: buzzer}},
		}
	}
	low, full := false, true
	for _, row := range []struct {
		name           string
		change         func(p *plan)
		key            bool
		first, second  bool // latches: pressed
		lamp, buzzerOn bool
	}{
		{"both low", func(*plan) {}, true, low, low, true, true},
		{"key off", func(*plan) {}, false, low, low, false, false},
		{"one low", func(*plan) {}, true, full, low, true, true},
		{"both full", func(*plan) {}, true, full, full, false, false},
		{"wire of the low one broken", func(p *plan) { p.wires[1].open = true }, true, full, low, false, false},
		{"wire to the buzzer broken", func(p *plan) { p.wires[2].open = true }, true, low, low, true, false},
		{"wire to ground", func(p *plan) { p.wires[0].shorted = true }, true, full, full, true, true},
		{"contact stuck closed", func(p *plan) { p.contacts[0].held, p.contacts[0].hold = true, true }, true, full, full, true, true},
		{"contact stuck open", func(p *plan) { p.contacts[1].held = true }, true, full, low, false, false},
		{"lamp dead", func(p *plan) { p.sinks[0].dead = true }, true, low, full, false, true},
	} {
		t.Run(row.name, func(t *testing.T) {
			p := healthy()
			row.change(p)
			latches := []bool{row.first, row.second}
			assert.Equal(t, row.lamp, p.lit(lamp, row.key, latches), "lamp")
			assert.Equal(t, row.buzzerOn, p.lit(buzzer, row.key, latches), "buzzer")
			assert.False(t, p.lit(first, row.key, latches), "a switch is no lamp")
		})
	}
}

// Faults as text.
func TestFaultText(t *testing.T) {
	c := truckNetwork(t).Circuit()
	for _, f := range Catalogue(c) {
		back, err := ParseFault(c, f.String())
		require.NoError(t, err, f.String())
		assert.Equal(t, f, back)
	}
	f, err := ParseFault(c, "tank/primary leaking = 0.8 mm")
	require.NoError(t, err)
	assert.Equal(t, Fault{"tank", "primary leaking", 0.8e-3}, f)
	f, err = ParseFault(c, "compressor/worn=30 %")
	require.NoError(t, err)
	assert.InDelta(t, 0.3, f.Severity, 1e-12)
	for text, want := range map[string]string{
		"tank":                       "component/mode",
		"tanks/primary leaking":      `"tanks"`,
		"tank/gone":                  "primary leaking",
		"tank/primary leaking=2 psi": "mm",
		"tank/primary leaking=much":  "mm",
		"tank/primary leaking=NaN":   "mm",
	} {
		_, err := ParseFault(c, text)
		assert.ErrorContains(t, err, want, text)
	}
}

// A law that names what its kind lacks is an error of the program, and says which.
func TestBuilderRefuses(t *testing.T) {
	kind, err := circuit.KindNamed("check-valve")
	require.NoError(t, err)
	part := &circuit.Component{ID: "valve", Kind: kind}
	for name, law := range map[string]func(b *Builder){
		"room":    func(b *Builder) { b.Volume("7", 1) },
		"passage": func(b *Builder) { b.Passage("hatch", 1e-8, 0.3, Open) },
		"control": func(b *Builder) { b.Passage("seat", 1e-8, 0.3, Opening{Terms: []Term{{Control: "lever", Gain: 1}}}) },
		"latch":   func(b *Builder) { b.Passage("seat", 1e-8, 0.3, Opening{Terms: []Term{{Latch: "memory", Gain: 1}}}) },
		"one of": func(b *Builder) {
			b.Passage("seat", 1e-8, 0.3, Opening{Terms: []Term{{Room: "1", Latch: "memory", Gain: 1}}})
		},
		"m³":       func(b *Builder) { b.Volume("1", -1) },
		"critical": func(b *Builder) { b.Passage("seat", 1e-8, 1.2, Open) },
		"piston":   func(b *Builder) { b.Piston("1", Piston{Gauge: []float64{2, 1}, Volume: []float64{0, 1}}) },
		"latch x":  func(b *Builder) { b.Latch("x", "1", 1e5, 2e5, false) },
	} {
		t.Run(name, func(t *testing.T) {
			p := newPlan(&circuit.Circuit{})
			p.addControl(Engine, "", -1, 0, 1)
			p.addPart(part)
			b := &Builder{plan: p, component: part, built: map[string]bool{}}
			defer func() {
				why, _ := recover().(string)
				assert.Contains(t, why, "valve (check-valve)")
				assert.Contains(t, why, name)
			}()
			law(b)
			t.Error("was taken")
		})
	}
}

// A circuit with a part that nothing is known of, or a line to nowhere, is no network.
func TestCompileRefuses(t *testing.T) {
	odd := &circuit.Kind{Name: "flux-capacitor"}
	_, err := Compile(&circuit.Circuit{Name: "odd", Components: []*circuit.Component{{ID: "x", Kind: odd}}})
	assert.ErrorContains(t, err, "flux-capacitor")
	tee, err := circuit.KindNamed("tee")
	require.NoError(t, err)
	one := &circuit.Component{ID: "one", Kind: tee}
	for _, line := range []*circuit.Line{
		{ID: "l", Type: circuit.Tube, From: circuit.PortRef{Component: "one", Port: "a"}, To: circuit.PortRef{Component: "two", Port: "a"}},
		{ID: "l", Type: circuit.Tube, From: circuit.PortRef{Component: "one", Port: "z"}, To: circuit.PortRef{Component: "one", Port: "a"}},
		{ID: "l", Type: "rubber band", From: circuit.PortRef{Component: "one", Port: "b"}, To: circuit.PortRef{Component: "one", Port: "a"}},
	} {
		_, err := Compile(&circuit.Circuit{Name: "odd", Components: []*circuit.Component{one}, Lines: []*circuit.Line{line}})
		assert.ErrorContains(t, err, "line l")
	}
}
