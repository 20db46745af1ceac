package symbol

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// Numbers and flags keep off one another, whatever is marked and however near one looks: of what was drawn in the layer of
// marks, no two texts overlap.
func TestMarksKeepApart(t *testing.T) {
	sh := NewSheet(gritter(t))
	for scale := 4.62; scale < 30; scale *= 1.25 {
		t.Run(fmt.Sprintf("scale %.1f", scale), func(t *testing.T) {
			var r Recorder
			v := view{sh: sh, s: &r, look: Look{Palette: Light, Scale: scale}, marks: marksForTests()}
			v.badges()
			var boxes []Recorded
			for _, m := range r.Marks {
				if m.Text != "" {
					boxes = append(boxes, m)
				}
			}
			assert.Greater(t, len(boxes), 8)
			for i, a := range boxes {
				for _, b := range boxes[i+1:] {
					assert.False(t, a.Bounds().Overlaps(b.Bounds()), "%q and %q", a.Text, b.Text)
				}
			}
		})
	}
}

// Where a number stands does not depend on what is looked at, or it would jump about while the sheet is moved.
func TestMarksStayWhenTheSheetIsMoved(t *testing.T) {
	sh := NewSheet(gritter(t))
	look := Look{Palette: Light, Scale: 9}
	at := func(view Box) map[string]Point {
		var r Recorder
		look.View = view
		sh.DrawLayer(&r, MarkLayer, look, marksForTests())
		out := map[string]Point{}
		for _, m := range r.Marks {
			if m.Text != "" {
				out[m.Text] = m.Points[0]
			}
		}
		return out
	}
	whole := at(Box{})
	rapid.Check(t, func(t *rapid.T) {
		x, y := rapid.Float64Range(0, 120).Draw(t, "x"), rapid.Float64Range(0, 100).Draw(t, "y")
		for text, p := range at(Box{Point{X: x, Y: y}, Point{X: x + 30, Y: y + 20}}) {
			if whole[text] != p {
				t.Fatalf("%q moved from %v to %v", text, whole[text], p)
			}
		}
	})
}

func TestPlacesAlongARun(t *testing.T) {
	bent := []Point{{X: 0, Y: 0}, {X: 10, Y: 0}, {X: 10, Y: 10}}
	assert.Equal(t, Point{X: 10, Y: 5}, pointAt(bent, 15))
	assert.Equal(t, Point{X: 10, Y: 10}, pointAt(bent, 99))
	assert.Equal(t, Point{X: 8, Y: 0}, alongRun(nil, bent)[1])
	assert.Contains(t, besideRun(nil, bent, 2), Point{X: 4, Y: -2}, "over the level leg")
	assert.Contains(t, besideRun(nil, bent, 2), Point{X: 10 + 2.6, Y: 6}, "beside the upright one")
}
