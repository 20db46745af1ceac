package trace

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"airpath/circuit"
	"airpath/circuit/airflow/procedure"
	"airpath/trace/reason"
)

// Six brakes that all come on a tenth earlier than simulated, as they do where lines are taken finer than the tracer takes them, speak for what moves
// all of them no more than one of them does; six that are off each its own way do.
func TestReadingsOfASortAreOffTogether(t *testing.T) {
	gazeAt := func(times ...string) *gaze {
		var observations []observation
		for _, text := range times {
			value, _, err := circuit.Result{Kind: circuit.Number, Text: text}.Bounds(circuit.Time)
			assert.NoError(t, err)
			observations = append(observations, observation{
				key: text + string(rune('a'+len(observations))),
				r:   &procedure.Reading{ID: "apply", Dimension: circuit.Time, Form: procedure.Measured, Sigma: 0.004},
				e:   procedure.Evidence{Kind: circuit.Number, Low: value, High: value},
			})
		}
		k := &gaze{dims: 2, normal: nil}
		k.shared = sharedOff(observations, k.dims)
		k.dims += len(k.shared)
		for i := range observations {
			l := &likelihood{o: &observations[i], sigma: 0.004, healthy: 0.24, flat: 1}
			k.seen = append(k.seen, lookedAt{likelihood: l, bend: k.withShared(newBend(2), l), count: 1})
		}
		k.normal = reason.Draws(256, k.dims+mostFaces)
		return k
	}
	evidence := func(k *gaze) float64 {
		f := &face{steps: &steps{shares: []float64{0, 1}}}
		for range k.seen {
			f.add([]step{{stretch: stretch{low: 0.24, high: 0.24}}}, nil, 0.24)
		}
		return k.evidence(f)
	}
	early := gazeAt("0.215 s", "0.217 s", "0.214 s", "0.216 s", "0.215 s", "0.216 s")
	apart := gazeAt("0.215 s", "0.268 s", "0.214 s", "0.268 s", "0.215 s", "0.266 s")
	assert.Len(t, early.shared, 1)
	assert.True(t, early.seen[0].offTogether)
	assert.Greater(t, evidence(early), evidence(apart)+20)
	assert.Empty(t, gazeAt("0.215 s").shared, "what one alone is off by is in its own error")
}
