package sound

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The samples reach the player through its pipe, and it ends when they do.
func TestAPlayerGetsTheSamples(t *testing.T) {
	got := filepath.Join(t.TempDir(), "heard")
	out, err := start([]string{"/bin/sh", "-c", `cat >"$0"`, got})
	require.NoError(t, err)
	_, err = out.Write([]byte{1, 2, 3, 4})
	require.NoError(t, err)
	require.NoError(t, out.Close())
	heard, err := os.ReadFile(got)
	require.NoError(t, err)
	assert.Equal(t, []byte{1, 2, 3, 4}, heard)
}

func TestWithoutAPlayerItSaysWhatIsMissing(t *testing.T) {
	_, err := find([][]string{{"no-such-player-anywhere"}})
	assert.ErrorContains(t, err, "alsa-utils")
}
