package trace

import (
	"math"
	"slices"
)

// Most suspects leave most readings as they are on a healthy vehicle. What is the same for several is worked out once.

// A sort of suspects makes the same of a reading: of each of its likeliest cells the same stretch.
type sort struct {
	stretch [liveCells]int // index; -1 for none
	share   [liveCells]float64
	blurred bool // what the catalogue does not know
}

// sorts of the field by what it makes of one reading.
type sorts struct {
	stretches []stretch // distinct
	sorts     []sort    // distinct
	weights   []float64 // of the sorts
	of        []int     // by live hypothesis: its sort
}

// A column is what the table has of one procedure for the likeliest cells of the field.
type column struct {
	procedure int
	healthy   []float64
	cells     []([liveCells]pair) // by live hypothesis
	others    []int               // the live hypotheses that make anything else of it than the healthy vehicle
	like      float64             // weight of those that don't
	differ    [][]int             // by reading: those of the others that may make something else of this one

	scratch sorts // of the last reading; see [sorts.clone]
	trying  rowMemory
	yes     []float64
	figures figureMemory
}

// A pair is the values of the two vehicles between which a cell lies; both nil where they are the healthy one's, or there is no such cell.
type pair struct {
	cell     int // -1: none
	from, to []float64
}

func (a *analysis) columnOf(p int, field []live) *column {
	c := &column{}
	a.columnInto(c, p, field)
	return c
}

// columnInto is columnOf in the memory of another one.
func (a *analysis) columnInto(c *column, p int, field []live) {
	c.procedure, c.healthy, c.cells = p, a.table.values(p, 0), slices.Grow(c.cells[:0], len(field))[:len(field)]
	clear(c.cells)
	c.others, c.like = c.others[:0], 0
	for i := range field {
		for k := range c.cells[i] {
			at := &c.cells[i][k]
			if at.cell = -1; k < len(field[i].cells) {
				at.cell = field[i].cells[k]
				from, to := a.table.values(p, a.cells[at.cell].from), a.table.values(p, a.cells[at.cell].to)
				if !sameSlice(from, c.healthy) || !sameSlice(to, c.healthy) {
					at.from, at.to = from, to
				}
			}
		}
		if c.healthy == nil || field[i].hypothesis == somethingElse || slices.ContainsFunc(c.cells[i][:], func(at pair) bool { return at.from != nil || at.to != nil }) {
			c.others = append(c.others, i)
		} else {
			c.like += field[i].weight
		}
	}
	c.mark(len(a.procedures[p].Readings))
}

// mark the readings that some of the others make anything else of.
func (c *column) mark(readings int) {
	c.differ = slices.Grow(c.differ[:0], readings)[:readings]
	for r := range c.differ {
		c.differ[r] = c.differ[r][:0]
	}
	add := func(r, i int) {
		if n := len(c.differ[r]); n == 0 || c.differ[r][n-1] != i {
			c.differ[r] = append(c.differ[r], i)
		}
	}
	for _, i := range c.others {
		for k := range c.cells[i] {
			switch at := &c.cells[i][k]; {
			case c.healthy != nil && at.from == nil && at.to == nil:
			case c.healthy == nil || at.from == nil || at.to == nil:
				for r := range readings {
					add(r, i)
				}
			default:
				from, to := at.from[:readings], at.to[:readings]
				for r, h := range c.healthy[:readings] {
					if !sameValue(from[r], h) || !sameValue(to[r], h) {
						add(r, i)
					}
				}
			}
		}
	}
}

// sameValue tells whether two are the same number, or both none.
func sameValue(x, y float64) bool { return x == y || x != x && y != y }

// sameSlice tells whether two are one in memory: the table keeps what is the same once.
func sameSlice(a, b []float64) bool { return len(a) > 0 && len(b) > 0 && &a[0] == &b[0] }

// asHealthy tells whether a cell leaves a reading just as it is on the healthy vehicle.
func (c *column) asHealthy(at *pair, r int) bool {
	if c.healthy == nil {
		return false
	}
	h := c.healthy[r]
	return at.from == nil && at.to == nil || at.from != nil && at.to != nil && sameValue(at.from[r], h) && sameValue(at.to[r], h)
}

// healthyCell is one whose vehicles are both the healthy one.
var healthyCell cell

// sortsOf a reading, in the column's scratch memory.
func (a *analysis) sortsOf(c *column, r int, field []live) *sorts {
	s := &c.scratch
	s.stretches, s.sorts, s.weights, s.of = s.stretches[:0], s.sorts[:0], s.weights[:0], slices.Grow(s.of[:0], len(field))[:len(field)]
	clear(s.of)
	own, like := c.differ[r], c.like
	for _, i := range c.others {
		if len(own) > 0 && own[0] == i {
			own = own[1:]
		} else if field[i].hypothesis != somethingElse {
			like += field[i].weight
		}
	}
	healthy := -1 // its stretch
	if like > 0 {
		healthy = s.stretch(between2(c.healthy[r], c.healthy[r], &healthyCell, a.procedures[c.procedure].Readings[r].Dimension))
		s.sorts, s.weights = append(s.sorts, sort{stretch: [liveCells]int{healthy, -1}, share: [liveCells]float64{1, 0}}), append(s.weights, like)
	}
	own = c.differ[r]
	for _, i := range c.others {
		if len(own) > 0 && own[0] == i {
			own = own[1:]
		} else if field[i].hypothesis != somethingElse {
			continue
		}
		one := sort{stretch: [liveCells]int{-1, -1}, blurred: field[i].hypothesis == somethingElse}
		for k := range c.cells[i] {
			at := &c.cells[i][k]
			if at.cell < 0 {
				continue
			}
			one.share[k] = field[i].shares[k]
			if !c.asHealthy(at, r) {
				one.stretch[k] = s.stretch(a.stretch(c.procedure, r, &a.cells[at.cell]))
				continue
			}
			if healthy < 0 {
				healthy = s.stretch(a.stretch(c.procedure, r, &a.cells[at.cell]))
			}
			one.stretch[k] = healthy
		}
		if one.stretch[1] == one.stretch[0] || one.stretch[1] < 0 {
			one.stretch[1], one.share = -1, [liveCells]float64{1, 0}
		}
		at := slices.Index(s.sorts, one)
		if at < 0 {
			at = len(s.sorts)
			s.sorts, s.weights = append(s.sorts, one), append(s.weights, 0)
		}
		s.weights[at] += field[i].weight
		s.of[i] = at
	}
	return s
}

// clone to keep.
func (s *sorts) clone() sorts {
	return sorts{slices.Clone(s.stretches), slices.Clone(s.sorts), slices.Clone(s.weights), slices.Clone(s.of)}
}

// most that a reading can tell, in bits: which sort it is.
func (s *sorts) most() float64 {
	if len(s.sorts) < 2 {
		return 0
	}
	sum := 0.0
	for _, w := range s.weights {
		sum += w
	}
	bits := 0.0
	for _, w := range s.weights {
		if w > 0 {
			bits -= w / sum * math.Log2(w/sum)
		}
	}
	return bits
}

// stretch among the distinct ones.
func (s *sorts) stretch(x stretch) int {
	if k := slices.Index(s.stretches, x); k >= 0 {
		return k
	}
	s.stretches = append(s.stretches, x)
	return len(s.stretches) - 1
}

// rows of chances of n outcomes, by sort, in some memory; base adds those of a stretch to a row, times a share.
func (s *sorts) rows(memory *rowMemory, n int, base func(row []float64, stretch int, share float64)) [][]float64 {
	out := memory.take(len(s.sorts), n)
	for i, one := range s.sorts {
		for k, x := range one.stretch {
			if x >= 0 {
				base(out[i], x, one.share[k])
			}
		}
		if one.blurred {
			blur(out[i])
		}
	}
	return out
}

// rowMemory is memory for rows that are tried and thrown away.
type rowMemory struct {
	values []float64
	rows   [][]float64
}

// take so many rows of n, all zero.
func (m *rowMemory) take(rows, n int) [][]float64 {
	m.values = slices.Grow(m.values[:0], rows*n)[:rows*n]
	m.rows = slices.Grow(m.rows[:0], rows)[:rows]
	clear(m.values)
	for i := range m.rows {
		m.rows[i] = m.values[i*n : (i+1)*n : (i+1)*n]
	}
	return m.rows
}

// cloneRows to keep.
func cloneRows(rows [][]float64) [][]float64 {
	out := make([][]float64, len(rows))
	if len(rows) == 0 {
		return out
	}
	n := len(rows[0])
	memory := make([]float64, 0, n*len(rows))
	for i, row := range rows {
		memory = append(memory, row...)
		out[i] = memory[i*n : (i+1)*n : (i+1)*n]
	}
	return out
}

// blur what the catalogue predicts into something vague, for what it does not know.
func blur(row []float64) {
	for i := range row {
		row[i] = (1-unlikeHealthy)*row[i] + unlikeHealthy/float64(len(row))
	}
}

// byLive hands each live hypothesis the row of its sort.
func (s *sorts) byLive(rows [][]float64) [][]float64 {
	out := make([][]float64, len(s.of))
	for i, k := range s.of {
		out[i] = rows[k]
	}
	return out
}
