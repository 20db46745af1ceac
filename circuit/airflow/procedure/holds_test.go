package procedure

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"airpath/circuit/limit"
)

// At idle, the service brakes fully applied and the park released, the compressor must reach and hold 620 kPa (Quebec, C-24.2 r. 32
// s. 166(4)): 89.9 psi. A healthy truck gets to 100 psi, where the test ends.
func TestTheCompressorHoldsAnApplication(t *testing.T) {
	n := gritter(t)
	shows(t, n, []shown{
		{"", "compressor-holds", "holds", "gauge_primary", 99.9, 125},
		{"", "compressor-holds", "holds", "gauge_secondary", 99.9, 125},
		{"front_left_chamber/diaphragm leaking=6 mm", "compressor-holds", "holds", "gauge_secondary", 0, 89},
		{"front_left_chamber/diaphragm leaking=0.5 mm", "compressor-holds", "holds", "gauge_primary", 99.9, 125},
	})
	p := named(t, For(n), "compressor-holds")
	for _, r := range p.Readings {
		limits := r.LimitsIn("Canada/Quebec")
		if assert.Len(t, limits, 1, r.Place) {
			assert.Equal(t, "qc-compressor-holds", limits[0].ID)
			assert.Equal(t, limit.CompressorHolds, limits[0].Quantity)
		}
		assert.Empty(t, r.LimitsIn("US"), r.Place)
	}
}
