package symbol

import (
	"image/color"
	"math"
	"testing"

	"airpath/circuit"

	"github.com/stretchr/testify/assert"
)

var palettes = Palettes()

// WCAG 2.2, success criterion 1.4.3: 4.5 : 1 for text.
func TestTextHasContrast(t *testing.T) {
	for _, p := range palettes {
		t.Run(p.Name, func(t *testing.T) {
			for name, c := range map[string]color.NRGBA{"ink": p.Ink, "faint": p.Faint, "suspect text": p.SuspectText, "cleared text": p.ClearedText} {
				for on, background := range map[string]color.NRGBA{"paper": p.Paper, "body": p.Body, "ghost": p.Ghost} {
					assert.GreaterOrEqual(t, Contrast(c, background), 4.5, "%s on %s", name, on)
				}
			}
			assert.GreaterOrEqual(t, Contrast(p.PathText, p.PathEdge), 4.5, "steps of the path")
			assert.GreaterOrEqual(t, Contrast(p.OnBad, p.Bad), 4.5, "flag of a broken limit")
			assert.GreaterOrEqual(t, Contrast(p.Ink, mix(p.Paper, p.PathBand, 0.55)), 4.5, "a name on the lit path")
			pen := pen{look: Look{Palette: p}, body_: p.Body}
			for v := 0.0; v <= 160; v++ {
				pa := gaugePressure(v)
				pen.state.Pressure = map[string]float64{"r": pa}
				tint := pen.air("r")
				assert.GreaterOrEqual(t, Contrast(p.on(tint), tint), 4.5, "a value in a tank at %v psi", v)
			}
		})
	}
}

// WCAG 2.2, success criterion 1.4.11: 3 : 1 for what must be seen to understand a picture.
func TestMarksHaveContrast(t *testing.T) {
	for _, p := range palettes {
		for name, c := range map[string]color.NRGBA{
			"ink": p.Ink, "line": p.Line, "wire": p.Wire, "suspect": p.Suspect, "path": p.PathEdge, "selection": p.Select, "good": p.Good, "bad": p.Bad,
			"full line": p.Pressure(gaugePressure(120)),
		} {
			assert.GreaterOrEqual(t, Contrast(c, p.Paper), 3.0, "%s %s on paper", p.Name, name)
		}
	}
}

// WCAG 2.2, success criterion 1.4.6 (enhanced): 7 : 1 for text. For marks, which it does not raise, we ask for 4.5 : 1.
func TestHighContrastIsHigher(t *testing.T) {
	for _, p := range []*Palette{HighContrast, HighContrastDark} {
		for name, c := range map[string]color.NRGBA{"ink": p.Ink, "faint": p.Faint, "suspect text": p.SuspectText, "cleared text": p.ClearedText} {
			for on, background := range map[string]color.NRGBA{"paper": p.Paper, "body": p.Body, "ghost": p.Ghost} {
				assert.GreaterOrEqual(t, Contrast(c, background), 7.0, "%s: %s on %s", p.Name, name, on)
			}
		}
		assert.GreaterOrEqual(t, Contrast(p.PathText, p.PathEdge), 7.0)
		assert.GreaterOrEqual(t, Contrast(p.OnBad, p.Bad), 7.0)
		for name, c := range map[string]color.NRGBA{
			"ink": p.Ink, "line": p.Line, "wire": p.Wire, "suspect": p.Suspect, "path": p.PathEdge, "selection": p.Select, "good": p.Good, "bad": p.Bad,
			"cleared": p.Cleared, "full line": p.Pressure(gaugePressure(120)),
		} {
			assert.GreaterOrEqual(t, Contrast(c, p.Paper), 4.5, "%s: %s on paper", p.Name, name)
		}
	}
}

// A printer without colour keeps lightness alone: by that, what is pale on purpose and what is dark on purpose stay so.
func TestPrintIsReadInGrey(t *testing.T) {
	p := Print
	for name, c := range map[string]color.NRGBA{"suspicion": p.Suspect, "edge of the path": p.PathEdge, "broken limit": p.Bad, "ink": p.Ink, "line": p.Line} {
		assert.GreaterOrEqual(t, Contrast(c, p.Paper), 4.5, name)
		assert.GreaterOrEqual(t, Contrast(c, p.Cleared), 2.0, "%s beside what is cleared", name)
	}
	assert.GreaterOrEqual(t, Contrast(p.PathEdge, p.PathBand), 4.5, "the lit path is a pale band between dark edges")
	assert.GreaterOrEqual(t, Contrast(p.PathBand, p.Paper), 1.25, "and the band is not the paper")
	assert.GreaterOrEqual(t, Contrast(p.Cleared, p.Paper), 2.0, "what is cleared is still there")
	assert.Equal(t, hex(0xffffff), p.Paper, "no ink is spent on the paper")
}

// WCAG 2.2's own figures: black on white is 21 : 1; #767676 is the lightest grey that passes on white.
func TestContrastFollowsItsFormula(t *testing.T) {
	white := hex(0xffffff)
	assert.InDelta(t, 21, Contrast(hex(0), white), 1e-9)
	assert.InDelta(t, 1, Contrast(white, white), 1e-9)
	assert.GreaterOrEqual(t, Contrast(hex(0x767676), white), 4.5)
	assert.Less(t, Contrast(hex(0x777777), white), 4.5)
}

// oklab of an sRGB colour (Ottosson 2020, matrices from memory).
func oklab(c [3]float64) [3]float64 {
	l := math.Cbrt(0.4122214708*c[0] + 0.5363325363*c[1] + 0.0514459929*c[2])
	m := math.Cbrt(0.2119034982*c[0] + 0.6806995451*c[1] + 0.1073969566*c[2])
	s := math.Cbrt(0.0883024619*c[0] + 0.2817188376*c[1] + 0.6299787005*c[2])
	return [3]float64{
		0.2104542553*l + 0.7936177850*m - 0.0040720468*s,
		1.9779984951*l - 2.4285922050*m + 0.4505937099*s,
		0.0259040371*l + 0.7827717662*m - 0.8086757660*s,
	}
}

func light(c color.NRGBA) [3]float64 { return [3]float64{linear(c.R), linear(c.G), linear(c.B)} }

func apartBy(a, b [3]float64) float64 {
	return math.Sqrt((a[0]-b[0])*(a[0]-b[0]) + (a[1]-b[1])*(a[1]-b[1]) + (a[2]-b[2])*(a[2]-b[2]))
}

// The pressure scale is one hue, and equal steps of pressure are equal steps to the eye: no step between thirteen stands
// out by more than an eighth (rounding to 8 bits takes most of that), lightness runs one way, the hue stays.
func TestPressureScaleIsEven(t *testing.T) {
	for _, p := range palettes {
		t.Run(p.Name, func(t *testing.T) {
			var steps []float64
			var last [3]float64
			for i := 0; i <= 8; i++ {
				lab := oklab(light(p.Pressure(circuit.AtmospherePressure + FullPressure*float64(i)/8)))
				hue := math.Atan2(lab[2], lab[1]) * 180 / math.Pi
				assert.InDelta(t, -120, hue, 8, "hue at step %d", i)
				if i > 0 {
					steps = append(steps, apartBy(lab, last))
					if p.Dark {
						assert.Greater(t, lab[0], last[0], "fuller is lighter")
					} else {
						assert.Less(t, lab[0], last[0], "fuller is darker")
					}
				}
				last = lab
			}
			mean := 0.0
			for _, s := range steps {
				mean += s / float64(len(steps))
			}
			for i, s := range steps {
				assert.InDelta(t, mean, s, mean/8, "step %d", i)
			}
		})
	}
}

func TestPressureScaleEnds(t *testing.T) {
	for _, p := range palettes {
		assert.Equal(t, p.ramp[0], p.Pressure(0), "below the atmosphere is empty")
		assert.Equal(t, p.ramp[0], p.Pressure(circuit.AtmospherePressure))
		assert.Equal(t, p.ramp[rampSteps-1], p.Pressure(gaugePressure(130)))
		assert.Equal(t, p.ramp[rampSteps-1], p.Pressure(gaugePressure(400)))
		assert.Equal(t, p.Line, p.Pressure(math.NaN()), "not known")
	}
}

// How the colours look without one kind of cone: matrices for full severity of Machado, Oliveira and Fernandes (2009), on
// linear light, from memory.
var blindness = map[string][3][3]float64{
	"protan": {{0.152286, 1.052583, -0.204868}, {0.114503, 0.786281, 0.099216}, {-0.003882, -0.048116, 1.051998}},
	"deutan": {{0.367322, 0.860646, -0.227968}, {0.280085, 0.672501, 0.047413}, {-0.011820, 0.042940, 0.968881}},
	"tritan": {{1.255528, -0.076749, -0.178779}, {-0.078411, 0.930809, 0.147602}, {0.004733, 0.691367, 0.303900}},
	"none":   {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}},
}

func seenBy(m [3][3]float64, c color.NRGBA) [3]float64 {
	v := light(c)
	var out [3]float64
	for i := range out {
		out[i] = min(1, max(0, m[i][0]*v[0]+m[i][1]*v[1]+m[i][2]*v[2]))
	}
	return oklab(out)
}

// Suspicion, selection and every pressure can be told apart by colour alone in all three kinds of colour blindness, by a
// tenth of the way from black to white. Shape and numbers tell them apart besides.
func TestMarksSurviveColourBlindness(t *testing.T) {
	for _, p := range palettes {
		for kind, m := range blindness {
			t.Run(p.Name+" "+kind, func(t *testing.T) {
				suspect, selected := seenBy(m, p.Suspect), seenBy(m, p.Select)
				assert.Greater(t, apartBy(suspect, selected), 0.1, "suspicion and selection")
				for i, c := range p.ramp {
					pressure := seenBy(m, c)
					assert.Greater(t, apartBy(suspect, pressure), 0.1, "suspicion and pressure %d", i)
					assert.Greater(t, apartBy(selected, pressure), 0.1, "selection and pressure %d", i)
				}
				assert.Greater(t, apartBy(seenBy(m, p.Good), seenBy(m, p.Bad)), 0.1, "flags of good and bad")
			})
		}
	}
}

// A lightness, chroma and hue come back from the colour made of them.
func TestOklchRoundTrip(t *testing.T) {
	for _, want := range [][3]float64{{0.5, 0.08, 240}, {0.8, 0.05, 100}, {0.6, 0.1, 20}} {
		lab := oklab(light(oklch(want[0], want[1], want[2])))
		assert.InDelta(t, want[0], lab[0], 0.004)
		assert.InDelta(t, want[1], math.Hypot(lab[1], lab[2]), 0.004)
		assert.InDelta(t, want[2], math.Mod(math.Atan2(lab[2], lab[1])*180/math.Pi+360, 360), 3)
	}
}
