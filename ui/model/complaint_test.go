package model

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"airpath/trace"
)

func TestEverySayingIsSuggestedAndHeard(t *testing.T) {
	for _, saying := range trace.Sayings() {
		assert.Contains(t, Suggest(saying[:len(saying)-1], 100), saying)
		h := Hear(saying)
		require.NotEmpty(t, h.Heard, saying)
		assert.NotEmpty(t, h.Heard[0].Means, saying)
		assert.Empty(t, h.Unheard, saying)
	}
}

func TestComplaintsOfSeveralThings(t *testing.T) {
	saying := trace.Sayings()[0]
	typed := Complete("smells of fish, "+saying[:3], saying)
	assert.Equal(t, "smells of fish, "+saying, typed)
	h := Hear(typed)
	assert.Len(t, h.Heard, 1)
	require.Len(t, h.Unheard, 1)
	assert.Contains(t, h.Unheard[0], "smells of fish")
	assert.Len(t, Suggest("", 4), 4)
	assert.Empty(t, Suggest("zzz", 4))
}
