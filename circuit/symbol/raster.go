package symbol

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"math"
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"
	"golang.org/x/image/vector"

	"airpath/circuit"
	"airpath/circuit/symbol/typeface"
)

// PNG draws a circuit as an image of at most width × height pixels, the whole sheet in its middle.
func PNG(c *circuit.Circuit, width, height int, look Look, marks Marks) ([]byte, error) {
	var out bytes.Buffer
	if err := png.Encode(&out, Image(c, width, height, look, marks)); err != nil {
		return nil, err
	}
	return out.Bytes(), nil
}

// Image draws a circuit into an image of width × height pixels, the whole sheet in its middle. The look's Scale follows
// from the size.
func Image(c *circuit.Circuit, width, height int, look Look, marks Marks) *image.RGBA {
	sh := NewSheet(c)
	if look.Palette == nil {
		look.Palette = Light
	}
	b := sh.Bounds()
	look.Scale = min(float64(width)/b.Width(), float64(height)/b.Height())
	img := image.NewRGBA(image.Rect(0, 0, width, height))
	fillImage(img, look.Palette.Paper)
	r := NewRaster(img, look.Scale, Point{
		X: b.Min.X - (float64(width)/look.Scale-b.Width())/2,
		Y: b.Min.Y - (float64(height)/look.Scale-b.Height())/2,
	})
	sh.Draw(r, look, marks)
	return img
}

func fillImage(img *image.RGBA, c color.NRGBA) {
	for i := 0; i < len(img.Pix); i += 4 {
		img.Pix[i], img.Pix[i+1], img.Pix[i+2], img.Pix[i+3] = c.R, c.G, c.B, 0xff
	}
}

// A Raster draws into an image without a graphics processor.
type Raster struct {
	img    *image.RGBA
	scale  float64
	origin Point // of the sheet's part in the image, grid steps
	fill   vector.Rasterizer
	pixels []Point
	shapes polygons
	dash   []float64
	inks   map[color.NRGBA]*image.Uniform
}

func (r *Raster) inkOf(c color.NRGBA) *image.Uniform {
	ink, ok := r.inks[c]
	if !ok {
		if r.inks == nil || len(r.inks) > 200 {
			r.inks = map[color.NRGBA]*image.Uniform{}
		}
		ink = image.NewUniform(c)
		r.inks[c] = ink
	}
	return ink
}

// Onto makes the raster draw into another image, with the memory that it has.
func (r *Raster) Onto(img *image.RGBA, scale float64, origin Point) {
	r.img, r.scale, r.origin = img, scale, origin
}

// NewRaster draws into img at a scale in pixels per grid step; origin is the point of the sheet at its upper left corner.
func NewRaster(img *image.RGBA, scale float64, origin Point) *Raster {
	return &Raster{img: img, scale: scale, origin: origin}
}

// Begin does nothing: an image has no groups.
func (r *Raster) Begin(id, title string) {}

// End does nothing.
func (r *Raster) End() {}

func (r *Raster) pixel(p Point) Point {
	return Point{X: (p.X - r.origin.X) * r.scale, Y: (p.Y - r.origin.Y) * r.scale}
}

// Poly fills and strokes.
func (r *Raster) Poly(points []Point, closed bool, s Style) {
	if len(points) < 2 {
		return
	}
	r.pixels = r.pixels[:0]
	for _, p := range points {
		r.pixels = append(r.pixels, r.pixel(p))
	}
	if !r.within(s.Width * r.scale) {
		return
	}
	r.shapes.clear()
	if s.Fill.A > 0 && len(points) > 2 {
		r.shapes.add(r.pixels...)
		r.paint(s.Fill)
	}
	if s.Stroke.A == 0 || s.Width <= 0 {
		return
	}
	r.dash = r.dash[:0]
	for _, d := range s.Dash {
		r.dash = append(r.dash, d*r.scale)
	}
	r.shapes.clear()
	r.shapes.stroke(r.pixels, closed, s.Width*r.scale, r.dash)
	r.paint(s.Stroke)
}

// within tells whether what is to be drawn reaches into the image: a small part of a sheet is drawn often, and most lies outside.
func (r *Raster) within(reach float64) bool {
	lo, hi := r.pixels[0], r.pixels[0]
	for _, p := range r.pixels[1:] {
		lo = Point{X: min(lo.X, p.X), Y: min(lo.Y, p.Y)}
		hi = Point{X: max(hi.X, p.X), Y: max(hi.Y, p.Y)}
	}
	b := r.img.Rect
	return hi.X+reach >= float64(b.Min.X) && lo.X-reach <= float64(b.Max.X) && hi.Y+reach >= float64(b.Min.Y) && lo.Y-reach <= float64(b.Max.Y)
}

// paint fills the polygons, which are of one orientation, together.
func (r *Raster) paint(c color.NRGBA) {
	lo, hi := Point{X: math.Inf(1), Y: math.Inf(1)}, Point{X: math.Inf(-1), Y: math.Inf(-1)}
	for _, p := range r.shapes.points {
		lo = Point{X: min(lo.X, p.X), Y: min(lo.Y, p.Y)}
		hi = Point{X: max(hi.X, p.X), Y: max(hi.Y, p.Y)}
	}
	box := image.Rect(int(math.Floor(lo.X)), int(math.Floor(lo.Y)), int(math.Ceil(hi.X)), int(math.Ceil(hi.Y)))
	seen := box.Intersect(r.img.Bounds())
	if seen.Empty() {
		return
	}
	// The rasteriser cuts off what lies outside by itself, to the left at a cost; shapes are small, so that does not matter.
	r.fill.Reset(seen.Dx(), seen.Dy())
	from := 0
	for _, end := range r.shapes.ends {
		for i, p := range r.shapes.points[from:end] {
			x, y := float32(p.X-float64(seen.Min.X)), float32(p.Y-float64(seen.Min.Y))
			if i == 0 {
				r.fill.MoveTo(x, y)
			} else {
				r.fill.LineTo(x, y)
			}
		}
		r.fill.ClosePath()
		from = end
	}
	r.fill.Draw(r.img, seen, r.inkOf(c), image.Point{})
}

type faceKey struct {
	bold bool
	size fixed.Int26_6
}

var (
	faceLock sync.Mutex
	faces    = map[faceKey]font.Face{}
)

// Text sets one line.
func (r *Raster) Text(at Point, text string, f Font) {
	faceLock.Lock()
	defer faceLock.Unlock()
	key := faceKey{f.Bold, fixed.Int26_6(math.Round(f.Size * r.scale * 64))}
	face, ok := faces[key]
	if !ok {
		if len(faces) > 64 {
			clear(faces)
		}
		var err error
		face, err = opentype.NewFace(typeface.Font(f.Bold), &opentype.FaceOptions{Size: float64(key.size) / 64, DPI: 72, Hinting: font.HintingNone})
		if err != nil {
			return // a size that no face can have: nothing to be read there
		}
		faces[key] = face
	}
	p := r.pixel(at)
	width := f.Width(text) * r.scale
	switch f.Anchor {
	case Middle:
		p.X -= width / 2
	case End:
		p.X -= width
	}
	d := font.Drawer{Dst: r.img, Src: r.inkOf(f.Color), Face: face,
		Dot: fixed.Point26_6{X: fixed.Int26_6(math.Round(p.X * 64)), Y: fixed.Int26_6(math.Round(p.Y * 64))}}
	d.DrawString(text)
}
