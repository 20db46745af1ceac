package ui

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"gioui.org/io/key"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"airpath/ui/model"
)

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
		"another circuit":     {strings.Replace(good, `"gritter"`, `"sweeper"`, 1), "sweeper"},
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
