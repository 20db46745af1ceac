package engine

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Undo takes the present moment down first, so that one can come back to it. That may be the moment by which the time line becomes too long and
// is thinned out, which moves every deed on it.
func TestUndoOnATimeLineThatIsThinnedOutJustThen(t *testing.T) {
	w := worked(t, "bench_board")
	between := func() (n int) {
		for _, m := range w.line.moments {
			if !m.input {
				n++
			}
		}
		return n
	}
	until := func(n int) {
		t.Helper()
		for between() < n {
			w.Advance(w.line.spacing, time.Time{})
			require.Empty(t, w.trouble)
		}
	}
	until(mostBetween - 5)
	control := w.Circuit().Components[0].ID
	for _, c := range w.Circuit().Components {
		if len(c.Kind.Controls) > 0 {
			control = c.ID + "." + c.Kind.Controls[0].Name
		}
	}
	w.Set(control, 1, 0, noon, "moved")
	moved, spacing := w.Frame().Now.Time, w.line.spacing
	until(mostBetween)
	w.Advance(spacing/2, time.Time{})
	left := w.Frame().Now.Time
	w.Undo()
	require.Greater(t, w.line.spacing, spacing, "it was thinned out")
	assert.InDelta(t, moved, w.Frame().Now.Time, 1e-6)
	assert.Empty(t, w.Frame().CanUndo)
	assert.Equal(t, "moved", w.Frame().CanRedo)
	w.Redo()
	assert.InDelta(t, moved, w.Frame().Now.Time, 1e-6)
	assert.Equal(t, "moved", w.Frame().CanUndo)
	w.Seek(left)
	assert.InDelta(t, left, w.Frame().Now.Time, 1e-6, "what comes later is still there")
}
