package symbol

// Palettes that there are, the usual two first.
func Palettes() []*Palette { return []*Palette{Light, Dark, Print, HighContrast, HighContrastDark} }

// Print is for white paper and for printers without colour: every mark differs from its neighbours in lightness, width or
// shape as well as in hue. What is cleared is the palest that is still a line, the lit path a pale band between dark edges.
var Print = newPalette(Palette{
	Name:  "print",
	Paper: hex(0xFFFFFF), Body: hex(0xFFFFFF), Ghost: hex(0xF3F3F3), Trace: hex(0xDADADA),
	Ink: hex(0x12181C), Faint: hex(0x565C60), Line: hex(0x36495A), Wire: hex(0x5E584E), Rod: hex(0x3C444A),
	Suspect: hex(0xA83C0A), SuspectText: hex(0x8A2E04), Cleared: hex(0xA4A8A6), ClearedText: hex(0x666B68),
	PathBand: hex(0xF3D48E), PathEdge: hex(0x6B4300), PathText: hex(0xFFFFFF),
	Select: hex(0x8330DC), Good: hex(0x0F5F68), Bad: hex(0x8E1422), OnBad: hex(0xFFFFFF), Lamp: hex(0xE09A00),
}, rampEnds{lightness: [2]float64{0.86, 0.36}, chroma: [2]float64{0.028, 0.092}, hue: 242})

// HighContrast is for eyes that need more than daylight gives: black on white, text at 7 : 1 and marks at 4.5 : 1 or more.
var HighContrast = newPalette(Palette{
	Name:  "high-contrast",
	Paper: hex(0xFFFFFF), Body: hex(0xFFFFFF), Ghost: hex(0xF2F2F2), Trace: hex(0xC4C4C4),
	Ink: hex(0x000000), Faint: hex(0x2E3438), Line: hex(0x0E2C47), Wire: hex(0x443C2C), Rod: hex(0x1E262B),
	Suspect: hex(0xA53500), SuspectText: hex(0x7A2600), Cleared: hex(0x6E7471), ClearedText: hex(0x474D4A),
	PathBand: hex(0xFFD257), PathEdge: hex(0x553400), PathText: hex(0xFFFFFF),
	Select: hex(0x8A2BE6), Good: hex(0x004E57), Bad: hex(0x8A0015), OnBad: hex(0xFFFFFF), Lamp: hex(0xFFB000),
}, rampEnds{lightness: [2]float64{0.80, 0.34}, chroma: [2]float64{0.045, 0.090}, hue: 242})

// HighContrastDark is the same on black.
var HighContrastDark = newPalette(Palette{
	Name: "high-contrast-dark", Dark: true,
	Paper: hex(0x000000), Body: hex(0x0B0F12), Ghost: hex(0x12171B), Trace: hex(0x4A545C),
	Ink: hex(0xFFFFFF), Faint: hex(0xC9D1D6), Line: hex(0xB4D6F2), Wire: hex(0xD6CBB4), Rod: hex(0xDCE3E7),
	Suspect: hex(0xFF9448), SuspectText: hex(0xFFB88A), Cleared: hex(0x8A949A), ClearedText: hex(0xB4BDC2),
	PathBand: hex(0x6E4E00), PathEdge: hex(0xFFCB52), PathText: hex(0x000000),
	Select: hex(0xC04DFF), Good: hex(0x8FEDE4), Bad: hex(0xFF6472), OnBad: hex(0x000000), Lamp: hex(0xFFD35C),
}, rampEnds{lightness: [2]float64{0.50, 0.90}, chroma: [2]float64{0.050, 0.060}, hue: 236})
