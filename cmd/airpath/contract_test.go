package main

import (
	"testing"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuit/airflow/explain"
	"airpath/circuit/symbol"
	"airpath/circuits"
	"airpath/trace"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestEveryKindHasEveryConcern fails when a kind was added to one table and forgotten in another.
func TestEveryKindHasEveryConcern(t *testing.T) {
	used := kindsInUse(t)
	for _, k := range circuit.Kinds() {
		t.Run(k.Name, func(t *testing.T) {
			assert.NotEmpty(t, k.Title, "a title")
			assert.NotEmpty(t, k.About, "what it does")

			modes := airflow.Modes(k.Name)
			assert.NotEmpty(t, modes, "a law with fault modes, in circuit/airflow")
			sameModes(t, modes, trace.WordsFor(k.Name))

			drawing, ok := symbol.Of(k.Name)
			require.True(t, ok, "a drawing, in circuit/symbol")
			assert.NotNil(t, drawing.Paint)
			for _, p := range k.Ports {
				assert.NotEmpty(t, drawing.Ports[p.Name], "a place on the border of its drawing for port %s", p.Name)
			}

			assert.NotEmpty(t, explain.WordsFor(k.Name), "words for what happens in it, in circuit/airflow/explain")

			assert.True(t, used[k.Name], "a part of this kind in a vehicle of the library")
		})
	}
}

// TestEveryLineTypeHasEveryConcern is the same for what lines are made of.
func TestEveryLineTypeHasEveryConcern(t *testing.T) {
	types := map[circuit.LineType]bool{}
	for _, name := range circuits.Names() {
		c, err := circuits.Load(name)
		require.NoError(t, err)
		for _, l := range c.Lines {
			types[l.Type] = true
		}
	}
	for _, l := range []circuit.LineType{circuit.Tube, circuit.Hose, circuit.Rod, circuit.Wire} {
		t.Run(string(l), func(t *testing.T) {
			sameModes(t, airflow.LineModes(l), trace.LineWordsFor(l))
			assert.True(t, types[l], "a line of this type in a vehicle of the library")
		})
	}
}

func sameModes(t *testing.T, modes []airflow.Mode, words []trace.Words) {
	var does, said []string
	for _, m := range modes {
		does = append(does, m.Name)
		assert.NotEmpty(t, m.Severity.Means, "what the severity of %q means", m.Name)
	}
	for _, w := range words {
		said = append(said, w.Mode)
		assert.Positive(t, w.Prior, "how common %q is", w.Mode)
		assert.NotEmpty(t, w.Says, "what is said of %q", w.Mode)
		assert.NotEmpty(t, w.Confirm, "how %q is proven by hand", w.Mode)
		assert.NotEmpty(t, w.Repair, "how %q is repaired", w.Mode)
	}
	assert.ElementsMatch(t, does, said, "the modes that circuit/airflow simulates, and those that trace has words for")
}

func kindsInUse(t *testing.T) map[string]bool {
	used := map[string]bool{}
	for _, name := range circuits.Names() {
		c, err := circuits.Load(name)
		require.NoError(t, err)
		for _, part := range c.Components {
			used[part.Kind.Name] = true
		}
	}
	return used
}
