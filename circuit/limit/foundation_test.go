package limit_test

import (
	"testing"

	"airpath/circuit/limit"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The body is told from the stroke: 49 CFR 393.47(e) has two or three for most types.
func TestStrokeLimitOfAChamber(t *testing.T) {
	for _, tt := range []struct {
		kind, full, want float64 // in², in, in
		source           string
	}{
		{6, 1.625, 1.25, "clamp 6"}, {9, 1.75, 1.375, "clamp 9"}, {12, 1.75, 1.375, "clamp 12"}, {16, 2.25, 1.75, "clamp 16"}, {16, 2.5, 2, "long stroke 16"},
		{20, 2.25, 1.75, "clamp 20"}, {20, 2.5, 2, "long stroke 20"}, {20, 3, 2.5, "3 in rated stroke 20"}, {24, 2.25, 1.75, "clamp 24"}, {24, 2.5, 2, "long stroke 24"},
		{24, 3, 2.5, "3 in rated stroke 24"}, {30, 2.5, 2, "clamp 30"}, {30, 3, 2.5, "long stroke 30"}, {36, 3, 2.5, "clamp 36"},
		{14, 2.5, 2, "80 % of the rated stroke"}, // not in the table: 393.47(e)(2)
		{22, 2.5, 2, "80 % of the rated stroke"},
	} {
		got, source := limit.StrokeOf(tt.kind*inch*inch, tt.full*inch)
		assert.InEpsilon(t, tt.want*inch, got, 1e-12, "type %g, %g in", tt.kind, tt.full)
		assert.Contains(t, source, tt.source)
	}
}

// North American out-of-service criteria, Part II item 1: 20 % of the brakes; a 5-axle vehicle has ten, so two.
func TestTwentyPercentRule(t *testing.T) {
	rules := limit.OutOfServiceRules()
	require.Len(t, rules, 2)
	now, before := rules[0], rules[1]
	for brakes, needed := range map[int]int{4: 1, 5: 1, 6: 2, 8: 2, 10: 2, 11: 3, 12: 3} {
		assert.Equal(t, needed, now.Needed(brakes), "%d brakes", brakes)
	}
	assert.True(t, now.Stops(2, 10))
	assert.False(t, now.Stops(1, 10))
	assert.False(t, now.Stops(0, 0))
	over := []float64{0.25 * inch, 0.125 * inch, 0.125 * inch, 0.1 * inch, 0, -0.5 * inch}
	assert.InDelta(t, 1, now.Defects(over), 1e-12)
	assert.InDelta(t, 2, before.Defects(over), 1e-12, "two at an eighth counted as one; from memory")
}

// 393.47(d), C-24.2 r. 32 s. 166(7), 393.52(d): the limit itself passes.
func TestFoundationBounds(t *testing.T) {
	assert.True(t, limit.LiningLeast(false).Meets(0.00635))
	assert.False(t, limit.LiningLeast(false).Meets(0.0063))
	assert.True(t, limit.LiningLeast(true).Meets(0.0047625))
	assert.True(t, limit.CamTurnMost().Meets(2.0943951))
	assert.False(t, limit.CamTurnMost().Meets(2.1))
	assert.True(t, limit.BrakeForceLeast().Meets(0.435))
	assert.False(t, limit.BrakeForceLeast().Meets(0.43))
}

// 49 CFR 571.121 S5.4.1, Table III, row by row.
func TestTowedRetardation(t *testing.T) {
	for _, row := range [][2]float64{{20, 0.05}, {30, 0.12}, {40, 0.18}, {50, 0.25}, {60, 0.31}, {70, 0.37}, {80, 0.41}, {100, 0.41}, {10, 0}} {
		assert.InDelta(t, row[1], limit.TowedRetardation(row[0]*psi), 1e-12, "%g psi", row[0])
	}
	assert.InDelta(t, 0.085, limit.TowedRetardation(25*psi), 1e-12)
}
