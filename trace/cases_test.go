package trace

import (
	"context"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"airpath/circuit"
	"airpath/circuit/airflow"
)

// The wet side of the gritter: what holds air before the check valves of the service reservoirs. The lines that work the
// unloader and the purge valve hold air only after cut-out.
var (
	wetSide = []string{
		"discharge_line", "tee_discharge", "relief_line", "dryer_relief", "dryer_inlet_line", "supply_line", "tank/supply", "sensing_line",
		"safety_stub", "safety_valve", "test_supply_stub", "test_supply", "drain_supply_stub", "drain_supply", "primary_feed", "secondary_feed",
	}
	controlAir = []string{"governor", "unloader_line", "tee_unloader", "compressor_unloader_line", "purge_control_line", "compressor", "dryer"}
)

func onWetSide(f airflow.Fault) bool {
	return slices.ContainsFunc(wetSide, func(w string) bool { return f.Target == w || strings.HasPrefix(id(f), w+" ") })
}

// "85 to 100 psi took 70 s at rated speed; cut-out normal; leak-down released and applied within limits; no air at the purge
// port while building."
func TestSlowBuildUpIsOnTheSupplySide(t *testing.T) {
	v := traceCase(t, "slow-build-up")
	supply := []string{"compressor/worn", "compressor/intake restricted", "compressor/drive slipping", "discharge_line/carboned", "dryer/cartridge plugged"}
	first := ranking(v)[:6]
	together := 0.0
	for _, f := range supply {
		assert.Contains(t, first, f)
		s, _ := suspectAt(t, v, f)
		together += s.Probability
		assert.NotEmpty(t, s.Path, f)
		assert.Equal(t, "primary gauge", s.Path[len(s.Path)-1].Words, "the path ends at the needle")
		assert.Contains(t, s.Because, "70 s; with this fault")
		assert.True(t, s.ExplainsAll, f)
	}
	assert.Greater(t, together, 0.75)
	assert.Empty(t, v.Unexplained)
	assert.Empty(t, v.Disagree, "paths and numbers agree")
	require.NotEmpty(t, v.Alike)
	var group []string
	for _, f := range v.Alike[0].Faults {
		group = append(group, id(f))
	}
	assert.Subset(t, group, supply, "the findings so far don't tell them apart")
	assert.True(t, v.Alike[0].Separable)

	cleared := clearedOf(v)
	for _, f := range airflow.Catalogue(gritterTracer(t).circuit) {
		if !strings.HasSuffix(f.Mode, "leaking") || slices.Contains(controlAir, f.Target) {
			continue
		}
		if onWetSide(f) {
			assert.False(t, notTheCause(v, id(f)), "%s is on the wet side, where nobody has looked", id(f))
			continue
		}
		if !notTheCause(v, id(f)) {
			s, _ := suspectAt(t, v, id(f))
			assert.Less(t, s.Probability, 1e-3, "%s is on a service tank or beyond", id(f))
		}
		if c, ok := cleared[id(f)]; ok {
			assert.NotEmpty(t, c.Because, id(f))
			assert.NotEmpty(t, c.By, id(f))
		}
	}
	assert.NotContains(t, cleared, "tank/primary leaking", "a small leak there may be the second of two faults: within limits is not none")

	require.NotEmpty(t, v.Limits)
	for _, l := range v.Limits {
		assert.False(t, l.Pass, "70 s is beyond %s", l.Limit.Source)
	}
}

// The next procedure really splits the group: head pressure, before and after the dryer, intake, drive.
func TestSlowBuildUpsNextProcedureSplitsTheGroup(t *testing.T) {
	v := traceCase(t, "slow-build-up")
	require.NotEmpty(t, v.Next)
	assert.Empty(t, v.Stop)
	assert.Greater(t, v.Next[0].Bits, 1.0)
	assert.Regexp(t, `^splits \d+ suspects \d+ to \d+`, v.Next[0].Because)
	var ids []string
	for i, n := range v.Next {
		ids = append(ids, n.Procedure.ID)
		assert.Positive(t, n.Minutes)
		assert.NotEmpty(t, n.Readings)
		switch {
		case i == 0 || n.Left > 0 && v.Next[i-1].Left > 0:
			assert.Positive(t, n.Left)
			assert.GreaterOrEqual(t, n.Left, v.Next[max(i, 1)-1].Left*(1-1e-9), "those that were looked at further come in the order of what is left to do")
		default:
			assert.Zero(t, n.Left)
		}
		if i > 0 && n.Left == 0 && v.Next[i-1].Left == 0 {
			assert.LessOrEqual(t, n.PerMinute, v.Next[i-1].PerMinute*(1+1e-9), "the others in that of what they tell per minute")
		}
	}
	assert.Contains(t, []string{"intake-restriction", "line-off-flow", "charging-gauges", "drive-check", "build-up-from-empty"}, ids[0])
	for _, p := range []string{"charging-gauges", "intake-restriction", "drive-check"} {
		assert.Contains(t, ids, p)
	}
}

// A wet-side finding clears the wet side: nothing is heard there while building.
func TestWetSideFindingsClearTheWetSide(t *testing.T) {
	k := loadCase(t, "slow-build-up")
	places := []string{"tank", "drain_supply.3", "supply_line", "safety_valve.3", "dryer_inlet_line", "discharge_line"}
	for _, procedure := range []string{"listen-building", "listen-parked", "listen-released"} {
		for _, place := range places {
			k.Findings = append(k.Findings, circuit.Finding{
				ID: procedure + "-" + place, Procedure: procedure, Reading: "hiss", Place: place, Instrument: "soap", Result: circuit.Result{Kind: circuit.No, Text: "no"},
			})
		}
	}
	v, err := gritterTracer(t).Trace(context.Background(), k, nil)
	require.NoError(t, err)
	cleared := clearedOf(v)
	for _, f := range []string{"tank/supply leaking", "drain_supply/leaking", "supply_line/leaking", "safety_valve/leaking"} {
		assert.Contains(t, cleared, f)
	}
	for _, f := range []string{"dryer_inlet_line/leaking", "discharge_line/leaking"} {
		assert.NotContains(t, cleared, f, "it holds pressure in one of the rounds only, and who listens once misses one in twenty")
	}
	_, rank := suspectAt(t, v, "sensing_line/leaking")
	assert.Positive(t, rank, "where nobody has listened it stays")
}

func TestPurgeBlowsWhileBuilding(t *testing.T) {
	v := traceCase(t, "purge-blows-while-building")
	s := v.Suspects[0]
	assert.Equal(t, "dryer/purge valve leaking", id(s.Fault))
	assert.Greater(t, s.Probability, 1.3*v.Suspects[1].Probability)
	assert.False(t, notTheCause(v, "dryer/purge valve stuck open"))
	assert.Equal(t, "purge valve of the air dryer", s.Path[0].Words)
	assert.Empty(t, v.Disagree)
}

func TestWetTankFallsAfterCutOut(t *testing.T) {
	v := traceCase(t, "wet-tank-falls")
	s := v.Suspects[0]
	assert.Equal(t, "dryer/outlet check leaking back", id(s.Fault))
	assert.Greater(t, s.Probability, 5*v.Suspects[1].Probability)
	assert.Equal(t, "outlet check of the air dryer → regeneration orifice of the air dryer → purge valve of the air dryer", s.PathWords)
}

func TestPrimaryFollowsTheSupplyReservoir(t *testing.T) {
	v := traceCase(t, "primary-follows-supply")
	assert.Equal(t, "check_primary/leaking back", ranking(v)[0])
	assert.Contains(t, ranking(v)[:3], "tank/wall between supply and primary leaking", "beside what lets the primary down by itself")
	assert.Greater(t, v.Suspects[0].Probability, 2*v.Suspects[1].Probability)

	// It holds as long as the supply reservoir is full: then it is one of the two beyond doubt.
	k := loadCase(t, "primary-follows-supply")
	k.Findings = append(k.Findings, circuit.Finding{
		ID: "holds", Procedure: "leak-down-released", Reading: "fall", Place: "gauge_primary", Result: circuit.Result{Kind: circuit.WithinLimits, Text: "within limits"},
	})
	v, err := gritterTracer(t).Trace(context.Background(), k, nil)
	require.NoError(t, err)
	assert.Equal(t, []string{"check_primary/leaking back", "tank/wall between supply and primary leaking"}, ranking(v)[:2])
	assert.Greater(t, v.Suspects[1].Probability, 1.3*v.Suspects[2].Probability)
}

func TestLampOnWithGoodGauges(t *testing.T) {
	v := traceCase(t, "lamp-on-gauges-good")
	for _, f := range ranking(v)[:5] {
		target, _, _ := strings.Cut(f, "/")
		assert.Contains(t, []string{"switch_primary", "switch_secondary", "primary_switch_wire", "secondary_switch_wire", "buzzer_wire"}, target)
	}
	for _, gauge := range []string{"gauge_primary/reading high", "gauge_secondary/reading high"} {
		if _, ok := clearedOf(v)[gauge]; !ok {
			s, _ := suspectAt(t, v, gauge)
			assert.Less(t, s.Probability, v.Suspects[0].Probability/20, "needles that misread are far behind")
		}
	}
	assert.Equal(t, "low pressure lamp", v.Suspects[0].Path[len(v.Suspects[0].Path)-1].Words)
}

func TestAirAtTheRelaysExhaustOnlyWithTheParkReleased(t *testing.T) {
	v := traceCase(t, "relay-exhaust-released")
	assert.ElementsMatch(t, []string{"rear_left_chamber/inner seal leaking", "rear_right_chamber/inner seal leaking"}, ranking(v)[:2])
	assert.Equal(t, "rear_relay/inlet seat leaking", ranking(v)[2])
	require.NotEmpty(t, v.Inseparable)
	assert.Len(t, v.Inseparable[0].Faults, 2, "no procedure tells the two chambers apart")
	assert.Contains(t, []string{"rear_left_chamber", "rear_right_chamber"}, v.Inseparable[0].Faults[0].Target)
	s, _ := suspectAt(t, v, "rear_left_chamber/inner seal leaking")
	assert.Equal(t, "inner seal of the rear left spring brake chamber → rear left service hose → exhaust seat of the rear relay valve", s.PathWords)
}
