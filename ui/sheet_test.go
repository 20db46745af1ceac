package ui

import (
	"image"
	"testing"

	"gioui.org/f32"
	"gioui.org/io/key"
	"gioui.org/io/pointer"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"airpath/ui/model"
)

func (h *harness) drag(from, by image.Point, button pointer.Buttons) {
	h.t.Helper()
	at := func(p image.Point) f32.Point { return f32.Pt(float32(p.X), float32(p.Y)) }
	h.send(pointer.Event{Kind: pointer.Press, Source: pointer.Mouse, Buttons: button, Position: at(from)})
	h.send(pointer.Event{Kind: pointer.Move, Source: pointer.Mouse, Buttons: button, Position: at(from.Add(by.Div(2)))})
	h.send(pointer.Event{Kind: pointer.Move, Source: pointer.Mouse, Buttons: button, Position: at(from.Add(by))})
	h.send(pointer.Event{Kind: pointer.Release, Source: pointer.Mouse, Position: at(from.Add(by))})
}

func TestDraggingMovesTheSheetAndOpensNothing(t *testing.T) {
	for _, button := range []pointer.Buttons{pointer.ButtonPrimary, pointer.ButtonTertiary} {
		h := newHarness(t, Options{})
		before := h.part("dryer")
		h.drag(middle(before), image.Pt(60, -40), button)
		assert.Equal(t, before.Add(image.Pt(60, -40)), h.part("dryer"))
		_, open := h.control("Close the card")
		assert.False(t, open)
		h.key("0", 0)
		assert.Equal(t, before, h.part("dryer"), "0 fits the sheet again")
	}
}

func TestTheWheelZoomsAtThePointer(t *testing.T) {
	h := newHarness(t, Options{})
	before := h.part("dryer")
	at := middle(before)
	h.send(pointer.Event{Kind: pointer.Scroll, Source: pointer.Mouse, Position: f32.Pt(float32(at.X), float32(at.Y)), Scroll: f32.Pt(0, -120)})
	after := h.part("dryer")
	assert.Greater(t, after.Dx(), before.Dx())
	assert.InDelta(t, at.X, middle(after).X, 3)
	assert.InDelta(t, at.Y, middle(after).Y, 3)
	h.press("Zoom out")
	assert.Less(t, h.part("dryer").Dx(), after.Dx())
	h.key("+", key.ModShift)
	assert.InDelta(t, after.Dx(), h.part("dryer").Dx(), 2)
}

func TestTheSheetGoesOnFittingWhenTheWindowChanges(t *testing.T) {
	h := newHarness(t, Options{})
	small := h.part("dryer")
	h.size = image.Pt(1920, 1200)
	h.frame()
	h.frame()
	assert.Greater(t, h.part("dryer").Dx(), small.Dx())
}

func TestPickingWhatIsOpenClosesIt(t *testing.T) {
	h := newHarness(t, Options{})
	h.clickPart("rear_relay")
	_, open := h.control("Close the card")
	require.True(t, open)
	h.clickPart("rear_relay")
	_, open = h.control("Close the card")
	assert.False(t, open)
}

// Every component and every line can be picked, and its card be drawn.
func TestEveryPartHasACard(t *testing.T) {
	h := newHarness(t, Options{Size: image.Pt(1920, 1200)})
	for _, c := range h.shell.session.Circuit.Components {
		h.shell.area.Open(c.ID)
		h.frame()
		h.frame()
		_, open := h.control("Close the card")
		require.True(t, open, c.ID)
	}
	for _, l := range h.shell.session.Circuit.Lines {
		h.shell.area.Open(l.ID)
		h.frame()
		h.frame()
		_, open := h.control("Close the card")
		require.True(t, open, l.ID)
	}
}

// Every procedure can be opened, its form be left alone, and be left again.
func TestEveryProcedureHasAForm(t *testing.T) {
	h := newHarness(t, Options{})
	for _, p := range h.shell.session.Procedures() {
		h.shell.area.CarryOut(p.ID)
		h.frame()
		h.frame()
		_, open := h.control("Enter readings")
		require.True(t, open, p.ID)
		h.press("Enter readings") // with nothing filled in, or with what was there before
		h.key(key.NameEscape, 0)
	}
	assert.Len(t, h.findings(), 1)
}

func TestARoundOfListeningIsQuicklyEntered(t *testing.T) {
	h := newHarness(t, Options{})
	h.shell.area.CarryOut("listen-building")
	h.frame()
	h.press("All this is seen to")
	for range 200 { // scroll to the form
		if c, ok := h.control("Answer no at all other places"); ok && c.Place.Dy() >= 40 && c.Place.Max.Y < 730 {
			break
		}
		h.send(pointer.Event{Kind: pointer.Scroll, Source: pointer.Mouse, Position: f32.Pt(1000, 400), Scroll: f32.Pt(0, 60)})
	}
	h.press("Answer no at all other places")
	h.press("Enter readings")
	assert.Greater(t, len(h.findings()), 20)
	cards := h.shell.session.Cards()
	require.Len(t, cards, 2)
	assert.Contains(t, cards[1].Result, "Quiet at")
	h.key("Z", key.ModShortcut)
	assert.Len(t, h.findings(), 1, "one deed")
}

func TestTextSizes(t *testing.T) {
	h := newHarness(t, Options{})
	for range 10 {
		h.key("+", key.ModShortcut)
	}
	assert.InDelta(t, model.TextScales[len(model.TextScales)-1], h.shell.prefs.TextScale, 1e-6)
	for range 10 {
		h.key("-", key.ModShortcut)
	}
	assert.InDelta(t, model.TextScales[0], h.shell.prefs.TextScale, 1e-6)
}
