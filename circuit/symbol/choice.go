package symbol

import (
	"math"
	"slices"
	"strings"

	"airpath/circuit/symbol/typeface"
)

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
	ventCost   = 0.8  // before a vent, where air is seen to blow
)

// labelChoices are the places that a name may take: inside, or below, above and beside, slid along that side; on one line
// or several.
func (sh *Sheet) labelChoices(part int, look Look) []choice {
	return sh.choicesOf(part, look, brokenLines(sh.parts[part].comp.Name), sh.parts[part].drawing.Dial)
}

// choicesOf are the places of some words, set in one of several ways, and of a value under them.
func (sh *Sheet) choicesOf(part int, look Look, ways [][]string, value bool) []choice {
	p := &sh.parts[part]
	size := look.text(normalType)
	if p.drawing.Inside != (Box{}) {
		return insideChoice(p, part, size)
	}
	gap := 0.5 + size*0.12
	if look.detail() == Full {
		gap += min(look.text(smallType), 1.25) // the digits of the ports stand there
	}
	around := sh.around(part, size)
	var out []choice
	for n, lines := range ways {
		w := 0.0
		for _, l := range lines {
			w = max(w, size*typeface.Width(l, false))
		}
		rows := len(lines)
		if value {
			rows++
		}
		h := float64(rows) * size * lineHeight
		add := func(min Point, a Anchor, cost float64) {
			l := label{part: part, lines: lines, anchor: a, value: value, box: Box{min, Point{X: min.X + w, Y: min.Y + h}}}
			out = append(out, choice{l, cost + brokenCost*float64(n) + around.cost(l.box)})
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

// surroundings are what a part's label might cover: looked up once for all its places.
type surroundings struct {
	sheet Box
	boxes []Box
	legs  []Box // a leg is a box without a width
	vents []Box // where air blows out
}

// around a part, as far as its label may reach.
func (sh *Sheet) around(part int, size float64) surroundings {
	p := &sh.parts[part]
	reach := p.box.Grow(4 + size*(2+typeface.Width(p.comp.Name, false)))
	s := surroundings{sheet: sh.bounds}
	for i := range sh.parts {
		if b := sh.parts[i].box.Grow(0.2); b.Overlaps(reach) {
			s.boxes = append(s.boxes, b)
			s.vents = sh.parts[i].blows(s.vents, size)
		}
	}
	for i := range sh.lines {
		points := sh.lines[i].points
		for j := range len(points) - 1 {
			if leg := boxAround(points[j : j+2]); reach.Overlaps(leg.Grow(0.01)) {
				s.legs = append(s.legs, leg)
			}
		}
	}
	return s
}

// blows adds where air is seen to come out of a part's vents, in type of a size.
func (p *part) blows(to []Box, size float64) []Box {
	for _, spec := range p.comp.Kind.Ports {
		place, ok := p.ports[spec.Name]
		if !ok || !spec.Vent {
			continue
		}
		v := p.onSheet(place)
		out := v.Out.Step()
		to = append(to, boxAround([]Point{v.At, {X: v.At.X + out.X*1.3*size, Y: v.At.Y + out.Y*1.3*size}}).Grow(0.5*size))
	}
	return to
}

// cost of a label's place by what it covers.
func (s *surroundings) cost(box Box) float64 {
	cost := 0.0
	for _, b := range s.boxes {
		cost += coverCost * overlap(b, box)
	}
	if cost < coverCost { // what covers a symbol is not chosen for the lines that it leaves free
		tight := box.Grow(0.3)
		for _, l := range s.legs {
			cost += crossCost * lengthInside(l.Min, l.Max, tight)
		}
	}
	for _, b := range s.vents {
		if b.Overlaps(box) {
			cost += ventCost
		}
	}
	if box.Min.X < s.sheet.Min.X || box.Min.Y < s.sheet.Min.Y || box.Max.X > s.sheet.Max.X || box.Max.Y > s.sheet.Max.Y {
		cost += offCost
	}
	return cost
}

// fewest keeps the cheapest places in their order: more are never needed to get out of one another's way.
func fewest(choices []choice, n int) []choice {
	if len(choices) <= n {
		return choices
	}
	costs := make([]float64, len(choices))
	for i := range choices {
		costs[i] = choices[i].cost
	}
	slices.Sort(costs)
	most := costs[n-1]
	out := choices[:0]
	for _, c := range choices {
		if c.cost <= most && len(out) < n {
			out = append(out, c)
		}
	}
	return out
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
