package circuit

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// What a control's ends mean is shown beside it, so every kind's words must come apart into two.
func TestEveryControlHasWordsForItsEnds(t *testing.T) {
	for _, k := range Kinds() {
		for _, c := range k.Controls {
			zero, full := c.Ends()
			assert.NotEmpty(t, zero, "%s.%s", k.Name, c.Name)
			assert.NotEmpty(t, full, "%s.%s", k.Name, c.Name)
			assert.Equal(t, "0 "+zero+", 1 "+full, c.About, "%s.%s", k.Name, c.Name)
			if c.Sprung {
				assert.Zero(t, c.Rest, "%s.%s goes back to rest", k.Name, c.Name)
			}
		}
	}
}
