package canvas

import (
	"image"
	"image/color"
	"math"

	"airpath/circuit/airflow"
	"airpath/circuit/symbol"
	"airpath/ui/theme"
)

// A track is one leg of a pipe in pixels, along one axis and towards larger coordinates.
type track struct {
	from, to int // along
	across   int // its first pixel across
	width    int
	level    bool
	back     bool // the pipe runs towards smaller coordinates
}

// rect between two places along the track, so far above it (level) or to its right (upright).
func (t *track) rect(from, to, raised, width int) image.Rectangle {
	if t.level {
		return image.Rect(from, t.across-raised, to, t.across-raised+width)
	}
	return image.Rect(t.across+raised, from, t.across+raised+width, to)
}

// trackOf a leg, its ends square where another leg goes on.
func trackOf(cam Camera, a, b symbol.Point, w int, more, less bool) track {
	x0, y0 := cam.Pixel(a)
	x1, y1 := cam.Pixel(b)
	t := track{width: w, level: math.Abs(y0-y1) < 0.01}
	from, to, across := y0, y1, x0
	if t.level {
		from, to, across = x0, x1, y0
	}
	t.across = int(math.Round(across - float64(w)/2))
	if from > to {
		from, to, more, less, t.back = to, from, less, more, true
	}
	t.from, t.to = int(math.Round(from)), int(math.Round(to))
	if less {
		t.from = int(math.Round(from - float64(w)/2))
	}
	if more {
		t.to = int(math.Round(to-float64(w)/2)) + w
	}
	t.to = max(t.to, t.from+1)
	return t
}

// Dashes that run along a pipe, in dp, and the least width of a pipe that they run along.
const (
	flowing    = 4.4
	dashOn     = 6
	dashPeriod = 19
	dashHeads  = 3 // every so many dashes one has an arrowhead
)

// stretched is how many times longer dashes are than usual at a scale, dp to a step: the lines of a sheet that fills a large screen, or is looked
// at closely, are long, and would hold thousands of them.
func stretched(scale float64) float64 { return min(max(scale/9, 1), 2) }

func (m *Motion) drawPipes(cam Camera, th *theme.Theme, look symbol.Look, g *airflow.Glance, view image.Rectangle) {
	hop := int(math.Round(symbol.HopRadius * cam.Scale))
	for i := range m.pipes {
		pipe, show := &m.pipes[i], &m.showing.pipes[i]
		pa := show.pressure(g)
		tier := symbol.PressureTier(pa)
		w := max(1, int(math.Round(symbol.LineWidth(look, pa, pipe.Pilot)*cam.Scale)))
		c := th.Sheet.Pressure(pa)
		flow := 0.0
		if show.flow >= 0 {
			flow = speed(g.Flow[show.flow])
		}
		if flow != 0 && !pipe.Pilot {
			w = max(w, int(math.Round(flowing*m.key.density))) // room for dashes inside
		}
		phase := m.run[i] * m.key.density
		done := 0.0 // length of the legs before, px
		for k := 0; k+1 < len(pipe.Corners); k++ {
			a, b := pipe.Corners[k], pipe.Corners[k+1]
			t := trackOf(cam, a, b, w, k+2 < len(pipe.Corners), k > 0)
			length := math.Hypot(b.X-a.X, b.Y-a.Y) * cam.Scale
			if t.rect(t.from, t.to, 0, w).Inset(-hop - w).Overlaps(view) {
				m.hops.find(pipe, k, cam, t, hop)
				if pipe.Pilot {
					m.pilot(&t, c, done, phase)
				} else {
					m.straight(&t, c)
				}
				m.drawHops(&t, c, tier, hop)
				if flow != 0 {
					m.dashes(th, &t, c, done, phase, flow, pipe.Pilot)
				}
			}
			done += length
		}
	}
}

// hopList is where the hops of one leg are, in pixels along its track, in order.
type hopList struct {
	at   []image.Point // X from, Y to
	foot int
}

func (h *hopList) find(pipe *symbol.Pipe, leg int, cam Camera, t track, foot int) {
	h.at, h.foot = h.at[:0], foot
	if foot < 3 {
		return // too small to be seen
	}
	x, y := cam.Pixel(pipe.Corners[leg])
	start, sign := y, 1.0
	if t.level {
		start = x
	}
	if t.back {
		sign = -1
	}
	for _, hop := range pipe.Hops {
		if hop.Leg != leg {
			continue
		}
		from, to := start+sign*hop.From*cam.Scale, start+sign*hop.To*cam.Scale
		if from > to {
			from, to = to, from
		}
		h.at = append(h.at, image.Pt(int(math.Round(from))+t.width/2, int(math.Round(to))+t.width/2))
	}
	if t.back {
		for i, j := 0, len(h.at)-1; i < j; i, j = i+1, j-1 {
			h.at[i], h.at[j] = h.at[j], h.at[i]
		}
	}
}

// clear says whether a stretch of the track is free of hops.
func (h *hopList) clear(from, to int) bool {
	for _, at := range h.at {
		if from < at.Y+h.foot && to > at.X-h.foot {
			return false
		}
	}
	return true
}

// straight draws a leg but for its hops.
func (m *Motion) straight(t *track, c color.NRGBA) {
	from := t.from
	for _, at := range m.hops.at {
		m.strokes.fill(t.rect(from, at.X-m.hops.foot, 0, t.width), c)
		from = at.Y + m.hops.foot
	}
	m.strokes.fill(t.rect(from, t.to, 0, t.width), c)
}

func (m *Motion) drawHops(t *track, c color.NRGBA, tier, foot int) {
	for _, at := range m.hops.at {
		m.strokes.hops = filled(m.strokes.hops, t.rect(at.X, at.Y, foot, t.width), c)
		m.quarter(t, c, tier, at.X-foot, false)
		m.quarter(t, c, tier, at.Y, true)
	}
}

// pilot draws a dashed leg. Its own dashes run with the air.
func (m *Motion) pilot(t *track, c color.NRGBA, done, phase float64) {
	on, off := symbol.PilotDash[0]*m.key.scale, symbol.PilotDash[1]*m.key.scale
	m.each(t, done, phase, on, on+off, func(from, to, _ int) {
		if m.hops.clear(from, to) {
			m.strokes.moving = filled(m.strokes.moving, t.rect(from, to, 0, t.width), c)
		}
	})
}

// each calls f for the dashes of a track: where each begins and ends along it, and its number.
func (m *Motion) each(t *track, done, phase, on, period float64, f func(from, to, n int)) {
	if period < 2 {
		period = 2
	}
	length := float64(t.to - t.from)
	// a dash begins where the distance along the pipe, less the phase, is a whole number of periods
	n := math.Ceil((done - phase - on) / period)
	for s := n*period + phase - done; s < length; s += period {
		a, b := max(0, s), min(length, s+on)
		if b-a >= 1 {
			if t.back {
				a, b = length-b, length-a
			}
			f(t.from+int(math.Round(a)), t.from+int(math.Round(b)), int(n))
		}
		n++
	}
}

// dashes run along a leg, in a colour that stands out from it.
func (m *Motion) dashes(th *theme.Theme, t *track, c color.NRGBA, done, phase, flow float64, pilot bool) {
	d := m.key.density
	ink := m.dashColor(th, c)
	on, period := dashOn*d*m.stretch, dashPeriod*d*m.stretch
	thin := max(1, int(math.Round(1.5*d)))
	if (t.width-thin)%2 != 0 {
		thin++ // in the middle
	}
	inset := (t.width - thin) / 2
	forward := (flow > 0) != t.back
	m.each(t, done, phase, on, period, func(from, to, n int) {
		if !m.hops.clear(from, to) {
			return
		}
		if !pilot {
			m.strokes.moving = filled(m.strokes.moving, t.rect(from, to, 0, thin).Add(t.shift(inset)), ink)
		}
		if to-from >= int(on)-1 && (n%dashHeads+dashHeads)%dashHeads == 0 {
			m.head(t, from, to, forward, th.Sheet.Ink)
		}
	})
}

// shift moves by so many pixels across.
func (t *track) shift(by int) image.Point {
	if t.level {
		return image.Pt(0, by)
	}
	return image.Pt(by, 0)
}

// head is an arrowhead over the middle of a track, a small picture that is drawn once for each way it can point.
func (m *Motion) head(t *track, from, to int, forward bool, c color.NRGBA) {
	half := max(3, int(math.Round(3.6*m.key.density)))
	key := spriteKey{width: half, foot: t.width & 1, level: t.level, falling: forward, tier: -2}
	img, ok := m.sprites[key]
	if !ok {
		img = m.picturelet(drawHead(c, half, t.width&1, t.level, forward))
		m.sprites[key] = img
	}
	along, across := to-half, t.across+(t.width-heightOf(half, t.width&1))/2
	if !forward {
		along = from - 1
	}
	where := image.Pt(along, across)
	if !t.level {
		where = image.Pt(across, along)
	}
	m.strokes.moving = stamped(m.strokes.moving, img, where)
}

// heightOf an arrowhead's base: odd on an odd track and even on an even one, so that it lies in the middle.
func heightOf(half, odd int) int { return 2*half + odd }

func drawHead(c color.NRGBA, half, odd int, level, forward bool) *image.RGBA {
	length, high := half+1, heightOf(half, odd)
	size := image.Pt(length, high)
	if !level {
		size = image.Pt(high, length)
	}
	img := image.NewRGBA(image.Rectangle{Max: size})
	base, tip := 0.0, float64(length)
	if !forward {
		base, tip = tip, base
	}
	points := []symbol.Point{{X: base, Y: 0}, {X: tip, Y: float64(high) / 2}, {X: base, Y: float64(high)}}
	if !level {
		for i, p := range points {
			points[i] = symbol.Point{X: p.Y, Y: p.X}
		}
	}
	symbol.NewRaster(img, 1, symbol.Point{}).Poly(points, true, symbol.Style{Fill: c})
	return img
}

// leastContrast of a dash against its line.
const leastContrast = 1.9

func (m *Motion) dashColor(th *theme.Theme, c color.NRGBA) color.NRGBA {
	// a light dash on all but the palest lines of the light theme: dark ones make a railway of it
	if symbol.Contrast(th.Sheet.Body, c) < leastContrast {
		return theme.Mix(th.Sheet.Ink, c, 0.15)
	}
	return theme.Mix(th.Sheet.Body, c, 0.15)
}
