package symbol

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// With letters every part but tees, test connections and what names itself can be told, however little room there is; a letter covers
// neither names nor symbols.
func TestWhatHasNoRoomForItsNameHasALetter(t *testing.T) {
	some := 0
	for name, sh := range library(t) {
		for _, scale := range []float64{3.2, 3.7, 4.2, 5.6} {
			look := Look{Palette: Light, Scale: scale, Detail: Names, Letters: true}
			labels := sh.placedLabels(look)
			told := map[int]bool{}
			for i, a := range labels {
				id := sh.parts[a.part].comp.ID
				assert.False(t, told[a.part], "%s at %v: %s is told twice", name, scale, id)
				told[a.part] = true
				if a.letter == 0 {
					continue
				}
				some++
				for k, b := range labels {
					assert.False(t, k != i && a.box.Overlaps(b.box), "%s at %v: the letter of %s covers the name of %s", name, scale, id, sh.parts[b.part].comp.ID)
				}
				for k, p := range sh.parts {
					assert.False(t, k != a.part && a.box.Overlaps(p.box), "%s at %v: the letter of %s covers %s", name, scale, id, p.comp.ID)
				}
			}
			for i, p := range sh.parts {
				if !p.drawing.Minor && p.drawing.Inside == (Box{}) {
					assert.True(t, told[i], "%s at %v: %s has neither name nor letter", name, scale, p.comp.ID)
				}
			}
			look.Letters = false
			for _, l := range sh.placedLabels(look) {
				assert.Zero(t, l.letter, "%s at %v: nobody asked for letters", name, scale)
			}
		}
	}
	assert.Positive(t, some, "some names have no room")
}

func TestLettersGoOn(t *testing.T) {
	var got []string
	for _, n := range []int{1, 2, 26, 27, 28, 52, 53, 702, 703} {
		got = append(got, Letter(n))
	}
	assert.Equal(t, []string{"A", "B", "Z", "AA", "AB", "AZ", "BA", "ZZ", "AAA"}, got)
}
