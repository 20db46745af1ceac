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

// Names that have no room on the whole sheet stand beside it, on free paper and within the view; closer up there is none of it.
func TestNamesWithoutRoomStandBesideTheSheet(t *testing.T) {
	for _, c := range []struct {
		vehicle string
		size    image.Point
		on      bool
	}{
		{"tractor_trailer", image.Pt(820, 708), true}, {"tractor_trailer", image.Pt(940, 548), true}, {"tractor_trailer", image.Pt(820, 478), true}, {"tractor_trailer", image.Pt(820, 380), false},
		{"gritter", image.Pt(940, 548), true}, {"gritter", image.Pt(820, 708), false}, // all of its names have room
	} {
		vehicle, err := circuits.Load(c.vehicle)
		require.NoError(t, err)
		var (
			r   input.Router
			ops op.Ops
			s   Sheet
		)
		th, scene := theme.New(false, theme.NewShaper()), &Scene{Circuit: vehicle}
		frame := func() {
			ops.Reset()
			gtx := layout.Context{Ops: &ops, Now: time.Unix(100, 0), Metric: unit.Metric{PxPerDp: 1, PxPerSp: 1}, Source: r.Source(), Constraints: layout.Exact(c.size)}
			s.Update(gtx, scene)
			s.Layout(gtx, th, scene)
			r.Frame(&ops)
		}
		frame()
		require.Equal(t, c.on, s.letters.on, "%s %v", c.vehicle, c.size)
		assert.Equal(t, c.on, s.picture.key.letters)
		view, sheet := image.Rectangle{Max: c.size}, pixels(s.drawn.Bounds(), s.cam.Scale).Add(s.cam.Off)
		assert.True(t, sheet.In(view.Inset(-1)), "%s %v: the sheet is seen whole", c.vehicle, c.size)
		if !c.on {
			continue
		}
		list := image.Rectangle{Min: s.letters.at, Max: s.letters.at.Add(s.letters.list.Size())}
		assert.True(t, list.In(view), "%s %v: %v", c.vehicle, c.size, list)
		assert.False(t, list.Overlaps(sheet), "%s %v: %v lies on %v", c.vehicle, c.size, list, sheet)
		s.ZoomBy(2)
		frame()
		assert.False(t, s.letters.on)
		s.FitAll()
		frame()
		assert.True(t, s.letters.on)
	}
}
