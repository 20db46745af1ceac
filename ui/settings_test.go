package ui

import (
	"testing"

	"gioui.org/io/key"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"airpath/ui/model"
)

func TestSettingsChangeColoursTextUnitsAndLimits(t *testing.T) {
	h := newHarness(t, Options{})
	h.key(",", key.ModShortcut)
	h.press("colours: Strong dark")
	assert.Equal(t, "high-contrast-dark", h.shell.theme.Name)
	h.press("text size: 130 %")
	assert.InDelta(t, 1.3, h.shell.prefs.TextScale, 1e-6)
	h.press("pressure shown in: kPa")
	assert.Equal(t, model.Units("kPa"), h.shell.prefs.Units)
	h.press("Limits of Canada")
	assert.Equal(t, "Canada", h.shell.session.Jurisdiction())
	h.key(key.NameEscape, 0)
	assert.False(t, h.shell.setter.open)
	h.key("Z", key.ModShortcut)
	assert.Equal(t, "US", h.shell.session.Jurisdiction(), "whose limits hold belongs to the case and is undone with it")
	h.key("D", 0)
	assert.Equal(t, "high-contrast", h.shell.theme.Name)

	again := newHarness(t, Options{Place: h.shell.place, Path: "bench_board"})
	assert.Equal(t, "high-contrast", again.shell.theme.Name)
	require.NotNil(t, again.shell.session)
	assert.Equal(t, "Canada", again.shell.session.Jurisdiction(), "new cases begin with it")
}
