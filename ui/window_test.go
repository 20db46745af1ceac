package ui

import (
	"image"
	"strings"
	"testing"

	"gioui.org/io/key"
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
		if strings.HasPrefix(c.Label, "Hint ") {
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

func TestBubblesAreMarked(t *testing.T) {
	h := newHarness(t, Options{})
	h.clickPart("rear_relay")
	h.press(h.hissOption("Bubbles"))
	f := h.findings()[len(h.findings())-1]
	assert.Equal(t, circuit.Yes, f.Result.Kind)
	assert.Equal(t, "soap", f.Instrument)
	n := len(h.findings())
	h.press(h.hissOption("Air heard")) // the same place, by ear
	require.Len(t, h.findings(), n)
	assert.Empty(t, h.findings()[n-1].Instrument)
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
	t.Chdir(t.TempDir()) // some of the deeds save a new case where the program was started
	rapid.Check(t, func(rt *rapid.T) {
		h := newHarness(t, Options{Size: image.Pt(rapid.IntRange(300, 1400).Draw(rt, "w"), rapid.IntRange(250, 900).Draw(rt, "h"))})
		session := h.shell.session
		start := string(session.Text())
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
			if h.shell.session != session { // a deed has opened another vehicle
				session = h.shell.session
				start = string(session.Text())
			}
		}
		for h.shell.session.Undo() {
		}
		if got := string(h.shell.session.Text()); got != start {
			rt.Fatalf("undoing everything gave\n%s\nbut it began as\n%s", got, start)
		}
	})
}
