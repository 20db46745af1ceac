package trace

import (
	"math"
	"slices"

	"airpath/trace/reason"
)

// A joint is several readings of one procedure taken together. They are independent once the fault is known.
type joint struct {
	open    []outcomes
	taken   []int       // of the open ones, in the order in which they were taken
	of      []int       // by live hypothesis: its class, of those that make the same of every open reading
	class   [][]int     // by class: its sort in each open reading
	weights []float64   // of the classes
	noise   [][]float64 // by open reading and sort: entropy of its row
	rows    [][]float64 // by class: chances of the outcomes of those taken together
	stays   []float64   // by class: entropy of that
	split   []float64   // scratch
}

func join(open []outcomes) *joint {
	j := &joint{open: open, split: make([]float64, mostJoint)}
	if len(open) == 0 {
		return j
	}
	j.of = make([]int, len(open[0].sorts.of))
	classes := 1
	var index []int
	for k := range open { // classes are parted by one reading after the other
		n := len(open[k].rows)
		index = slices.Grow(index[:0], classes*n)[:classes*n]
		clear(index)
		classes = 0
		for i, s := range open[k].sorts.of {
			at := &index[j.of[i]*n+s]
			if *at == 0 {
				classes++
				*at = classes
			}
			j.of[i] = *at - 1
		}
	}
	j.class, j.rows = make([][]int, classes), make([][]float64, classes)
	memory, one := make([]int, 0, classes*len(open)), []float64{1}
	for i, c := range j.of {
		if j.class[c] != nil {
			continue
		}
		at := len(memory)
		for k := range open {
			memory = append(memory, open[k].sorts.of[i])
		}
		j.class[c], j.rows[c] = memory[at:], one
	}
	j.weights, j.stays = make([]float64, len(j.class)), make([]float64, len(j.class))
	for k := range open {
		noise := make([]float64, len(open[k].rows))
		for s, row := range open[k].rows {
			noise[s] = reason.Entropy(row)
		}
		j.noise = append(j.noise, noise)
	}
	return j
}

// weigh the classes by the field.
func (j *joint) weigh(field []live) {
	for i, c := range j.of {
		j.weights[c] += field[i].weight
	}
}

// outcomes of those that are taken, together.
func (j *joint) outcomes() int { return len(j.rows[0]) }

// with one more, what they tell together in bits.
func (j *joint) with(i int) float64 {
	o := &j.open[i]
	n := len(o.rows[0])
	split := j.split[:j.outcomes()*n]
	clear(split)
	sum, noise := 0.0, 0.0
	for c, w := range j.weights {
		s := j.class[c][i]
		sum += w
		noise += w * (j.stays[c] + j.noise[i][s])
		row := o.rows[s]
		for x, p := range j.rows[c] {
			p *= w
			for y, q := range row {
				split[x*n+y] += p * q
			}
		}
	}
	nats := math.Log(sum) * sum
	for _, x := range split {
		if x > 0 {
			nats -= x * math.Log(x)
		}
	}
	return max(0, (nats/math.Ln2-noise)/sum)
}

// take one more.
func (j *joint) take(i int) {
	o := &j.open[i]
	j.taken = append(j.taken, i)
	for c, old := range j.rows {
		s := j.class[c][i]
		row := make([]float64, 0, len(old)*len(o.rows[s]))
		for _, p := range old {
			for _, q := range o.rows[s] {
				row = append(row, p*q)
			}
		}
		j.rows[c] = row
		j.stays[c] += j.noise[i][s]
	}
}

// byLive hands each live hypothesis the row of its class.
func (j *joint) byLive() [][]float64 {
	out := make([][]float64, len(j.of))
	for i, c := range j.of {
		out[i] = j.rows[c]
	}
	return out
}
