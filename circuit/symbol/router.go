package symbol

import (
	"container/heap"
	"math"
	"slices"
)

// A router finds ways along the grid around the symbols: the shortest in length, bends and crossings (A* over cells and
// headings). It is deterministic: equal ways are told apart by the order in which they were met.
type router struct {
	x0, y0, w, h int
	blocked      []bool // inside or on the border of a symbol
	near         []bool // beside one, where a line looks glued to it
	level        []bool // a line runs level through the cell
	upright      []bool
	front        []bool // straight before a port that has a line of its own

	// What is known of each cell and heading in the search under way; search tells which one wrote it, so that nothing
	// needs clearing.
	cost   []float32
	came   []int32
	wrote  []int32
	search int32
}

func (r *router) begin() {
	if r.cost == nil {
		n := r.w * r.h * 4
		r.cost, r.came, r.wrote = make([]float32, n), make([]int32, n), make([]int32, n)
	}
	r.search++
}

func (r *router) reach(state int, cost float32, from int32) {
	r.cost[state], r.came[state], r.wrote[state] = cost, from, r.search
}

func (r *router) costOf(state int) float32 {
	if r.wrote[state] != r.search {
		return math.MaxFloat32
	}
	return r.cost[state]
}

// What a way costs besides its length.
const (
	bendCost     = 6
	nearCost     = 2
	crossingCost = 5
	sharedCost   = 60 // running on top of another line, or bending on one
	frontCost    = 40 // running past a port so close that it seems to end there
	routeMargin  = 6  // free cells around the sheet
)

func newRouter(sh *Sheet) *router {
	b := sh.extent().Grow(routeMargin)
	r := &router{x0: int(math.Floor(b.Min.X)), y0: int(math.Floor(b.Min.Y))}
	r.w, r.h = int(math.Ceil(b.Max.X))-r.x0+1, int(math.Ceil(b.Max.Y))-r.y0+1
	n := r.w * r.h
	r.blocked, r.near, r.level, r.upright, r.front = make([]bool, n), make([]bool, n), make([]bool, n), make([]bool, n), make([]bool, n)
	for _, p := range sh.parts {
		r.mark(r.blocked, p.box)
		r.mark(r.near, p.box.Grow(1))
	}
	for i := range sh.lines {
		r.occupy(sh.lines[i].points)
		r.front[r.before(sh.lines[i].from)] = true
		r.front[r.before(sh.lines[i].to)] = true
	}
	return r
}

// before is the cell straight before a port.
func (r *router) before(p Port) int {
	o := p.Out.Step()
	return r.cell(int(math.Round(p.At.X+o.X)), int(math.Round(p.At.Y+o.Y)))
}

func (r *router) mark(cells []bool, b Box) {
	for y := max(r.y0, int(math.Ceil(b.Min.Y))); y <= min(r.y0+r.h-1, int(math.Floor(b.Max.Y))); y++ {
		for x := max(r.x0, int(math.Ceil(b.Min.X))); x <= min(r.x0+r.w-1, int(math.Floor(b.Max.X))); x++ {
			cells[r.cell(x, y)] = true
		}
	}
}

func (r *router) cell(x, y int) int { return (y-r.y0)*r.w + x - r.x0 }

// occupy notes where a line runs.
func (r *router) occupy(points []Point) {
	for i := range len(points) - 1 {
		a, b := points[i], points[i+1]
		cells := r.level
		if a.X == b.X {
			cells = r.upright
		}
		r.mark(cells, Box{Point{X: min(a.X, b.X), Y: min(a.Y, b.Y)}, Point{X: max(a.X, b.X), Y: max(a.Y, b.Y)}})
	}
}

// find the corners from one port to another; nil if there is no way.
func (r *router) find(from, to Port) []Point {
	sx, sy := int(math.Round(from.At.X)), int(math.Round(from.At.Y))
	gx, gy := int(math.Round(to.At.X)), int(math.Round(to.At.Y))
	arrive := (to.Out + 2) & 3
	start := r.cell(sx, sy)*4 + int(from.Out)
	goal := r.cell(gx, gy)
	r.begin()
	own := [2]int{r.before(from), r.before(to)}
	r.reach(start, 0, -1)
	queue := &wayQueue{{state: start}}
	for order := 1; queue.Len() > 0; {
		at := heap.Pop(queue).(wayPoint)
		cell, dir := at.state/4, Direction(at.state%4)
		if at.cost > r.costOf(at.state) {
			continue
		}
		if cell == goal {
			return r.walk(at.state, from, to)
		}
		x, y := cell%r.w+r.x0, cell/r.w+r.y0
		for turn := range 4 {
			d := Direction(turn)
			if d == (dir+2)&3 || (cell == start/4 && d != from.Out) {
				continue
			}
			o := d.Step()
			nx, ny := x+int(o.X), y+int(o.Y)
			if nx < r.x0 || ny < r.y0 || nx >= r.x0+r.w || ny >= r.y0+r.h {
				continue
			}
			next := r.cell(nx, ny)
			if r.blocked[next] && next != goal || next == goal && d != arrive {
				continue
			}
			c := at.cost + 1
			if d != dir {
				c += bendCost
				if r.level[cell] || r.upright[cell] {
					c += sharedCost
				}
			}
			if next != goal {
				c += r.toll(next, d)
				if r.front[next] && next != own[0] && next != own[1] {
					c += frontCost
				}
			}
			if s := next*4 + turn; c < r.costOf(s) {
				r.reach(s, c, int32(at.state))
				rest := float32(max(nx-gx, gx-nx) + max(ny-gy, gy-ny))
				heap.Push(queue, wayPoint{state: s, cost: c, guess: c + rest, order: order})
				order++
			}
		}
	}
	return nil
}

func (r *router) toll(cell int, d Direction) float32 {
	var t float32
	if r.near[cell] {
		t += nearCost
	}
	along, across := r.upright[cell], r.level[cell]
	if d.horizontal() {
		along, across = across, along
	}
	if along {
		t += sharedCost
	}
	if across {
		t += crossingCost
	}
	return t
}

func (r *router) walk(state int, from, to Port) []Point {
	var cells []Point
	for s := r.came[state]; s >= 0; s = r.came[s] {
		cell := int(s) / 4
		cells = append(cells, Point{X: float64(cell%r.w + r.x0), Y: float64(cell/r.w + r.y0)})
	}
	slices.Reverse(cells)
	// The first cell is the port's own. A port that lies off the grid is joined to the next corner along the grid.
	corners := simplified(append(cells, Point{X: math.Round(to.At.X), Y: math.Round(to.At.Y)}))
	return throughCorners(from, corners[1:len(corners)-1], to)
}

type wayPoint struct {
	state       int
	cost, guess float32
	order       int
}

type wayQueue []wayPoint

func (q wayQueue) Len() int { return len(q) }
func (q wayQueue) Less(i, j int) bool {
	if q[i].guess != q[j].guess {
		return q[i].guess < q[j].guess
	}
	return q[i].order < q[j].order
}
func (q wayQueue) Swap(i, j int) { q[i], q[j] = q[j], q[i] }
func (q *wayQueue) Push(x any)   { *q = append(*q, x.(wayPoint)) }
func (q *wayQueue) Pop() any {
	old := *q
	last := old[len(old)-1]
	*q = old[:len(old)-1]
	return last
}
