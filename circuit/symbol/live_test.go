package symbol

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"airpath/circuit"
	"airpath/circuits"
)

// A sheet put together of its pieces is the sheet drawn at once: nothing is left out and nothing drawn twice.
func TestThePiecesMakeTheSheet(t *testing.T) {
	for _, name := range circuits.Names() {
		c, err := circuits.Load(name)
		require.NoError(t, err)
		sh := NewSheet(c)
		for _, scale := range []float64{8, 12} { // without the ports' digits, and with them
			var whole, pieces Recorder
			look := Look{Palette: Light, Scale: scale}
			sh.DrawLayer(&whole, LineLayer, look, Marks{})
			sh.DrawLayer(&whole, SymbolLayer, look, Marks{})
			sh.DrawFixedLines(&pieces, look, Marks{})
			sh.DrawDigits(&pieces, look)
			for _, p := range sh.Pipes() {
				style := Style{Stroke: Light.Line, Width: LineWidth(look, math.NaN(), p.Pilot)}
				if p.Pilot {
					style.Dash = PilotDash
				}
				pieces.Begin(p.Line.ID, "")
				pieces.Poly(p.Points, false, style)
				pieces.End()
			}
			for _, part := range c.Components {
				sh.DrawPart(&pieces, part.ID, look, Marks{})
			}
			assert.ElementsMatch(t, whole.Marks, pieces.Marks, "%s at %g", name, scale)
		}
	}
}

func TestEveryVentHasAPlace(t *testing.T) {
	c, err := circuits.Load("tractor_trailer")
	require.NoError(t, err)
	sh := NewSheet(c)
	for _, part := range c.Components {
		for _, p := range part.Kind.Ports {
			port, ok := sh.Vent(part.ID, p.Name)
			assert.Equal(t, p.Vent, ok, "%s.%s", part.ID, p.Name)
			if ok {
				box, _ := sh.BoxOf(part.ID)
				assert.True(t, box.Contains(port.At), "%s.%s is on its symbol", part.ID, p.Name)
			}
		}
	}
}

func TestTiers(t *testing.T) {
	assert.Equal(t, 0, OpenTier(0))
	assert.Equal(t, 0, OpenTier(openEnough))
	assert.Positive(t, OpenTier(openEnough+0.001), "what is drawn open is in another tier than what is drawn shut")
	assert.Equal(t, openTiers, OpenTier(1))
	assert.Equal(t, 0, PressureTier(circuit.AtmospherePressure))
	assert.Equal(t, rampSteps-1, PressureTier(circuit.AtmospherePressure+FullPressure))
	assert.Equal(t, -1, PressureTier(math.NaN()))
	assert.Equal(t, strokeTiers, StrokeTier(2))
}
