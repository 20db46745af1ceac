package theme

import (
	"image/color"
	"slices"

	"gioui.org/font"
	"gioui.org/font/opentype"
	"gioui.org/text"
	"gioui.org/unit"

	"airpath/circuit/symbol"
	"airpath/circuit/symbol/typeface"
)

// A Theme is one look. Two themes may share a Shaper, but two windows may not: a shaper is not safe for concurrent use.
type Theme struct {
	Name   string // of the look
	Dark   bool
	Shaper *text.Shaper
	Sheet  *symbol.Palette // the drawing's own colours; those below agree with them

	Paper color.NRGBA // the sheet's ground
	Panel color.NRGBA // columns and bars
	Card  color.NRGBA // what lies on a panel
	Sunk  color.NRGBA // wells: entry fields, tracks of bars
	Rule  color.NRGBA // thin dividing lines
	Edge  color.NRGBA // outline of a control: 3 : 1 against its ground

	Ink  color.NRGBA // text
	Soft color.NRGBA // second-rank text

	Accent   color.NRGBA // the one primary action of a panel
	OnAccent color.NRGBA
	Focus    color.NRGBA // ring around what the keyboard works on
	Select   color.NRGBA // what is chosen

	Suspect   color.NRGBA // under suspicion, as text
	Mark      color.NRGBA // under suspicion, as a bar or an outline
	Cleared   color.NRGBA // ruled out
	Broken    color.NRGBA // a limit is not met
	OnBroken  color.NRGBA
	Met       color.NRGBA // a limit is met
	Caution   color.NRGBA // ground of a safety note
	OnCaution color.NRGBA
	Healthy   color.NRGBA // the healthy vehicle's curve
	Measured  color.NRGBA // what was measured
}

// Three sizes of type are enough for words. Huge is for the one number that is read from where the work is: the stopwatch.
const (
	Small unit.Sp = 13
	Body  unit.Sp = 15
	Large unit.Sp = 20
	Huge  unit.Sp = 34
)

// Spacing follows a grid of 8 dp; Touch is the least side of anything that a gloved finger must hit.
const (
	Half  unit.Dp = 4
	Step  unit.Dp = 8
	Gap   unit.Dp = 16
	Touch unit.Dp = 44
	Round unit.Dp = 6
)

// Normal and Strong are the two weights.
const (
	Normal = font.Normal
	Strong = font.SemiBold
)

// NewShaper loads the one typeface that is built in, the sheet's, and no others: a window looks the same on every machine.
func NewShaper() *text.Shaper {
	return text.NewShaper(text.NoSystemFonts(), text.WithCollection([]font.FontFace{
		face(typeface.Regular, Normal), face(typeface.SemiBold, Strong),
	}))
}

func face(ttf []byte, weight font.Weight) font.FontFace {
	f, err := opentype.Parse(ttf)
	if err != nil {
		panic("theme: the embedded typeface is damaged: " + err.Error())
	}
	return font.FontFace{Font: font.Font{Weight: weight}, Face: f}
}

// New makes the light or the dark theme around a shaper.
func New(dark bool, shaper *text.Shaper) *Theme {
	if dark {
		return Named(Dark, shaper)
	}
	return Named(Light, shaper)
}

// Named makes the theme of a look around a shaper; an unknown name gives the light one.
func Named(name string, shaper *text.Shaper) *Theme {
	l := looks[max(0, slices.IndexFunc(looks, func(l look) bool { return l.sheet.Name == name }))]
	t, p := *l.theme, l.sheet
	t.Name, t.Dark = p.Name, p.Dark
	t.Shaper, t.Sheet = shaper, p
	t.Paper, t.Select, t.Suspect, t.Cleared, t.Broken, t.OnBroken, t.Met = p.Paper, p.Select, p.SuspectText, p.ClearedText, p.Bad, p.OnBad, p.Good
	t.Mark = p.Suspect
	return &t
}

// light is drawing paper in daylight; what the drawing uses too comes from its palette.
var light = Theme{
	Panel: rgb(0xfaf8f2), Card: rgb(0xfefdf9), Sunk: rgb(0xf1ede2), Rule: rgb(0xdcd7c9), Edge: rgb(0x868275),
	Ink: rgb(0x20262c), Soft: rgb(0x545d66),
	Accent: rgb(0x0a5a7d), OnAccent: rgb(0xf8f6ef), Focus: rgb(0x00649e),
	Caution: rgb(0xf6e2a8), OnCaution: rgb(0x3d2f05),
	Healthy: rgb(0x00664b), Measured: rgb(0x20262c),
}

// night is for a dark bay: low glare, neither black nor white.
var night = Theme{
	Panel: rgb(0x1e242a), Card: rgb(0x272e35), Sunk: rgb(0x151a1e), Rule: rgb(0x38414a), Edge: rgb(0x75808b),
	Ink: rgb(0xd9dcdd), Soft: rgb(0xa3adb5),
	Accent: rgb(0x6bb8dc), OnAccent: rgb(0x10181d), Focus: rgb(0x8fd0f2),
	Caution: rgb(0x4a3d15), OnCaution: rgb(0xf3e3b0),
	Healthy: rgb(0x4cc29d), Measured: rgb(0xd9dcdd),
}

func rgb(v uint32) color.NRGBA {
	return color.NRGBA{R: uint8(v >> 16), G: uint8(v >> 8), B: uint8(v), A: 0xff}
}

// Mix goes from a to b by share, as seen on the screen.
func Mix(a, b color.NRGBA, share float64) color.NRGBA {
	m := func(x, y uint8) uint8 { return uint8(float64(x) + (float64(y)-float64(x))*share + 0.5) }
	return color.NRGBA{R: m(a.R, b.R), G: m(a.G, b.G), B: m(a.B, b.B), A: m(a.A, b.A)}
}
