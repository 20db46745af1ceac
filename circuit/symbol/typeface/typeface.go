// Package typeface holds the one sans that Airpath writes with, on the sheet, in files and in the window: IBM Plex Sans in
// two weights, under the SIL Open Font License 1.1 (OFL.txt beside this file). Its figures are tabular, so that a changing
// number does not make the text around it jump.
package typeface

import (
	_ "embed"
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// Family is the name that a renderer outside looks the typeface up by.
const Family = "IBM Plex Sans"

// Regular is the TrueType file of the text weight.
//
//go:embed IBMPlexSans-Regular.ttf
var Regular []byte

// SemiBold is the TrueType file of the weight for numbers and titles.
//
//go:embed IBMPlexSans-SemiBold.ttf
var SemiBold []byte

// Font returns the parsed typeface of the weight wanted.
func Font(bold bool) *sfnt.Font {
	if bold {
		return semiBold()
	}
	return regular()
}

var (
	regular  = sync.OnceValue(func() *sfnt.Font { return mustParse(Regular) })
	semiBold = sync.OnceValue(func() *sfnt.Font { return mustParse(SemiBold) })
)

func mustParse(ttf []byte) *sfnt.Font {
	f, err := sfnt.Parse(ttf)
	if err != nil {
		panic("typeface: the embedded file is damaged: " + err.Error())
	}
	return f
}

// CapHeight and Descent are shares of the size: how far capitals rise over the baseline and tails fall below it.
const (
	CapHeight = 0.698
	Descent   = 0.205
)

type weighed struct {
	bold bool
	r    rune
}

var (
	advanceLock  sync.Mutex
	advanceCache = map[weighed]float64{}
	buffer       sfnt.Buffer
)

// Width of a text set at size 1, without kerning.
func Width(text string, bold bool) float64 {
	advanceLock.Lock()
	defer advanceLock.Unlock()
	w := 0.0
	for _, r := range text {
		w += advance(r, bold)
	}
	return w
}

func advance(r rune, bold bool) float64 {
	key := weighed{bold, r}
	if w, ok := advanceCache[key]; ok {
		return w
	}
	const unit = 1000 // pixels per em at which advances are read, so that rounding does not matter
	f := Font(bold)
	w := 0.5
	if i, err := f.GlyphIndex(&buffer, r); err == nil {
		if a, err := f.GlyphAdvance(&buffer, i, fixed.I(unit), font.HintingNone); err == nil {
			w = float64(a) / 64 / unit
		}
	}
	advanceCache[key] = w
	return w
}
