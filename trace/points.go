package trace

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
)

const (
	fromPrior = 0.25 // of the draws: so that no mode that was missed is left out altogether
	anyShare  = 0.3  // of the others have a severity from anywhere in its cell
	wider     = 1.12 // than the normal at the mode, the others are drawn
	enough    = 20.0 // draws that count, as many as that if each counted the same
	mostGoes  = 2    // more, until enough draws count
)

// points at which the density is looked at: shares of each severity, and nuisances. They come in lots, each drawn in a way of its own; a
// point counts by its density over that of all ways together in which it might have been drawn, so that no lot can spoil another's.
type points struct {
	dims   int
	shares [][]float64 // by face
	draws  [][]float64
	prior  []float64   // logarithms, here and below
	lots   []lot       // ways in which points are drawn
	drawn  [][]float64 // by lot: the density of each point
	found  []float64   // the density of all observations, at the points that have been looked at
}

// A lot is a way of drawing points, and how many are drawn so. All constants of the normals of nuisances, which are the same, are left out.
type lot struct {
	count   int
	density func(draw, shares []float64) float64
}

// points of a crest. Some are drawn as nothing known has it, the others around the crest.
func (m *crest) points(normal [][]float64) *points {
	n := len(normal)
	p := &points{dims: m.dims, shares: make([][]float64, len(m.along))}
	plain := int(fromPrior * float64(n))
	shares, center, z := make([]float64, len(m.along)), make([]float64, m.dims), make([]float64, m.dims)
	for d, e := range normal {
		for f := range m.along {
			// Evenly, and in step neither with the normals nor with one another.
			even := math.Mod(0.5+float64(d)*[]float64{math.Phi, math.Sqrt2}[f%2], 1)
			shares[f] = even
			if d >= plain {
				shares[f] = m.share(f, even)
			}
		}
		draw := slices.Clone(e)
		if d >= plain { // the precision is UᵀU: z = center + U⁻¹e
			m.centerAt(shares, center)
			m.solve(z, e)
			for i := range m.dims {
				draw[i] = center[i] + wider*z[i]
			}
		}
		p.add(draw[:m.dims], shares)
	}
	p.lot(lot{plain, func(draw, _ []float64) float64 { return -floats.Dot(draw, draw) / 2 }})
	p.lot(lot{n - plain, m.density})
	return p
}

// solve the root's equations for z, from the last.
func (m *crest) solve(z, e []float64) {
	for i := m.dims - 1; i >= 0; i-- {
		row := m.root[i*m.dims : (i+1)*m.dims]
		sum := e[i]
		for j := i + 1; j < m.dims; j++ {
			sum -= row[j] * z[j]
		}
		z[i] = sum / row[i]
	}
}

// add a point.
func (p *points) add(draw, shares []float64) {
	p.draws = append(p.draws, draw)
	within := 0.0
	for f, x := range shares {
		p.shares[f] = append(p.shares[f], x)
		if x < 0 || x > 1 {
			within = math.Inf(-1)
		}
	}
	p.prior = append(p.prior, within-floats.Dot(draw, draw)/2)
	for i := range p.lots {
		p.drawn[i] = append(p.drawn[i], p.lots[i].density(draw, shares))
	}
}

// lot of points that have been added.
func (p *points) lot(l lot) {
	p.lots = append(p.lots, l)
	drawn := make([]float64, len(p.draws))
	shares := make([]float64, len(p.shares))
	for d, draw := range p.draws {
		for f := range shares {
			shares[f] = p.shares[f][d]
		}
		drawn[d] = l.density(draw, shares)
	}
	p.drawn = append(p.drawn, drawn)
}

// weights of the points, as logarithms.
func (p *points) weights() []float64 {
	out, shares := make([]float64, len(p.found)), make([]float64, len(p.lots))
	for i := range p.lots {
		shares[i] = math.Log(float64(p.lots[i].count) / float64(len(p.draws)))
	}
	for d := range out {
		top := math.Inf(-1)
		for i := range p.lots {
			top = max(top, shares[i]+p.drawn[i][d])
		}
		sum := 0.0
		for i := range p.lots {
			sum += math.Exp(shares[i] + p.drawn[i][d] - top)
		}
		out[d] = p.prior[d] + p.found[d] - (top + math.Log(sum))
	}
	return out
}

// counting is how many draws of the same weight would tell as much as some of these do.
func counting(logs []float64, power float64) float64 {
	top, sum, squares := floats.Max(logs), 0.0, 0.0
	for _, x := range logs {
		w := math.Exp(power * (x - top))
		sum += w
		squares += w * w
	}
	return sum * sum / squares
}

// centerAt shares of the severities, of the nuisances.
func (m *crest) centerAt(shares, center []float64) {
	copy(center, m.center[:m.dims])
	for f, along := range m.along {
		floats.AddScaled(center, shares[f]-m.center[m.dims+f], along)
	}
}

// density of a point as it is drawn around the crest.
func (m *crest) density(draw, shares []float64) float64 {
	var memory [24]float64
	off := append(memory[:0], m.center[:m.dims]...)
	m.centerAt(shares, off)
	for i, x := range draw {
		off[i] = x - off[i]
	}
	square := 0.0
	for i := range draw {
		row, sum := m.root[i*m.dims:(i+1)*m.dims], 0.0
		for j := i; j < m.dims; j++ {
			sum += row[j] * off[j]
		}
		square += sum * sum
	}
	log := m.logDet/2 - float64(m.dims)*math.Log(wider) - square/(2*wider*wider)
	for f, x := range shares {
		log += m.shareDensity(f, x)
	}
	return log
}

// An ending is a share's normal around the crest, with what it has below each end of the cell.
type ending struct{ at, wide, low, high float64 }

func endingOf(at, wide float64) ending {
	below := func(x float64) float64 { return math.Erfc(-(x-at)/(wide*math.Sqrt2)) / 2 }
	return ending{at, wide, below(0), below(1)}
}

// share of a severity from a number between 0 and 1: some evenly, the others from a normal that is cut off at the ends of the cell.
func (m *crest) share(f int, even float64) float64 {
	e := &m.ends[f]
	if e.high-e.low < 1e-6 {
		return even
	}
	if even < anyShare {
		return even / anyShare
	}
	q := e.low + (e.high-e.low)*(even-anyShare)/(1-anyShare)
	return math.Max(0, math.Min(1, e.at+e.wide*math.Sqrt2*math.Erfinv(2*math.Max(1e-12, math.Min(q, 1-1e-12))-1)))
}

func (m *crest) shareDensity(f int, share float64) float64 {
	e := &m.ends[f]
	if e.high-e.low < 1e-6 {
		return 0
	}
	z := (share - e.at) / e.wide
	return math.Log(anyShare + (1-anyShare)*math.Exp(-z*z/2)/(e.wide*math.Sqrt(2*math.Pi)*(e.high-e.low)))
}

// again draws as many points as there are normals, from the normal that the points so far have by their weights: where few of them count, the crest was
// not where the density is. As little as they tell, it stays near the crest's.
func (p *points) again(m *crest, normal [][]float64) {
	logs := p.weights()
	n := m.dims + len(m.along)
	power := 1.0
	for counting(logs, power) < float64(2*n) && power > 0.05 { // tempered, until enough count to tell a spread
		power *= 0.8
	}
	mean, spread := p.moments(logs, power, n)
	told := counting(logs, power) / float64(n)
	for i := range n {
		for j := i; j < n; j++ {
			spread.SetSym(i, j, wider*wider*(told*spread.At(i, j)+m.spread.At(i, j))/(told+1))
		}
	}
	var factor mat.Cholesky
	if !factor.Factorize(spread) {
		return
	}
	var lower mat.TriDense
	factor.LTo(&lower)
	root := make([][]float64, n)
	for i := range root {
		for j := range i + 1 {
			root[i] = append(root[i], lower.At(i, j))
		}
	}
	for _, e := range normal {
		point := slices.Clone(mean)
		for i, row := range root {
			for j, x := range row {
				point[i] += x * e[j]
			}
		}
		p.add(point[:m.dims:m.dims], point[m.dims:])
	}
	constant := -factor.LogDet()/2 - float64(len(m.along))*math.Log(2*math.Pi)/2
	off := make([]float64, n)
	p.lot(lot{len(normal), func(draw, shares []float64) float64 {
		square := 0.0
		for i, row := range root { // forward through the root
			if i < m.dims {
				off[i] = draw[i] - mean[i]
			} else {
				off[i] = shares[i-m.dims] - mean[i]
			}
			for j := range i {
				off[i] -= row[j] * off[j]
			}
			off[i] /= row[i]
			square += off[i] * off[i]
		}
		return constant - square/2
	}})
}

// moments of the points by their weights to a power.
func (p *points) moments(logs []float64, power float64, n int) ([]float64, *mat.SymDense) {
	mean, spread := make([]float64, n), mat.NewSymDense(n, nil)
	top, total := floats.Max(logs), 0.0
	point := make([]float64, n)
	at := func(d int) {
		copy(point, p.draws[d])
		for f := range p.shares {
			point[p.dims+f] = p.shares[f][d]
		}
	}
	for d, x := range logs {
		w := math.Exp(power * (x - top))
		total += w
		at(d)
		floats.AddScaled(mean, w, point)
	}
	floats.Scale(1/total, mean)
	for d, x := range logs {
		w := math.Exp(power*(x-top)) / total
		if w < 1e-9 {
			continue
		}
		at(d)
		floats.Sub(point, mean)
		for i := range n {
			for j := i; j < n; j++ {
				spread.SetSym(i, j, spread.At(i, j)+w*point[i]*point[j])
			}
		}
	}
	return mean, spread
}
