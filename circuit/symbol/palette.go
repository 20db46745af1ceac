package symbol

import (
	"image/color"
	"math"

	"airpath/circuit"
)

// A Palette is one theme's colours. Every text colour has at least 4.5 : 1 on Paper and on Body, every mark at least 3 : 1
// (WCAG 2); the tests work it out.
type Palette struct {
	Name string
	Dark bool

	Paper color.NRGBA // the sheet
	Body  color.NRGBA // inside of symbols and behind labels
	Ghost color.NRGBA // rails, axles and wheels under the drawing
	Trace color.NRGBA // outline of the ghost
	Ink   color.NRGBA // symbols and names
	Faint color.NRGBA // port digits, second lines
	Line  color.NRGBA // air lines whose pressure is not shown
	Wire  color.NRGBA
	Rod   color.NRGBA

	Suspect     color.NRGBA // outline of what may be at fault
	SuspectText color.NRGBA
	Cleared     color.NRGBA // symbols and lines that are ruled out
	ClearedText color.NRGBA
	PathBand    color.NRGBA // casing of the lit path
	PathEdge    color.NRGBA
	PathText    color.NRGBA // on PathEdge: numbers of the steps
	Select      color.NRGBA
	Good        color.NRGBA // pin of a finding that is in order
	Bad         color.NRGBA // flag of a broken limit
	OnBad       color.NRGBA // text on Bad
	Lamp        color.NRGBA // a lamp that is lit

	ramp [rampSteps]color.NRGBA
}

// hex reads a colour that the program itself wrote.
func hex(rgb uint32) color.NRGBA {
	return color.NRGBA{R: uint8(rgb >> 16), G: uint8(rgb >> 8), B: uint8(rgb), A: 0xff}
}

// Light is drawing paper in daylight.
var Light = newPalette(Palette{
	Name:  "light",
	Paper: hex(0xF6F3EA), Body: hex(0xFFFEFA), Ghost: hex(0xEDE8DA), Trace: hex(0xD9D2BF),
	Ink: hex(0x1E2A33), Faint: hex(0x57636B), Line: hex(0x44617A), Wire: hex(0x6C6456), Rod: hex(0x4A545B),
	Suspect: hex(0xC8501E), SuspectText: hex(0xA03A0C), Cleared: hex(0x9AA09C), ClearedText: hex(0x5F6662),
	PathBand: hex(0xF7CF7A), PathEdge: hex(0x8F5A00), PathText: hex(0xFFFDF5),
	Select: hex(0x8330DC), Good: hex(0x14707A), Bad: hex(0xA81E2D), OnBad: hex(0xFFFFFF), Lamp: hex(0xF2A900),
}, rampEnds{lightness: [2]float64{0.855, 0.40}, chroma: [2]float64{0.030, 0.098}, hue: 242})

// Dark is a bay at night: low glare, neither black nor white.
var Dark = newPalette(Palette{
	Name: "dark", Dark: true,
	Paper: hex(0x1A2026), Body: hex(0x242C33), Ghost: hex(0x21282F), Trace: hex(0x323C45),
	Ink: hex(0xD8DFE3), Faint: hex(0x98A4AC), Line: hex(0x86A5BC), Wire: hex(0xA79D89), Rod: hex(0xAAB4BA),
	Suspect: hex(0xF08A4B), SuspectText: hex(0xFFAA77), Cleared: hex(0x606A71), ClearedText: hex(0x929CA2),
	PathBand: hex(0x6B4E12), PathEdge: hex(0xEDB94F), PathText: hex(0x1A2026),
	Select: hex(0xBC55FF), Good: hex(0x7CCBC4), Bad: hex(0xE4525F), OnBad: hex(0x14181C), Lamp: hex(0xFFC53D),
}, rampEnds{lightness: [2]float64{0.42, 0.86}, chroma: [2]float64{0.045, 0.074}, hue: 236})

// FullPressure is the gauge pressure, in Pa, at which the pressure colour is deepest: a little over the highest cut-out in use.
const FullPressure = 130 * circuit.PSI

const rampSteps = 33 // enough that no step between neighbours can be seen

// rampEnds are the colours of no pressure and of full pressure, in Oklch: one hue, even in lightness and chroma.
type rampEnds struct {
	lightness, chroma [2]float64
	hue               float64 // degrees
}

func newPalette(p Palette, ends rampEnds) *Palette {
	for i := range p.ramp {
		t := float64(i) / (rampSteps - 1)
		p.ramp[i] = oklch(
			ends.lightness[0]+t*(ends.lightness[1]-ends.lightness[0]),
			ends.chroma[0]+t*(ends.chroma[1]-ends.chroma[0]),
			ends.hue,
		)
	}
	return &p
}

// fullness is a pressure's place on the scale from empty to full, 0 to 1.
func fullness(pa float64) float64 {
	return min(1, max(0, (pa-circuit.AtmospherePressure)/FullPressure))
}

// Pressure is the colour of air at an absolute pressure in Pa.
func (p *Palette) Pressure(pa float64) color.NRGBA {
	if math.IsNaN(pa) {
		return p.Line
	}
	return p.ramp[int(math.Round(fullness(pa)*(rampSteps-1)))]
}

// tint is the colour of a chamber's inside at a pressure: as strong as text upon it allows.
func (p *Palette) tint(body color.NRGBA, pa float64) color.NRGBA {
	most := 0.44
	if p.Dark {
		most = 0.16
	}
	return mix(body, p.Pressure(pa), 0.14+most*fullness(pa))
}

// oklch gives the sRGB colour of a lightness, chroma and hue in Ottosson's Oklab (2020; matrices from memory, checked by
// a round trip in the tests).
func oklch(l, c, hue float64) color.NRGBA {
	sin, cos := math.Sincos(hue * math.Pi / 180)
	a, b := c*cos, c*sin
	cube := func(v float64) float64 { return v * v * v }
	lc := cube(l + 0.3963377774*a + 0.2158037573*b)
	mc := cube(l - 0.1055613458*a - 0.0638541728*b)
	sc := cube(l - 0.0894841775*a - 1.2914855480*b)
	return color.NRGBA{
		R: encode(4.0767416621*lc - 3.3077115913*mc + 0.2309699292*sc),
		G: encode(-1.2684380046*lc + 2.6097574011*mc - 0.3413193965*sc),
		B: encode(-0.0041960863*lc - 0.7034186147*mc + 1.7076147010*sc),
		A: 0xff,
	}
}

// encode turns linear light, 0 to 1, into an sRGB byte (IEC 61966-2-1).
func encode(v float64) uint8 {
	v = min(1, max(0, v))
	if v <= 0.0031308 {
		v *= 12.92
	} else {
		v = 1.055*math.Pow(v, 1/2.4) - 0.055
	}
	return uint8(math.Round(v * 255))
}

// mix goes from a to b by the share t, in sRGB.
func mix(a, b color.NRGBA, t float64) color.NRGBA {
	part := func(x, y uint8) uint8 { return uint8(math.Round(float64(x) + t*(float64(y)-float64(x)))) }
	return color.NRGBA{R: part(a.R, b.R), G: part(a.G, b.G), B: part(a.B, b.B), A: part(a.A, b.A)}
}
