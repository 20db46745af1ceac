package canvas

import (
	"image"
	"image/color"
	"image/draw"
	"math"

	"gioui.org/op"
	"gioui.org/op/paint"

	"airpath/circuit/symbol"
)

// strokes is what lies over the picture in one frame: rectangles, small shapes and small pictures, one over the other, in pixels of the
// sheet. On most screens the processor puts them into a copy of the picture, piece by piece, and only pieces on which something moved are
// handed to the screen again: without a graphics card a rectangle apiece costs many times as much. On very large ones, where that would
// be tens of megabytes a frame, they are handed over one by one.
type strokes struct {
	list   []stroke
	moving []stroke  // over them: what runs along the pipes
	hops   []stroke  // over that: bridges from pipe to pipe
	names  []stroke  // over everything
	of     [][]int32 // by cell: which strokes touch it
	sums   []uint64  // by cell: what they were when it was drawn last
	now    []uint64
	over   tiles // the picture with its strokes
	pen    symbol.Raster
	fan    int32
}

func (s *strokes) clear() {
	s.list, s.moving, s.hops, s.names, s.fan = s.list[:0], s.moving[:0], s.hops[:0], s.names[:0], 0
}

type stroke struct {
	at    image.Rectangle
	color color.NRGBA
	stamp *picturelet // nil for what is of one colour
	shape bool        // corners, instead of the whole rectangle
	fan   int32       // shapes that belong together
	quad  [4]symbol.Point
}

// A picturelet is drawn once and shown many times.
type picturelet struct {
	img    *image.RGBA
	op     paint.ImageOp
	number uint64 // tells it from all others
}

func (m *Motion) picturelet(img *image.RGBA) *picturelet {
	m.made++
	return &picturelet{img, sprite(inLight(img)), m.made}
}

func filled(list []stroke, r image.Rectangle, c color.NRGBA) []stroke {
	if r.Empty() {
		return list
	}
	return append(list, stroke{at: r, color: c})
}

func stamped(list []stroke, p *picturelet, at image.Point) []stroke {
	return append(list, stroke{at: image.Rectangle{Min: at, Max: at.Add(p.img.Rect.Size())}, stamp: p})
}

func (s *strokes) fill(r image.Rectangle, c color.NRGBA) { s.list = filled(s.list, r, c) }

// shape is a quadrilateral.
func (s *strokes) shape(c color.NRGBA, quad ...symbol.Point) {
	x := stroke{color: c, shape: true, fan: s.fan}
	lo, hi := quad[0], quad[0]
	for i, p := range quad {
		x.quad[i] = p
		lo, hi = symbol.Point{X: min(lo.X, p.X), Y: min(lo.Y, p.Y)}, symbol.Point{X: max(hi.X, p.X), Y: max(hi.Y, p.Y)}
	}
	x.at = image.Rect(int(math.Floor(lo.X)), int(math.Floor(lo.Y)), int(math.Ceil(hi.X)), int(math.Ceil(hi.Y)))
	s.list = append(s.list, x)
}

// show draws the picture and the strokes over it.
func (s *strokes) show(ops *op.Ops, under *tiles, off image.Point, view image.Rectangle, ground color.NRGBA) {
	s.list = append(append(append(s.list, s.moving...), s.hops...), s.names...)
	s.sort(under)
	for i := range s.over.cells {
		c := &s.over.cells[i]
		if !c.rect.Add(off).Overlaps(view) || s.sums[i] == s.now[i] {
			continue
		}
		s.sums[i], c.live = s.now[i], false
		copy(c.img.Pix, under.cells[i].img.Pix)
		for _, k := range s.of[i] {
			s.draw(&s.list[k], c)
		}
	}
	s.over.show(ops, off, view, ground)
}

// sort the strokes by the cells that they touch, and sum up what each cell shows.
func (s *strokes) sort(under *tiles) {
	if s.over.at != under.at || len(s.over.cells) != len(under.cells) {
		s.over.reset(under.at)
		s.of, s.sums, s.now = make([][]int32, len(under.cells)), make([]uint64, len(under.cells)), make([]uint64, len(under.cells))
	}
	for i := range s.of {
		s.of[i] = s.of[i][:0]
		s.now[i] = mixed(0, under.cells[i].version)
	}
	for k := range s.list {
		x := &s.list[k]
		r := x.at.Intersect(under.at).Sub(under.at.Min)
		if r.Empty() {
			continue
		}
		sum := x.sum()
		for row := r.Min.Y / side; row <= (r.Max.Y-1)/side; row++ {
			for column := r.Min.X / side; column <= (r.Max.X-1)/side; column++ {
				i := row*under.wide + column
				s.of[i] = append(s.of[i], int32(k))
				s.now[i] = mixed(s.now[i], sum)
			}
		}
	}
}

// sum is a number that two strokes share only if they look alike.
func (x *stroke) sum() uint64 {
	h := mixed(uint64(uint32(x.at.Min.X))<<32|uint64(uint32(x.at.Min.Y)), uint64(uint32(x.at.Max.X))<<32|uint64(uint32(x.at.Max.Y)))
	switch {
	case x.stamp != nil:
		return mixed(h, x.stamp.number)
	case x.shape:
		for _, p := range x.quad {
			h = mixed(h, math.Float64bits(p.X)^math.Float64bits(p.Y)<<1)
		}
	}
	return mixed(h, 1<<63|uint64(x.color.R)<<24|uint64(x.color.G)<<16|uint64(x.color.B)<<8|uint64(x.color.A))
}

// mixed is one step of a hash: multiply and fold, as FNV does, over whole words.
func mixed(h, v uint64) uint64 {
	h = (h ^ v) * 0x9E3779B97F4A7C15
	return h ^ h>>29
}

func (s *strokes) draw(x *stroke, c *cell) {
	at := x.at.Sub(c.rect.Min)
	switch {
	case x.shape:
		s.pen.Onto(c.img, 1, symbol.Point{X: float64(c.rect.Min.X), Y: float64(c.rect.Min.Y)})
		s.pen.Poly(x.quad[:], true, symbol.Style{Fill: x.color})
	case x.stamp != nil:
		draw.Draw(c.img, at, x.stamp.img, x.stamp.img.Rect.Min, draw.Over)
	case x.color.A == 0xff:
		plain(c.img, at.Intersect(c.img.Rect), x.color)
	default:
		draw.Draw(c.img, at, image.NewUniform(x.color), image.Point{}, draw.Over)
	}
}

// plain fills a rectangle that lies in a picture with an opaque colour.
func plain(img *image.RGBA, r image.Rectangle, c color.NRGBA) {
	for y := r.Min.Y; y < r.Max.Y; y++ {
		row := img.Pix[img.PixOffset(r.Min.X, y):img.PixOffset(r.Max.X, y)]
		for i := 0; i < len(row); i += 4 {
			row[i], row[i+1], row[i+2], row[i+3] = c.R, c.G, c.B, 0xff
		}
	}
}
