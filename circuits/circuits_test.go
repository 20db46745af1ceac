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

// The combination is made of the two vehicles' own files, and of the couplings alone.
func TestTheCombinationIsMadeOfItsVehicles(t *testing.T) {
	whole, err := circuits.Load("tractor_trailer")
	require.NoError(t, err)
	for prefix, name := range map[string]string{"tractor_": "tractor", "trailer_": "semi_trailer"} {
		part, err := circuits.Load(name)
		require.NoError(t, err)
		for _, c := range part.Components {
			if c.Kind.Name == "gladhand" {
				assert.Nil(t, whole.Component(prefix+c.ID), "the joint stands in for it")
				continue
			}
			same := whole.Component(prefix + c.ID)
			require.NotNil(t, same, c.ID)
			assert.Equal(t, c.Kind, same.Kind)
			assert.Equal(t, c.Given, same.Given)
		}
		for _, l := range part.Lines {
			require.NotNil(t, whole.Line(prefix+l.ID), l.ID)
		}
	}
	require.NotNil(t, whole.Component("couplings"))
	assert.Equal(t, string(circuits.Text("tractor_trailer")), string(circuit.Write(whole)), "and is written as such")
}

// Every sort of part that there is can be met in a vehicle of the library.
func TestEveryKindIsInAVehicle(t *testing.T) {
	used := map[string]bool{}
	for _, name := range circuits.Names() {
		c, err := circuits.Load(name)
		require.NoError(t, err)
		for _, x := range c.Components {
			used[x.Kind.Name] = true
		}
	}
	for _, k := range circuit.Kinds() {
		assert.True(t, used[k.Name], "no vehicle has a %s", k.Title)
	}
}

// Each of the seven has the depot's name for it, and a page that says what it is, how its circuit works and what to look at.
func TestEveryVehicleHasANameAndAPage(t *testing.T) {
	require.Equal(t, []string{"bench_board", "coach", "gritter", "refuse_collector", "semi_trailer", "tractor", "tractor_trailer"}, circuits.Names())
	titles := map[string]bool{}
	for _, name := range circuits.Names() {
		c, err := circuits.Load(name)
		require.NoError(t, err)
		assert.NotEmpty(t, c.Title, name)
		assert.False(t, titles[c.Title], "two are called %s", c.Title)
		titles[c.Title] = true
		called, _, _ := strings.Cut(c.Title, ":")
		called, _, _ = strings.Cut(called, ",")
		if name != "bench_board" && name != "tractor_trailer" {
			assert.Regexp(t, `^[A-Z][a-z]+ \d+$`, called, "as the depot numbers them")
			assert.Contains(t, c.Notes, called)
		}
		assert.Contains(t, c.Notes, "municipal works depot", name)
		assert.GreaterOrEqual(t, strings.Count(strings.TrimSpace(c.Notes), "\n\n"), 2, "%s: what it is, how it works, what to look at", name)
		assert.Contains(t, c.Notes, "\nWhat to look at: ", name)
		assert.Greater(t, len(strings.Fields(c.Notes)), 90, "%s: a page", name)
	}
}

// What is on the road has masses, axles and a brake at each of their ends; the board has none, and says so.
func TestVehiclesKnowTheirAxles(t *testing.T) {
	for _, name := range circuits.Names() {
		c, err := circuits.Load(name)
		require.NoError(t, err)
		if name == "bench_board" {
			assert.False(t, c.Vehicle.Known())
			assert.Contains(t, c.Notes, "no wheels")
			continue
		}
		require.True(t, c.Vehicle.Known(), name)
		load := 0.0
		for _, a := range c.Vehicle.Axles {
			load += a.Load.SI
			assert.LessOrEqual(t, a.Load.SI, a.Rating.SI, "%s: %s", name, a.Name)
			assert.NotEmpty(t, a.Left)
			assert.NotEmpty(t, a.Right)
		}
		assert.InDelta(t, c.Vehicle.Mass.SI, load, 1, "%s: the axles carry all of it", name)
	}
}
