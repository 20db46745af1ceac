package trace

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"airpath/circuit"
	"airpath/circuit/airflow"
)

// Every mode of every law has words, every word has a mode, and none is half written.
func TestEveryModeHasWords(t *testing.T) {
	check := func(what string, modes []airflow.Mode, words []Words) {
		var named, worded []string
		for _, m := range modes {
			named = append(named, m.Name)
		}
		for _, w := range words {
			worded = append(worded, w.Mode)
			assert.Positive(t, w.Prior, "%s, %s", what, w.Mode)
			assert.Positive(t, w.Minutes, "%s, %s", what, w.Mode)
			assert.NotEmpty(t, w.Says, "%s, %s", what, w.Mode)
			assert.NotEmpty(t, w.Confirm, "%s, %s", what, w.Mode)
			assert.NotEmpty(t, w.Repair, "%s, %s", what, w.Mode)
		}
		assert.ElementsMatch(t, named, worded, what)
	}
	for _, k := range circuit.Kinds() {
		_, ok := wordsOf[k.Name]
		assert.True(t, ok, "kind %q is missing in wordsOf", k.Name)
		check(k.Name, airflow.Modes(k.Name), WordsFor(k.Name))
	}
	for _, l := range []circuit.LineType{circuit.Tube, circuit.Hose, circuit.Rod, circuit.Wire} {
		check(string(l), airflow.LineModes(l), LineWordsFor(l))
	}
	var gauge []string
	for _, w := range WordsFor("gauge") {
		gauge = append(gauge, w.Mode)
	}
	assert.Subset(t, gauge, []string{needleHigh, needleLow}, "a gauge's own error is simulated by these")
	for kind := range wordsOf {
		_, err := circuit.KindNamed(kind)
		assert.NoError(t, err)
	}
}
