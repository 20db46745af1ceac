package procedure

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuit/limit"
)

// Each procedure has faults that move it: past its published limit where it has one, else to where nobody would call the
// vehicle healthy. That the reading is a healthy one without the fault is TestTheHealthyTruckIsHealthy.
func TestFaultsMoveTheirReadings(t *testing.T) {
	n := gritter(t)
	all := For(n)
	misses := func(quantity string) func(*Reading, float64) bool {
		return func(r *Reading, v float64) bool {
			for _, l := range r.LimitsIn("US") {
				if l.Quantity == quantity && !l.Meets(v) {
					return true
				}
			}
			return false
		}
	}
	says := func(r *Reading, v float64) bool { return r.Judge.Says(v) > 0.6 }
	denies := func(r *Reading, v float64) bool { return r.Judge.Says(v) < 0.1 }
	never := func(_ *Reading, v float64) bool { return math.IsNaN(v) }
	over := func(limit float64) func(*Reading, float64) bool {
		return func(_ *Reading, v float64) bool { return v > limit }
	}
	under := func(limit float64) func(*Reading, float64) bool {
		return func(_ *Reading, v float64) bool { return v < limit }
	}
	between := func(low, high float64) func(*Reading, float64) bool {
		return func(_ *Reading, v float64) bool { return v > low && v < high }
	}
	for _, tt := range []struct {
		fault, procedure, reading, place string
		shows                            func(*Reading, float64) bool
	}{
		{"compressor/worn=85 %", "build-up-85-100", "time", "", misses(limit.BuildUp85To100)},
		{"compressor/drive slipping=85 %", "build-up-85-100", "time", "", misses(limit.BuildUp85To100)},
		{"dryer/cartridge plugged=99.55 %", "build-up-85-100", "time", "", misses(limit.BuildUp85To100)},
		{"check_secondary/restricted=99 %", "build-up-85-100", "lags", "gauge_secondary", says},
		{"compressor/unloader stuck unloaded=100 %", "build-up-85-100", "time", "", never},
		{"gauge_primary/sticking=40 psi", "build-up-85-100", "lags", "gauge_primary", says},
		{"compressor/worn=85 %", "build-up-from-empty", "time-50-90", "", misses(limit.BuildUp50To90)},
		{"drain_supply/left open=30 %", "build-up-from-empty", "time", "", never},
		{"tank/supply full of water=60 %", "build-up-from-empty", "time", "", under(255)},
		{"governor/cut-out high=30 psi", "governor-cut-out", "pressure", "gauge_primary", misses(limit.CutOut)},
		{"governor/stuck loaded=200 psi", "governor-cut-out", "pressure", "gauge_primary", never},
		{"dryer/purge valve stuck shut=100 %", "governor-cut-out", "purge", "dryer.3", under(2)},
		{"governor/cut-in low=40 psi", "governor-cut-in", "pressure", "gauge_primary", misses(limit.CutIn)},
		{"drain_primary/leaking=0.5 mm", "leak-down-released", "fall", "gauge_primary", misses(limit.LeakReleased)},
		{"rear_left_chamber/hold-off seal leaking=0.6 mm", "leak-down-released", "fall", "gauge_primary", over(1.5 * psi / 60)},
		{"front_left_chamber/diaphragm leaking=0.7 mm", "leak-down-applied", "fall", "gauge_secondary", misses(limit.LeakApplied)},
		{"rear_left_chamber/diaphragm leaking=3 mm", "full-application", "drop", "gauge_primary", misses(limit.ApplicationDrop)},
		{"tank/primary full of water=80 %", "full-application", "drop", "gauge_primary", over(15 * psi)},
		{"stop_lamp_wire/open", "full-application", "stop-lamp", "stop_lamp", denies},
		{"switch_primary/stuck on", "cab-check", "warning", "warning_lamp", says},
		{"gauge_primary/reading low=30 psi", "cab-check", "gauge", "gauge_primary", under(gauge(90))},
		{"switch_secondary/threshold low=15 psi", "low-pressure-warning", "lamp", "gauge_secondary", misses(limit.WarningAt)},
		{"switch_primary/stuck off", "low-pressure-warning", "lamp", "gauge_primary", never},
		{"buzzer/dead", "low-pressure-warning", "buzzer", "gauge_primary", never},
		{"park_control/popping early=20 psi", "spring-set", "pressure", "", misses(limit.SpringsSetAt)},
		{"park_control/not popping=200 psi", "spring-set", "pressure", "", never},
		{"rear_left_chamber/spring broken=100 %", "spring-set", "rod-out", "rear_left_chamber", denies},
		{"gauge_secondary/reading high=12 psi", "switch-port-gauge", "difference", "switch_secondary", under(-10 * psi)},
		{"dryer/purge valve leaking", "listen-building", "hiss", "dryer.3", says},
		{"dryer/outlet check leaking back", "listen-unloaded", "hiss", "dryer.3", says},
		{"dryer/outlet check leaking back", "listen-building", "hiss", "dryer.3", denies},
		{"compressor/unloader seal leaking=2.5 mm", "listen-unloaded", "hiss", "compressor.0", says},
		{"drain_secondary/leaking", "listen-parked", "hiss", "drain_secondary.3", says},
		{"rear_left_chamber/inner seal leaking", "listen-released", "hiss", "rear_relay.3", says},
		{"rear_left_chamber/inner seal leaking", "listen-parked", "hiss", "rear_relay.3", denies},
		{"rear_relay/inlet seat leaking", "listen-parked", "hiss", "rear_relay.3", says},
		{"rear_relay/exhaust seat leaking", "listen-applied", "hiss", "rear_relay.3", says},
		{"rear_relay/exhaust seat leaking", "listen-released", "hiss", "rear_relay.3", denies},
		{"front_right_chamber/diaphragm leaking", "listen-applied", "hiss", "front_right_chamber", says},
		{"check_primary/leaking back", "supply-loss", "falls", "check_primary", says},
		{"check_primary/leaking back", "supply-loss", "falls", "check_secondary", denies},
		{"tank/wall between supply and primary leaking", "supply-loss", "falls", "check_primary", says},
		{"dryer/outlet check leaking back", "wet-tank-after-cut-out", "blows", "dryer.3", says},
		{"dryer/outlet check leaking back", "wet-tank-after-cut-out", "stops-at", "test_supply", between(gauge(101), gauge(105))},
		{"dryer/outlet check leaking back", "wet-tank-after-cut-out", "falls", "gauge_primary", denies},
		{"dryer/outlet check leaking back", "wet-tank-after-cut-out", "falls", "test_supply", says},
		{"dryer/cartridge plugged=99 %", "charging-gauges", "dryer-inlet", "", over(gauge(130))},
		{"discharge_line/carboned", "charging-gauges", "compressor-outlet", "", over(gauge(130))},
		{"compressor/intake restricted", "intake-restriction", "depression", "", over(3 * psi)},
		{"compressor/drive slipping=85 %", "drive-check", "turns", "", denies},
		{"compressor/drive slipping=40 %", "drive-check", "speed", "", between(0.59, 0.61)},
		{"compressor/worn=85 %", "line-off-flow", "delivers", "discharge_line", denies},
		{"discharge_line/blocked=100 %", "line-off-flow", "delivers", "dryer_inlet_line", denies},
		{"discharge_line/blocked=100 %", "line-off-flow", "delivers", "discharge_line", says},
	} {
		f, err := airflow.ParseFault(n.Circuit(), tt.fault)
		if !assert.NoError(t, err) {
			continue
		}
		b, err := NewBench(n, []airflow.Fault{f}, airflow.Scatter{})
		require.NoError(t, err)
		p := named(t, all, tt.procedure)
		o := do(t, b, p)
		i, ok := p.Reading(tt.reading, tt.place)
		require.True(t, ok, "%+v", tt)
		r := &p.Readings[i]
		assert.Empty(t, o.Undone, tt.fault)
		assert.True(t, tt.shows(r, o.Values[i]), "%s: %s/%s@%s = %s, yes with %.2f", tt.fault, p.ID, r.ID, r.Place,
			circuit.Format(o.Values[i], r.Dimension, "", 2), r.Judge.Says(o.Values[i]))
	}
}

// With the filter out a choked intake builds as the healthy one does; a worn compressor gains nothing.
func TestFilterOut(t *testing.T) {
	n := gritter(t)
	all := For(n)
	p, q := named(t, all, "intake-restriction"), named(t, all, "build-up-85-100")
	times := func(faults ...string) (with, without float64) {
		b := bench(t, n, faults...)
		without = value(t, p, do(t, b, p), "time-filter-out", "")
		return value(t, q, do(t, b, q), "time", ""), without
	}
	healthy, same := times()
	assert.InDelta(t, healthy, same, 0.5)
	with, without := times("compressor/intake restricted=93 %")
	assert.Greater(t, with, 2*healthy)
	assert.InDelta(t, healthy, without, 0.5)
	with, without = times("compressor/worn=50 %")
	assert.InDelta(t, with, without, 0.8)
}

// A vehicle that can't be charged can't be tested where charge is needed, and says so.
func TestWhatCanNotBeDoneIsSaid(t *testing.T) {
	n := gritter(t)
	b := bench(t, n, "compressor/unloader stuck unloaded=100 %")
	for _, p := range For(n) {
		o := do(t, b, p)
		if p.Start.Required {
			assert.Contains(t, o.Undone, "could not be charged", p.ID)
			for _, v := range o.Values {
				assert.True(t, math.IsNaN(v), p.ID)
			}
		} else {
			assert.Empty(t, o.Undone, p.ID)
		}
	}
}

// Every fault of the truck at its severest goes through every procedure without an error, and no reading is infinite.
func TestEveryFaultGoesThroughEveryProcedure(t *testing.T) {
	n := gritter(t)
	all := For(n)
	b := bench(t, n)
	b.Tune(airflow.Coarse)
	for i, f := range airflow.Catalogue(n.Circuit()) {
		if testing.Short() && i%7 != 0 {
			continue
		}
		mode, err := airflow.ModeOf(n.Circuit(), f)
		require.NoError(t, err)
		f.Severity = mode.Severity.Severe
		require.NoError(t, b.Next([]airflow.Fault{f}, airflow.Scatter{}))
		for _, p := range all {
			o, err := b.Do(context.Background(), p)
			require.NoError(t, err, f.String())
			for k, v := range o.Values {
				if math.IsInf(v, 0) {
					t.Errorf("%s: %s/%s is infinite", f, p.ID, p.Readings[k].ID)
				}
			}
		}
	}
}
