package ui

import (
	"image"
	"math"
	"math/rand/v2"
	"os"
	"runtime"
	"slices"
	"testing"
	"time"

	"gioui.org/f32"
	"gioui.org/io/key"
	"gioui.org/io/pointer"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"airpath/ui/engine"
)

// A soak works the largest vehicle at random and at the highest pace, and keeps count over the whole of it.
type soak struct {
	*flowHarness
	rng    *rand.Rand
	inputs int
	went   float64 // seconds that went by on the vehicle
	deeds  int     // that were put on the time line
	early  uint64  // heap when half of it was done
}

func newSoak(t *testing.T) *soak {
	t.Chdir(t.TempDir()) // some inputs save a case where the program was started
	s := &soak{flowHarness: newFlow(t, Options{Path: "tractor_trailer"}), rng: rand.New(rand.NewPCG(1, 2))}
	s.still.Do(func(w *engine.Worked) { w.Pace(60); w.Play(true) })
	return s
}

// soaked is how much of it there is: seconds in the usual tests; AIRPATH_SOAK=1 makes it an hour and 10,000 inputs.
func soaked() (inputs int, clock time.Duration) {
	if os.Getenv("AIRPATH_SOAK") != "" {
		return 10000, time.Hour
	}
	return 80, 4 * time.Second
}

// work gives so many inputs, and lets time go by after each of them. After is called when it has.
func (s *soak) work(inputs int, clock time.Duration, input, after func()) {
	tick := clock / time.Duration(inputs)
	goroutines := 0
	for i := range inputs {
		input()
		if s.rng.IntN(50) == 0 {
			s.size = image.Pt(400+s.rng.IntN(1500), 300+s.rng.IntN(900))
		}
		before := s.still.Frame().Now.Time
		s.still.Do(func(w *engine.Worked) { w.Pace(60); w.Play(true) })
		for left := tick; left > 0; left -= 100 * time.Millisecond {
			s.still.Tick(min(left, 100*time.Millisecond))
		}
		s.went += s.still.Frame().Now.Time - before
		s.inputs++
		s.now = s.now.Add(tick)
		s.frame()
		require.Empty(s.t, s.still.Frame().Trouble, "after %d inputs", i)
		after()
		if i == inputs/2 {
			s.early, goroutines = heap(), runtime.NumGoroutine()
		}
	}
	late := heap()
	require.Less(s.t, late, s.early+64<<20, "memory grew from %d to %d MB", s.early>>20, late>>20)
	require.LessOrEqual(s.t, runtime.NumGoroutine(), goroutines+2, "goroutines")
	require.InEpsilon(s.t, 60*clock.Seconds(), s.went, 1e-6, "seconds of the vehicle, over the whole")
	s.t.(*testing.T).Logf("%d inputs, %.0f s of the vehicle, %d deeds; heap %d MB at half time, %d MB at the end", s.inputs, s.went, s.deeds, s.early>>20, late>>20)
}

// undo takes the newest deeds on the time line back, so many or all, one at a time, and does them again.
func (s *soak) undo(most int) {
	deeds := s.still.Frame().Deeds
	first := max(0, len(deeds)-most)
	for i := len(deeds) - 1; i >= first; i-- {
		require.Equal(s.t, deeds[i].Words, s.still.Frame().CanUndo)
		s.still.Do(func(w *engine.Worked) { w.Undo() })
		require.Empty(s.t, s.still.Frame().Trouble)
		require.InDelta(s.t, deeds[i].Time, s.still.Frame().Now.Time, 1e-6)
		require.Equal(s.t, deeds[i].Words, s.still.Frame().CanRedo)
	}
	if again := s.still.Frame().CanUndo; first == 0 && again != "" { // what was done before it began again
		require.Contains(s.t, again, "begun again")
		s.still.Do(func(w *engine.Worked) { w.Undo() })
		require.Equal(s.t, again, s.still.Frame().CanRedo)
		s.still.Do(func(w *engine.Worked) { w.Redo() })
		require.Equal(s.t, again, s.still.Frame().CanUndo)
	}
	for _, d := range deeds[first:] {
		require.Equal(s.t, d.Words, s.still.Frame().CanRedo)
		s.still.Do(func(w *engine.Worked) { w.Redo() })
	}
	require.True(s.t, slices.Equal(deeds, s.still.Frame().Deeds), "all of them are back")
}

// TestFlowRunsAnHourInOneGo works the controls, looks at parts and goes back and forth on the time line, while an hour of the clock goes by
// at sixty times its pace. Nothing begins anew: at the end all of it lies on one time line, and what was done on it can be undone.
func TestFlowRunsAnHourInOneGo(t *testing.T) {
	s := newSoak(t)
	inputs, clock := soaked()
	names := []key.Name{"1", "2", "3", "4", "5", "6", "7", "8", "E", "B", "I", "F", "H", "0", "+", "-", "P", ",", "[", "]"}
	start := s.still.Frame().Now.Time
	end := start
	deeds := s.still.Frame().Deeds
	s.work(inputs, clock, func() {
		switch s.rng.IntN(8) {
		case 0, 1, 2, 3:
			s.key(names[s.rng.IntN(len(names))], 0)
		case 4:
			s.scrolled()
		case 5: // the sheet, and nothing beside it
			at := s.anywhere()
			s.send(pointer.Event{Kind: pointer.Move, Source: pointer.Mouse, Position: at})
		case 6:
			s.key("Z", key.ModShortcut)
		case 7:
			s.still.Do(func(w *engine.Worked) { w.Seek(start + s.rng.Float64()*(end-start)) })
		}
		if s.still.Frame().Now.Time < end { // gone back: what lies after it is still there, and is gone on from
			s.frame()
			s.still.Do(func(w *engine.Worked) { w.Seek(end) })
		}
		f := s.still.Frame()
		require.InDelta(t, end, f.Now.Time, 1e-6)
		forgotten := 0 // of the oldest
		for len(f.Deeds) < len(deeds)-forgotten || !slices.Equal(deeds[forgotten:], f.Deeds[:len(deeds)-forgotten]) {
			forgotten++
		}
		require.True(t, forgotten == 0 || len(deeds) > 500, "deeds are forgotten only where there are very many, not %d of %d", forgotten, len(deeds))
		s.deeds += len(f.Deeds) - (len(deeds) - forgotten)
		deeds = f.Deeds
	}, func() { end = s.still.Frame().Now.Time })
	assert.InEpsilon(t, 60*clock.Seconds(), end-start, 1e-6, "in one go")
	require.NotEmpty(t, deeds)
	s.undo(math.MaxInt)
}

// TestFlowSoak works everything in Flow at random: clicks anywhere, walks, faults, beginning anew. Nothing breaks, memory does not grow
// without end, and what is on the time line can be undone whenever it is tried.
func TestFlowSoak(t *testing.T) {
	s := newSoak(t)
	inputs, clock := soaked()
	names := []key.Name{"P", ".", ",", "[", "]", "E", "B", "1", "2", "3", "4", "W", "G", "N", "I", "F", "H", "U", "D", "C", "M", "0", "+", "-",
		key.NameReturn, key.NameSpace, key.NameEscape, key.NameLeftArrow, key.NameRightArrow, key.NameUpArrow, key.NameDownArrow, key.NameHome, key.NameEnd}
	s.work(inputs, clock, func() {
		before := len(s.still.Frame().Deeds)
		switch s.rng.IntN(10) {
		case 0, 1, 2, 3:
			s.key(names[s.rng.IntN(len(names))], 0)
		case 4, 5, 6:
			at := s.anywhere()
			s.send(pointer.Event{Kind: pointer.Move, Source: pointer.Mouse, Position: at},
				pointer.Event{Kind: pointer.Press, Source: pointer.Mouse, Buttons: pointer.ButtonPrimary, Position: at},
				pointer.Event{Kind: pointer.Move, Source: pointer.Mouse, Buttons: pointer.ButtonPrimary, Position: at.Add(f32.Pt(float32(s.rng.IntN(60)-30), float32(s.rng.IntN(20)-10)))},
				pointer.Event{Kind: pointer.Release, Source: pointer.Mouse, Position: at})
		case 7:
			s.tab()
		case 8:
			s.key("Z", key.ModShortcut|[]key.Modifiers{0, key.ModShift}[s.rng.IntN(2)])
		case 9:
			s.scrolled()
		}
		s.deeds += max(0, len(s.still.Frame().Deeds)-before)
		if s.inputs%(inputs/10) == 0 {
			s.still.Do(func(w *engine.Worked) { w.Seek(s.still.Frame().End) })
			s.undo(20)
		}
	}, func() {})
	assert.Positive(t, s.deeds)
	s.undo(math.MaxInt)
}

// anywhere below the bar at the top.
func (s *soak) anywhere() f32.Point {
	return f32.Pt(float32(s.rng.IntN(s.size.X)), float32(s.shell.top+s.rng.IntN(s.size.Y-s.shell.top)))
}

func (s *soak) scrolled() {
	s.send(pointer.Event{Kind: pointer.Scroll, Source: pointer.Mouse, Scroll: f32.Pt(0, float32(s.rng.IntN(200)-100)), Position: s.anywhere()})
}

func heap() uint64 {
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return m.HeapAlloc
}
