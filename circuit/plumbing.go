package circuit

import (
	"cmp"
	"fmt"
	"slices"

	"github.com/dominikbraun/graph"
)

// # Rooms and ways
//
// The graph of a vehicle has two sorts of vertices: rooms, and the ways between them (a component's passage, or the bore
// of a line). Ways are vertices and not edges because the container keeps one edge per pair, and two lines may well run
// between the same two rooms; and because a way is a thing that can fail, so that paths and cuts must be able to name it.
//
// The container's own walks run over Go maps, in an order that differs from run to run. It is therefore used to build,
// validate and hand out the graph; every question is answered on arrays that are compiled from it, sorted by name, so that
// no answer depends on chance or on the order of the file.

// A Way is a passage of a component, or the bore of a line, in one vehicle.
type Way struct {
	ID        string // "rear_relay/inlet seat", "front_hose/bore"
	Component string // the component's or line's id
	Name      string // "inlet seat", "bore"
	From, To  string // rooms: "rear_relay.1"
	OneWay    bool   // a healthy part lets air pass from From to To only
	Worn      bool   // shut in every healthy part
	Piloted   bool   // opened or shut by pressure
	Line      bool   // the bore of a line
}

// A Vertex of the vehicle's graph is a room, or a way between two rooms.
type Vertex struct {
	Name string // the room, or the id of the way
	Way  *Way   // nil for a room
}

// Open tells whether air can pass through a passage of a component, or through the bore of a line. Nil stands for
// [Healthy]. For a way that is one-way it speaks of the forward direction only; see [Plumbing.LeakingBack].
type Open = func(component, passage string) bool

// Plumbing is a vehicle's rooms and ways, ready for questions. It does not change when the circuit is edited later.
type Plumbing struct {
	graph     graph.Graph[string, Vertex]
	rooms     []string // sorted
	roomIndex map[string]int
	ways      []Way // sorted by ID
	wayIndex  map[string]int
	steps     [][]step // for each room, the ways out of it, in order of way
	feeds     [][]step // for each room, the ways into it
	reservoir []bool   // for each room
}

// A step leads through a way into another room, or for feeds, comes out of it.
type step struct {
	way, room int
}

// NewPlumbing takes the graph of a circuit. What [Check] calls an error has no place in it: lines that lead nowhere, and
// the second of two parts with one id.
func NewPlumbing(c *Circuit) *Plumbing {
	rooms, reservoirs := []string{Atmosphere}, map[string]bool{}
	var ways []Way
	taken := map[string]bool{"": true}
	free := func(id string) bool {
		was := taken[id]
		taken[id] = true
		return !was
	}
	for _, comp := range c.Components {
		if comp.Kind == nil || !free(comp.ID) {
			continue
		}
		for _, r := range comp.Kind.Rooms {
			rooms = append(rooms, comp.Room(r.Name))
			reservoirs[comp.Room(r.Name)] = r.Reservoir
		}
		for _, p := range comp.Kind.Passages {
			ways = append(ways, Way{
				ID: Passage(comp.ID, p.Name), Component: comp.ID, Name: p.Name,
				From: comp.Room(p.From), To: comp.Room(p.To), OneWay: p.OneWay, Worn: p.Worn, Piloted: len(p.Pilot) > 0,
			})
		}
	}
	for _, l := range c.Lines {
		from, to := c.Room(l.From), c.Room(l.To)
		if l.Type.Medium() != Air || from == "" || to == "" || from == Atmosphere || to == Atmosphere || !free(l.ID) {
			continue
		}
		ways = append(ways, Way{ID: Passage(l.ID, Bore), Component: l.ID, Name: Bore, From: from, To: to, Line: true})
	}
	p, err := plumb(rooms, ways)
	if err != nil {
		panic("circuit: " + err.Error()) // the kinds' own rooms don't fit together: an error of the program
	}
	for i, r := range p.rooms {
		p.reservoir[i] = reservoirs[r]
	}
	return p
}

// plumb builds the graph from its two sorts of vertices and compiles it.
func plumb(rooms []string, ways []Way) (*Plumbing, error) {
	g := graph.New(func(v Vertex) string { return v.Name }, graph.Directed())
	for _, r := range rooms {
		if err := g.AddVertex(Vertex{Name: r}); err != nil {
			return nil, fmt.Errorf("room %q: %w", r, err)
		}
	}
	for _, w := range ways {
		if err := g.AddVertex(Vertex{Name: w.ID, Way: &w}); err != nil {
			return nil, fmt.Errorf("way %q: %w", w.ID, err)
		}
		if w.From == w.To {
			continue // both ports of a line on one room: air passes, but nothing follows from it
		}
		edges := [][2]string{{w.From, w.ID}, {w.ID, w.To}}
		// Air enters from the atmosphere only where a passage starts there: an open exhaust is a way out, not a way in.
		if !w.OneWay && w.To != Atmosphere {
			edges = append(edges, [2]string{w.To, w.ID}, [2]string{w.ID, w.From})
		}
		for _, e := range edges {
			if err := g.AddEdge(e[0], e[1]); err != nil {
				return nil, fmt.Errorf("way %q from %q to %q: %w", w.ID, e[0], e[1], err)
			}
		}
	}
	return compile(g)
}

// compile copies the graph into arrays in order of name.
func compile(g graph.Graph[string, Vertex]) (*Plumbing, error) {
	adjacency, err := g.AdjacencyMap()
	if err != nil {
		return nil, err
	}
	p := &Plumbing{graph: g, roomIndex: map[string]int{}, wayIndex: map[string]int{}}
	for name := range adjacency {
		v, err := g.Vertex(name)
		if err != nil {
			return nil, err
		}
		if v.Way == nil {
			p.rooms = append(p.rooms, name)
		} else {
			p.ways = append(p.ways, *v.Way)
		}
	}
	slices.Sort(p.rooms)
	slices.SortFunc(p.ways, func(a, b Way) int { return cmp.Compare(a.ID, b.ID) })
	for i, r := range p.rooms {
		p.roomIndex[r] = i
	}
	p.reservoir = make([]bool, len(p.rooms))
	p.steps, p.feeds = make([][]step, len(p.rooms)), make([][]step, len(p.rooms))
	for i, w := range p.ways {
		p.wayIndex[w.ID] = i
		if w.From != w.To {
			p.link(i, w, adjacency[w.ID])
		}
	}
	return p, nil
}

// link notes a way at its two rooms, in the directions that the graph has.
func (p *Plumbing) link(i int, w Way, out map[string]graph.Edge[string]) {
	from, to := p.roomIndex[w.From], p.roomIndex[w.To]
	p.steps[from] = append(p.steps[from], step{i, to})
	p.feeds[to] = append(p.feeds[to], step{i, from})
	if _, back := out[w.From]; back {
		p.steps[to] = append(p.steps[to], step{i, from})
		p.feeds[from] = append(p.feeds[from], step{i, to})
	}
}

// LeakingBack is the same plumbing with some one-way ways letting air back as well: check valves that do not hold, by
// the ids of their ways.
func (p *Plumbing) LeakingBack(wayIDs ...string) (*Plumbing, error) {
	ways := slices.Clone(p.ways)
	for _, id := range wayIDs {
		i, ok := p.wayIndex[id]
		if !ok {
			return nil, p.unknown("way", id, p.wayIDs())
		}
		ways[i].OneWay = false
	}
	return p.rebuilt(ways), nil
}

// Forward is the same plumbing with every passage taken one way, from its From to its To, as air goes when a vehicle is
// filled; lines stay open both ways. It tells what feeds what.
func (p *Plumbing) Forward() *Plumbing {
	return p.oneWay(func(w Way) bool { return !w.Line })
}

// Holding is the same plumbing with the passages that pressure works taken one way: a shuttle or a protection valve moves
// before it lets a reservoir's air back to where it came from, which a way that is open in some state or other does not
// tell. Lines, cocks and the like stay open both ways.
func (p *Plumbing) Holding() *Plumbing {
	return p.oneWay(func(w Way) bool { return w.Piloted })
}

func (p *Plumbing) oneWay(which func(Way) bool) *Plumbing {
	ways := p.Ways()
	for i := range ways {
		ways[i].OneWay = ways[i].OneWay || which(ways[i])
	}
	return p.rebuilt(ways)
}

// rebuilt is the same plumbing with some of its ways changed.
func (p *Plumbing) rebuilt(ways []Way) *Plumbing {
	q, err := plumb(p.rooms, ways)
	if err != nil {
		panic("circuit: " + err.Error()) // the same names were good a moment ago
	}
	copy(q.reservoir, p.reservoir)
	return q
}

// Graph is the container, for export and for algorithms of its own package. Its answers come in no particular order.
func (p *Plumbing) Graph() graph.Graph[string, Vertex] { return p.graph }

// Rooms lists every room, the atmosphere included, by name.
func (p *Plumbing) Rooms() []string { return slices.Clone(p.rooms) }

// Ways lists every passage and line, by id.
func (p *Plumbing) Ways() []Way { return slices.Clone(p.ways) }

// Way finds a way by id.
func (p *Plumbing) Way(id string) (Way, bool) {
	i, ok := p.wayIndex[id]
	if !ok {
		return Way{}, false
	}
	return p.ways[i], true
}

// Healthy is open for everything that air can pass in a part without faults, in some state or other.
func (p *Plumbing) Healthy() Open {
	return func(component, passage string) bool {
		w, ok := p.Way(Passage(component, passage))
		return ok && !w.Worn
	}
}

// openings asks about every way once.
func (p *Plumbing) openings(open Open) []bool {
	o := make([]bool, len(p.ways))
	for i, w := range p.ways {
		if open == nil {
			o[i] = !w.Worn
		} else {
			o[i] = open(w.Component, w.Name)
		}
	}
	return o
}

// room finds a room by name; asking about a room that the vehicle lacks is an error that says which was meant.
func (p *Plumbing) room(name string) (int, error) {
	i, ok := p.roomIndex[name]
	if !ok {
		return 0, p.unknown("room", name, p.rooms)
	}
	return i, nil
}

func (p *Plumbing) unknown(what, name string, known []string) error {
	return fmt.Errorf("there is no %s %q; %s", what, name, Suggest(name, known))
}

func (p *Plumbing) wayIDs() []string {
	ids := make([]string, len(p.ways))
	for i, w := range p.ways {
		ids[i] = w.ID
	}
	return ids
}
