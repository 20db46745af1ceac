package symbol

import (
	"math"
	"strings"
	"sync"

	"airpath/circuit/symbol/typeface"
)

// A label is a component's name, where it was placed.
type label struct {
	part   int
	lines  []string
	box    Box
	anchor Anchor
	value  bool // there is room for a value under the name
}

// labelCache keeps the placements of the scales last used: placing takes some milliseconds, zooming changes the scale at
// every step, and coming back to a scale must give the same picture.
type labelCache struct {
	lock   sync.Mutex
	placed map[labelKey][]label
}

type labelKey struct {
	step   int // of the scale, a sixth of an octave each
	text   float64
	detail Detail
}

const scaleStepsPerOctave = 6

// placedLabels returns the labels for a look. They are placed for the next smaller step of scale, where type takes more
// room, so that they have room enough at this one.
func (sh *Sheet) placedLabels(look Look) []label {
	key := labelKey{int(math.Floor(math.Log2(look.Scale) * scaleStepsPerOctave)), look.TextScale, look.detail()}
	sh.labels.lock.Lock()
	defer sh.labels.lock.Unlock()
	if l, ok := sh.labels.placed[key]; ok {
		return l
	}
	if sh.labels.placed == nil || len(sh.labels.placed) > 40 {
		sh.labels.placed = map[labelKey][]label{}
	}
	look.Detail = key.detail
	look.Scale = math.Exp2(float64(key.step) / scaleStepsPerOctave)
	l := sh.placeLabels(look)
	sh.labels.placed[key] = l
	return l
}

// lineHeight of labels as a share of their size.
const lineHeight = 1.16

// placeLabels puts every name beside its symbol where it covers nothing: first one after the other in file order, then
// each again with all others in place, until nothing changes.
func (sh *Sheet) placeLabels(look Look) []label {
	if look.detail() == Bare {
		return nil
	}
	var labels []label
	var choices [][]label
	for i := range sh.parts {
		p := &sh.parts[i]
		if p.comp.Name == "" || p.drawing.Minor && look.detail() != Full {
			continue
		}
		c := sh.labelChoices(i, look.text(normalType))
		labels = append(labels, label{})
		choices = append(choices, c)
	}
	for pass := range 6 {
		changed := false
		for i := range labels {
			best, at := math.Inf(1), 0
			for j := range choices[i] {
				c := &choices[i][j]
				cost := sh.labelCost(c, j)
				for k := range labels {
					if k != i && (k < i || pass > 0) {
						cost += 60 * overlap(labels[k].box.Grow(look.dp(1)), c.box)
					}
				}
				if cost < best {
					best, at = cost, j
				}
			}
			if pass == 0 || labels[i].box != choices[i][at].box {
				labels[i], changed = choices[i][at], true
			}
		}
		if !changed {
			break
		}
	}
	return labels
}

// labelChoices are the places that a name may take: below, above, beside, at the corners; on one line or several.
func (sh *Sheet) labelChoices(part int, size float64) []label {
	p := &sh.parts[part]
	gap := 0.3 + size*0.12
	b := p.box.Grow(gap)
	mid := b.Center()
	var out []label
	for _, lines := range brokenLines(p.comp.Name) {
		w := 0.0
		for _, l := range lines {
			w = max(w, size*typeface.Width(l, false))
		}
		n := len(lines)
		if p.drawing.Dial {
			n++
		}
		h := float64(n) * size * lineHeight
		add := func(x, y float64, a Anchor) {
			box := Box{Point{X: x, Y: y}, Point{X: x + w, Y: y + h}}
			switch a {
			case Middle:
				box.Min.X, box.Max.X = x-w/2, x+w/2
			case End:
				box.Min.X, box.Max.X = x-w, x
			}
			out = append(out, label{part: part, lines: lines, box: box, anchor: a, value: p.drawing.Dial})
		}
		add(mid.X, b.Max.Y, Middle)
		add(mid.X, b.Min.Y-h, Middle)
		add(b.Max.X, mid.Y-h/2, Start)
		add(b.Min.X, mid.Y-h/2, End)
		for _, y := range []float64{b.Max.Y, b.Min.Y - h} {
			add(p.box.Min.X, y, Start)
			add(p.box.Max.X, y, End)
			add(mid.X+gap+0.4, y, Start)
			add(mid.X-gap-0.4, y, End)
		}
		for _, y := range []float64{p.box.Min.Y, p.box.Max.Y - h, b.Min.Y - h/2, b.Max.Y - h/2, mid.Y + 0.6, mid.Y - 0.6 - h} {
			add(b.Max.X, y, Start)
			add(b.Min.X, y, End)
		}
	}
	return out
}

// brokenLines are the ways to set a name: as it is, and broken at spaces into two and three lines as even as can be.
func brokenLines(name string) [][]string {
	words := strings.Fields(name)
	out := [][]string{{strings.Join(words, " ")}}
	for parts := 2; parts <= 3 && parts <= len(words); parts++ {
		out = append(out, evenly(words, parts))
	}
	return out
}

func evenly(words []string, parts int) []string {
	if parts == 1 {
		return []string{strings.Join(words, " ")}
	}
	var best []string
	width := math.Inf(1)
	for i := 1; i <= len(words)-parts+1; i++ {
		try := append([]string{strings.Join(words[:i], " ")}, evenly(words[i:], parts-1)...)
		w := 0.0
		for _, l := range try {
			w = max(w, typeface.Width(l, false))
		}
		if w < width-1e-9 {
			best, width = try, w
		}
	}
	return best
}

// labelCost of a place: what it covers, and how far down the list of preferences it stands.
func (sh *Sheet) labelCost(l *label, rank int) float64 {
	cost := 0.03 * float64(rank)
	for i := range sh.parts {
		cost += 60 * overlap(sh.parts[i].box.Grow(0.2), l.box)
	}
	tight := l.box.Grow(0.25)
	for i := range sh.lines {
		r := &sh.lines[i]
		for j := range len(r.points) - 1 {
			cost += 6 * lengthInside(r.points[j], r.points[j+1], tight)
		}
	}
	s := sh.bounds
	if l.box.Min.X < s.Min.X || l.box.Min.Y < s.Min.Y || l.box.Max.X > s.Max.X || l.box.Max.Y > s.Max.Y {
		cost += 200
	}
	return cost
}

// overlap area of two boxes.
func overlap(a, b Box) float64 {
	w := min(a.Max.X, b.Max.X) - max(a.Min.X, b.Min.X)
	h := min(a.Max.Y, b.Max.Y) - max(a.Min.Y, b.Min.Y)
	if w <= 0 || h <= 0 {
		return 0
	}
	return w*h + 0.5
}

// lengthInside is how much of an upright or level leg lies in a box.
func lengthInside(a, b Point, box Box) float64 {
	lo := Point{X: max(min(a.X, b.X), box.Min.X), Y: max(min(a.Y, b.Y), box.Min.Y)}
	hi := Point{X: min(max(a.X, b.X), box.Max.X), Y: min(max(a.Y, b.Y), box.Max.Y)}
	if lo.X > hi.X || lo.Y > hi.Y {
		return 0
	}
	return hi.X - lo.X + hi.Y - lo.Y + 0.2
}

// names draws the labels.
func (v *view) names() {
	labels := v.sh.placedLabels(v.look)
	if len(labels) == 0 {
		return
	}
	pal := v.look.Palette
	size := v.look.text(normalType)
	v.s.Begin("names", "names")
	defer v.s.End()
	for _, l := range labels {
		if !v.shown(l.box) {
			continue
		}
		p := &v.sh.parts[l.part]
		font := Font{Size: size, Color: pal.Ink, Anchor: l.anchor}
		if p.drawing.Minor {
			font.Size, font.Color = v.look.text(smallType), pal.Faint
		}
		if v.marks.Cleared[p.comp.ID] {
			font.Color = pal.ClearedText
		}
		if p.comp.ID == v.marks.Selected {
			font.Bold = true
		}
		x := l.box.Min.X
		switch l.anchor {
		case Middle:
			x = l.box.Center().X
		case End:
			x = l.box.Max.X
		}
		lines := l.lines
		n := len(lines)
		value := ""
		if l.value {
			n++
			if pa := v.needle(p); !math.IsNaN(pa) {
				value = v.look.pressureText(pa)
			}
		}
		// The box may be a little taller than the text at this scale: keep to its edge beside the symbol.
		h := float64(n) * size * lineHeight
		y := l.box.Min.Y
		switch {
		case l.box.Max.Y <= p.box.Min.Y:
			y = l.box.Max.Y - h
		case l.box.Min.Y < p.box.Max.Y:
			y = l.box.Center().Y - h/2
		}
		baseline := func(i int) float64 { return y + (float64(i)+0.5)*size*lineHeight + font.Size*capHalf }
		for i, text := range lines {
			v.s.Text(Point{X: x, Y: baseline(i)}, text, font)
		}
		if value != "" {
			font.Bold = true
			v.s.Text(Point{X: x, Y: baseline(len(lines))}, value, font)
		}
	}
}

// needle is what a dial shows, NaN when not known.
func (v *view) needle(p *part) float64 {
	if s, ok := v.marks.State[p.comp.ID]; ok && s.Needle != 0 {
		return s.Needle
	}
	for _, spec := range p.comp.Kind.Ports {
		if spec.Room != "" {
			return v.pressureOf(p.comp.ID, spec.Room)
		}
	}
	return math.NaN()
}
