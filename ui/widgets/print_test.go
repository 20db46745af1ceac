package widgets

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"airpath/circuit/symbol/typeface"
)

// Whatever is to be set, and however narrow the column, nothing is lost, no line with more than one letter is too wide, and
// it comes to an end.
func TestWordsAreWrapped(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		words := rapid.StringMatching(`[a-z0-9 ,.µ°\n]{0,60}`).Draw(t, "words")
		width := rapid.IntRange(1, 300).Draw(t, "width")
		s := breakLines(words, 15, false, width, 0)
		assert.NotEmpty(t, s.lines)
		bare := func(s string) string { return strings.NewReplacer(" ", "", "\n", "").Replace(s) }
		assert.Equal(t, bare(words), bare(strings.Join(s.lines, "")))
		for _, line := range s.lines {
			if len([]rune(strings.TrimSpace(line))) > 1 {
				assert.LessOrEqual(t, 15*typeface.Width(line, false), float64(width)+1e-6, "%q", line)
			}
		}
	})
}

func TestWhatDoesNotFitShowsAsAnEllipsis(t *testing.T) {
	s := breakLines("rear right spring brake chamber", 15, false, 80, 2)
	assert.Len(t, s.lines, 2)
	assert.True(t, strings.HasSuffix(s.lines[1], "…"), s.lines[1])
	assert.LessOrEqual(t, s.width, 81.0)
	assert.Equal(t, []string{"one line"}, breakLines("one line", 15, false, 0, 1).lines)
}
