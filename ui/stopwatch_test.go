package ui

import (
	"testing"

	"gioui.org/io/key"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The time of a build-up taken with the window's own stopwatch, by keyboard alone.
func TestTheStopwatchFillsTheField(t *testing.T) {
	h := newHarness(t, Options{})
	h.shell.area.CarryOut("build-up-85-100")
	h.frame()
	h.frame()
	h.key(key.NameReturn, 0) // the cautions are seen to
	h.shell.session.Remove("f1")
	h.shell.area.Changed()
	h.settle()
	h.key(key.NameSpace, 0)
	c, ok := h.control("Stop the stopwatch")
	require.True(t, ok, "%v", h.labels())
	assert.True(t, c.Selected)
	_, wakes := h.router.WakeupTime()
	assert.True(t, wakes, "a running stopwatch asks for frames")
	for range 1500 { // 30 s at 20 ms a frame
		h.frame()
	}
	h.key(key.NameSpace, 0)
	_, ok = h.control("Start the stopwatch")
	require.True(t, ok)
	h.key(key.NameReturn, 0)
	require.Len(t, h.findings(), 1)
	assert.Regexp(t, `^30\.\d s$`, h.findings()[0].Result.Text)
	h.router.WakeupTime() // forgets what was asked for before
	h.frame()
	_, wakes = h.router.WakeupTime()
	assert.False(t, wakes)
}

func TestStepsAreTickedOneByOne(t *testing.T) {
	h := newHarness(t, Options{})
	h.shell.area.CarryOut("build-up-85-100")
	h.frame()
	h.key(key.NameReturn, 0) // the cautions are seen to
	h.press("Step 1:")
	c, ok := h.control("Step 2:")
	require.True(t, ok)
	assert.True(t, c.Selected, "the next step is the one to do now")
	h.press("Step 1:")
	c, _ = h.control("Step 1:")
	assert.True(t, c.Selected, "and one can go back")
	h.press("Skip this test")
	assert.NotEmpty(t, h.shell.session.Skipped())
	h.key("Z", key.ModShortcut)
	assert.Empty(t, h.shell.session.Skipped())
}
