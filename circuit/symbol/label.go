package symbol

import (
	"math"
	"slices"
	"sync"
)

// A label is a component's name, where it was placed.
type label struct {
	part   int
	lines  []string
	box    Box
	anchor Anchor
	value  bool // there is room for a value under the name
	letter int  // counted from 1, it stands for the name, which had no room; 0 for none
}

// labelCache keeps the placements of the scales last used: placing takes some milliseconds, zooming changes the scale at
// every step, and coming back to a scale must give the same picture.
type labelCache struct {
	lock   sync.Mutex
	placed map[labelKey][]label
}

type labelKey struct {
	step   int // of the scale, a twelfth of an octave each
	text   float64
	detail Detail

	letters bool
}

const scaleStepsPerOctave = 12

// placedLabels returns the labels for a look. They are placed for the next smaller step of scale, where type takes more
// room, so that they have room enough at this one.
func (sh *Sheet) placedLabels(look Look) []label {
	key := labelKey{int(math.Floor(math.Log2(look.Scale) * scaleStepsPerOctave)), look.TextScale, look.detail(), look.Letters}
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
	key.letters = true // letters take what room is left: without them the names stand as they do with them
	all := sh.placeLabels(look)
	sh.labels.placed[key] = all
	key.letters = false
	sh.labels.placed[key] = slices.DeleteFunc(slices.Clone(all), func(l label) bool { return l.letter > 0 })
	key.letters = look.Letters
	return sh.labels.placed[key]
}

// lineHeight of labels as a share of their size.
const lineHeight = 1.16

// names draws the labels.
func (v *view) names() {
	labels := v.sh.placedLabels(v.look)
	if len(labels) == 0 {
		return
	}
	v.s.Begin("names", "names")
	defer v.s.End()
	gone := v.arranged().gone
	for i, l := range labels {
		if !v.shown(l.box) || gone[i] {
			continue
		}
		p := &v.sh.parts[l.part]
		x, top, font := v.lettering(&l)
		if _, suspect := v.marks.Suspect[p.comp.ID]; suspect && !v.marks.Cleared[p.comp.ID] {
			// A heavy outline reaches under the name beside it: the name keeps its paper.
			plate := v.look.Palette.Paper
			plate.A = 0xe0
			v.s.Poly(corners(Point{X: l.box.Min.X, Y: top}, Point{X: l.box.Max.X, Y: top + v.heightOf(&l)}), true, Style{Fill: plate})
		}
		for i, text := range l.lines {
			v.s.Text(Point{X: x, Y: v.baseline(top, i, font)}, text, font)
		}
		if l.value {
			if pa := v.needle(p); !math.IsNaN(pa) {
				at, font := v.valueOf(&l)
				v.s.Text(at, v.look.pressureText(pa), font)
			}
		}
	}
}

// heightOf a label at this scale: its lines, and its value where there is room for one.
func (v *view) heightOf(l *label) float64 {
	n := len(l.lines)
	if l.value {
		n++
	}
	return float64(n) * v.look.text(normalType) * lineHeight
}

// lettering of a label: where its lines are anchored, its upper edge, and how they look.
func (v *view) lettering(l *label) (x, top float64, font Font) {
	pal := v.look.Palette
	p := &v.sh.parts[l.part]
	font = Font{Size: v.look.text(normalType), Color: pal.Ink, Anchor: l.anchor}
	if p.drawing.Minor {
		font.Size, font.Color = v.look.text(smallType), pal.Faint
	}
	if v.marks.Cleared[p.comp.ID] {
		font.Color = pal.ClearedText
	}
	if p.comp.ID == v.marks.Selected || l.letter > 0 {
		font.Bold = true
	}
	x = l.box.Min.X
	switch l.anchor {
	case Middle:
		x = l.box.Center().X
	case End:
		x = l.box.Max.X
	}
	// The box may be a little taller than the text at this scale: keep to its edge beside the symbol.
	h := v.heightOf(l)
	top = l.box.Min.Y
	switch {
	case l.box.Max.Y <= p.box.Min.Y:
		top = l.box.Max.Y - h
	case l.box.Min.Y < p.box.Max.Y:
		top = l.box.Center().Y - h/2
	}
	return x, top, font
}

// baseline of a line of a label.
func (v *view) baseline(top float64, line int, font Font) float64 {
	return top + (float64(line)+0.5)*v.look.text(normalType)*lineHeight + font.Size*capHalf
}

// valueOf a label is written under its lines.
func (v *view) valueOf(l *label) (at Point, font Font) {
	x, top, font := v.lettering(l)
	at = Point{X: x, Y: v.baseline(top, len(l.lines), font)}
	font.Bold = true
	return at, font
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
