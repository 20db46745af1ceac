package model

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestBrowse(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.Mkdir(filepath.Join(dir, "cases"), 0o755))
	for _, name := range []string{"gritter.toml", "Cabin.TOML", "cold.csv", ".hidden.toml", "notes.txt"} {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), nil, 0o644))
	}
	names := func(list []Entry) (out []string) {
		for _, e := range list {
			out = append(out, e.Name)
		}
		return out
	}
	sep := string(filepath.Separator)
	assert.Equal(t, []string{"cases", "Cabin.TOML", "gritter.toml"}, names(Browse(dir+sep, 9, ".toml")), "folders first")
	assert.Equal(t, []string{"cases", "Cabin.TOML"}, names(Browse(dir+sep+"ca", 9, ".toml")))
	assert.Equal(t, []string{".hidden.toml"}, names(Browse(dir+sep+".", 9, ".toml")))
	assert.Len(t, Browse(dir+sep, 1, ".toml"), 1)
	assert.Empty(t, Browse(filepath.Join(dir, "nowhere")+sep, 9, ".toml"))
	assert.Equal(t, filepath.Join(dir, "cases")+sep, Browse(dir+sep+"cases", 9, ".toml")[0].Path)

	t.Setenv("HOME", dir)
	assert.Contains(t, names(Browse("~"+sep, 9, ".toml")), "gritter.toml")
}

func TestLookingBeginsBesideTheLastFile(t *testing.T) {
	dir := t.TempDir()
	sep := string(filepath.Separator)
	assert.Equal(t, dir+sep, FirstFolder([]string{"gritter", filepath.Join(dir, "gone", "case.toml"), filepath.Join(dir, "case.toml")}))
	t.Setenv("HOME", dir)
	assert.Equal(t, dir+sep, FirstFolder(nil))
	assert.Equal(t, filepath.Dir(dir)+sep, Above(dir+sep))
	assert.Equal(t, filepath.Dir(dir)+sep, Above(filepath.Join(dir, "ca")), "what is typed of a name is no folder")
	assert.Empty(t, Above(sep))
	assert.Empty(t, Above("case"))
	assert.Equal(t, dir+sep, FolderOf("~"+sep+"ca"))
}
