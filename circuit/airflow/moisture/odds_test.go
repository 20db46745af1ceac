package moisture

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"airpath/circuit"
	"airpath/circuit/airflow"
)

// Ice needs frost, and no other fault cares. Over a year in which a quarter of the days have frost the factor's mean is that of the catalogue.
func TestIceNeedsFrost(t *testing.T) {
	ices := 0
	for _, k := range circuit.Kinds() {
		for _, m := range airflow.Modes(k.Name) {
			assert.Equal(t, strings.Contains(m.Name, "iced"), m.Ice, "%s/%s", k.Name, m.Name)
			if !m.Ice {
				assert.Equal(t, 1.0, IceOdds(m, 250), m.Name)
				continue
			}
			ices++
			assert.Equal(t, 4.0, IceOdds(m, 263.15))
			assert.Equal(t, IceOdds(m, 273.15), IceOdds(m, 233.15), "water is ice at -1 and at -40 °C")
			assert.InDelta(t, 1, 0.25*IceOdds(m, 263.15)+0.75*IceOdds(m, 293.15), 2e-3)
			last := IceOdds(m, 273.15)
			for c := 0.25; c <= 8; c += 0.25 {
				x := IceOdds(m, 273.15+c)
				require.LessOrEqual(t, x, last)
				require.Positive(t, x)
				last = x
			}
		}
	}
	assert.Greater(t, ices, 2)
}
