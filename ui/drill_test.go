package ui

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"gioui.org/io/key"
	"gioui.org/layout"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"airpath/circuit"
	"airpath/circuits"
	"airpath/trace/drill"
	"airpath/ui/drilling"
	"airpath/ui/model"
)

// Exercises in the window: chosen, worked on, handed in, made, marked, by synthetic events.

func inDrill(t *testing.T, opts Options) *harness {
	t.Helper()
	opts.Area = "Drill"
	return newHarness(t, opts)
}

func (h *harness) drill() *drilling.Description { return h.shell.describe().Drill }

// begin an exercise of the library by a trainee.
func (h *harness) begin(name, title string) {
	h.t.Helper()
	h.press("Your name")
	h.typeText(name)
	h.press("Begin: " + title)
}

const boardTitle = "The board that would not fill"

func TestAnExerciseInTheWindow(t *testing.T) {
	folder, place := t.TempDir(), model.Place{Config: t.TempDir(), State: t.TempDir()}
	t.Chdir(folder) // where the work is handed in to, if nothing else is said
	h := inDrill(t, Options{Place: place})
	assert.Equal(t, "start", h.drill().Face)
	h.press("Begin: " + boardTitle)
	assert.Contains(t, h.drill().Trouble, "Whose work is it?")
	h.begin("A. Prentice", boardTitle)
	require.Equal(t, "work", h.drill().Face)
	assert.Equal(t, boardTitle, h.drill().Title)

	// A test is chosen, seen to, carried out; what it shows stands in the column.
	h.press("Choose a test")
	h.press("Test: Governor cut-out")
	h.press("See to: Chock the wheels")
	_, seen := h.control("Seen to: Chock the wheels")
	assert.True(t, seen)
	h.press("Carry it out")
	assert.Len(t, h.drill().Findings, 1)
	assert.InDelta(t, 8, h.drill().Minutes, 0.01)
	h.key(key.NameEscape, 0)

	// A part is held to be good, taken back, and taken again.
	h.clickPart("compressor")
	h.press("It is good")
	assert.Equal(t, []string{"compressor"}, h.drill().Good)
	h.key(key.NameEscape, 0)
	h.press("Undo")
	assert.Empty(t, h.drill().Good)
	h.press("Redo")
	assert.Equal(t, []string{"compressor"}, h.drill().Good)

	// The window is closed: the work was kept, and goes on for whoever has the name.
	h.shell.close()
	h = inDrill(t, Options{Place: place})
	h.begin("A. Prentice", boardTitle)
	assert.Contains(t, h.drill().Said, "goes on where it stopped")
	assert.Len(t, h.drill().Findings, 1)
	assert.Equal(t, []string{"compressor"}, h.drill().Good)

	// The answer is named and handed in: a file that belongs to the exercise.
	h.clickPart("drain_wet")
	h.reach("The matter: left open")
	h.reach("Name it as at fault")
	assert.Equal(t, []string{"drain_wet/left open"}, h.drill().Named)
	h.key(key.NameEscape, 0)
	file := filepath.Join(folder, "the-board-that-would-not-fill-a-prentice.work.json")
	h.press("Hand in")
	require.FileExists(t, file, "%+v", h.drill())
	assert.True(t, h.drill().HandedIn)
	text, err := os.ReadFile(file)
	require.NoError(t, err)
	w, err := drill.ReadWork(file, text)
	require.NoError(t, err)
	e, err := drill.ReadExercise("library", circuits.Drill("01-open-drain"))
	require.NoError(t, err)
	require.NoError(t, w.Fits(e))
	assert.Equal(t, "A. Prentice", w.Trainee)
	require.Len(t, w.Answer(), 1)
	assert.Equal(t, drill.Named{Part: "drain_wet", Mode: "left open"}, w.Answer()[0])
}

func TestHintsAreShownOnlyWhereTheExerciseGrantsThem(t *testing.T) {
	for title, hints := range map[string]bool{boardTitle: true, "The lamp that would not go out": false} {
		h := inDrill(t, Options{})
		h.begin("A. Prentice", title)
		h.press("Choose a test")
		h.press("Test: Governor cut-out")
		h.press("Carry it out")
		h.key(key.NameEscape, 0)
		_, shown := h.control("Suspect: ")
		assert.Equal(t, hints, shown, title)
	}
}

func TestAnExerciseThatCannotBeReadSaysWhy(t *testing.T) {
	h := inDrill(t, Options{})
	h.press("Your name")
	h.typeText("A")
	h.reach("Path of the exercise")
	h.typeText("nowhere.exercise.json")
	h.key(key.NameReturn, 0)
	assert.Equal(t, "start", h.drill().Face)
	assert.Contains(t, h.drill().Trouble, "nowhere.exercise.json")
	h.press("Put this word away")
	assert.Empty(t, h.drill().Trouble)
}

// Without a pointer: Tab goes through the page and Return begins; the keys of Trace work here too.
func TestAnExerciseByKeyboardAlone(t *testing.T) {
	h := inDrill(t, Options{})
	typed := false
	for range 60 {
		h.tab()
		switch {
		case typed:
			h.key(key.NameReturn, 0)
		case h.shell.drillArea().Typing(layout.Context{Source: h.router.Source()}):
			h.typeText("A. Prentice")
			typed = true
		}
		if h.drill().Face != "start" {
			break
		}
	}
	require.True(t, typed, "Tab reaches the name")
	require.Equal(t, "work", h.drill().Face)
	assert.Equal(t, boardTitle, h.drill().Title, "the first exercise comes after the name")
	h.key("N", 0) // the tests
	_, open := h.control("Test: Governor cut-out")
	require.True(t, open)
	h.key(key.NameEscape, 0)
	_, open = h.control("Test: Governor cut-out")
	require.False(t, open)
	h.key("M", 0) // to the sheet
	h.key(key.NameRightArrow, 0)
	h.key(key.NameReturn, 0)
	_, open = h.control("It is good")
	assert.True(t, open, "a part is opened from the sheet")
}

// quickInstructor makes and marks without simulating: its exercise is one of the library, its marks are the test's.
type quickInstructor struct{ *quickEngine }

func instructed(c *circuit.Circuit) (model.Engine, error) {
	e, err := quick(plain)(c)
	if err != nil {
		return nil, err
	}
	return quickInstructor{e.(*quickEngine)}, nil
}

func libraryDrill(name string) (*drill.Exercise, *drill.Key, error) {
	e, err := drill.ReadExercise(name, circuits.Drill(name))
	if err != nil {
		return nil, nil, err
	}
	k, err := drill.ReadKey(name, circuits.DrillKey(name))
	return e, k, err
}

func (quickInstructor) MakeExercise(_ context.Context, s drill.Setting, progress func(done, total int)) (*drill.Exercise, *drill.Key, error) {
	progress(1, 1)
	e, k, err := libraryDrill("05-early-cut-out")
	if err == nil {
		e.Complaint = s.Complaint
		k.Exercise = e.Seal()
	}
	return e, k, err
}

func (q quickInstructor) DrawExercise(ctx context.Context, w drill.Wish, progress func(draw, done, total int)) (*drill.Exercise, *drill.Key, error) {
	w.Complaint = "cuts out too low"
	return q.MakeExercise(ctx, w.Setting, func(done, total int) { progress(1, done, total) })
}

func (quickInstructor) MarkWork(_ context.Context, e *drill.Exercise, _ *drill.Key, w *drill.Work, _ func(done, total int)) (*drill.Marks, error) {
	return &drill.Marks{
		Title: e.Title, Trainee: w.Trainee, Score: 61, Right: 1, RightModes: 1, Parts: 1, Best: 12, Minutes: 28, Sure: 8, Lost: 8, Bits: 2.8, BestBits: 3.1,
		WrongClears: 0, Clears: 1, BackedClears: 1, CouldClear: 14, Unsafe: []string{"step 1, Build-up from 85 to 100 psi: first: Chock the wheels"},
		Review: []drill.Remark{
			{Step: 1, Did: "Build-up from 85 to 100 psi", Minutes: 6, Bits: 1.4, Better: "cab-check", Says: "Told 1.4 bits for its 6 minutes. Better: Look round the cab at full pressure (6 min), which splits 58 suspects.", After: "Then most probable: governor: it is set too low, 40 %.", Unsafe: "first: Chock the wheels on both sides, on level ground"},
			{Step: 2, Did: "Governor cut-out", Minutes: 8, Bits: 1.4, Says: "Made surer of “governor: it is set too low”: its minutes don't count against you.", After: "Then most probable: governor: it is set too low, 98 %."},
			{Step: 3, Did: "named governor", Says: "1 of 1 right, 1 with the right fault."},
		},
	}, nil
}

// prenticeWork writes a work on one of the library's exercises, and gives its path.
func prenticeWork() string {
	e, _, err := libraryDrill("05-early-cut-out")
	if err != nil {
		panic(err)
	}
	a := drill.Begin(e, "A. Prentice")
	for _, id := range []string{"build-up-85-100", "governor-cut-out"} {
		if _, err := a.Do(id); err != nil {
			panic(err)
		}
	}
	a.Name(drill.Named{Part: "governor", Mode: "cut-out low"})
	path := filepath.Join(os.TempDir(), "airpath-a-prentice.work.json")
	if err := os.WriteFile(path, a.HandIn().Write(), 0o600); err != nil {
		panic(err)
	}
	return path
}

// patiently draws frames until the area's background work is done.
func (h *harness) patiently() {
	h.t.Helper()
	for range 500 {
		h.frame()
		if !h.drill().Working {
			h.frame()
			return
		}
		time.Sleep(2 * time.Millisecond)
	}
	require.Fail(h.t, "the work goes on and on")
}

func TestAnInstructorMakesAnExercise(t *testing.T) {
	h := inDrill(t, Options{Engine: instructed, Path: "gritter"})
	h.shell.showArea(drillArea)
	h.frame()
	h.reach("Make an exercise")
	require.Equal(t, "making", h.drill().Face)
	h.clickPart("governor")
	h.press("Hide: cut-out low")
	assert.Len(t, h.drill().Hidden, 1)
	_, ready := h.control("Work out how hard it is")
	require.True(t, ready)
	h.reach("Complaint")
	h.typeText("cuts out too low")
	h.key(key.NameReturn, 0)
	h.press("Work out how hard it is")
	h.patiently()
	assert.Equal(t, "apprentice", h.drill().Level)

	// A change makes it stale; taken back, it holds again.
	h.reach("Hints: none")
	assert.Empty(t, h.drill().Level)
	h.press("Undo")
	assert.Equal(t, "apprentice", h.drill().Level)

	name := filepath.Join(t.TempDir(), "monday")
	h.reach("Name of the files")
	h.typeText(name)
	h.press("Save exercise and key")
	assert.FileExists(t, name+model.ExerciseEnding)
	assert.FileExists(t, name+model.KeyEnding)
	text, err := os.ReadFile(name + model.ExerciseEnding)
	require.NoError(t, err)
	assert.NotContains(t, string(text), "cut-out low", "the answer is in the key alone")
}

func TestAnInstructorMarksWorks(t *testing.T) {
	folder, work := t.TempDir(), prenticeWork()
	defer os.Remove(work)
	text, err := os.ReadFile(work)
	require.NoError(t, err)
	spoilt := filepath.Join(folder, "b.work.json")
	require.NoError(t, os.WriteFile(spoilt, []byte(strings.Replace(string(text), "A. Prentice", "B. Copier", 1)), 0o600))

	h := inDrill(t, Options{Engine: instructed})
	h.reach("Mark works")
	h.press("Exercise")
	h.typeText("05-early-cut-out")
	h.press("Open exercise and key")
	h.press("Trainee's work")
	h.typeText(work)
	h.press("Mark this work")
	h.patiently()
	assert.Equal(t, []string{"A. Prentice"}, h.drill().Marked)
	assert.Equal(t, []int{61}, h.drill().Scores)
	h.press("Trainee's work")
	h.typeText(spoilt)
	h.press("Mark this work")
	h.patiently()
	assert.Contains(t, h.drill().Trouble, "the seal does not fit")
	assert.Len(t, h.drill().Marked, 1)

	class := filepath.Join(folder, "class.csv")
	h.reach("File of the class's results")
	h.typeText(class)
	h.reach("Save the class's results as CSV")
	require.FileExists(t, class)
	text, err = os.ReadFile(class)
	require.NoError(t, err)
	assert.Contains(t, string(text), "A. Prentice,Gritter 7 stops filling too soon,61,")
}

// reach presses a control that may have to be scrolled to.
func (h *harness) reach(label string) {
	h.t.Helper()
	for range 120 {
		if c, ok := h.control(label); ok && c.Place.Max.Y <= h.size.Y && !c.Place.Empty() {
			h.clickAt(middle(c.Place))
			return
		}
		h.tab()
	}
	require.Fail(h.t, "no control "+label, "%v", h.labels())
}
