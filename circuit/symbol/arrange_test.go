package symbol

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"airpath/circuit"
	"airpath/circuits"
)

// At no zoom do names and flags lie on one another, whatever is pinned: on every vehicle of the library.
func TestNamesAndFlagsNeverOverlap(t *testing.T) {
	for _, name := range circuits.Names() {
		t.Run(name, func(t *testing.T) {
			c, err := circuits.Load(name)
			require.NoError(t, err)
			sh := NewSheet(c)
			places := placesOf(c)
			rapid.Check(t, func(t *rapid.T) {
				look := Look{
					Scale:     rapid.SampledFrom([]float64{1.5, 2.7, 3.4, 4.7, 5.2, 6, 7.3, 8, 9.6, 12, 18}).Draw(t, "scale"),
					TextScale: rapid.SampledFrom([]float64{0.85, 1, 1.5}).Draw(t, "text"),
					Letters:   rapid.Bool().Draw(t, "letters"),
				}
				marks := Marks{Suspect: map[string]float64{}}
				for range rapid.IntRange(0, 4).Draw(t, "suspects") {
					marks.Suspect[rapid.SampledFrom(c.Components).Draw(t, "suspect").ID] = 0.2
				}
				for i := range rapid.IntRange(1, 12).Draw(t, "pins") {
					text := rapid.SampledFrom([]string{"", "70 s", "122 psi", "1 min 20 s"}).Draw(t, "words")
					marks.Pins = append(marks.Pins, Pin{Place: rapid.SampledFrom(places).Draw(t, "place"), Kind: PinKind(i), Text: text})
				}
				if err := flagsLieApart(sh, look, marks); err != nil {
					t.Fatal(err)
				}
			})
		})
	}
}

func placesOf(c *circuit.Circuit) (out []string) {
	for _, p := range c.Components {
		out = append(out, p.ID)
		for _, spec := range p.Kind.Ports {
			if spec.Vent {
				out = append(out, p.ID+"."+spec.Name)
			}
		}
	}
	for _, l := range c.Lines {
		out = append(out, l.ID)
	}
	return out
}

// flagsLieApart tells which flag or number lies on a name, or which flag on another.
func flagsLieApart(sh *Sheet, look Look, marks Marks) error {
	a := sh.Arrange(look, marks)
	if len(a.flags) != len(marks.Pins) {
		return fmt.Errorf("%d flags of %d pins", len(a.flags), len(marks.Pins))
	}
	labels := sh.placedLabels(look)
	v := sh.viewOf(nil, look, marks)
	for _, p := range a.pills {
		for k, l := range labels {
			if !a.gone[k] && overlap(v.pillBox(p.mid, p.text, true), l.box.Grow(-look.dp(numbersReach))) > 0 {
				return fmt.Errorf("%s lies on the name %q", p.text, l.lines)
			}
		}
	}
	for i := range a.flags {
		f := &a.flags[i]
		if f.dot {
			continue
		}
		for k, l := range labels {
			if !a.gone[k] && f.covers(l.box) {
				return fmt.Errorf("the flag of %s lies on the name %q", f.pin.Place, l.lines)
			}
		}
		for j := range i {
			if o := &a.flags[j]; !o.dot && overlap(o.box, f.box) > 0 {
				return fmt.Errorf("the flags of %s and %s lie on one another", o.pin.Place, f.pin.Place)
			}
		}
	}
	return nil
}

// What is drawn is what was arranged: the texts of names and flags as a surface gets them lie apart as well.
func TestTextsOfFlagsAndNamesLieApart(t *testing.T) {
	c, err := circuits.Load("tractor_trailer")
	require.NoError(t, err)
	sh := NewSheet(c)
	var pins []Pin
	for i, p := range c.Components {
		if i%5 == 0 {
			pins = append(pins, Pin{Place: p.ID, Kind: GaugePin, Text: "122 psi"})
		}
	}
	for _, scale := range []float64{3.4, 5.2, 8, 12} {
		var r Recorder
		sh.Draw(&r, Look{Palette: Light, Scale: scale}, Marks{Pins: pins})
		var names, flags []Recorded
		for _, m := range r.Marks {
			switch {
			case m.Text == "122 psi":
				flags = append(flags, m)
			case m.Text != "" && m.Group == "names":
				names = append(names, m)
			}
		}
		assert.NotEmpty(t, flags)
		assert.NotEmpty(t, names)
		for _, f := range flags {
			for _, n := range names {
				assert.False(t, f.Bounds().Overlaps(n.Bounds()), "%q at %g", n.Text, scale)
			}
		}
	}
}

// Closer, whatever had no room is there again.
func TestFlagsComeBackCloser(t *testing.T) {
	sh := NewSheet(gritter(t))
	var pins []Pin
	for _, p := range sh.circuit.Components[:10] {
		pins = append(pins, Pin{Place: p.ID, Kind: TimePin, Text: "70 s"})
	}
	whole := func(scale float64) (n int) {
		for _, f := range sh.Arrange(Look{Scale: scale}, Marks{Pins: pins}).flags {
			if !f.dot && !f.bare {
				n++
			}
		}
		return n
	}
	assert.Less(t, whole(1), 10)
	assert.Equal(t, 10, whole(12))
}

func TestAWayThroughABox(t *testing.T) {
	box := Box{Point{X: 1, Y: 1}, Point{X: 3, Y: 2}}
	assert.True(t, crosses(Point{X: 0, Y: 0}, Point{X: 3, Y: 3}, box))
	assert.True(t, crosses(Point{X: 2, Y: 0}, Point{X: 2, Y: 5}, box))
	assert.False(t, crosses(Point{X: 0, Y: 0}, Point{X: 1, Y: 3}, box))
	assert.False(t, crosses(Point{X: 0, Y: 1.5}, Point{X: 0.9, Y: 1.5}, box))
	assert.False(t, crosses(Point{X: 0, Y: 2}, Point{X: 5, Y: 2}, box), "along its edge")
}
