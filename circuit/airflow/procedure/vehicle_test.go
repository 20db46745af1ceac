package procedure

import (
	"context"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuits"
)

// gritter is the library's two-axle truck.
func gritter(tb testing.TB) *airflow.Network {
	tb.Helper()
	c, err := circuits.Load("gritter")
	require.NoError(tb, err)
	return compiled(tb, c)
}

func compiled(tb testing.TB, c *circuit.Circuit) *airflow.Network {
	tb.Helper()
	n, err := airflow.Compile(c)
	require.NoError(tb, err)
	return n
}

func bench(tb testing.TB, n *airflow.Network, faults ...string) *Bench {
	tb.Helper()
	var list []airflow.Fault
	for _, f := range faults {
		fault, err := airflow.ParseFault(n.Circuit(), f)
		require.NoError(tb, err)
		list = append(list, fault)
	}
	b, err := NewBench(n, list, airflow.Scatter{})
	require.NoError(tb, err)
	return b
}

func named(tb testing.TB, all []*Procedure, id string) *Procedure {
	tb.Helper()
	i := slices.IndexFunc(all, func(p *Procedure) bool { return p.ID == id })
	require.GreaterOrEqual(tb, i, 0, "no procedure %s", id)
	return all[i]
}

func value(tb testing.TB, p *Procedure, o Outcome, id, place string) float64 {
	tb.Helper()
	i, ok := p.Reading(id, place)
	require.True(tb, ok, "%s has no reading %s at %q", p.ID, id, place)
	return o.Values[i]
}

func do(tb testing.TB, b *Bench, p *Procedure) Outcome {
	tb.Helper()
	o, err := b.Do(context.Background(), p)
	require.NoError(tb, err)
	require.Len(tb, o.Values, len(p.Readings))
	return o
}

func TestTheListIsComplete(t *testing.T) {
	all := For(gritter(t))
	assert.Equal(t, []string{
		"build-up-85-100", "build-up-from-empty", "governor-cut-out", "governor-cut-in", "safety-valve",
		"leak-down-parked", "leak-down-released", "leak-down-applied", "plug-and-watch", "full-application", "applications-until-warning", "compressor-holds",
		"application-time", "application-balance", "signal-pressure",
		"push-rod-stroke", "slack-travel", "wheel-force", "drum-temperature", "hold-off-pressure", "pedal-linkage",
		"cab-check", "low-pressure-warning", "spring-set", "switch-port-gauge", "substitute-gauge", "switch-unplugged",
		"listen-building", "listen-unloaded", "listen-parked", "listen-released", "listen-applied",
		"supply-loss", "wet-tank-after-cut-out", "charging-gauges", "intake-restriction", "drive-check", "line-off-flow", "purge-control-undone", "drain-yield",
		"soap-building", "soap-unloaded", "soap-parked", "soap-released", "soap-applied", "lines-followed",
	}, ids(all))
}

func TestEveryProcedureIsWellFormed(t *testing.T) {
	for _, p := range For(gritter(t)) {
		assert.NotEmpty(t, p.Title, p.ID)
		assert.NotEmpty(t, p.About, p.ID)
		assert.NotEmpty(t, p.Steps, p.ID)
		assert.NotEmpty(t, p.Readings, p.ID)
		assert.Positive(t, p.Minutes, p.ID)
		assert.Positive(t, p.SetUp, p.ID)
		assert.Contains(t, []string{"off", "idle", "rated"}, p.TimedAt(), "%s: every result carries its engine speed", p.ID)
		seen := map[[2]string]bool{}
		for _, r := range p.Readings {
			at := p.ID + "/" + r.ID + "@" + r.Place
			assert.False(t, seen[[2]string{r.ID, r.Place}], "%s is there twice", at)
			seen[[2]string{r.ID, r.Place}] = true
			assert.NotEmpty(t, r.Title, at)
			assert.NotEmpty(t, r.Instrument, at)
			assert.NotEmpty(t, circuit.UnitsOf(r.Dimension), at)
			switch r.Form {
			case Measured:
				assert.Positive(t, r.Sigma, at)
			case YesNo:
				assert.Positive(t, r.Judge.Half, at)
				assert.Positive(t, r.Judge.Spread, at)
				assert.Empty(t, r.Limits, at)
			default:
				t.Errorf("%s has no form", at)
			}
			if r.Gauge != "" {
				assert.Contains(t, p.vehicle.network.Gauges(), r.Gauge, at)
			}
		}
	}
}

// The healthy truck does every procedure, reads within every published limit that a reading names (in every jurisdiction), and gives
// no sign of a fault. Sources stand beside each limit in circuit/limit.
func TestTheHealthyTruckIsHealthy(t *testing.T) {
	n := gritter(t)
	b := bench(t, n)
	limits := 0
	for _, p := range For(n) {
		o := do(t, b, p)
		assert.Empty(t, o.Undone, p.ID)
		assert.Empty(t, o.Short, p.ID)
		for i, r := range p.Readings {
			at := p.ID + "/" + r.ID + "@" + r.Place
			v := o.Values[i]
			if p.ID == "wet-tank-after-cut-out" && r.ID == "stops-at" {
				assert.True(t, math.IsNaN(v), "%s: nothing blows, so nothing stops", at)
				continue
			}
			require.False(t, math.IsNaN(v), at)
			for _, l := range r.Limits {
				limits++
				assert.True(t, l.Meets(v), "%s = %s misses %s: %s (%s)", at, circuit.Format(v, r.Dimension, "", 2), l.ID, l.Wanted(), l.Source)
			}
			if r.Form == YesNo {
				yes := slices.Contains([]string{"stop-lamp", "rod-out", "turns", "delivers", "bridged"}, r.ID)
				if chance := r.Judge.Says(v); yes {
					assert.Greater(t, chance, 0.9, at)
				} else {
					assert.Less(t, chance, 0.06, at)
				}
			}
		}
	}
	assert.Greater(t, limits, 40)
}

// Figures that a two-axle truck has (common practice, no source), and what is plain from how it is built.
func TestTheHealthyTrucksFigures(t *testing.T) {
	n := gritter(t)
	all, b := For(n), bench(t, n)
	psiOf := func(pa float64) float64 { return (pa - circuit.AtmospherePressure) / psi }

	p := named(t, all, "governor-cut-out")
	o := do(t, b, p)
	assert.InDelta(t, 121, psiOf(value(t, p, o, "pressure", "gauge_primary")), 2, "cut-out 120 to 125 psi, less what the check valve takes")
	assert.InDelta(t, 20, value(t, p, o, "purge", "dryer.3"), 15, "a purge lasts some seconds and dies away within half a minute")

	p = named(t, all, "governor-cut-in")
	assert.InDelta(t, 102, psiOf(value(t, p, do(t, b, p), "pressure", "gauge_primary")), 2)

	p = named(t, all, "cab-check")
	assert.InDelta(t, 120, psiOf(value(t, p, do(t, b, p), "gauge", "gauge_primary")), 2, "gauges at 120 when the truck has just been charged")

	p = named(t, all, "full-application")
	o = do(t, b, p)
	for _, g := range []string{"gauge_primary", "gauge_secondary"} {
		assert.Greater(t, value(t, p, o, "dip", g), value(t, p, o, "drop", g), "the needle dips below where it settles: the air has cooled by expanding")
	}

	p = named(t, all, "charging-gauges")
	o = do(t, b, p)
	head, in, out := value(t, p, o, "compressor-outlet", ""), value(t, p, o, "dryer-inlet", ""), value(t, p, o, "dryer-outlet", "")
	supply := value(t, p, o, "supply", "test_supply")
	assert.Greater(t, head, in)
	assert.Greater(t, in, out)
	assert.Greater(t, out, supply)
	assert.Less(t, head-supply, 6*psi, "the healthy way from the compressor to the reservoir takes little")
}

// A vehicle that lacks a part has no procedure that needs it, and the others still work.
func TestAnyPartMayBeMissing(t *testing.T) {
	c, err := circuits.Load("gritter")
	require.NoError(t, err)
	for _, gone := range c.Components {
		less := *c
		less.Components = slices.DeleteFunc(slices.Clone(c.Components), func(x *circuit.Component) bool { return x == gone })
		less.Lines = slices.DeleteFunc(slices.Clone(c.Lines), func(l *circuit.Line) bool {
			return l.From.Component == gone.ID || l.To.Component == gone.ID
		})
		n := compiled(t, &less)
		b := bench(t, n)
		b.Tune(airflow.Coarse)
		all := For(n)
		for _, p := range all {
			_, err := b.Do(context.Background(), p)
			require.NoError(t, err, "without the %s", gone.Name)
		}
		switch gone.Kind.Name {
		case "compressor", "governor":
			assert.Empty(t, all, "without the %s", gone.Name)
		case "air-dryer":
			assert.NotContains(t, ids(all), "wet-tank-after-cut-out")
		case "park-control":
			assert.NotContains(t, ids(all), "leak-down-released")
		case "foot-valve":
			assert.NotContains(t, ids(all), "full-application")
		}
	}
}

// Every place on a vehicle has its minutes, and the passage that the filter is taken out of is there.
func TestTablesKnowEveryPlaceAndPassage(t *testing.T) {
	kind, err := circuit.KindNamed("compressor")
	require.NoError(t, err)
	assert.True(t, slices.ContainsFunc(kind.Passages, func(p circuit.PassageSpec) bool { return p.Name == filter }))
	for _, place := range circuit.Places {
		assert.Contains(t, minutesAt, place)
	}
}

func TestListeningLeavesOutWhatHoldsNoAir(t *testing.T) {
	p := named(t, For(gritter(t)), "listen-parked")
	for _, r := range p.Readings {
		assert.False(t, strings.HasSuffix(r.Place, ".from") || strings.HasSuffix(r.Place, ".to"), r.Place)
	}
	for place, want := range map[string]bool{
		"dryer.3": true, "rear_relay.3": true, "rear_left_chamber": true, "discharge_line": true, "tank": true, "compressor.0": true,
		"buzzer": false, "rear_left_slack": false, "rear_left_rod": false, "buzzer_wire": false,
	} {
		_, ok := p.Reading("hiss", place)
		assert.Equal(t, want, ok, place)
	}
}
