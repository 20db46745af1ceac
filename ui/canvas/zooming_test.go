package canvas

import (
	"image"
	"testing"
	"time"

	"gioui.org/io/input"
	"gioui.org/layout"
	"gioui.org/op"
	"gioui.org/unit"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"airpath/circuits"
	"airpath/ui/theme"
)

// A large view shows what it had, enlarged, until the hand rests, and then draws it anew; a small one draws every step.
func TestALargeViewIsDrawnWhenTheHandRests(t *testing.T) {
	c, err := circuits.Load("gritter")
	require.NoError(t, err)
	for _, size := range []image.Point{{X: 1280, Y: 800}, {X: 2560, Y: 1440}} {
		large := size.X*size.Y > mostAtOnce
		var (
			r   input.Router
			ops op.Ops
			s   Sheet
			now = time.Unix(100, 0)
		)
		th, scene := theme.New(false, theme.NewShaper()), &Scene{Circuit: c}
		frame := func(later time.Duration) {
			now = now.Add(later)
			ops.Reset()
			gtx := layout.Context{Ops: &ops, Now: now, Metric: unit.Metric{PxPerDp: 1, PxPerSp: 1}, Source: r.Source(), Constraints: layout.Exact(size)}
			s.Update(gtx, scene)
			s.Layout(gtx, th, scene)
			r.Frame(&ops)
		}
		frame(0)
		drawn := func() float64 { return s.picture.key.scale }
		first := s.cam.Scale
		assert.Equal(t, first, drawn())
		for range 3 {
			s.ZoomBy(1.3)
			frame(20 * time.Millisecond)
			assert.Equal(t, large, drawn() == first)
			assert.Greater(t, s.cam.Scale, drawn()-1e-9)
			assert.Equal(t, size, s.size)
			at, wakes := r.WakeupTime()
			assert.Equal(t, large, wakes, "it asks for the frame in which it is drawn anew")
			if wakes {
				assert.Equal(t, now.Add(restAfter), at)
			}
		}
		frame(restAfter)
		assert.Equal(t, s.cam.Scale, drawn())
		_, wakes := r.WakeupTime()
		assert.False(t, wakes, "and then rests")
	}
}
