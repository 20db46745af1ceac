package symbol

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestLegendStaysInItsBox(t *testing.T) {
	for _, scale := range []float64{3, 8, 20} {
		var r Recorder
		box := DrawLegend(&r, Point{X: 4, Y: 5}, Look{Palette: Dark, Scale: scale, Unit: "bar"})
		assert.Equal(t, Point{X: 4, Y: 5}, box.Min)
		for _, m := range r.Marks {
			b := boxAround(m.Points)
			assert.True(t, box.Contains(b.Min) && box.Contains(b.Max), "%v outside %v", b, box)
			if m.Text != "" {
				assert.True(t, box.Grow(1e-9).Contains(m.Bounds().Max), "%q", m.Text)
			}
		}
		assert.Contains(t, texts(r.Marks), "9.0 bar")
		assert.InDelta(t, 250, box.Width()*scale, 60, "its size on the screen does not follow the zoom")
	}
	assert.NotPanics(t, func() { DrawLegend(&Recorder{}, Point{}, Look{}) })
}

func TestLegendHasNotChanged(t *testing.T) {
	look := Look{Palette: Light, Scale: 8}
	box := DrawLegend(&Recorder{}, Point{}, look)
	s := NewSVG(box.Grow(1), Light.Paper, "legend")
	DrawLegend(s, Point{}, look)
	golden(t, "legend.svg", s.Bytes())
}
