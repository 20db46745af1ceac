package typeface

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// Letters that are used look and run as in the whole typeface, put-together ones included; others are empty.
func TestSubsetKeepsWhatIsUsed(t *testing.T) {
	const used = "Gritter 7: 120 psi, größer – 45 %é"
	part, err := subset(Regular, used)
	require.NoError(t, err)
	assert.Less(t, len(part), len(Regular)/4)
	whole, few := parsed(t, Regular), parsed(t, part)
	for _, r := range used {
		assert.Equal(t, outline(t, whole, r), outline(t, few, r), string(r))
	}
	assert.NotEmpty(t, outline(t, whole, 'Q'))
	assert.Empty(t, outline(t, few, 'Q'))
	again, err := subset(Regular, used)
	require.NoError(t, err)
	assert.Equal(t, part, again)
	assert.Equal(t, uint32(0xB1B0AFBA), sumOf(part), "the sum of the whole file (ISO/IEC 14496-22, head table)")
}

func parsed(t *testing.T, ttf []byte) *sfnt.Font {
	f, err := sfnt.Parse(ttf)
	require.NoError(t, err)
	return f
}

func outline(t *testing.T, f *sfnt.Font, r rune) sfnt.Segments {
	var b sfnt.Buffer
	g, err := f.GlyphIndex(&b, r)
	require.NoError(t, err)
	s, err := f.LoadGlyph(&b, g, fixed.I(1000), nil)
	require.NoError(t, err)
	return append(sfnt.Segments{}, s...)
}

func TestSubsetRefusesWhatHasNoOutlines(t *testing.T) {
	_, err := subset([]byte{0, 1, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0}, "a")
	assert.ErrorContains(t, err, `no table "head"`)
}
