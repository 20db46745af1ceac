package circuit

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestReadSaysWhatIsWrong(t *testing.T) {
	for _, tt := range []struct{ name, text, want string }{
		{"empty file", "", "x.toml:1:1: the file is empty"},
		{"no version", "name = \"x\"\n", "x.toml:1:1: the version \"airpath\" is missing; the file starts with airpath = 1"},
		{"truncated", "airpath = 1\nname = \"gri", "x.toml:2:11: this is not TOML: unterminated basic string; the file seems to be cut off here"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c, err := Read("x.toml", []byte(tt.text))
			require.Error(t, err)
			assert.Nil(t, c)
			assert.Equal(t, tt.want, err.Error())
		})
	}
}
