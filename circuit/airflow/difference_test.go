package airflow

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What a trail says of a flow is what the solver makes of it, for every element, with valves half open, warm air and pumping.
func TestATrailsFlowsAreTheSolvers(t *testing.T) {
	n := truckNetwork(t)
	r, err := n.Start([]Fault{{Target: "rear_relay", Mode: "inlet seat leaking", Severity: 1e-3}}, Scatter{})
	require.NoError(t, err)
	var trail Trail
	r.Follow(&trail)
	setControl(t, r, Engine, 2000.0/60, 1)
	require.NoError(t, r.Advance(60))
	setControl(t, r, "pedal", 0.6, 0.2)
	require.NoError(t, r.Advance(0.15))
	m := &trail.moments[len(trail.moments)-1]
	flowing := 0
	for k, l := range r.s.live {
		want := r.s.single(k, r.s.p, r.t-r.segment)
		got := 0.0
		if l.pump >= 0 {
			got = m.pumped(n, &r.plan.pumps[l.pump])
		} else {
			e := &r.plan.elements[l.element]
			got, _ = m.flow(n, e)
			if a, _, _, _ := e.turned(); a != e.from {
				got = -got
			}
		}
		if math.Abs(want) > 1e-3 {
			flowing++
		}
		assert.InDelta(t, want, got, 1e-9*math.Abs(want)+1e-9)
	}
	assert.Greater(t, flowing, 20)
}

// fillAndPress takes a truck through a build-up to over cut-out, parked, and then, if it is to be worked, through an application.
func fillAndPress(t *testing.T, r *Run, worked bool) {
	t.Helper()
	setControl(t, r, Key, 1, 0)
	setControl(t, r, Engine, 2000.0/60, 1)
	require.NoError(t, r.Advance(130))
	if worked {
		setControl(t, r, "pedal", 1, 0.2)
		require.NoError(t, r.Advance(10))
	}
}

func TestWhereVehiclesPart(t *testing.T) {
	n := truckNetwork(t)
	r, err := n.Start(nil, Scatter{})
	require.NoError(t, err)
	var toCutOut, beyond, applied Trail
	r.Follow(&toCutOut)
	setControl(t, r, Key, 1, 0)
	setControl(t, r, Engine, 2000.0/60, 1)
	fired, err := r.Until(600, Event{Latch: "governor.cutout", Value: true})
	require.NoError(t, err)
	require.True(t, fired)
	r.Follow(nil)
	require.NoError(t, r.Restart(nil, Scatter{}))
	r.Follow(&beyond)
	fillAndPress(t, r, false)
	r.Follow(&applied)
	setControl(t, r, "pedal", 1, 0.2)
	require.NoError(t, r.Advance(10))
	r.Follow(nil)

	for _, c := range []struct {
		fault                         string
		toCutOut, beyond, application bool // same
		needles, signals, rods        bool // different
	}{
		{fault: "front_left_chamber/diaphragm leaking", toCutOut: true, beyond: true},
		{fault: "front_left_hose/blocked", toCutOut: true, beyond: true},
		{fault: "front_left_slack/not adjusting", toCutOut: true, beyond: true, rods: true},
		{fault: "rear_relay/stuck shut", toCutOut: true, beyond: true},
		{fault: "foot_valve/pedal binding", toCutOut: true, beyond: true},
		{fault: "rear_relay/inlet seat leaking"},
		{fault: "tank/primary leaking"},
		{fault: "compressor/worn"},
		{fault: "governor/cut-out high"},
		{fault: "governor/cut-in low", toCutOut: true}, // the air sent on helps its piston more while that line fills
		{fault: "warning_lamp/dead", toCutOut: true, beyond: true, application: true, signals: true},
		{fault: "gauge_primary/reading high", toCutOut: true, beyond: true, application: true, needles: true},
	} {
		f, err := ParseFault(n.Circuit(), c.fault)
		require.NoError(t, err)
		require.NoError(t, r.Restart([]Fault{f}, Scatter{}))
		d := r.Compare()
		assert.Equal(t, c.toCutOut, d.SameWay(&toCutOut), "%s up to cut-out", c.fault)
		assert.Equal(t, c.beyond, d.SameWay(&beyond), "%s parked", c.fault)
		assert.Equal(t, c.application, d.SameWay(&applied), "%s applied", c.fault)
		assert.Equal(t, []bool{c.needles, c.signals, c.rods}, []bool{d.Needles, d.Signals, d.Rods}, c.fault)
	}
	require.NoError(t, r.Restart(nil, Scatter{Volume: 0.01}))
	assert.True(t, r.Compare().Always)
	require.NoError(t, r.Restart(nil, Scatter{}))
	assert.False(t, r.Compare().Air)
}

// Whatever fault is said to change nothing, changes nothing: every fault of the catalogue at its severest.
func TestWhoIsSaidToGoTheSameWayDoes(t *testing.T) {
	n := truckNetwork(t)
	for worked, least := range map[bool]int{false: 80, true: 9} {
		r, err := n.Start(nil, Scatter{})
		require.NoError(t, err)
		var trail Trail
		r.Follow(&trail)
		fillAndPress(t, r, worked)
		r.Follow(nil)
		want := append([]float64(nil), r.s.p...)
		same := 0
		for _, f := range Catalogue(n.Circuit()) {
			mode, err := ModeOf(n.Circuit(), f)
			require.NoError(t, err)
			f.Severity = mode.Severity.Severe
			require.NoError(t, r.Restart([]Fault{f}, Scatter{}))
			if d := r.Compare(); !d.Air || !d.SameWay(&trail) {
				continue
			}
			same++
			fillAndPress(t, r, worked)
			for i, p := range r.s.p {
				// Its steps may be others; they differ by less than a tenth of what one of them may be wrong by.
				require.InDelta(t, want[i], p, 0.1*r.s.Relative*want[i], "%s at %s", f, r.roomOf(i))
			}
		}
		assert.Greater(t, same, least)
	}
}

func TestKeys(t *testing.T) {
	n := truckNetwork(t)
	parse := func(texts ...string) (out []Fault) {
		for _, text := range texts {
			f, err := ParseFault(n.Circuit(), text)
			require.NoError(t, err)
			out = append(out, f)
		}
		return out
	}
	keys, err := n.Keys([][]Fault{
		nil, parse("front_left_hose/kinked=90 %"), parse("front_left_hose/blocked=90 %"), parse("front_left_hose/blocked=91 %"),
		parse("front_right_hose/blocked=90 %"), parse("front_left_hose/kinked=90 %", "warning_lamp/dead"), parse("compressor/passing oil"),
		parse("governor/stuck loaded=30 psi"), parse("governor/cut-out high=30 psi"),
	})
	require.NoError(t, err)
	assert.Equal(t, keys[1], keys[2], "one to the air")
	assert.Empty(t, keys[0])
	assert.Empty(t, keys[6], "oil moves no air")
	seen := map[string]bool{}
	for _, i := range []int{0, 1, 3, 4, 5, 7, 8} {
		assert.False(t, seen[keys[i]], i)
		seen[keys[i]] = true
	}
	_, err = n.Keys([][]Fault{{{Target: "compressor", Mode: "melted"}}})
	assert.ErrorContains(t, err, "melted")
}

func TestUntilAny(t *testing.T) {
	n := truckNetwork(t)
	r, err := n.Start(nil, Scatter{})
	require.NoError(t, err)
	setControl(t, r, Engine, 2000.0/60, 1)
	primary, secondary := Event{Gauge: "gauge_primary", Level: atPSI(50), Rising: true}, Event{Gauge: "gauge_secondary", Level: atPSI(50), Rising: true}
	start := r.Snapshot()
	times := map[string]float64{}
	for name, events := range map[string][]Event{
		"primary": {primary}, "secondary": {secondary}, "either": {primary, secondary}, "or": {secondary, primary},
		"with a latch": {{Latch: "governor.cutout", Value: true}, primary, secondary},
	} {
		r.Restore(start)
		fired, err := r.UntilAny(300, events...)
		require.NoError(t, err)
		require.True(t, fired)
		times[name] = r.Time()
	}
	first := min(times["primary"], times["secondary"])
	assert.InDelta(t, first, times["either"], 1e-3)
	assert.InDelta(t, first, times["or"], 1e-3)
	assert.InDelta(t, first, times["with a latch"], 1e-3)
	r.Restore(start)
	fired, err := r.UntilAny(2, primary, secondary)
	require.NoError(t, err)
	assert.False(t, fired)
	assert.InDelta(t, start.t+2, r.Time(), 1e-9)
	_, err = r.UntilAny(2, primary, Event{Latch: "no such latch"})
	assert.ErrorContains(t, err, "no such latch")
	_, err = r.UntilAny(math.Inf(1), primary)
	assert.Error(t, err)
}

// A clogged filter taken out: the compressor draws as on a healthy vehicle, also on one whose valves differ from its file; and
// it is clogged again when it is put back.
func TestBypass(t *testing.T) {
	n := truckNetwork(t)
	scatter := Scatter{Valve: -0.2}
	clogged := []Fault{{Target: "compressor", Mode: "intake restricted", Severity: 0.9}}
	below := func(faults []Fault, out bool) float64 {
		r, err := n.Start(faults, scatter)
		require.NoError(t, err)
		assert.Equal(t, faults == nil, r.Sound("compressor/intake filter"))
		setControl(t, r, Engine, 2000.0/60, 1)
		require.NoError(t, r.Advance(10))
		if out {
			require.NoError(t, r.Bypass("compressor/intake filter", true))
			require.NoError(t, r.Advance(10))
		}
		return atPSI(0) - r.Pressure("compressor.intake")
	}
	assert.InEpsilon(t, below(nil, false), below(clogged, true), 0.02)
	assert.Greater(t, below(clogged, false), 5*below(clogged, true))

	r, err := n.Start(clogged, scatter)
	require.NoError(t, err)
	own := r.plan.elements[r.plan.passages[r.plan.passageIndex["compressor/intake filter"]].elements[0]]
	before := r.Snapshot()
	require.NoError(t, r.Bypass("compressor/intake filter", true))
	require.NoError(t, r.Bypass("compressor/intake filter", false))
	assert.Equal(t, own, r.plan.elements[r.plan.passages[r.plan.passageIndex["compressor/intake filter"]].elements[0]])
	require.NoError(t, r.Bypass("compressor/intake filter", true))
	r.Restore(before)
	assert.Equal(t, own, r.plan.elements[r.plan.passages[r.plan.passageIndex["compressor/intake filter"]].elements[0]], "a restored state undoes it")
	assert.ErrorContains(t, r.Bypass("compressor/nothing", true), "no passage")
	assert.False(t, r.Sound("compressor/nothing"))
}

func TestTurns(t *testing.T) {
	n := truckNetwork(t)
	r, err := n.Start([]Fault{{Target: "compressor", Mode: "drive slipping", Severity: 0.4}}, Scatter{})
	require.NoError(t, err)
	assert.Zero(t, r.Turns("compressor"))
	setControl(t, r, Engine, 30, 0)
	assert.InDelta(t, 0.6*30*n.Circuit().Component("compressor").Value("drive_ratio"), r.Turns("compressor"), 1e-9)
	assert.True(t, math.IsNaN(r.Turns("dryer")))
	assert.True(t, math.IsNaN(r.Turns("no such part")))
}

// A control that is where it is wanted already disturbs nothing.
func TestSettingWhatIsSetChangesNothing(t *testing.T) {
	n := truckNetwork(t)
	r, err := n.Start(nil, Scatter{})
	require.NoError(t, err)
	setControl(t, r, Engine, 30, 1)
	require.NoError(t, r.Advance(5))
	h := r.h
	setControl(t, r, Engine, 30, 1)
	assert.Equal(t, h, r.h)
	assert.False(t, r.stale)
	setControl(t, r, Engine, 20, 1)
	assert.Less(t, r.h, h)
}

// A recording that is taken up again goes on at the times that it had.
func TestRecordSince(t *testing.T) {
	n := truckNetwork(t)
	r, err := n.Start(nil, Scatter{})
	require.NoError(t, err)
	setControl(t, r, Engine, 30, 1)
	require.NoError(t, r.Advance(5.3))
	var times []float64
	r.RecordSince(0, 2, func(r *Run) { times = append(times, r.Time()) })
	require.NoError(t, r.Advance(5))
	assert.InDeltaSlice(t, []float64{6, 8, 10}, times, 1e-9)
}
