package procedure

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"airpath/circuit"
)

func result(text string) circuit.Result {
	r, err := circuit.ParseResult(text)
	if err != nil {
		panic(err)
	}
	return r
}

// A finding made from any reading, with any result that suits it, binds to that reading and to that result.
func TestBindingRoundTrips(t *testing.T) {
	all := For(gritter(t))
	rapid.Check(t, func(t *rapid.T) {
		p := rapid.SampledFrom(all).Draw(t, "procedure")
		k := rapid.IntRange(0, len(p.Readings)-1).Draw(t, "reading")
		r := &p.Readings[k]
		f := circuit.Finding{Procedure: p.ID, Reading: r.ID, Place: r.Place}
		if rapid.Bool().Draw(t, "with state") {
			f.State = p.State
		}
		if rapid.Bool().Draw(t, "with instrument") {
			f.Instrument = r.Instrument
		}
		units := circuit.UnitsOf(r.Dimension)
		unit := rapid.SampledFrom(units).Draw(t, "unit")
		low, high := math.Inf(-1), math.Inf(1)
		written := func(v float64) string { return fmt.Sprintf("%.6g %s", v, unit.Name) }
		switch rapid.IntRange(0, 3).Draw(t, "form") {
		case 0:
			f.Result = result("not sure")
		case 1:
			if r.Form == YesNo {
				f.Result = result(rapid.SampledFrom([]string{"yes", "no"}).Draw(t, "answer"))
			} else {
				f.Result = result("never")
			}
		default:
			if r.Form == YesNo {
				f.Result = result("yes")
				break
			}
			a := float64(rapid.IntRange(1, 500).Draw(t, "low")) / 4
			b := a + float64(rapid.IntRange(0, 200).Draw(t, "more"))/4
			text := written(a)
			if b > a {
				text += ".." + written(b)
			}
			f.Result = result(text)
			low, high = a*unit.Scale+unit.Offset, b*unit.Scale+unit.Offset
		}
		gotP, gotR, e, err := Bind(all, f)
		require.NoError(t, err)
		assert.Same(t, p, gotP)
		assert.Same(t, r, gotR)
		assert.Equal(t, f.Result.Kind, e.Kind)
		if math.IsInf(low, 0) {
			assert.Equal(t, []float64{low, high}, []float64{e.Low, e.High})
		} else {
			assert.InEpsilon(t, low, e.Low, 1e-5)
			assert.InEpsilon(t, high, e.High, 1e-5)
		}
		assert.Equal(t, r.Instrument, e.Instrument)
	})
}

func TestBinding(t *testing.T) {
	all := For(gritter(t))
	for _, tt := range []struct {
		name    string
		finding circuit.Finding
		want    string // procedure/reading@place
		low     float64
		high    float64
	}{
		{"seconds", circuit.Finding{Procedure: "build-up-85-100", Reading: "time", Result: result("70 s")}, "build-up-85-100/time@", 70, 70},
		{"a range in minutes", circuit.Finding{Procedure: "build-up-85-100", Reading: "time", Result: result("1..2 min")}, "build-up-85-100/time@", 60, 120},
		{"either needle", circuit.Finding{Procedure: "governor-cut-out", Reading: "pressure", Result: result("8 bar")}, "governor-cut-out/pressure@gauge_primary", 901325, 901325},
		{"one needle", circuit.Finding{Procedure: "governor-cut-out", Reading: "pressure", Place: "gauge_secondary", Result: result("8 bar")}, "governor-cut-out/pressure@gauge_secondary", 901325, 901325},
		{"another name of the place", circuit.Finding{Procedure: "supply-loss", Reading: "level", Place: "gauge_primary", Result: result("40 psi")}, "supply-loss/level@check_primary", 377115.290, 377115.291},
		{"the tank for its gauge", circuit.Finding{Procedure: "wet-tank-after-cut-out", Reading: "level", Place: "tank", Result: result("0 psi")}, "wet-tank-after-cut-out/level@test_supply", 101325, 101325},
		{"a place where there is but one", circuit.Finding{Procedure: "charging-gauges", Reading: "compressor-outlet", Place: "compressor", Result: result("1 bar")}, "charging-gauges/compressor-outlet@", 201325, 201325},
		// 49 CFR 570.57(a)(5), (6) and the widest on build-up, 570.57(a)(2)
		{"within the limit", circuit.Finding{Procedure: "leak-down-released", Reading: "fall", Place: "gauge_primary", Result: result("within limits")}, "leak-down-released/fall@gauge_primary", math.Inf(-1), 2 * psi / 60},
		{"within the widest limit", circuit.Finding{Procedure: "build-up-85-100", Reading: "time", Result: result("within limits")}, "build-up-85-100/time@", math.Inf(-1), 45},
		{"marked on the sheet, engine off and parked", circuit.Finding{Place: "dryer.3", State: circuit.State{Engine: "off", Park: "set"}, Result: result("yes")}, "listen-parked/hiss@dryer.3", math.Inf(-1), math.Inf(1)},
		{"marked while building", circuit.Finding{Reading: "hiss", Place: "dryer.3", State: circuit.State{Compressor: "loaded"}, Result: result("no")}, "listen-building/hiss@dryer.3", math.Inf(-1), math.Inf(1)},
		{"marked with the pedal down", circuit.Finding{Place: "rear_relay.3", State: circuit.State{Pedal: "down"}, Instrument: "soap", Result: result("yes")}, "soap-applied/bubbles@rear_relay.3", math.Inf(-1), math.Inf(1)},
		{"marked with the park released", circuit.Finding{Place: "rear_relay.3", State: circuit.State{Engine: "off", Park: "released", Pedal: "up"}, Result: result("yes")}, "listen-released/hiss@rear_relay.3", math.Inf(-1), math.Inf(1)},
		{"bubbles noted on a round by ear", circuit.Finding{Procedure: "listen-parked", Reading: "hiss", Place: "dryer.3", Instrument: "soap", Result: result("yes")}, "soap-parked/bubbles@dryer.3", math.Inf(-1), math.Inf(1)},
		{"and on the round with soap", circuit.Finding{Procedure: "soap-parked", Reading: "bubbles", Place: "dryer.3", Result: result("yes")}, "soap-parked/bubbles@dryer.3", math.Inf(-1), math.Inf(1)},
		{"a lamp marked on the sheet", circuit.Finding{Reading: "warning", Place: "warning_lamp", Result: result("yes")}, "cab-check/warning@warning_lamp", math.Inf(-1), math.Inf(1)},
	} {
		p, r, e, err := Bind(all, tt.finding)
		if !assert.NoError(t, err, tt.name) {
			continue
		}
		assert.Equal(t, tt.want, p.ID+"/"+r.ID+"@"+r.Place, tt.name)
		if math.IsInf(tt.low, 0) {
			assert.Equal(t, tt.low, e.Low, tt.name)
		} else {
			assert.InDelta(t, tt.low, e.Low, 0.01, tt.name)
		}
		if math.IsInf(tt.high, 0) {
			assert.Equal(t, tt.high, e.High, tt.name)
		} else {
			assert.InDelta(t, tt.high, e.High, 0.01, tt.name)
		}
	}
}

func TestBindingSaysWhatIsWrong(t *testing.T) {
	all := For(gritter(t))
	for _, tt := range []struct {
		finding circuit.Finding
		says    []string
	}{
		{circuit.Finding{Procedure: "build-up", Reading: "time", Result: result("70 s")}, []string{`no procedure "build-up"`, "did you mean"}},
		{circuit.Finding{Procedure: "build-up-85-100", Reading: "tme", Result: result("70 s")}, []string{`no reading "tme"`, `did you mean "time"?`}},
		{circuit.Finding{Procedure: "build-up-85-100", Reading: "time", Place: "dryer.3", Result: result("70 s")}, []string{`leave "dryer.3" out`}},
		{circuit.Finding{Procedure: "listen-parked", Reading: "hiss", Place: "dryr.3", Result: result("yes")}, []string{`did you mean "dryer.3"?`}},
		{circuit.Finding{Procedure: "listen-parked", Reading: "hiss", Result: result("yes")}, []string{"say at which"}},
		{circuit.Finding{Procedure: "build-up-85-100", Reading: "time", Result: result("70 psi")}, []string{`"psi" does not measure a time`}},
		{circuit.Finding{Procedure: "build-up-85-100", Reading: "time", Result: result("yes")}, []string{"is a figure", `"12 s"`}},
		{circuit.Finding{Procedure: "listen-parked", Reading: "hiss", Place: "dryer.3", Result: result("3 L/min")}, []string{"a yes or a no"}},
		{circuit.Finding{Procedure: "listen-parked", Reading: "hiss", Place: "dryer.3", Result: result("never")}, []string{"a yes or a no"}},
		{circuit.Finding{Procedure: "build-up-from-empty", Reading: "time", Result: result("within limits")}, []string{"no published limit is known in US", "give the figure"}},
		{circuit.Finding{Procedure: "build-up-85-100", Reading: "time", State: circuit.State{Engine: "idle"}, Result: result("70 s")}, []string{"the engine rated", "the finding says idle"}},
		{circuit.Finding{Procedure: "leak-down-released", Reading: "fall", Place: "gauge_primary", State: circuit.State{Park: "set"}, Result: result("1 psi/min")}, []string{"the park released"}},
		{circuit.Finding{Procedure: "build-up-85-100", Reading: "time", Instrument: "sundial", Result: result("70 s")}, []string{`not taken with "sundial"`, "stopwatch"}},
		{circuit.Finding{Place: "dryer.3", State: circuit.State{Engine: "off"}, Result: result("yes")}, []string{"listen-parked", "listen-released", "say more about the state"}},
		{circuit.Finding{Place: "dryer.3", State: circuit.State{Engine: "rated"}, Result: result("yes")}, []string{"engine rated", "listen-building"}},
		{circuit.Finding{Reading: "smell", Place: "dryer.3", Result: result("yes")}, []string{`no procedure has a reading "smell"`}},
		{circuit.Finding{Procedure: "build-up-85-100", Reading: "time"}, []string{"there is no result"}},
	} {
		_, _, _, err := Bind(all, tt.finding)
		if !assert.Error(t, err, "%+v", tt.finding) {
			continue
		}
		for _, s := range tt.says {
			assert.ErrorContains(t, err, s)
		}
	}
}

func TestInstrumentsCount(t *testing.T) {
	all := For(gritter(t))
	f := circuit.Finding{Procedure: "listen-parked", Reading: "hiss", Place: "dryer.3", Result: result("no")}
	_, _, ear, err := Bind(all, f)
	require.NoError(t, err)
	f.Instrument = "soap"
	_, _, soap, err := Bind(all, f)
	require.NoError(t, err)
	small := 0.1 * litreAMinute
	assert.Less(t, ear.Judge.Says(small), 0.1)
	assert.Greater(t, soap.Judge.Says(small), 0.8)

	f = circuit.Finding{Procedure: "governor-cut-out", Reading: "pressure", Result: result("120 psi")}
	_, _, dash, err := Bind(all, f)
	require.NoError(t, err)
	f.Instrument = "service gauge"
	_, _, service, err := Bind(all, f)
	require.NoError(t, err)
	assert.Equal(t, "gauge_primary", dash.Gauge)
	assert.Empty(t, service.Gauge, "a service gauge does not share the dash gauge's error")
}

func TestLimitsOfAJurisdiction(t *testing.T) {
	all := For(gritter(t))
	f := circuit.Finding{Procedure: "governor-cut-out", Reading: "pressure", Result: result("within limits")}
	for _, tt := range []struct {
		jurisdiction string
		low, high    float64
	}{
		{"US", math.Inf(-1), gauge(135)},                          // 49 CFR 570.57(a)(4)
		{"US/California", math.Inf(-1), gauge(135)},               // 130 of its own and 135 of the country's
		{"Canada/British Columbia", gauge(105), gauge(135)},       // driver manual p. 218
		{"Canada", gauge(80), gauge(145)},                         // has none of its own: those of its parts
		{"Australia/Western Australia", math.NaN(), math.Inf(-1)}, // none
	} {
		_, _, e, err := BindUnder(tt.jurisdiction, all, f)
		if math.IsNaN(tt.low) {
			require.ErrorContains(t, err, "no published limit", tt.jurisdiction)
			continue
		}
		require.NoError(t, err, tt.jurisdiction)
		if math.IsInf(tt.low, 0) {
			assert.Equal(t, tt.low, e.Low, tt.jurisdiction)
		} else {
			assert.InDelta(t, tt.low, e.Low, 1, tt.jurisdiction)
		}
		assert.InDelta(t, tt.high, e.High, 1, tt.jurisdiction)
	}
}
