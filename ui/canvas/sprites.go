package canvas

import (
	"image"
	"image/color"
	"math"

	"gioui.org/op"
	"gioui.org/op/clip"
	"gioui.org/op/paint"

	"airpath/circuit/symbol"
)

// A spriteKey tells small pictures apart that are drawn once and shown many times: quarters of hops, and numbers.
type spriteKey struct {
	tier, width, foot int // of a quarter of a hop
	level, falling    bool
	text              string // of a number
	font              symbol.Font
}

// stamp shows a small picture with its upper left corner at a pixel.
func stamp(ops *op.Ops, img paint.ImageOp, at image.Point) {
	move := op.Offset(at).Push(ops)
	area := clip.Rect{Max: img.Size()}.Push(ops)
	img.Add(ops)
	paint.PaintOp{}.Add(ops)
	area.Pop()
	move.Pop()
}

func sprite(img *image.RGBA) paint.ImageOp {
	o := paint.NewImageOp(img)
	o.Filter = paint.FilterNearest
	return o
}

// inLight is a picture with clear edges as the screen wants it. The processor mixes colours as they are written, the screen mixes light: what
// is half clear has half the light, not half the number.
func inLight(img *image.RGBA) *image.RGBA {
	out := image.NewRGBA(img.Rect)
	for i := 0; i < len(img.Pix); i += 4 {
		a := float64(img.Pix[i+3]) / 255
		out.Pix[i+3] = img.Pix[i+3]
		if a == 0 {
			continue
		}
		for c := range 3 {
			plain := float64(img.Pix[i+c]) / 255 / a
			out.Pix[i+c] = uint8(math.Round(255 * written(lit(min(plain, 1))*a)))
		}
	}
	return out
}

// lit is the light of a colour as it is written, by the curve of sRGB (IEC 61966-2-1), and written its inverse.
func lit(v float64) float64 {
	if v <= 0.04045 {
		return v / 12.92
	}
	return math.Pow((v+0.055)/1.055, 2.4)
}

func written(v float64) float64 {
	if v <= 0.0031308 {
		return 12.92 * v
	}
	return 1.055*math.Pow(v, 1/2.4) - 0.055
}

// quarter is the rising or falling quarter of a hop, from a place along a track.
func (m *Motion) quarter(t *track, c color.NRGBA, tier, at int, falling bool) {
	foot := m.hops.foot
	key := spriteKey{tier: tier, width: t.width, foot: foot, level: t.level, falling: falling}
	img, ok := m.sprites[key]
	if !ok {
		img = m.picturelet(drawQuarter(c, t.width, foot, t.level, falling))
		m.sprites[key] = img
	}
	where := image.Pt(at, t.across-foot)
	if !t.level {
		where = image.Pt(t.across, at)
	}
	m.strokes.hops = stamped(m.strokes.hops, img, where)
}

// drawQuarter draws a quarter of a circle's ring that meets the legs before and behind it exactly.
func drawQuarter(c color.NRGBA, width, foot int, level, falling bool) *image.RGBA {
	long, high := foot, foot+width
	size := image.Pt(long, high)
	if !level {
		size = image.Pt(high, long)
	}
	img := image.NewRGBA(image.Rectangle{Max: size})
	r := symbol.NewRaster(img, 1, symbol.Point{})
	half, far := float64(width)/2, float64(foot)
	const n = 10
	points := make([]symbol.Point, 0, n+3)
	put := func(along, raised float64) { // raised above the leg's middle
		if falling {
			along = far - along
		}
		if level {
			points = append(points, symbol.Point{X: along, Y: far + half - raised})
		} else {
			points = append(points, symbol.Point{X: half + raised, Y: along})
		}
	}
	put(-1, 0)
	for i := range n + 1 {
		sin, cos := math.Sincos(math.Pi / 2 * float64(i) / n)
		put(far*(1-cos), far*sin)
	}
	put(far+1, far)
	r.Poly(points, false, symbol.Style{Stroke: c, Width: float64(width)})
	return img
}

// number shows a short text, its anchor at a point on the baseline, on a plate of the paper's colour.
func (m *Motion) number(p *surface, at symbol.Point, text string, f symbol.Font, ground color.NRGBA) {
	key := spriteKey{text: text, font: f}
	img, ok := m.sprites[key]
	if !ok {
		if len(m.sprites) > mostSprites {
			clear(m.sprites)
		}
		img = m.picturelet(drawNumber(text, f, m.key.scale, ground))
		m.sprites[key] = img
	}
	x, y := p.cam.Pixel(at)
	size := img.img.Rect.Size()
	switch f.Anchor {
	case symbol.Middle:
		x -= float64(size.X) / 2
	case symbol.End:
		x -= float64(size.X) - numberPad
	default:
		x -= numberPad
	}
	stamp(p.ops, img.op, image.Pt(whole(x), whole(y)-numberRise(f, m.key.scale)))
}

const (
	mostSprites = 1200
	numberPad   = 2
)

// numberRise is how far the baseline lies under the plate's upper edge, px.
func numberRise(f symbol.Font, scale float64) int { return int(math.Ceil(0.78*f.Size*scale)) + 1 }

func drawNumber(text string, f symbol.Font, scale float64, ground color.NRGBA) *image.RGBA {
	rise := numberRise(f, scale)
	w, h := int(math.Ceil(f.Width(text)*scale))+2*numberPad, rise+int(math.Ceil(0.24*f.Size*scale))
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			img.SetRGBA(x, y, color.RGBA(ground))
		}
	}
	r := symbol.NewRaster(img, scale, symbol.Point{})
	f.Anchor = symbol.Start
	r.Text(symbol.Point{X: numberPad / scale, Y: float64(rise) / scale}, text, f)
	return img
}
