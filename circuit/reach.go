package circuit

import "slices"

// Reach lists the rooms that air from one room can get to through open ways, the room itself included, by name. Air that
// has got to the atmosphere is lost: it goes no further. An unknown room reaches nothing.
func (p *Plumbing) Reach(from string, open Open) []string {
	return p.walk(from, open, p.steps)
}

// Feeders lists the rooms whose air can get to a room through open ways, the room itself included, by name.
func (p *Plumbing) Feeders(to string, open Open) []string {
	return p.walk(to, open, p.feeds)
}

func (p *Plumbing) walk(start string, open Open, steps [][]step) []string {
	first, err := p.room(start)
	if err != nil {
		return nil
	}
	seen := p.flood(first, p.openings(open), steps)
	var names []string
	for i, s := range seen {
		if s {
			names = append(names, p.rooms[i])
		}
	}
	return names
}

// flood marks what can be got to from one room, breadth first.
func (p *Plumbing) flood(first int, open []bool, steps [][]step) []bool {
	seen := make([]bool, len(p.rooms))
	seen[first] = true
	queue := append(make([]int, 0, len(p.rooms)), first)
	for ; len(queue) > 0; queue = queue[1:] {
		room := queue[0]
		if room != first && p.rooms[room] == Atmosphere {
			continue
		}
		for _, s := range steps[room] {
			if open[s.way] && !seen[s.room] {
				seen[s.room] = true
				queue = append(queue, s.room)
			}
		}
	}
	return seen
}

// Sources lists, by name, the rooms where the air of a room can come from: reservoirs, and rooms into which air is drawn
// from the atmosphere. The room itself is left out.
func (p *Plumbing) Sources(to string, open Open) []string {
	last, err := p.room(to)
	if err != nil {
		return nil
	}
	o := p.openings(open)
	var names []string
	for i, feeds := range p.flood(last, o, p.feeds) {
		if !feeds || i == last || p.rooms[i] == Atmosphere {
			continue
		}
		if p.reservoir[i] || p.draws(i, o) {
			names = append(names, p.rooms[i])
		}
	}
	return names
}

// draws tells whether a way leads from the atmosphere into a room.
func (p *Plumbing) draws(room int, open []bool) bool {
	return slices.ContainsFunc(p.feeds[room], func(s step) bool {
		return open[s.way] && p.rooms[s.room] == Atmosphere && p.ways[s.way].From == Atmosphere
	})
}

// Zones groups the rooms that open ways join in both directions: each group has one pressure in the end. The group with
// [Atmosphere] is the one that is vented. One-way ways join nothing. Rooms are sorted in each group, and groups by their
// first room.
func (p *Plumbing) Zones(open Open) [][]string {
	o := p.openings(open)
	leader := make([]int, len(p.rooms))
	for i := range leader {
		leader[i] = i
	}
	find := func(i int) int {
		for leader[i] != i {
			leader[i] = leader[leader[i]]
			i = leader[i]
		}
		return i
	}
	for i, w := range p.ways {
		if o[i] && !w.OneWay {
			a, b := find(p.roomIndex[w.From]), find(p.roomIndex[w.To])
			leader[max(a, b)] = min(a, b) // the leader is the first by name
		}
	}
	groups := make([][]string, len(p.rooms))
	for i, r := range p.rooms {
		l := find(i)
		groups[l] = append(groups[l], r)
	}
	return slices.DeleteFunc(groups, func(g []string) bool { return g == nil })
}

// A Path is a way for air from one room to another, with what it passes in order: Rooms[i] and Rooms[i+1] are joined by
// Ways[i]. A path of one room has no ways.
type Path struct {
	Rooms []string
	Ways  []Way
}

// Path finds the one with the fewest ways; of equally short ones, the first by the ids of its ways from the start. ok is
// false where there is none.
func (p *Plumbing) Path(from, to string, open Open) (path Path, ok bool) {
	first, err := p.room(from)
	if err != nil {
		return Path{}, false
	}
	last, err := p.room(to)
	if err != nil {
		return Path{}, false
	}
	o := p.openings(open)
	// Distances are counted back from the end, so that the walk forward can choose the smallest way id at each room.
	distance := p.distances(last, o)
	if distance[first] < 0 {
		return Path{}, false
	}
	path.Rooms = []string{from}
	for room := first; room != last; {
		i := slices.IndexFunc(p.steps[room], func(s step) bool { return o[s.way] && distance[s.room] == distance[room]-1 && p.through(s.room, last) })
		s := p.steps[room][i]
		path.Rooms, path.Ways = append(path.Rooms, p.rooms[s.room]), append(path.Ways, p.ways[s.way])
		room = s.room
	}
	return path, true
}

// through tells whether a path to last may pass a room: nothing leads on from the atmosphere.
func (p *Plumbing) through(room, last int) bool { return room == last || p.rooms[room] != Atmosphere }

// distances counts the ways from each room to one room; -1 where there is no path.
func (p *Plumbing) distances(last int, open []bool) []int {
	d := make([]int, len(p.rooms))
	for i := range d {
		d[i] = -1
	}
	d[last] = 0
	queue := append(make([]int, 0, len(p.rooms)), last)
	for ; len(queue) > 0; queue = queue[1:] {
		room := queue[0]
		if !p.through(room, last) {
			continue
		}
		for _, s := range p.feeds[room] {
			if open[s.way] && d[s.room] < 0 {
				d[s.room] = d[room] + 1
				queue = append(queue, s.room)
			}
		}
	}
	return d
}

// Paths lists the paths that pass no room twice, in order of the ids of their ways, up to a number of them; complete is
// false where there are more. Their number grows beyond all bounds with the size of a mesh, hence the limit.
func (p *Plumbing) Paths(from, to string, open Open, most int) (paths []Path, complete bool) {
	first, err := p.room(from)
	if err != nil {
		return nil, true
	}
	last, err := p.room(to)
	if err != nil {
		return nil, true
	}
	o := p.openings(open)
	useful := p.distances(last, o) // rooms from which the end can't be got to are not worth entering
	visited := make([]bool, len(p.rooms))
	current := Path{Rooms: []string{from}}
	complete = true
	var extend func(room int)
	extend = func(room int) {
		if room == last {
			if len(paths) == most {
				complete = false
				return
			}
			paths = append(paths, Path{slices.Clone(current.Rooms), slices.Clone(current.Ways)})
			return
		}
		visited[room] = true
		for _, s := range p.steps[room] {
			if !complete {
				break
			}
			if !o[s.way] || visited[s.room] || useful[s.room] < 0 || !p.through(s.room, last) {
				continue
			}
			current.Rooms, current.Ways = append(current.Rooms, p.rooms[s.room]), append(current.Ways, p.ways[s.way])
			extend(s.room)
			current.Rooms, current.Ways = current.Rooms[:len(current.Rooms)-1], current.Ways[:len(current.Ways)-1]
		}
		visited[room] = false
	}
	extend(first)
	return paths, complete
}
