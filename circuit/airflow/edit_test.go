package airflow

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"airpath/circuit"
)

// edited is a copy of a plan, and an Edit of one of its parts.
func edited(t *testing.T, n *Network, id string) (*plan, *Edit) {
	t.Helper()
	var p plan
	n.plan.copyTo(&p)
	e := p.editOf(id)
	require.NotNil(t, e, id)
	return &p, e
}

func elementsOf(p *plan, passage string) []*element {
	var all []*element
	for _, k := range p.passages[p.passageIndex[passage]].elements {
		all = append(all, &p.elements[k])
	}
	return all
}

// What each edit does to the numbers; and that it does nothing to the network that others run on.
func TestEdits(t *testing.T) {
	n := truckNetwork(t)
	var before plan
	n.plan.copyTo(&before)

	p, e := edited(t, n, "check_primary")
	e.Scale("seat", 0.25)
	e.Hole("seat", 1e-3)
	seat, healthy := elementsOf(p, "check_primary/seat"), elementsOf(n.plan, "check_primary/seat")
	require.Len(t, seat, 2)
	assert.InEpsilon(t, 0.25*healthy[0].c, seat[0].c, 1e-12)
	assert.InEpsilon(t, HoleConductance(1e-3, SharpHole), seat[1].c, 1e-12, "a hole lies beside the seat, whole")
	e.Hole("seat", 1e-3)
	assert.InEpsilon(t, 2*HoleConductance(1e-3, SharpHole), seat[1].c, 1e-12, "two holes add")
	e.ScaleForth("seat", 0.5)
	e.ScaleBack("seat", 0)
	assert.Equal(t, []float64{0.5, 0}, []float64{seat[0].forth, seat[0].back})
	assert.Equal(t, []float64{1, 1}, []float64{seat[1].forth, seat[1].back})
	e.Stick("seat", 0.3)
	assert.Equal(t, []float64{0.3, 0.3}, []float64{seat[0].opening.low, seat[0].opening.high})
	e.Leak("1", 2e-3)
	leak := p.elements[p.leakIndex[leakKey{e.owner, "1"}]]
	assert.InEpsilon(t, HoleConductance(2e-3, SharpHole), leak.c, 1e-12)
	assert.Equal(t, "check_primary", p.places[leak.place])

	p, e = edited(t, n, "foot_valve")
	inlet, healthy := elementsOf(p, "foot_valve/primary inlet"), elementsOf(n.plan, "foot_valve/primary inlet")
	e.ShiftOpening("primary inlet", 0.1)
	assert.InDelta(t, healthy[0].opening.base+0.1, inlet[0].opening.base, 1e-12)
	e.AtMost("primary inlet", 0.6)
	e.AtLeast("primary inlet", 0.2)
	assert.Equal(t, []float64{0.2, 0.6}, []float64{inlet[0].opening.low, inlet[0].opening.high})
	assert.Zero(t, inlet[1].opening.low, "only the first of several is held open")
	e.AtLeast("primary inlet", 0.9)
	assert.Equal(t, []float64{0.9, 0.9}, []float64{inlet[0].opening.low, inlet[0].opening.high})
	base := inlet[0].opening.base
	gain := healthy[0].opening.terms[0].gain
	e.ScaleTerm("primary inlet", "pedal", 0.5)
	assert.InEpsilon(t, 0.5*gain, inlet[0].opening.terms[0].gain, 1e-12)
	e.ShiftTerm("primary inlet", "pedal", -0.2)
	assert.InDelta(t, base-0.2*0.5*gain, inlet[0].opening.base, 1e-9)
	e.ControlAtLeast("pedal", 0.1)
	e.ControlAtMost("pedal", 0.8)
	pedal := &p.controls[p.controlIndex["foot_valve.pedal"]]
	assert.Equal(t, []float64{0.1, 0.5, 0.8}, []float64{pedal.allowed(0), pedal.allowed(0.5), pedal.allowed(1)})
	e.ControlRange("pedal", 0, 0.4)
	assert.Equal(t, 0.4, pedal.allowed(1))
	e.Control("pedal", 0.7)
	assert.Equal(t, 0.7, pedal.allowed(0))

	p, e = edited(t, n, "governor")
	e.Shift("cutout", 100, -50)
	l, was := p.latches[p.latchIndex["governor.cutout"]], n.plan.latches[n.plan.latchIndex["governor.cutout"]]
	assert.InDelta(t, was.rise+100, l.rise, 1e-6)
	assert.InDelta(t, was.fall-50, l.fall, 1e-6)
	assert.Panics(t, func() { e.Shift("cutout", -1e6, 0) }, "a latch that would fall above its rise")
	e.Hold("cutout", true)
	l = p.latches[p.latchIndex["governor.cutout"]]
	assert.True(t, l.held && l.initial)

	p, e = edited(t, n, "compressor")
	e.PumpScale("pump", 0.5)
	e.PumpSpeed("pump", 0.8)
	e.AtMost("pump", 0.4)
	assert.InEpsilon(t, 0.5*n.plan.pumps[0].efficiency, p.pumps[0].efficiency, 1e-12)
	assert.InEpsilon(t, 0.8*n.plan.pumps[0].ratio, p.pumps[0].ratio, 1e-12)
	assert.Equal(t, 0.4, p.pumps[0].opening.high)

	p, e = edited(t, n, "tank")
	e.Drown("primary", 0.25)
	k := p.roomIndex["tank.primary"]
	assert.InEpsilon(t, 0.75*n.plan.rooms[k].volume, p.rooms[k].volume, 1e-12)
	assert.Panics(t, func() { e.Drown("primary", 1) })

	p, e = edited(t, n, "park_control")
	e.ShiftTrip("knob", 5e3)
	assert.InDelta(t, n.plan.trips[0].below+5e3, p.trips[0].below, 1e-9)

	p, e = edited(t, n, "front_left_chamber")
	e.EditPiston("service", func(w Piston) Piston { w.Volume[1] *= 1.1; return w })
	k = p.roomIndex["front_left_chamber.service"]
	assert.InEpsilon(t, 1.1*n.plan.rooms[k].piston.Volume[1], p.rooms[k].piston.Volume[1], 1e-12)
	assert.Panics(t, func() { e.EditPiston("service", func(w Piston) Piston { w.Volume[0] = 1; return w }) })

	p, e = edited(t, n, "gauge_primary")
	e.GaugeOffset(7e3)
	e.GaugeStick(3e3)
	assert.Equal(t, []float64{7e3, 3e3}, []float64{p.gauges[0].offset, p.gauges[0].band})

	// A part reaches what its lines lead to.
	_, e = edited(t, n, "check_primary")
	other, ok := e.Across("2")
	require.True(t, ok)
	assert.Equal(t, "tank", other.Component().ID)
	assert.Equal(t, "gritter", e.Circuit().Name)

	// A name that is not there is an error of the law.
	for name, wrong := range map[string]func(){
		"room":    func() { e.Leak("9", 1e-3) },
		"passage": func() { e.Scale("hatch", 0) },
		"latch":   func() { e.Hold("cutout", true) },
		"control": func() { e.Control("lever", 0) },
		"pump":    func() { e.PumpScale("pump", 0) },
		"gauge":   func() { e.GaugeOffset(1) },
		"term":    func() { e.ScaleTerm("seat", "engine", 2) },
		"piston":  func() { e.EditPiston("1", func(w Piston) Piston { return w }) },
		"rod":     func() { e.EditRod("1", Rod{}) },
	} {
		assert.Panics(t, wrong, name)
	}
	assert.Equal(t, before.elements, n.plan.elements, "the network itself is untouched")
	assert.Equal(t, before.rooms, n.plan.rooms)
	assert.Equal(t, before.controls, n.plan.controls)
}

// Scatter is relative, and reaches each number that it is about once.
func TestScatter(t *testing.T) {
	n := truckNetwork(t)
	r, err := n.Start(nil, Scatter{Pump: 0.1, Volume: 0.2, Wall: 0.3, Valve: -0.1, Bore: -0.2})
	require.NoError(t, err)
	assert.InEpsilon(t, 1.1*n.plan.pumps[0].efficiency, r.plan.pumps[0].efficiency, 1e-12)
	k := r.plan.roomIndex["tank.primary"]
	assert.InEpsilon(t, 1.2*n.plan.rooms[k].volume, r.plan.rooms[k].volume, 1e-12)
	assert.InEpsilon(t, 1.3*n.plan.rooms[k].heat, r.plan.rooms[k].heat, 1e-12)
	k = r.plan.roomIndex["dryer.purge"]
	assert.Equal(t, n.plan.rooms[k].volume, r.plan.rooms[k].volume)
	assert.InEpsilon(t, 0.9*elementsOf(n.plan, "rear_relay/inlet seat")[0].c, elementsOf(&r.plan, "rear_relay/inlet seat")[0].c, 1e-12)
	assert.InEpsilon(t, 0.8*elementsOf(n.plan, "discharge_line/bore")[0].c, elementsOf(&r.plan, "discharge_line/bore")[0].c, 1e-12)
}

// A latch stays a moment after each change, so that a part that chatters costs bounded work: a governor whose span is nearly
// nothing, fed through a narrow line.
func TestChatterIsBounded(t *testing.T) {
	d := newBoard()
	tank, sense, line := d.room("tank", 5e-3), d.room("sense", 1e-5), d.room("line", 1e-3)
	cut := d.latch("cutout", sense, atPSI(100), atPSI(99.9))
	d.pass("sensing", tank, sense, 0.01, 0.3, open)
	d.pass("inlet", sense, line, 1, 0.3, opening{low: 0, high: 1, terms: []term{{latchTerm, cut, 1}}})
	d.pass("exhaust", line, outside, 1, 0.3, opening{base: 1, low: 0, high: 1, terms: []term{{latchTerm, cut, -1}}})
	r := d.start(t, Fine, map[string]float64{"tank": 140})
	const seconds = 20
	changes, was := 0, false
	for r.Time() < seconds {
		fired, err := r.Until(seconds-r.Time(), Event{Latch: "cutout", Value: !was})
		require.NoError(t, err)
		if !fired {
			break
		}
		was = !was
		changes++
	}
	assert.Greater(t, changes, 10, "it does chatter")
	assert.LessOrEqual(t, float64(changes), seconds/latchTravel+1)
	tried, _ := r.Tries()
	assert.Less(t, tried, 100*changes)
	assert.InDelta(t, 5e-3*atPSI(140)+1e-5*atm+1e-3*atm, (r.Mass()+r.Vented())*perKilogram, 1e-6)
}

// Holes: the two formulas are each other's inverse, and the reference of free air is ISO 8778's.
func TestHoles(t *testing.T) {
	for d := 0.1e-3; d < 20e-3; d *= 1.7 {
		assert.InEpsilon(t, d, HoleDiameter(HoleConductance(d, SharpHole), SharpHole), 1e-12)
	}
	assert.InEpsilon(t, 1.0, FreeAir(ReferenceDensity), 1e-12)
	assert.InDelta(t, 99716.21839, perConductance, 1e-4, "SIMULATION.md section 4, ρ0·R·T0")
	assert.False(t, math.Signbit(HoleConductance(0, 1)))
	assert.Equal(t, circuit.AtmospherePressure, atmosphere)
}
