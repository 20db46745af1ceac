package ui

import (
	"context"
	"errors"
	"image"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"gioui.org/f32"
	"gioui.org/io/key"
	"gioui.org/io/pointer"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"airpath/circuit"
	"airpath/ui/model"
	"airpath/ui/theme"
)

func TestFirstStartShowsTheExampleWithThreeHints(t *testing.T) {
	h := newHarness(t, Options{})
	d := h.shell.describe()
	assert.Contains(t, d.Vehicle, "Gritter 7")
	require.Len(t, d.Findings, 1)
	assert.Contains(t, d.Findings[0], "70 s")
	assert.NotEmpty(t, d.Suspects)
	assert.NotEmpty(t, d.Next)
	hints := 0
	for _, c := range controlsIn(&h.router) {
		if c.Role == "button" && strings.HasPrefix(c.Label, "Got it") {
			hints++
		}
	}
	assert.Equal(t, 3, hints)
	h.press("Got it")
	_, still := h.control("Got it")
	assert.False(t, still)

	again := newHarness(t, Options{Place: h.shell.place})
	_, still = again.control("Got it")
	assert.False(t, still, "hints that were put away stay away")
}

func TestTheSheetTakesAtLeastSixTenths(t *testing.T) {
	for _, size := range []image.Point{{1280, 800}, {1920, 1080}, {3840, 2160}, {900, 600}} {
		h := newHarness(t, Options{Size: size})
		for _, c := range controlsIn(&h.router) {
			if strings.HasPrefix(c.Label, "Sheet of ") {
				assert.GreaterOrEqual(t, c.Place.Dx()*10, size.X*6, "%v", size)
			}
		}
	}
}

func TestEveryControlHasALabelAndIsLargeEnoughToHit(t *testing.T) {
	h := newHarness(t, Options{Size: image.Pt(1280, 2400)}) // tall, so that nothing is cut off by scrolling
	h.shell.prefs.Curves = true
	h.key("J", 0)
	least := int(theme.Touch)
	seen := 0
	for _, n := range h.router.AppendSemantics(nil) {
		role := roles[n.Desc.Class]
		if role == "region" || role == "field" && n.Desc.Label == "" {
			continue // the toolkit's own editor lies inside a field of ours, which has the label
		}
		seen++
		assert.NotEmpty(t, n.Desc.Label, "a %s at %v", role, n.Desc.Bounds)
		assert.GreaterOrEqual(t, n.Desc.Bounds.Dx(), least, n.Desc.Label)
		assert.GreaterOrEqual(t, n.Desc.Bounds.Dy(), least, n.Desc.Label)
	}
	assert.Greater(t, seen, 20)
}

func TestMarkAHissByMouse(t *testing.T) {
	h := newHarness(t, Options{})
	before := len(h.findings())
	h.clickPart("rear_relay")
	h.press(h.hissOption("Air heard"))
	require.Len(t, h.findings(), before+1)
	f := h.findings()[before]
	assert.Equal(t, circuit.Yes, f.Result.Kind)
	assert.Equal(t, "rear_relay", model.ComponentOf(f.Place))
	assert.Equal(t, "rear_relay/leaking", h.shell.describe().Suspects[0].Fault)

	h.key("Z", key.ModShortcut)
	assert.Len(t, h.findings(), before)
	h.key("Z", key.ModShortcut|key.ModShift)
	require.Len(t, h.findings(), before+1)
	assert.Equal(t, f, h.findings()[before])

	h.press(h.hissOption("Air heard")) // the chosen answer again: taken back
	assert.Len(t, h.findings(), before)
	h.key(key.NameEscape, 0)
	_, open := h.control("Close the card")
	assert.False(t, open)
}

// hissOption is the first option of this answer on the open card.
func (h *harness) hissOption(answer string) string {
	h.t.Helper()
	for _, c := range controlsIn(&h.router) {
		if c.Role == "option" && strings.HasSuffix(c.Label, ": "+answer) {
			return c.Label
		}
	}
	require.Fail(h.t, "no option "+answer, "%v", h.labels())
	return ""
}

func TestAVentIsMarkedWhereItIs(t *testing.T) {
	h := newHarness(t, Options{})
	for _, p := range h.shell.session.Procedures() {
		if p.ID != "listen-building" {
			continue
		}
		_, ok := p.Reading("hiss", "dryer.3")
		require.True(t, ok)
	}
	c := h.shell.session.Circuit
	at, ok := h.shell.area.PlaceOf("dryer.3")
	require.True(t, ok)
	_ = c
	h.clickAt(at.Add(image.Pt(0, h.shell.top)))
	label := h.hissOption("Air heard")
	assert.Contains(t, label, "purge", "what was pointed at comes first")
	h.press(label)
	assert.Equal(t, "dryer.3", h.findings()[len(h.findings())-1].Place)
}

func TestKeyboardAlone(t *testing.T) {
	h := newHarness(t, Options{})
	before := len(h.findings())
	h.key("M", 0) // to the sheet
	h.key(key.NameRightArrow, 0)
	first := h.shell.area.Cursor()
	require.NotEmpty(t, first, "the first arrow finds a part")
	seen := map[string]bool{}
	for range 8 {
		h.key(key.NameLeftArrow, 0)
		seen[h.shell.area.Cursor()] = true
	}
	assert.Greater(t, len(seen), 2, "the arrows go from part to part: %v", seen)
	h.key(key.NameReturn, 0)
	_, open := h.control("Close the card")
	require.True(t, open)
	h.key(key.NameEscape, 0)

	h.key("N", 0) // the best test
	_, open = h.control("Enter readings")
	require.True(t, open)
	h.key(key.NameReturn, 0) // the cautions are seen to; the keyboard goes to the first field
	h.typeText("66")
	h.key(key.NameReturn, 0)
	_, open = h.control("Enter readings")
	assert.False(t, open, "entered and closed: %v", h.say())
	assert.GreaterOrEqual(t, len(h.findings()), before)
	assert.Contains(t, strings.Join(h.say(), "\n"), "66")

	for range 60 { // Tab reaches a suspect
		h.tab()
		if c, ok := h.focused(); ok && strings.HasPrefix(c, "Suspect: ") {
			h.key(key.NameReturn, 0)
			break
		}
	}
	assert.NotEmpty(t, h.shell.describe().Chosen)
}

// focused is the label of what the keyboard is on, where that is a suspect's row.
func (h *harness) focused() (string, bool) {
	label := h.shell.area.FocusedSuspect(h.router.Source())
	return "Suspect: " + label, label != ""
}

func TestChoosingASuspectLightsItsPath(t *testing.T) {
	h := newHarness(t, Options{})
	h.press("Suspect: discharge_line: carboned")
	assert.Equal(t, []string{"discharge_line", "dryer", "tank"}, h.shell.area.LitPath())
	h.press("Suspect: discharge_line: carboned")
	assert.Empty(t, h.shell.area.LitPath(), "once more puts it out")
	h.key("J", 0)
	h.key("J", 0)
	assert.Equal(t, "discharge_line/carboned", h.shell.describe().Chosen)
	h.key("K", 0)
	assert.Equal(t, "compressor/worn", h.shell.describe().Chosen)
}

func TestUnitsSwitch(t *testing.T) {
	h := newHarness(t, Options{})
	h.press("pressure in: bar")
	assert.Equal(t, model.Units("bar"), h.shell.prefs.Units)
	h.key("U", 0)
	assert.Equal(t, model.Units("kPa"), h.shell.prefs.Units)
	again := newHarness(t, Options{Place: h.shell.place})
	assert.Equal(t, model.Units("kPa"), again.shell.prefs.Units, "preferences outlive the window")
}

func TestTypingIsNotAShortcut(t *testing.T) {
	h := newHarness(t, Options{})
	c, ok := h.control("Complaint")
	require.True(t, ok)
	h.clickAt(image.Pt(c.Place.Max.X-20, middle(c.Place).Y))
	h.typeText(" udjn")
	assert.Equal(t, model.Units("psi"), h.shell.prefs.Units)
	assert.Empty(t, h.shell.describe().Chosen)
	h.key(key.NameReturn, 0)
	assert.True(t, strings.HasSuffix(h.shell.session.Case().Complaint, " udjn"), h.shell.session.Case().Complaint)
}

func TestUndoInAFieldBelongsToTheField(t *testing.T) {
	h := newHarness(t, Options{})
	h.shell.session.Remove("f1")
	h.settle()
	c, _ := h.control("Complaint")
	h.clickAt(image.Pt(c.Place.Max.X-20, middle(c.Place).Y))
	h.typeText("xy")
	h.key("Z", key.ModShortcut)
	assert.Empty(t, h.findings(), "the finding stays cleared: the field took the undo")
}

func TestSkipAndCouldNotDo(t *testing.T) {
	h := newHarness(t, Options{})
	first := h.shell.describe().Next
	h.press("Skip this test")
	second := h.shell.describe().Next
	assert.NotEqual(t, first, second)
	h.press("Could not do this test")
	assert.NotContains(t, []string{first, second}, h.shell.describe().Next)
	h.press("Offer again")
	assert.Equal(t, first, h.shell.describe().Next)
	h.key("Z", key.ModShortcut)
	assert.NotEqual(t, first, h.shell.describe().Next, "undo takes that back too")
}

func TestAWrongReadingIsSaidAndNotEntered(t *testing.T) {
	h := newHarness(t, Options{})
	h.press("Change this finding")
	h.key(key.NameReturn, 0)
	h.typeText(" parsecs")
	h.key(key.NameReturn, 0)
	_, open := h.control("Enter readings")
	assert.True(t, open, "the form stays open")
	assert.Contains(t, h.say()[0], "70 s")
	h.key(key.NameEscape, 0)
	_, open = h.control("Enter readings")
	assert.False(t, open)
}

func TestAutosaveBringsTheCaseBack(t *testing.T) {
	place := model.Place{Config: t.TempDir(), State: t.TempDir()}
	h := newHarness(t, Options{Place: place})
	h.clickPart("rear_relay")
	h.press(h.hissOption("Air heard"))
	want := h.say()
	// no orderly end: only what has reached the disk by itself counts
	require.Eventually(t, func() bool {
		text, _, err := place.Kept(h.shell.session.Origin)
		return err == nil && strings.Contains(string(text), "rear_relay")
	}, 5*time.Second, 10*time.Millisecond)
	again := newHarness(t, Options{Place: place})
	assert.Equal(t, want, again.say())
	assert.Contains(t, again.shell.notice.words, "back on the bench")
	again.press("Start afresh")
	assert.Empty(t, again.findings())
}

func TestSaveAndOpenACaseFile(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "slow.toml")
	h := newHarness(t, Options{})
	require.NoError(t, os.WriteFile(path, h.shell.session.Text(), 0o644))
	h = newHarness(t, Options{Path: path})
	require.Nil(t, h.shell.trouble)
	assert.False(t, h.shell.session.Dirty())
	h.press("Clear this finding")
	assert.True(t, h.shell.session.Dirty())
	assert.Contains(t, h.shell.windowTitle(), "* ")
	h.key("S", key.ModShortcut)
	assert.False(t, h.shell.session.Dirty())
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.NotContains(t, string(text), "70 s")
}

func TestUnsavedChangesComeBackAndCanBeDropped(t *testing.T) {
	place := model.Place{Config: t.TempDir(), State: t.TempDir()}
	path := filepath.Join(t.TempDir(), "slow.toml")
	h := newHarness(t, Options{})
	require.NoError(t, os.WriteFile(path, h.shell.session.Text(), 0o644))
	h = newHarness(t, Options{Path: path, Place: place})
	h.clickPart("rear_relay")
	h.press(h.hissOption("Air heard"))
	h.shell.close()
	h = newHarness(t, Options{Path: path, Place: place})
	assert.Len(t, h.findings(), 2)
	assert.True(t, h.shell.session.Dirty())
	h.press("Go back to the file")
	assert.Len(t, h.findings(), 1)
}

func TestDamagedFiles(t *testing.T) {
	good := string(newHarness(t, Options{}).shell.session.Text())
	for name, c := range map[string]struct{ text, want string }{
		"empty":               {"", "empty"},
		"truncated":           {"airpath = 1\nname = \"x\n", "line"},
		"a case cut short":    {good[:len(good)*2/3], ""},
		"another circuit":     {strings.Replace(good, `"gritter"`, `"tractor"`, 1), "tractor"},
		"not a text":          {"\x00\xff\xfe", ""},
		"a line to nowhere":   {"airpath = 1\nname = \"x\"\n[[line]]\nid = \"l\"\nfrom = \"a.1\"\nto = \"b.2\"\n", "a"},
		"a component of none": {"airpath = 1\nname = \"x\"\n[[component]]\nid = \"a\"\nkind = \"air-drier\"\n", "air-dryer"},
	} {
		t.Run(name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "bad.toml")
			require.NoError(t, os.WriteFile(path, []byte(c.text), 0o644))
			h := newHarness(t, Options{Path: path})
			require.NotNil(t, h.shell.trouble)
			assert.Contains(t, h.shell.trouble.err.Error(), c.want)
			_, ok := h.control("Read it again")
			assert.True(t, ok)
			h.press("Open the example")
			assert.Nil(t, h.shell.trouble)
			assert.NotEmpty(t, h.findings())
		})
	}
	h := newHarness(t, Options{Path: filepath.Join(t.TempDir(), "none.toml")})
	require.NotNil(t, h.shell.trouble)
	require.ErrorIs(t, h.shell.trouble.err, os.ErrNotExist)
}

func TestOpenByPath(t *testing.T) {
	h := newHarness(t, Options{})
	h.key("O", key.ModShortcut)
	h.typeText("nowhere.toml")
	h.key(key.NameReturn, 0)
	require.NotNil(t, h.shell.trouble)
	h.press("Back to the bench")
	assert.Nil(t, h.shell.trouble)
	h.key("O", key.ModShortcut)
	h.press("Open Gritter 7")
	assert.Nil(t, h.shell.trouble)
	assert.NotNil(t, h.shell.session)
}

func TestHelpListsTheShortcuts(t *testing.T) {
	h := newHarness(t, Options{})
	h.key("?", key.ModShift)
	assert.True(t, h.shell.help.open)
	h.key("J", 0)
	assert.Empty(t, h.shell.describe().Chosen, "what is below does not react")
	h.key(key.NameEscape, 0)
	assert.False(t, h.shell.help.open)
	h.key(key.NameF1, 0)
	assert.True(t, h.shell.help.open)
}

func TestWorkingIsShownAndCanBeCancelled(t *testing.T) {
	slow := func(ctx context.Context, e *quickEngine, cs *circuit.Case, progress func(done, total int)) (*model.Answer, error) {
		progress(30, 90)
		<-ctx.Done()
		return nil, ctx.Err()
	}
	opts := Options{Engine: quick(slow), Place: model.Place{Config: t.TempDir(), State: t.TempDir()}}
	h := &harness{t: t, size: opts.size(), now: time.Unix(0, 0), woken: make(chan struct{}, 1)}
	h.shell = newShell(opts, func() {})
	t.Cleanup(h.shell.close)
	require.Eventually(t, func() bool { h.frame(); return h.shell.session.Working().Done == 30 }, 5*time.Second, 5*time.Millisecond)
	h.frame()
	c, ok := h.control("Cancel weighing")
	require.True(t, ok, "%v", h.labels())
	at := middle(c.Place)
	p := f32.Pt(float32(at.X), float32(at.Y))
	h.router.Queue(pointer.Event{Kind: pointer.Press, Buttons: pointer.ButtonPrimary, Position: p}, pointer.Event{Kind: pointer.Release, Position: p})
	h.frame()
	require.Eventually(t, func() bool { h.frame(); return !h.shell.session.Working().Running }, 5*time.Second, 5*time.Millisecond)
	assert.True(t, h.shell.session.Working().Stopped)
	_, ok = h.control("Go on weighing")
	assert.True(t, ok)
}

func TestWhenNothingFitsItSaysSo(t *testing.T) {
	h := newHarness(t, Options{Engine: quick(func(ctx context.Context, e *quickEngine, cs *circuit.Case, progress func(done, total int)) (*model.Answer, error) {
		return &model.Answer{Else: 0.9, Unexplained: []model.Remark{{Finding: "f1", Words: "the build-up"}}, Stop: "Look further."}, nil
	})})
	assert.Empty(t, h.shell.describe().Suspects)
	h.frame()
}

func TestAnEngineThatFailsIsSaid(t *testing.T) {
	h := newHarness(t, Options{Engine: quick(func(context.Context, *quickEngine, *circuit.Case, func(done, total int)) (*model.Answer, error) {
		return nil, errors.New("the solver gave up at the dryer")
	})})
	assert.ErrorContains(t, h.shell.session.Working().Err, "gave up")
	_, ok := h.control("Try again")
	assert.True(t, ok)
}

func TestAnySizeIsDrawn(t *testing.T) {
	h := newHarness(t, Options{})
	for _, size := range []image.Point{{0, 0}, {1, 1}, {40, 40}, {360, 280}, {200, 900}, {1000, 90}, {819, 400}, {821, 400}, {1280, 800}, {5120, 2880}} {
		h.size = size
		for _, curves := range []bool{false, true} {
			h.shell.prefs.Curves = curves
			h.frame()
			h.frame()
		}
		if size.X > 300 && size.Y > 250 {
			h.clickPart("dryer")
			h.key("N", 0)
			h.key(key.NameEscape, 0)
			h.key(key.NameEscape, 0)
		}
	}
}

func TestNothingIsDrawnWhileNothingHappens(t *testing.T) {
	h := newHarness(t, Options{})
	h.frame()
	_, wakes := h.router.WakeupTime()
	assert.False(t, wakes, "an idle window asks for no frame")
}

// Whatever is done at random, nothing breaks, and undoing everything leads back to the case as it was opened.
func TestRandomDeedsCanAllBeUndone(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		h := newHarness(t, Options{Size: image.Pt(rapid.IntRange(300, 1400).Draw(rt, "w"), rapid.IntRange(250, 900).Draw(rt, "h"))})
		start := string(h.shell.session.Text())
		names := []key.Name{"J", "K", "N", "C", "U", "D", "M", "0", "+", "-", key.NameReturn, key.NameSpace, key.NameEscape,
			key.NameLeftArrow, key.NameRightArrow, key.NameUpArrow, key.NameDownArrow, "1", "5"}
		for range rapid.IntRange(1, 25).Draw(rt, "deeds") {
			switch rapid.IntRange(0, 3).Draw(rt, "deed") {
			case 0:
				h.key(rapid.SampledFrom(names).Draw(rt, "key"), 0)
			case 1:
				h.clickAt(image.Pt(rapid.IntRange(0, h.size.X).Draw(rt, "x"), rapid.IntRange(60, max(61, h.size.Y)).Draw(rt, "y")))
			case 2:
				h.tab()
			case 3:
				h.key("Z", key.ModShortcut|rapid.SampledFrom([]key.Modifiers{0, key.ModShift}).Draw(rt, "shift"))
			}
		}
		for h.shell.session.Undo() {
		}
		if got := string(h.shell.session.Text()); got != start {
			rt.Fatalf("undoing everything gave\n%s\nbut it began as\n%s", got, start)
		}
	})
}
