package reason

import "slices"

// A Repair is something that is done in the hope that it mends: exchanging or adjusting a part.
type Repair struct {
	Cost  float64   // minutes or money
	Mends []float64 // chance of mending, for each cause
}

// RepairOrder tries next what mends most per cost among the causes still standing, which is the best order for one
// fault and independent actions (each cause mended by one action; else a good order). It returns the order and the
// expected cost until the fault is mended, trying further only while it isn't. Repairs that can mend nothing more are left out.
func RepairOrder(causes []float64, repairs []Repair) (order []int, cost float64) {
	left := slices.Clone(causes)
	standing := 0.0
	for _, c := range causes {
		standing += c
	}
	used := make([]bool, len(repairs))
	for {
		best, worth := -1, 0.0
		for i, r := range repairs {
			if used[i] {
				continue
			}
			p := 0.0
			for c, l := range left {
				p += l * r.Mends[c]
			}
			if w := p / r.Cost; w > worth {
				best, worth = i, w
			}
		}
		if best < 0 {
			return order, cost
		}
		used[best] = true
		order = append(order, best)
		cost += standing * repairs[best].Cost
		standing = 0
		for c := range left {
			left[c] *= 1 - repairs[best].Mends[c]
			standing += left[c]
		}
	}
}
