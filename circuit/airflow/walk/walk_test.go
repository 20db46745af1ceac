package walk

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuits"
)

func TestAllWalksAreRead(t *testing.T) {
	walks, err := All()
	require.NoError(t, err)
	assert.Len(t, walks, 7)
	for _, w := range walks {
		assert.NotEmpty(t, w.About, w.ID)
		for _, s := range w.Steps {
			assert.NotEmpty(t, s.Expect, "%s: %s can be checked", w.ID, s.Title)
			assert.NotEmpty(t, s.Look, "%s: %s shows something", w.ID, s.Title)
		}
	}
}

// Each walk can be taken on some vehicle, and the truck has them all.
func TestWalksFindTheirParts(t *testing.T) {
	walks, err := All()
	require.NoError(t, err)
	c, err := circuits.Load("gritter")
	require.NoError(t, err)
	n, err := airflow.Compile(c)
	require.NoError(t, err)
	for _, w := range walks {
		b, err := w.Bind(n)
		require.NoError(t, err)
		for _, s := range b.Steps {
			assert.NotEmpty(t, s.Lit)
			for _, id := range s.Lit {
				assert.NotNil(t, c.Component(id))
			}
			for _, d := range s.Deeds {
				assert.NotEmpty(t, d.Words)
			}
		}
	}
	trailer, err := circuits.Load("semi_trailer")
	require.NoError(t, err)
	n, err = airflow.Compile(trailer)
	require.NoError(t, err)
	_, err = walks[0].Bind(n)
	assert.ErrorContains(t, err, "this vehicle has no")
}

func TestWhatIsWrongIsSaidWithItsPlace(t *testing.T) {
	const head = "airpath_walk = 1\nid = \"x\"\ntitle = \"X\"\nbegin = \"empty\"\n"
	const step = "[[step]]\ntitle = \"a\"\ntext = \"b\"\n"
	for _, c := range []struct{ name, text, want string }{
		{"no version", "id = \"x\"\ntitle = \"X\"\nbegin = \"empty\"\n" + step, "airpath_walk = 1"},
		{"unknown key", head + "colour = 1\n" + step, `walk.toml:5:1: no key "colour" here`},
		{"not TOML", "id = ", "walk.toml:1:"},
		{"no steps", head, "at least one [[step]]"},
		{"bad begin", strings.Replace(head, "empty", "full", 1) + step, "begin says how"},
		{"bad deed", head + step + "do = [\"pedal down\"]\n", `walk.toml:8:8: "pedal down"`},
		{"unknown kind", head + step + "look = [\"relay-vale\"]\n", `walk.toml:8:10: no kind "relay-vale"; did you mean "relay-valve"?`},
		{"no such room", head + step + "expect = [\"relay-valve.9 above 3 psi\"]\nwithin = \"3 s\"\n", "has no room, port or control"},
		{"bad unit", head + step + "expect = [\"relay-valve.2 above 3 parsecs\"]\nwithin = \"3 s\"\n", "walk.toml:8:12"},
		{"rod of a gauge", head + step + "expect = [\"gauge 1 pumps\"]\nwithin = \"3 s\"\n", "walk.toml:8"},
		{"no time", head + step + "expect = [\"relay-valve.2 above 3 psi\"]\n", "needs a time"},
		{"second step", head + step + step + "do = [\"engine fast\"]\n", `walk.toml:11:8: "engine fast"`},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := Read("walk.toml", []byte(c.text))
			require.Error(t, err)
			assert.Contains(t, err.Error(), c.want)
		})
	}
}

// FuzzRead: whatever the text, reading ends, and what is read can be bound or is refused in words.
func FuzzRead(f *testing.F) {
	entries, err := files.ReadDir("walks")
	require.NoError(f, err)
	for _, e := range entries {
		text, err := files.ReadFile("walks/" + e.Name())
		require.NoError(f, err)
		f.Add(text)
	}
	c, err := circuits.Load("bench_board")
	require.NoError(f, err)
	n, err := airflow.Compile(c)
	require.NoError(f, err)
	f.Fuzz(func(t *testing.T, text []byte) {
		w, err := Read("walk.toml", text)
		if err != nil {
			var problems circuit.Problems
			require.ErrorAs(t, err, &problems)
			for _, p := range problems {
				assert.Positive(t, p.Line)
				assert.Positive(t, p.Column)
			}
			return
		}
		b, err := w.Bind(n)
		if err == nil {
			assert.Len(t, b.Steps, len(w.Steps))
		}
	})
}
