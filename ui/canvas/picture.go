package canvas

import (
	"image"
	"image/color"

	"gioui.org/layout"
	"gioui.org/op/paint"

	"airpath/circuit/symbol"
	"airpath/ui/theme"
)

// A pictureKey is what a picture depends on, besides what it shows of the sheet.
type pictureKey struct {
	sheet     *symbol.Sheet
	revision  int
	scale     float64
	density   float64
	textScale float64
	unit      string
	palette   *symbol.Palette
	cursor    string
	letters   bool
}

// A picture is the sheet as the processor has drawn it, for as long as its key holds, and over it what the pointer is on.
type picture struct {
	key   pictureKey
	scale float64         // of the last frame: while it changes nothing beyond the view is drawn
	at    image.Rectangle // what it shows, in pixels of the sheet at its scale
	work  scratch
	small scratch // of the patches
	op    paint.ImageOp

	arranged *symbol.Arrangement // numbers and flags on it

	hover   string
	under   pictureKey // what the patches lie on
	patches []patch
}

// A patch is a part of the sheet drawn anew, because the pointer is on it.
type patch struct {
	at image.Point
	op paint.ImageOp
}

// draw shows the picture, moved by whole pixels, and draws it anew when something on it changed or the view has left it.
func (s *Sheet) draw(gtx layout.Context, th *theme.Theme, scene *Scene) {
	key := pictureKey{s.drawn, scene.Revision, s.cam.Scale, s.density, scene.TextScale, scene.Unit, th.Sheet, "", s.letters.prepare(s, th, scene.TextScale)}
	if s.ring {
		key.cursor = s.cursor
	}
	p := &s.picture
	bounds := pixels(s.drawn.Bounds().Grow(1), s.cam.Scale)
	view := image.Rectangle{Max: s.size}.Sub(s.cam.Off).Intersect(bounds)
	if view.Empty() {
		s.paperAround(gtx.Ops, view, th.Paper)
		return
	}
	if p.key != key || !view.In(p.at) && !s.frozen {
		at := view
		if p.scale == s.cam.Scale { // the sheet may be moved next: what comes into view is there already
			margin := max(view.Dx(), view.Dy()) / 4
			if s.size.X*s.size.Y > mostAtOnce {
				margin /= 4
			}
			at = view.Inset(-margin).Intersect(bounds)
		}
		if p.key != key {
			p.arranged = s.drawn.Arrange(symbol.Look{Scale: s.cam.Scale / s.density, TextScale: scene.TextScale, Unit: scene.Unit, Letters: key.letters}, scene.Marks)
		}
		p.key, p.at = key, at
		p.op = s.rastered(th, scene, at, "", &p.work)
	}
	p.scale = s.cam.Scale
	s.paperAround(gtx.Ops, p.at.Add(s.cam.Off), th.Paper)
	stamp(gtx.Ops, p.op, s.cam.Off.Add(p.at.Min))
	s.letters.draw(gtx)
	if s.hover == "" {
		return
	}
	if p.hover != s.hover || p.under != key {
		p.hover, p.under, p.patches = s.hover, key, p.patches[:0]
		look := symbol.Look{Palette: th.Sheet, Scale: s.cam.Scale / s.density, TextScale: scene.TextScale, Unit: scene.Unit, Letters: key.letters}
		marks := symbol.Marks{Arranged: p.arranged}
		for _, at := range s.reach(s.hover, look, marks) {
			if at = at.Intersect(p.at); !at.Empty() {
				p.small.img = nil // what is shown keeps its own
				p.patches = append(p.patches, patch{at.Min, s.rastered(th, scene, at, s.hover, &p.small)})
			}
		}
	}
	for _, q := range p.patches {
		stamp(gtx.Ops, q.op, s.cam.Off.Add(q.at))
	}
}

// reach is where a component or line under the pointer looks otherwise: around its box, along its legs, where its name is told.
func (s *Sheet) reach(id string, look symbol.Look, marks symbol.Marks) (out []image.Rectangle) {
	if box, ok := s.drawn.Nameplate(id, look, marks); ok {
		out = append(out, pixels(box.Grow(0.3), s.cam.Scale))
	}
	if box, ok := s.drawn.BoxOf(id); ok {
		return append(out, pixels(box.Grow(around), s.cam.Scale))
	}
	route, _ := s.drawn.RouteOf(id)
	for i := 1; i < len(route); i++ {
		leg := symbol.Box{Min: route[i-1], Max: route[i-1]}.Union(symbol.Box{Min: route[i], Max: route[i]})
		out = append(out, pixels(leg.Grow(around), s.cam.Scale))
	}
	return out
}

// rastered draws a part of the sheet, in its pixels.
func (s *Sheet) rastered(th *theme.Theme, scene *Scene, at image.Rectangle, hover string, work *scratch) paint.ImageOp {
	img := work.picture(at.Size())
	fillWith(img, th.Paper)
	step := 1 / s.cam.Scale
	box := boxOf(at, step)
	marks := scene.Marks
	marks.Hover, marks.Arranged = hover, s.picture.arranged
	if s.ring && s.cursor != "" {
		marks.Selected = s.cursor
	}
	look := symbol.Look{Palette: th.Sheet, Scale: s.cam.Scale / s.density, TextScale: scene.TextScale, View: box, Unit: scene.Unit, Letters: s.letters.on}
	s.drawn.Draw(work.raster(img, s.cam.Scale, box.Min), look, marks)
	return sprite(img)
}

// boxOf is a rectangle of pixels in grid steps, of which a pixel takes so much.
func boxOf(r image.Rectangle, step float64) symbol.Box {
	return symbol.Box{Min: symbol.Point{X: float64(r.Min.X) * step, Y: float64(r.Min.Y) * step}, Max: symbol.Point{X: float64(r.Max.X) * step, Y: float64(r.Max.Y) * step}}
}

// fillWith one opaque colour.
func fillWith(img *image.RGBA, c color.NRGBA) {
	row := img.Pix[:img.Stride]
	for i := 0; i < len(row); i += 4 {
		row[i], row[i+1], row[i+2], row[i+3] = c.R, c.G, c.B, 0xff
	}
	for y := 1; y < img.Rect.Dy(); y++ {
		copy(img.Pix[y*img.Stride:], row)
	}
}
