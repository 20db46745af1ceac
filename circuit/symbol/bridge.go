package symbol

import (
	"cmp"
	"slices"
)

// A bridge is where a line hops over another: at a distance along one of its legs.
type bridge struct {
	leg int
	at  Point
}

const bridgeRadius = 0.7

// findBridges lets level legs hop over upright ones; where there is no room for that, the upright one hops.
func (sh *Sheet) findBridges() {
	for i := range sh.lines {
		for j := range sh.lines {
			if i == j {
				continue
			}
			level, upright := &sh.lines[i], &sh.lines[j]
			for a := range len(level.points) - 1 {
				p, q := level.points[a], level.points[a+1]
				if p.Y != q.Y {
					continue
				}
				for b := range len(upright.points) - 1 {
					r, s := upright.points[b], upright.points[b+1]
					if r.X != s.X || !strictly(p.X, r.X, q.X) || !strictly(r.Y, p.Y, s.Y) {
						continue
					}
					at := Point{X: r.X, Y: p.Y}
					if room(p.X, r.X, q.X) || !room(r.Y, p.Y, s.Y) {
						level.bridges = append(level.bridges, bridge{a, at})
					} else {
						upright.bridges = append(upright.bridges, bridge{b, at})
					}
				}
			}
		}
	}
	for i := range sh.lines {
		r := &sh.lines[i]
		slices.SortFunc(r.bridges, func(a, b bridge) int {
			start := r.points[a.leg]
			return cmp.Or(cmp.Compare(a.leg, b.leg), cmp.Compare(manhattan(start, a.at), manhattan(start, b.at)))
		})
		r.drawn = r.bridged()
	}
}

func strictly(a, v, b float64) bool { return (a < v && v < b) || (b < v && v < a) }

func room(a, v, b float64) bool { return abs(v-a) >= 1 && abs(b-v) >= 1 }

// bridged is a line's polyline with its hops drawn in.
func (r *run) bridged() []Point {
	if len(r.bridges) == 0 {
		return r.points
	}
	var out []Point
	next := 0
	for leg := range len(r.points) - 1 {
		a, b := r.points[leg], r.points[leg+1]
		out = append(out, a)
		length := manhattan(a, b)
		u := Point{X: (b.X - a.X) / length, Y: (b.Y - a.Y) / length}
		up := Point{X: 0, Y: -1} // hops of level legs go up, of upright legs to the right
		if u.X == 0 {
			up = Point{X: 1, Y: 0}
		}
		for next < len(r.bridges) && r.bridges[next].leg == leg {
			// Neighbours that would touch share one long hop.
			first := manhattan(a, r.bridges[next].at)
			last := first
			for next++; next < len(r.bridges) && r.bridges[next].leg == leg; next++ {
				d := manhattan(a, r.bridges[next].at)
				if d-last > 2.5*bridgeRadius {
					break
				}
				last = d
			}
			put := func(t, h float64) {
				out = append(out, Point{X: a.X + u.X*t + up.X*h, Y: a.Y + u.Y*t + up.Y*h})
			}
			const c, s = bridgeRadius * 0.7071, bridgeRadius * 0.7071
			put(first-bridgeRadius, 0)
			put(first-bridgeRadius*0.924, bridgeRadius*0.383)
			put(first-c, s)
			put(first-bridgeRadius*0.383, bridgeRadius*0.924)
			put(first, bridgeRadius)
			if last > first {
				put(last, bridgeRadius)
			}
			put(last+bridgeRadius*0.383, bridgeRadius*0.924)
			put(last+c, s)
			put(last+bridgeRadius*0.924, bridgeRadius*0.383)
			put(last+bridgeRadius, 0)
		}
	}
	return append(out, r.points[len(r.points)-1])
}
