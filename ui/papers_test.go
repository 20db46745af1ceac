package ui

import (
	"context"
	"os"
	"path/filepath"
	"testing"
	"time"

	"gioui.org/io/key"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"airpath/circuit"
	"airpath/ui/model"
)

// scribe is an engine that writes when it is told to.
type scribe struct {
	*quickEngine
	write chan []byte
}

func (e scribe) Record(ctx context.Context, cs *circuit.Case, _ model.Units, program string, progress func(done, total int)) ([]byte, error) {
	progress(1, 2)
	select {
	case text := <-e.write:
		return append(text, cs.Vehicle+" by "+program...), nil
	case <-ctx.Done():
		return nil, ctx.Err()
	}
}

func (e scribe) Chart(ctx context.Context, cs *circuit.Case, u model.Units, progress func(done, total int)) ([]byte, error) {
	return e.Record(ctx, cs, u, "chart", progress)
}

func newScribe(t *testing.T) (*harness, chan []byte, chan string) {
	t.Chdir(t.TempDir())
	write, shown := make(chan []byte), make(chan string, 1)
	h := newHarness(t, Options{Program: "Airpath 1", Viewer: func(_ context.Context, path string) error { shown <- path; return nil },
		Engine: func(*circuit.Circuit) (model.Engine, error) {
			return scribe{&quickEngine{gritterProcedures(), plain}, write}, nil
		}})
	return h, write, shown
}

func TestTheWorkRecordIsWrittenBesideTheWindow(t *testing.T) {
	h, write, shown := newScribe(t)
	h.key("P", key.ModShortcut)
	h.typeText("G7")
	h.press("Write the work record")
	assert.Equal(t, "G7", h.shell.session.Case().Vehicle)
	_, ok := h.control("Cancel: Writing the work record")
	require.True(t, ok, "%v", h.labels())
	h.press("work area: Flow") // the window goes on meanwhile
	h.press("work area: Trace")
	write <- []byte("paper for ")
	path := <-shown
	require.Eventually(t, func() bool { h.frame(); return h.shell.errand == nil }, 5*time.Second, time.Millisecond)
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, "paper for G7 by Airpath 1", string(text))
	assert.Equal(t, "gritter-record-1.pdf", filepath.Base(path))
	assert.Contains(t, h.shell.notice.words, path)
}

func TestAPaperCanBeCancelled(t *testing.T) {
	h, _, _ := newScribe(t)
	h.press("On paper")
	h.press("Write a troubleshooting chart")
	h.press("Cancel: Growing")
	require.Eventually(t, func() bool { h.frame(); return h.shell.errand == nil }, 5*time.Second, time.Millisecond)
	assert.Contains(t, h.shell.notice.words, "cancelled")
	files, err := os.ReadDir(".")
	require.NoError(t, err)
	assert.Empty(t, files)
}

func TestSkippedTestsStaySkipped(t *testing.T) {
	h := newHarness(t, Options{})
	first := h.shell.describe().Next
	h.press("Skip this test")
	h.shell.close()
	again := newHarness(t, Options{Place: h.shell.place})
	assert.NotEqual(t, first, again.shell.describe().Next)
	again.press("Offer again")
	assert.Equal(t, first, again.shell.describe().Next)
}

func TestHowColdItWasIsAskedForWhereTheComplaintIs(t *testing.T) {
	h := newHarness(t, Options{})
	h.press("How cold was it")
	h.typeText("-8")
	h.key(key.NameReturn, 0)
	assert.False(t, h.shell.papers.open)
	assert.Equal(t, "-8 C", h.shell.session.Case().Ambient)
	assert.Empty(t, h.shell.session.Case().Date, "the day that was proposed is for papers")
	assert.Contains(t, h.shell.session.LastDeed(), "−8 °C")
	h.press("How cold it was: −8 °C")
	h.key("A", key.ModShortcut)
	h.typeText("ice")
	h.press("Keep")
	assert.True(t, h.shell.papers.open, "nothing is kept that could not be read again")
	h.press("Close the papers")
	h.key("P", key.ModShortcut)
	h.press("How cold it was where the trouble showed")
	h.key("A", key.ModShortcut)
	h.typeText("ice")
	h.press("Write the work record")
	assert.True(t, h.shell.papers.open, "nor written")
	h.press("Close the papers")
	assert.Equal(t, "-8 C", h.shell.session.Case().Ambient)
	assert.Contains(t, h.shell.notice.words, "ice")
	h.key("Z", key.ModShortcut)
	assert.Empty(t, h.shell.session.Case().Ambient)
}
