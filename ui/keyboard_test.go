package ui

import (
	"image"
	"strings"
	"testing"

	"gioui.org/io/key"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"airpath/ui/model"
)

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
