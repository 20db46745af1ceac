package theme

import (
	"image/color"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// contrast ratio by WCAG 2.1, "relative luminance" and "contrast ratio" (definitions, section 1.4.3).
func contrast(a, b color.NRGBA) float64 {
	la, lb := luminance(a), luminance(b)
	if la < lb {
		la, lb = lb, la
	}
	return (la + 0.05) / (lb + 0.05)
}

func luminance(c color.NRGBA) float64 {
	f := func(v uint8) float64 {
		s := float64(v) / 255
		if s <= 0.03928 {
			return s / 12.92
		}
		return math.Pow((s+0.055)/1.055, 2.4)
	}
	return 0.2126*f(c.R) + 0.7152*f(c.G) + 0.0722*f(c.B)
}

func TestContrastItself(t *testing.T) {
	// WCAG 2.1: black on white is 21 : 1.
	assert.InDelta(t, 21, contrast(rgb(0), rgb(0xffffff)), 1e-9)
}

func TestTextStandsOutOnItsGround(t *testing.T) {
	for _, th := range []*Theme{New(false, nil), New(true, nil), Named(HighContrast, nil), Named(HighContrastDark, nil)} {
		grounds := map[string]color.NRGBA{"paper": th.Paper, "panel": th.Panel, "card": th.Card, "sunk": th.Sunk}
		texts := map[string]color.NRGBA{"ink": th.Ink, "soft": th.Soft, "suspect": th.Suspect, "met": th.Met, "cleared": th.Cleared, "focus": th.Focus}
		for gn, g := range grounds {
			for tn, c := range texts {
				assert.GreaterOrEqual(t, contrast(c, g), 4.5, "%s: %s on %s", th.Name, tn, gn)
			}
			assert.GreaterOrEqual(t, contrast(th.Select, g), 3.0, "%s: selection on %s", th.Name, gn)
			assert.GreaterOrEqual(t, contrast(th.Edge, g), 3.0, "%s: control edge on %s", th.Name, gn)
		}
		assert.GreaterOrEqual(t, contrast(th.OnAccent, th.Accent), 4.5)
		assert.GreaterOrEqual(t, contrast(th.OnBroken, th.Broken), 4.5)
		assert.GreaterOrEqual(t, contrast(th.OnCaution, th.Caution), 4.5)
	}
}

// WCAG 2.1, section 1.4.6, "contrast (enhanced)": 7 : 1 for text.
func TestHighContrastStandsOutMore(t *testing.T) {
	for _, name := range []string{HighContrast, HighContrastDark} {
		th := Named(name, nil)
		for gn, g := range map[string]color.NRGBA{"paper": th.Paper, "panel": th.Panel, "card": th.Card, "sunk": th.Sunk} {
			for tn, c := range map[string]color.NRGBA{"ink": th.Ink, "soft": th.Soft, "suspect": th.Suspect, "cleared": th.Cleared, "healthy": th.Healthy, "focus": th.Focus} {
				assert.GreaterOrEqual(t, contrast(c, g), 7.0, "%s: %s on %s", name, tn, gn)
			}
			assert.GreaterOrEqual(t, contrast(th.Edge, g), 4.5, "%s: control edge on %s", name, gn)
		}
		assert.GreaterOrEqual(t, contrast(th.OnAccent, th.Accent), 7.0)
		assert.GreaterOrEqual(t, contrast(th.OnCaution, th.Caution), 7.0)
	}
}

func TestLooks(t *testing.T) {
	assert.Equal(t, []string{"light", "dark", "high-contrast", "high-contrast-dark"}, Looks())
	for _, name := range Looks() {
		th := Named(name, nil)
		assert.Equal(t, name, th.Name)
		assert.Equal(t, th.Sheet.Dark, th.Dark)
		assert.Equal(t, name, Opposite(Opposite(name)))
		assert.NotEqual(t, th.Dark, Named(Opposite(name), nil).Dark)
	}
	assert.Equal(t, Light, Named("no such look", nil).Name)
}

func TestNoPureBlackOrWhite(t *testing.T) {
	for _, th := range []*Theme{New(false, nil), New(true, nil)} {
		for _, c := range []color.NRGBA{th.Paper, th.Panel, th.Card, th.Ink} {
			assert.NotEqual(t, rgb(0), c)
			assert.NotEqual(t, rgb(0xffffff), c)
		}
	}
}

func TestMix(t *testing.T) {
	assert.Equal(t, rgb(0x102030), Mix(rgb(0x102030), rgb(0xffffff), 0))
	assert.Equal(t, rgb(0xffffff), Mix(rgb(0x102030), rgb(0xffffff), 1))
	assert.Equal(t, rgb(0x808080), Mix(rgb(0), rgb(0xffffff), 0.5))
}
