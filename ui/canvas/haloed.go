package canvas

import (
	"image"
	"image/color"
	"math"

	"airpath/circuit/symbol"
)

// Names of a sheet in motion lie over its lines, which are wide while air flows: each with a rim of the paper's colour, so that a line
// that runs close by, or air that blows past, does not eat into the letters.
type haloed struct {
	motion *Motion
	paper  color.NRGBA
	scale  float64
	list   []placedName
}

type placedName struct {
	img *picturelet
	at  image.Point
}

// rim around letters, dp.
const rim = 1.5

func (m *Motion) placeNames(look symbol.Look, scale float64, paper color.NRGBA) {
	h := haloed{motion: m, paper: paper, scale: scale, list: m.names[:0]}
	m.sheet.DrawNamesBeside(&h, look)
	m.names = h.list
}

// Begin implements symbol.Surface.
func (h *haloed) Begin(id, title string) {}

// End implements symbol.Surface.
func (h *haloed) End() {}

// Poly implements symbol.Surface: names are letters alone.
func (h *haloed) Poly(points []symbol.Point, closed bool, style symbol.Style) {}

// Text implements symbol.Surface.
func (h *haloed) Text(at symbol.Point, words string, f symbol.Font) {
	width, out := f.Width(words), max(1, rim*h.motion.key.density)
	left := at.X
	switch f.Anchor {
	case symbol.Middle:
		left -= width / 2
	case symbol.End:
		left -= width
	}
	pad := int(math.Ceil(out)) + 1
	// the picture lies on whole pixels; the letters lie in it where they would lie on the sheet
	min := image.Pt(int(math.Floor(left*h.scale))-pad, int(math.Floor((at.Y-f.Size)*h.scale))-pad)
	max := image.Pt(int(math.Ceil((left+width)*h.scale))+pad, int(math.Ceil((at.Y+0.3*f.Size)*h.scale))+pad)
	img := image.NewRGBA(image.Rectangle{Max: max.Sub(min)})
	r := symbol.NewRaster(img, h.scale, symbol.Point{X: float64(min.X) / h.scale, Y: float64(min.Y) / h.scale})
	behind := f
	behind.Color = h.paper
	for i := range 8 {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / 8)
		r.Text(symbol.Point{X: at.X + cos*out/h.scale, Y: at.Y + sin*out/h.scale}, words, behind)
	}
	r.Text(at, words, f)
	h.list = append(h.list, placedName{h.motion.picturelet(img), min})
}
