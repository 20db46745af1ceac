package ui

import (
	"context"
	"image"
	"strings"
	"testing"
	"time"

	"gioui.org/io/key"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"airpath/circuit"
	"airpath/circuit/airflow/procedure"
	"airpath/ui/model"
)

// Outcomes makes the quick engine one that can say what may come of a test.
func (e *quickEngine) Outcomes(_ context.Context, _ *circuit.Case, _ model.Units, p *procedure.Procedure) ([]model.Outcome, error) {
	r := &p.Readings[0]
	finding := circuit.Finding{Procedure: p.ID, Reading: r.ID, Place: r.Place, Result: circuit.Result{Kind: circuit.NotSure, Text: "not sure"}}
	return []model.Outcome{{Words: "over 27 s", Chance: 0.7, Findings: []circuit.Finding{finding}}, {Words: "27 s or less", Chance: 0.3, Findings: []circuit.Finding{finding}}}, nil
}

// awaitLabel draws frames until something that is named so is shown.
func (h *harness) awaitLabel(part string) Control {
	h.t.Helper()
	var found Control
	require.Eventually(h.t, func() bool {
		h.frame()
		for _, c := range controlsIn(&h.router) {
			if strings.Contains(c.Label, part) || strings.Contains(c.Note, part) {
				found = c
				return true
			}
		}
		return false
	}, 10*time.Second, time.Millisecond, "%s among %v", part, h.labels())
	return found
}

func TestWhatEachAnswerWouldLeave(t *testing.T) {
	h := newHarness(t, Options{})
	h.press("What each answer would leave")
	c := h.awaitLabel("Answer: over 27 s")
	require.NotEmpty(t, c.Label)
	h.awaitLabel("compressor: worn 40 %")
	before := len(h.findings())
	h.frame()
	assert.Len(t, h.findings(), before, "looking ahead changes nothing")
}

func TestTheWholePathCanBeGoneThroughAgain(t *testing.T) {
	h := newHarness(t, Options{})
	h.press("The whole path so far")
	h.awaitLabel("Chapter 1: Complaint")
	c := h.awaitLabel("Chapter 2: Build-up from 85 to 100 psi: 70 s")
	assert.NotEmpty(t, c.Label)
	h.awaitLabel("Then stood: compressor: worn 40 %")
	h.press("Open again: Build-up")
	_, open := h.control("Enter readings")
	assert.True(t, open)
	h.key(key.NameEscape, 0)
	h.key(key.NameEscape, 0)
	_, open = h.control("The whole path so far")
	assert.True(t, open, "back at the suspects")
}

func TestARepairIsEnteredAndCheckedAgain(t *testing.T) {
	h := newHarness(t, Options{})
	h.key("J", 0)
	h.size.Y = 1400 // so that the whole card is in sight
	h.frame()
	h.press("It was this: enter the repair")
	h.press("Enter the repair")
	assert.Empty(t, h.shell.session.Case().Repairs, "what was done must be said")
	h.typeText("renewed")
	h.key(key.NameReturn, 0)
	require.Len(t, h.shell.session.Case().Repairs, 1)
	r := h.shell.session.Case().Repairs[0]
	assert.Equal(t, "compressor", r.Part)
	assert.Equal(t, "worn", r.Mode)
	assert.Equal(t, "renewed", r.Done)

	h.press("Do it again: Build-up from 85 to 100 psi")
	h.key(key.NameReturn, 0)
	h.typeText("27")
	h.key(key.NameReturn, 0)
	require.Len(t, h.findings(), 2)
	assert.Equal(t, "r1", h.findings()[1].After)
	_, again := h.control("Open again: Build-up")
	assert.True(t, again, "%v", h.labels())
	h.key("Z", key.ModShortcut)
	h.key("Z", key.ModShortcut)
	assert.Empty(t, h.shell.session.Case().Repairs)
}

func TestWhatIfAReadingWereWrong(t *testing.T) {
	h := newHarness(t, Options{})
	h.press("What if this were wrong")
	h.awaitLabel("If this were wrong: compressor: worn 40 %")
	require.Len(t, h.findings(), 1, "the reading stays")
}

func TestWhyNotThisPart(t *testing.T) {
	h := newHarness(t, Options{})
	h.clickPart("foot_valve")
	h.press("Why not this part?")
	h.awaitLabel("Leaking: cleared")
	h.awaitLabel("It was quiet there.")
	h.key(key.NameEscape, 0)
	h.clickPart("compressor")
	h.press("Why this part?")
	h.awaitLabel("The build-up took too long.")
}

func TestComplaintsAreSuggestedWhileTyping(t *testing.T) {
	h := newHarness(t, Options{Path: "gritter"})
	h.awaitLabel("Complaint")
	c, ok := h.control("Complaint")
	require.True(t, ok)
	h.clickAt(middle(c.Place))
	h.typeText("builds")
	h.press("Say: builds air slowly")
	assert.Equal(t, "builds air slowly", h.shell.session.Case().Complaint)
	h.awaitLabel("Taken to mean: the compressor delivers too little")
	h.key("Z", key.ModShortcut)
}

func TestALongListOfTestsIsSearched(t *testing.T) {
	h := newHarness(t, Options{})
	h.press("Other tests")
	all := h.count("Test: ")
	h.press("tests: Listen")
	assert.NotZero(t, h.count("Test: "))
	h.press("tests: All")
	c, ok := h.control("Find a test")
	require.True(t, ok)
	h.clickAt(middle(c.Place))
	h.typeText("governor")
	found := h.count("Test: ")
	assert.NotZero(t, found)
	assert.LessOrEqual(t, found, all)
	assert.Empty(t, h.shell.describe().Chosen, "letters are no shortcuts here")
	h.typeText("zzz")
	assert.Zero(t, h.count("Test: "))
	h.awaitLabel("No test of this vehicle fits")
}

func (h *harness) count(label string) int {
	n := 0
	for _, c := range controlsIn(&h.router) {
		if strings.HasPrefix(c.Label, label) {
			n++
		}
	}
	return n
}

// What the vehicle came in for is said on its card, and can be said of another.
func TestWhatTheVehicleCameInFor(t *testing.T) {
	h := newHarness(t, Options{})
	h.size.Y = 1400
	s := h.shell.session
	require.Equal(t, "f1", s.Reported())
	h.press("What if this were wrong")
	h.press("The vehicle came in for this: Build-up from 85 to 100 psi")
	assert.Empty(t, s.Reported())
	h.press("What if this were wrong")

	require.NoError(t, s.Enter(circuit.Finding{Procedure: "listen-building", Reading: "hiss", Place: "dryer.3", Result: circuit.Result{Kind: circuit.Yes, Text: "yes"}}))
	h.settle()
	h.press("What if this were wrong: Air dryer")
	h.press("The vehicle came in for this: Air dryer")
	assert.Equal(t, "f2", s.Reported())
	h.key("Z", key.ModShortcut)
	assert.Empty(t, s.Reported())
}

// A test that is carried out is what left the vehicle as it stands; the tracer shares its set-up with the next. A reading that is put
// right leaves it as it was.
func TestTheLastTestIsToldToTheTracer(t *testing.T) {
	told := make(chan string, 100)
	h := newHarness(t, Options{Size: image.Pt(1280, 1800), Engine: quick(func(ctx context.Context, e *quickEngine, cs *circuit.Case, progress func(done, total int)) (*model.Answer, error) {
		told <- cs.Last
		return plain(ctx, e, cs, progress)
	})})
	enter := func(open, reading string) (last string) {
		h.press(open)
		h.key(key.NameReturn, 0) // the cautions are seen to
		h.key("A", key.ModShortcut)
		h.key(key.NameDeleteBackward, 0)
		h.typeText(reading)
		h.key(key.NameReturn, 0)
		require.Contains(t, h.say()[0], ": "+reading+" s")
		for len(told) > 0 {
			last = <-told
		}
		return last
	}
	assert.Empty(t, enter("Change this finding", "66"))
	assert.Equal(t, "build-up-85-100", enter("Do this test", "71"))
	assert.Equal(t, "build-up-85-100", enter("Change this finding", "72"))
}
