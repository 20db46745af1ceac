package viewer

import (
	"context"
	"os"
	"path/filepath"
	"runtime"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// fake puts a program in the place of the system's own.
func fake(t *testing.T, script string) (folder string) {
	if runtime.GOOS != "linux" {
		t.Skip("the system's opener is a shell script's business on Linux only")
	}
	folder = t.TempDir()
	t.Setenv("PATH", folder)
	if script != "" {
		require.NoError(t, os.WriteFile(filepath.Join(folder, "xdg-open"), []byte("#!/bin/sh\n"+script), 0o755))
	}
	return folder
}

func TestOpenNamesTheWholePath(t *testing.T) {
	folder := fake(t, `echo "$1" > "${0%/*}/seen"`)
	require.NoError(t, Open(context.Background(), "a b.pdf"))
	seen, err := os.ReadFile(filepath.Join(folder, "seen"))
	require.NoError(t, err)
	here, err := os.Getwd()
	require.NoError(t, err)
	assert.Equal(t, filepath.Join(here, "a b.pdf")+"\n", string(seen))
}

func TestOpenSaysWhatIsMissing(t *testing.T) {
	fake(t, "")
	assert.EqualError(t, Open(context.Background(), "x.pdf"),
		"x.pdf is written, but xdg-open is not installed, so it cannot be shown (Debian has it in xdg-utils); open it by hand")
	fake(t, "echo no viewer for this >&2; exit 3")
	assert.EqualError(t, Open(context.Background(), "x.pdf"), "x.pdf is written, but xdg-open could not show it: exit status 3. no viewer for this")
}
