package theme

import "airpath/circuit/symbol"

// Names of the looks, as preferences keep them; they are those of the sheet's palettes.
var (
	Light            = symbol.Light.Name
	Dark             = symbol.Dark.Name
	HighContrast     = symbol.HighContrast.Name
	HighContrastDark = symbol.HighContrastDark.Name
)

// A look is a palette of the sheet with the colours around it.
type look struct {
	theme *Theme
	sheet *symbol.Palette
}

var looks = []look{{&light, symbol.Light}, {&night, symbol.Dark}, {&plain, symbol.HighContrast}, {&plainNight, symbol.HighContrastDark}}

// Looks are the names that there are, in the order in which they are offered.
func Looks() []string {
	var names []string
	for _, l := range looks {
		names = append(names, l.sheet.Name)
	}
	return names
}

// Opposite is the same look for the night, or for the day.
func Opposite(name string) string {
	pairs := map[string]string{Light: Dark, Dark: Light, HighContrast: HighContrastDark, HighContrastDark: HighContrast}
	if o, ok := pairs[name]; ok {
		return o
	}
	return Dark
}

// plain is for eyes that need more than daylight gives: text stands at least 7 : 1 against its ground.
var plain = Theme{
	Panel: rgb(0xffffff), Card: rgb(0xffffff), Sunk: rgb(0xf2f2f2), Rule: rgb(0x8a8a8a), Edge: rgb(0x1e262b),
	Ink: rgb(0x000000), Soft: rgb(0x2e3438),
	Accent: rgb(0x003a5c), OnAccent: rgb(0xffffff), Focus: rgb(0x0048a0),
	Caution: rgb(0xffe28a), OnCaution: rgb(0x000000),
	Healthy: rgb(0x004d38), Measured: rgb(0x000000),
}

// plainNight is the same on black.
var plainNight = Theme{
	Panel: rgb(0x000000), Card: rgb(0x0b0f12), Sunk: rgb(0x000000), Rule: rgb(0x7a848c), Edge: rgb(0xdce3e7),
	Ink: rgb(0xffffff), Soft: rgb(0xd0d7dc),
	Accent: rgb(0x8fd8ff), OnAccent: rgb(0x000000), Focus: rgb(0xffe14d),
	Caution: rgb(0x4d3d00), OnCaution: rgb(0xfff3b0),
	Healthy: rgb(0x5fe0b8), Measured: rgb(0xffffff),
}
