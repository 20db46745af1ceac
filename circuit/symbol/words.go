package symbol

import (
	"fmt"
	"image/color"
	"math"

	"airpath/circuit"
)

// pressureText is a gauge pressure with its unit.
func (l Look) pressureText(pa float64) string {
	return l.pressureNumber(pa) + " " + l.unit()
}

func (l Look) unit() string {
	if l.Unit == "" {
		return "psi"
	}
	return l.Unit
}

// pressureNumber is a gauge pressure as it is read off a dial: whole psi, tenths of a bar, whole kPa.
func (l Look) pressureNumber(pa float64) string {
	v, ok := circuit.In(pa, circuit.Pressure, l.unit())
	if !ok {
		v, _ = circuit.In(pa, circuit.Pressure, "psi")
	}
	if l.unit() == "bar" {
		v = math.Round(v*10) / 10
		return fmt.Sprintf("%.1f", v+0) // no minus zero
	}
	return fmt.Sprintf("%.0f", math.Round(v)+0)
}

// percent is a probability as it stands beside a suspect.
func percent(p float64) string {
	switch {
	case p > 0 && p < 0.01:
		return "<1 %"
	case p > 0.99 && p < 1:
		return ">99 %"
	}
	return fmt.Sprintf("%.0f %%", 100*p)
}

// on is the text colour, of ink and its opposite, that stands out more from a background.
func (p *Palette) on(background color.NRGBA) color.NRGBA {
	other := p.Body
	if Contrast(p.Ink, background) >= Contrast(other, background) {
		return p.Ink
	}
	return other
}

// Contrast of two opaque colours, 1 to 21, by WCAG 2.2 ("contrast ratio" and "relative luminance").
func Contrast(a, b color.NRGBA) float64 {
	x, y := luminance(a), luminance(b)
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}

func luminance(c color.NRGBA) float64 {
	return 0.2126*linear(c.R) + 0.7152*linear(c.G) + 0.0722*linear(c.B)
}

// linear light of an sRGB byte (WCAG 2.2 has 0.04045 in its erratum; no byte lies between that and 0.03928).
func linear(b uint8) float64 {
	v := float64(b) / 255
	if v <= 0.04045 {
		return v / 12.92
	}
	return math.Pow((v+0.055)/1.055, 2.4)
}
