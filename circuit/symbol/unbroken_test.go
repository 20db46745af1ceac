package symbol

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestUnbroken(t *testing.T) {
	for text, want := range map[string][]string{
		"":                                   {},
		"air dryer: its seat leaks (9 %)":    {"air", "dryer:", "its", "seat", "leaks", "(9 %)"},
		"at most 27.1 s, over 45 psi/min.":   {"at", "most", "27.1 s,", "over", "45 psi/min."},
		"% of them, and 12 parts":            {"%", "of", "them,", "and", "12", "parts"},
		"a line\nand  another, wide apart 3": {"a", "line", "and", "another,", "wide", "apart", "3"},
	} {
		assert.Equal(t, want, Unbroken(text), text)
	}
}
