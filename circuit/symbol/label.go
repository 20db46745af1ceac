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
// each again with all others in place, until nothing changes. A name that is then still badly off may push one other out of
// a better place, if both together are better off for it.
func (sh *Sheet) placeLabels(look Look) []label {
	if look.detail() == Bare {
		return nil
	}
	p := placing{margin: look.dp(1.5)}
	for i := range sh.parts {
		part := &sh.parts[i]
		if part.comp.Name == "" || part.drawing.Minor && look.detail() != Full {
			continue
		}
		if c := sh.labelChoices(i, look); len(c) > 0 {
			p.choices = append(p.choices, c)
		}
	}
	p.taken = make([]int, len(p.choices))
	for pass := range 8 {
		changed := false
		for i := range p.choices {
			among := len(p.choices)
			if pass == 0 {
				among = i
			}
			if at, _ := p.best(i, among, -1); pass == 0 || at != p.taken[i] {
				p.taken[i], changed = at, true
			}
		}
		for i := range p.choices {
			changed = pass > 0 && p.push(i) || changed
		}
		if !changed {
			break
		}
	}
	labels := make([]label, len(p.choices))
	for i := range labels {
		labels[i] = p.choices[i][p.taken[i]].label
	}
	return labels
}

// A placing is the choosing of places under way.
type placing struct {
	choices [][]choice // by label
	taken   []int      // which of its choices each label has
	margin  float64    // kept between labels
}

// cost of choice j of label i beside the first few labels, one left out.
func (p *placing) cost(i, j, among, without int, most float64) float64 {
	c := &p.choices[i][j]
	cost := c.cost
	for k := 0; k < among && cost < most; k++ {
		if k != i && k != without {
			cost += coverCost * overlap(p.choices[k][p.taken[k]].box.Grow(p.margin), c.box)
		}
	}
	return cost
}

// best choice of label i and its cost.
func (p *placing) best(i, among, without int) (at int, cost float64) {
	cost = math.Inf(1)
	for j := range p.choices[i] {
		if c := p.cost(i, j, among, without, cost); c < cost {
			at, cost = j, c
		}
	}
	return at, cost
}

// badlyOff is the cost from which a label may push another: it covers something.
const badlyOff = 3

// push moves label i to a place that another label has, if that one finds a place good enough elsewhere.
func (p *placing) push(i int) bool {
	n := len(p.choices)
	own := p.cost(i, p.taken[i], n, -1, math.Inf(1))
	if own < badlyOff {
		return false
	}
	for k := range n {
		if k == i {
			continue
		}
		mine, without := p.best(i, n, k)
		if without > own-1 || overlap(p.choices[k][p.taken[k]].box.Grow(p.margin), p.choices[i][mine].box) == 0 {
			continue
		}
		other := p.cost(k, p.taken[k], n, i, math.Inf(1))
		before := p.taken[i]
		p.taken[i] = mine
		theirs, moved := p.best(k, n, -1)
		if without+moved < own+other-0.5 {
			p.taken[k] = theirs
			return true
		}
		p.taken[i] = before
	}
	return false
}

// A choice is a place that a label may take, and what it costs by itself.
type choice struct {
	label
	cost float64
}

// What a label's place costs.
const (
	coverCost  = 60   // an area of symbol or other label
	crossCost  = 6    // a length of line
	offCost    = 2000 // off the sheet
	brokenCost = 0.35 // a further line of text
	slideCost  = 0.06 // a step away from the middle of a side
	awayCost   = 0.5  // a step away from the symbol
)

// labelChoices are the places that a name may take: inside, or below, above and beside, slid along that side; on one line
// or several.
func (sh *Sheet) labelChoices(part int, look Look) []choice {
	p := &sh.parts[part]
	size := look.text(normalType)
	if p.drawing.Inside != (Box{}) {
		return insideChoice(p, part, size)
	}
	gap := 0.3 + size*0.12
	if look.detail() == Full {
		gap += min(look.text(smallType), 1.25) // the digits of the ports stand there
	}
	var out []choice
	for n, lines := range brokenLines(p.comp.Name) {
		w := 0.0
		for _, l := range lines {
			w = max(w, size*typeface.Width(l, false))
		}
		rows := len(lines)
		if p.drawing.Dial {
			rows++
		}
		h := float64(rows) * size * lineHeight
		add := func(min Point, a Anchor, cost float64) {
			l := label{part: part, lines: lines, anchor: a, value: p.drawing.Dial, box: Box{min, Point{X: min.X + w, Y: min.Y + h}}}
			out = append(out, choice{l, cost + brokenCost*float64(n) + sh.labelCost(&l)})
		}
		for away := range 3 {
			b := p.box.Grow(gap + float64(away))
			mid := b.Center()
			base := awayCost * float64(away)
			for slide := 0.0; slide <= (w+p.box.Width())/2; slide++ {
				for _, s := range []float64{slide, -slide} {
					a := Middle
					if s > 0.5 {
						a = Start
					} else if s < -0.5 {
						a = End
					}
					add(Point{X: mid.X - w/2 + s, Y: b.Max.Y}, a, base+slideCost*slide)
					add(Point{X: mid.X - w/2 + s, Y: b.Min.Y - h}, a, base+0.2+slideCost*slide)
					if slide == 0 {
						break
					}
				}
			}
			for slide := 0.0; slide <= (h+p.box.Height())/2; slide += 0.5 {
				for _, s := range []float64{slide, -slide} {
					add(Point{X: b.Max.X, Y: mid.Y - h/2 + s}, Start, base+0.3+slideCost*slide)
					add(Point{X: b.Min.X - w, Y: mid.Y - h/2 + s}, End, base+0.4+slideCost*slide)
					if slide == 0 {
						break
					}
				}
			}
		}
	}
	return out
}

// insideChoice is the one place of a name that is only written inside its symbol, if it fits there.
func insideChoice(p *part, part int, size float64) []choice {
	a, b := p.drawing.turned(p.drawing.Inside.Min, p.comp.Turn), p.drawing.turned(p.drawing.Inside.Max, p.comp.Turn)
	room := boxAround([]Point{
		{X: p.box.Min.X + a.X, Y: p.box.Min.Y + a.Y}, {X: p.box.Min.X + b.X, Y: p.box.Min.Y + b.Y},
	})
	mid, w, h := room.Center(), size*typeface.Width(p.comp.Name, false), size*lineHeight
	box := Box{Point{X: mid.X - w/2, Y: mid.Y - h/2}, Point{X: mid.X + w/2, Y: mid.Y + h/2}}
	if box.Width() > room.Width() || box.Height() > room.Height() {
		return nil
	}
	return []choice{{label: label{part: part, lines: []string{p.comp.Name}, anchor: Middle, box: box}}}
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

// labelCost of a place: what it covers.
func (sh *Sheet) labelCost(l *label) float64 {
	cost := 0.0
	for i := range sh.parts {
		cost += coverCost * overlap(sh.parts[i].box.Grow(0.2), l.box)
	}
	tight := l.box.Grow(0.3)
	for i := range sh.lines {
		r := &sh.lines[i]
		for j := range len(r.points) - 1 {
			cost += crossCost * lengthInside(r.points[j], r.points[j+1], tight)
		}
	}
	s := sh.bounds
	if l.box.Min.X < s.Min.X || l.box.Min.Y < s.Min.Y || l.box.Max.X > s.Max.X || l.box.Max.Y > s.Max.Y {
		cost += offCost
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
