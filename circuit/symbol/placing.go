package symbol

import (
	"cmp"
	"math"
	"slices"

	"airpath/circuit"
)

// placeLabels puts every name beside its symbol where it covers nothing: first one after the other in file order, then
// each again with all others in place, until nothing changes. A name that is then still badly off may push others out of
// a better place, and these others again, if all together are better off for it. Where there is no room even so, as on a long
// vehicle seen whole, names are left out, first those of rods and brakes, which are told by where they are, last those of what is
// worked or read in the cab; among equals those of the smallest symbols. They come back a step closer; until then they have letters.
func (sh *Sheet) placeLabels(look Look) []label {
	if look.detail() == Bare {
		return nil
	}
	p := placing{margin: look.dp(4)}
	for i := range sh.parts {
		part := &sh.parts[i]
		if part.comp.Name == "" || part.drawing.Minor && look.detail() != Full {
			continue
		}
		if c := sh.labelChoices(i, look); len(c) > 0 {
			p.choices = append(p.choices, fewest(c, mostChoices))
		}
	}
	p.taken = make([]int, len(p.choices))
	p.survey()
	for i := range p.choices {
		p.taken[i], _ = p.best(i, i)
	}
	for range mostPasses {
		if !p.settle() && !p.pushAll() {
			break
		}
	}
	if look.detail() == Names {
		p.letter(sh, look, p.thinOut(sh))
	}
	labels := make([]label, len(p.choices))
	for i := range labels {
		labels[i] = p.choices[i][p.taken[i]].label
	}
	return labels
}

// letter the parts whose names had no room, in the order in which one reads the sheet.
func (p *placing) letter(sh *Sheet, look Look, out []int) {
	slices.SortFunc(out, func(a, b int) int {
		x, y := sh.parts[a].box.Min, sh.parts[b].box.Min
		return cmp.Or(cmp.Compare(x.X, y.X), cmp.Compare(x.Y, y.Y), cmp.Compare(a, b))
	})
	for k, part := range out {
		choices := fewest(sh.choicesOf(part, look, [][]string{{Letter(k + 1)}}, false), mostChoices)
		if len(choices) == 0 {
			continue
		}
		for i := range choices {
			choices[i].letter = k + 1
		}
		p.choices, p.taken = append(p.choices, choices), append(p.taken, 0)
		p.survey()
		last := len(p.choices) - 1
		p.taken[last], _ = p.best(last, last)
	}
}

// thinOut leaves out names until none covers anything, and then puts back those that have room after all. It tells the parts that are
// left without.
func (p *placing) thinOut(sh *Sheet) (without []int) {
	weight := func(c []choice) float64 { return sh.parts[c[0].part].weight() }
	var out [][]choice
	for {
		victim := -1
		for i := range p.choices {
			if p.cost(i, p.taken[i], len(p.choices), math.Inf(1)) < badlyOff {
				continue
			}
			if victim < 0 || weight(p.choices[i]) < weight(p.choices[victim]) {
				victim = i
			}
		}
		if victim < 0 {
			break
		}
		out = append(out, p.choices[victim])
		p.choices, p.taken = slices.Delete(p.choices, victim, victim+1), slices.Delete(p.taken, victim, victim+1)
		p.survey()
		p.settle()
	}
	slices.SortStableFunc(out, func(a, b []choice) int { return cmp.Compare(weight(b), weight(a)) })
	for _, c := range out {
		p.choices, p.taken = append(p.choices, c), append(p.taken, 0)
		p.survey()
		last := len(p.choices) - 1
		before := slices.Clone(p.taken)
		p.taken[last], _ = p.best(last, last)
		if p.cost(last, p.taken[last], last, math.Inf(1)) >= badlyOff {
			p.push(last)
		}
		if p.crowded() {
			copy(p.taken, before)
			p.choices, p.taken = p.choices[:last], p.taken[:last]
			p.survey()
			without = append(without, c[0].part)
		}
	}
	return without
}

// weight of a part's name where not all have room.
func (p *part) weight() float64 {
	size := p.box.Width() * p.box.Height()
	air := false
	for _, spec := range p.comp.Kind.Ports {
		air = air || spec.Medium == circuit.Air
	}
	switch {
	case p.comp.Place == "cab":
		size += 2000
	case air:
		size += 1000
	}
	return size
}

// crowded tells whether a label covers something.
func (p *placing) crowded() bool {
	for i := range p.choices {
		if p.cost(i, p.taken[i], len(p.choices), math.Inf(1)) >= badlyOff {
			return true
		}
	}
	return false
}

// How hard is tried.
const (
	mostChoices = 80 // places of one label
	mostPasses  = 8
	pushDepth   = 4 // a pushed label may push a further one, and so on
	badlyOff    = 3 // the cost from which a label may push: it covers something
)

// A placing is the choosing of places under way.
type placing struct {
	choices [][]choice // by label
	taken   []int      // which of its choices each label has
	margin  float64    // kept between labels
	near    [][]int    // by label: those that it may come to cover, in order
}

// survey finds the labels that may cover one another. Most lie far apart, and need not be looked at again and again.
func (p *placing) survey() {
	reach := make([]Box, len(p.choices))
	for i, choices := range p.choices {
		reach[i] = choices[0].box
		for _, c := range choices[1:] {
			reach[i] = reach[i].Union(c.box)
		}
	}
	p.near = slices.Grow(p.near[:0], len(reach))[:len(reach)]
	for i := range reach {
		p.near[i] = p.near[i][:0]
		for k := range reach {
			if k != i && overlap(reach[k].Grow(p.margin), reach[i]) > 0 {
				p.near[i] = append(p.near[i], k)
			}
		}
	}
}

// between is what it costs that choice j of label i and the place of label k overlap.
func (p *placing) between(i, j, k int) float64 {
	return coverCost * overlap(p.choices[k][p.taken[k]].box.Grow(p.margin), p.choices[i][j].box)
}

// cost of choice j of label i beside the first few labels; it may stop counting at most.
func (p *placing) cost(i, j, among int, most float64) float64 {
	cost := p.choices[i][j].cost
	for _, k := range p.near[i] {
		if k >= among || cost >= most {
			break
		}
		cost += p.between(i, j, k)
	}
	return cost
}

// best choice of label i and its cost.
func (p *placing) best(i, among int) (at int, cost float64) {
	cost = math.Inf(1)
	for j := range p.choices[i] {
		if c := p.cost(i, j, among, cost); c < cost {
			at, cost = j, c
		}
	}
	return at, cost
}

// settle gives every label its best place beside the others as they are; it tells whether any moved.
func (p *placing) settle() (moved bool) {
	for i := range p.choices {
		if at, _ := p.best(i, len(p.choices)); at != p.taken[i] {
			p.taken[i], moved = at, true
		}
	}
	return moved
}

// total cost of all places, each pair counted once.
func (p *placing) total() float64 {
	sum := 0.0
	for i := range p.choices {
		sum += p.cost(i, p.taken[i], i, math.Inf(1))
	}
	return sum
}

// pushAll lets every label that is badly off push; it tells whether any did.
func (p *placing) pushAll() (moved bool) {
	for i := range p.choices {
		if p.cost(i, p.taken[i], len(p.choices), math.Inf(1)) >= badlyOff {
			moved = p.push(i) || moved
		}
	}
	return moved
}

// push tries every place of label i that is good by itself, moves out of the way what stands there, and keeps what makes
// all together best off.
func (p *placing) push(i int) bool {
	before := slices.Clone(p.taken)
	least, kept := p.total()-0.5, []int(nil)
	for j := range p.choices[i] {
		if p.choices[i][j].cost >= badlyOff {
			continue
		}
		copy(p.taken, before)
		p.taken[i] = j
		p.makeWay(i, []int{i})
		if t := p.total(); t < least {
			least, kept = t, slices.Clone(p.taken)
		}
	}
	if kept == nil {
		copy(p.taken, before)
		return false
	}
	copy(p.taken, kept)
	return true
}

// makeWay moves the labels that label i now covers to their best places, then those that these cover; the fixed ones stay.
func (p *placing) makeWay(i int, fixed []int) {
	for _, k := range p.near[i] {
		if slices.Contains(fixed, k) || p.between(i, p.taken[i], k) == 0 {
			continue
		}
		at, cost := math.MaxInt, math.Inf(1)
		for j := range p.choices[k] {
			c := p.choices[k][j].cost
			for _, f := range fixed {
				c += p.between(k, j, f)
			}
			// What is not fixed may be pushed on, at a price.
			for _, m := range p.near[k] {
				if !slices.Contains(fixed, m) && p.between(k, j, m) > 0 {
					c += badlyOff
				}
			}
			if c < cost {
				at, cost = j, c
			}
		}
		p.taken[k] = at
		if len(fixed) < pushDepth {
			p.makeWay(k, append(slices.Clone(fixed), k))
		}
	}
}
