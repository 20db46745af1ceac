package procedure

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"airpath/circuit/airflow"
	"airpath/circuits"
)

// What a workshop sees of a healthy semi-trailer on its own, and of faults. The springs must be held off while the supply is at 70 psi
// or above (49 CFR 571.121 S5.8.3); the rest is common practice, and the bounds are engineering judgement.
func TestATrailerByItself(t *testing.T) {
	c, err := circuits.Load("semi_trailer")
	require.NoError(t, err)
	n := compiled(t, c)
	assert.Equal(t, []string{"trailer-charge", "trailer-leak-down", "trailer-applied", "trailer-supply-lost", "listen-charged", "listen-service", "soap-charged", "soap-service"}, ids(For(n)))
	const tank, left, rear = "test_reservoir", "front_left_chamber", "rear_left_chamber"
	shows(t, n, []shown{
		{"", "trailer-charge", "time", "", 10, 300},
		{"", "trailer-charge", "level", tank, 95, 121},
		{"", "trailer-charge", "rod-out", rear, 0, 0.05},
		{"", "trailer-leak-down", "fall", tank, -0.3, 0.3},
		{"", "trailer-leak-down", "fall", "gladhand_supply", -0.3, 0.3},
		{"", "trailer-applied", "applied", left, 0.95, 1},
		{"", "trailer-applied", "applied", rear, 0.95, 1},
		{"", "trailer-applied", "fall", "gladhand_control", -0.3, 0.3},
		{"", "trailer-applied", "level", "gladhand_control", 90, 121},
		{"", "trailer-applied", "released", left, 0, 0.05},
		{"", "trailer-applied", "released", rear, 0, 0.05},
		{"", "trailer-supply-lost", "rod-out", left, 0.95, 1},
		{"", "trailer-supply-lost", "rod-out", rear, 0.95, 1},
		{"", "trailer-supply-lost", "keeps", tank, 85, 121},
		{"", "trailer-supply-lost", "blows", "gladhand_supply.3", 0, 0.05},

		{"gladhand_supply/cock left shut=1", "trailer-charge", "rod-out", rear, 0.95, 1},
		{"spring_valve/hold-off restricted=1", "trailer-charge", "rod-out", rear, 0.95, 1},
		{"reservoir/leaking=1 mm", "trailer-leak-down", "fall", tank, 2, 40},
		{"gladhand_control/seal leaking=1 mm", "trailer-applied", "level", "gladhand_control", -1, 5},
		{"front_left_chamber/diaphragm leaking=1 mm", "trailer-applied", "fall", tank, 2, 40},
		{"emergency/no emergency action", "trailer-supply-lost", "rod-out", left, 0, 0.05},
		{"emergency/leaking back to the supply line=2 mm", "trailer-supply-lost", "blows", "gladhand_supply.3", 0.9, 1},
		{"front_left_chamber/diaphragm leaking=1 mm", "listen-service", "hiss", left, 0.5, 1},
		{"front_left_chamber/diaphragm leaking=1 mm", "listen-charged", "hiss", left, 0, 0.1},
	})
}

// Shop air stops at its regulator's pressure; the smooth end of what a pump delivers takes it a psi beyond in half an hour.
func TestShopAirStopsAtItsPressure(t *testing.T) {
	c, err := circuits.Load("semi_trailer")
	require.NoError(t, err)
	r, err := compiled(t, c).Start(nil, airflow.Scatter{})
	require.NoError(t, err)
	require.NoError(t, r.Set("gladhand_supply.shut", 1, 0))
	require.NoError(t, r.Set("gladhand_supply.shop_air", 1, 0))
	require.NoError(t, r.Advance(1800))
	assert.InDelta(t, 120, (r.Pressure("gladhand_supply.1")-gauge(0))/psi, 1.5)
}
