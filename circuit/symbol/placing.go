package symbol

import "math"

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
			p.choices = append(p.choices, fewest(c, 80))
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
