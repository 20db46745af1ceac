package ui

import (
	"image"
	"math/rand/v2"
	"os"
	"runtime"
	"testing"
	"time"

	"gioui.org/f32"
	"gioui.org/io/key"
	"gioui.org/io/pointer"
	"github.com/stretchr/testify/require"

	"airpath/ui/engine"
)

// TestFlowSoak works the largest vehicle at random, at the highest pace: nothing breaks, memory does not grow without end,
// and undoing everything comes to an end. In its short form it takes seconds; AIRPATH_SOAK=1 makes it an hour of Flow at 60×
// and 10,000 inputs.
func TestFlowSoak(t *testing.T) {
	inputs, hour := 250, 10*time.Second
	if os.Getenv("AIRPATH_SOAK") != "" {
		inputs, hour = 10000, time.Hour
	}
	f := newFlow(t, Options{Path: "tractor_trailer"})
	f.still.Do(func(w *engine.Worked) { w.Pace(60); w.Play(true) })
	rng := rand.New(rand.NewPCG(1, 2))
	names := []key.Name{"P", ".", ",", "[", "]", "E", "B", "1", "2", "3", "4", "W", "G", "N", "I", "F", "H", "U", "D", "C", "M", "0", "+", "-",
		key.NameReturn, key.NameSpace, key.NameEscape, key.NameLeftArrow, key.NameRightArrow, key.NameUpArrow, key.NameDownArrow, key.NameHome, key.NameEnd}
	tick := hour / time.Duration(inputs)
	var early uint64
	for i := range inputs {
		switch rng.IntN(10) {
		case 0, 1, 2, 3:
			f.key(names[rng.IntN(len(names))], 0)
		case 4, 5, 6:
			at := f32.Pt(float32(rng.IntN(f.size.X)), float32(f.shell.top+rng.IntN(f.size.Y-f.shell.top)))
			f.send(pointer.Event{Kind: pointer.Move, Source: pointer.Mouse, Position: at},
				pointer.Event{Kind: pointer.Press, Source: pointer.Mouse, Buttons: pointer.ButtonPrimary, Position: at},
				pointer.Event{Kind: pointer.Move, Source: pointer.Mouse, Buttons: pointer.ButtonPrimary, Position: at.Add(f32.Pt(float32(rng.IntN(60)-30), float32(rng.IntN(20)-10)))},
				pointer.Event{Kind: pointer.Release, Source: pointer.Mouse, Position: at})
		case 7:
			f.tab()
		case 8:
			f.key("Z", key.ModShortcut|[]key.Modifiers{0, key.ModShift}[rng.IntN(2)])
		case 9:
			at := f32.Pt(float32(rng.IntN(f.size.X)), float32(f.shell.top+rng.IntN(f.size.Y-f.shell.top)))
			f.send(pointer.Event{Kind: pointer.Scroll, Source: pointer.Mouse, Scroll: f32.Pt(0, float32(rng.IntN(200)-100)), Position: at})
		}
		if rng.IntN(50) == 0 {
			f.size = image.Pt(400+rng.IntN(1500), 300+rng.IntN(900))
		}
		f.still.Do(func(w *engine.Worked) { w.Play(true) })
		for left := tick; left > 0; left -= 100 * time.Millisecond {
			f.still.Tick(min(left, 100*time.Millisecond))
		}
		f.frame()
		require.Empty(t, f.still.Frame().Trouble, "after %d inputs", i)
		if i == inputs/4 {
			early = heap()
		}
	}
	late := heap()
	require.Less(t, late, early+64<<20, "memory grew from %d to %d MB", early>>20, late>>20)
	t.Logf("%.0f s of the vehicle, %d deeds on the time line, heap %d MB", f.still.Frame().Now.Time, len(f.still.Frame().Deeds), late>>20)
	deeds := len(f.still.Frame().Deeds)
	for n := 0; f.still.Frame().CanUndo != ""; n++ {
		require.LessOrEqual(t, n, deeds, "undo comes to an end")
		f.still.Do(func(w *engine.Worked) { w.Undo() })
		require.Empty(t, f.still.Frame().Trouble)
	}
}

func heap() uint64 {
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return m.HeapAlloc
}
