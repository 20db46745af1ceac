package model

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestKeeperWritesTheNewestAndForgets(t *testing.T) {
	p := Place{State: t.TempDir()}
	o := Origin{Vehicle: "gritter"}
	k := p.NewKeeper(o, func(err error) { t.Error(err) })
	for _, text := range []string{"one", "two", "three"} {
		k.Keep([]byte(text))
	}
	k.Close()
	text, _, err := p.Kept(o)
	require.NoError(t, err)
	assert.Equal(t, "three", string(text))
	text, _, err = p.Kept(Origin{Vehicle: "tractor"})
	require.NoError(t, err)
	assert.Nil(t, text, "each origin has its own")
	require.NoError(t, k.Forget())
	require.NoError(t, k.Forget(), "forgetting twice is fine")
	text, _, _ = p.Kept(o)
	assert.Nil(t, text)
}

func TestKeeperSaysWhenItCannot(t *testing.T) {
	file := filepath.Join(t.TempDir(), "file")
	require.NoError(t, os.WriteFile(file, nil, 0o644))
	failed := make(chan error, 1)
	k := Place{State: file}.NewKeeper(Origin{}, func(err error) { failed <- err })
	k.Keep([]byte("x"))
	k.Close()
	require.Error(t, <-failed)
}

func TestPreferencesOutliveAndSurviveDamage(t *testing.T) {
	p := Place{Config: t.TempDir()}
	got, err := p.LoadPreferences()
	require.NoError(t, err)
	assert.Equal(t, DefaultPreferences(), got)
	want := Preferences{Units: "bar", Look: "dark", Limits: "UN", TextScale: 1.3, HintsSeen: true, Curves: true, Sound: true}
	require.NoError(t, p.SavePreferences(want))
	got, err = p.LoadPreferences()
	require.NoError(t, err)
	assert.Equal(t, want, got)
	path := filepath.Join(p.Config, "preferences.json")
	require.NoError(t, os.WriteFile(path, []byte(`{"units": "furlong", "text_scale": 99}`), 0o644))
	got, err = p.LoadPreferences()
	require.NoError(t, err)
	assert.Equal(t, Units("psi"), got.Units)
	assert.InDelta(t, 1.5, got.TextScale, 1e-6)
	require.NoError(t, os.WriteFile(path, []byte(`{"units": `), 0o644))
	got, err = p.LoadPreferences()
	require.ErrorContains(t, err, "cannot be read")
	assert.Equal(t, DefaultPreferences(), got)
}

func TestBenchRemembersWhatWasOpen(t *testing.T) {
	p := Place{State: t.TempDir()}
	_, ok := p.LoadBench()
	assert.False(t, ok, "a first start")
	require.NoError(t, p.SaveBench(Origin{Vehicle: "gritter"}))
	require.NoError(t, p.SaveBench(Origin{Path: "/a/case.toml", Vehicle: "gritter"}))
	require.NoError(t, p.SaveBench(Origin{Path: "/b/case.toml", Vehicle: "/b/truck.toml"}))
	require.NoError(t, p.SaveBench(Origin{Path: "/a/case.toml", Vehicle: "gritter"}))
	b, ok := p.LoadBench()
	require.True(t, ok)
	assert.Equal(t, "/a/case.toml", b.Last.Path)
	assert.Equal(t, []string{"/a/case.toml", "/b/case.toml", "/b/truck.toml"}, b.Recent)
}
