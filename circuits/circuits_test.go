package circuits_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"airpath/circuit"
	"airpath/circuits"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestLibraryIsWithoutProblems(t *testing.T) {
	require.Contains(t, circuits.Names(), "gritter")
	for _, name := range circuits.Names() {
		t.Run(name, func(t *testing.T) {
			c, err := circuits.Load(name)
			require.NoError(t, err)
			assert.Equal(t, name, c.Name)
			assert.Empty(t, circuit.Check(c))
			assert.Equal(t, string(circuits.Text(name)), string(circuit.Write(c)), "saving an unchanged file changes nothing")
		})
	}
}

func TestLoad(t *testing.T) {
	_, err := circuits.Load("griter")
	assert.EqualError(t, err, `no circuit "griter" in the library, which has `+strings.Join(circuits.Names(), ", ")+`; a file is given by its path, such as ./griter.toml`)
	assert.Nil(t, circuits.Text("griter"))
	assert.Nil(t, circuits.Text("../circuits/gritter"))

	path := filepath.Join(t.TempDir(), "mine.toml")
	_, err = circuits.Load(path)
	require.ErrorIs(t, err, os.ErrNotExist)
	require.NoError(t, os.WriteFile(path, circuits.Text("gritter"), 0o644))
	c, err := circuits.Load(path)
	require.NoError(t, err)
	assert.Equal(t, "gritter", c.Name)
	assert.Equal(t, path, c.Components[0].Source.File, "positions name the file as it was given")

	require.NoError(t, os.WriteFile(path, nil, 0o644))
	_, err = circuits.Load(path)
	assert.EqualError(t, err, path+":1:1: the file is empty")
}
