package circuit

import (
	"slices"

	gonum "gonum.org/v1/gonum/graph"
	"gonum.org/v1/gonum/graph/flow"
	"gonum.org/v1/gonum/graph/simple"
)

// Domination says, for air from one room, what it must pass on its way to any other: "every path to the primary
// compartment passes the dryer". Rooms and ways both count.
type Domination struct {
	plumbing *Plumbing
	root     int
	tree     flow.DominatorTree
}

// Dominators works this out for the open ways, by gonum's Lengauer-Tarjan algorithm. It is an error to ask about a room
// that the vehicle lacks.
func (p *Plumbing) Dominators(from string, open Open) (*Domination, error) {
	root, err := p.room(from)
	if err != nil {
		return nil, err
	}
	g := simple.NewDirectedGraph()
	g.AddNode(simple.Node(root))
	o := p.openings(open)
	for room, steps := range p.steps {
		if !p.through(room, root) {
			continue
		}
		for _, s := range steps {
			if o[s.way] {
				way := simple.Node(len(p.rooms) + s.way)
				g.SetEdge(simple.Edge{F: simple.Node(room), T: way})
				g.SetEdge(simple.Edge{F: way, T: simple.Node(s.room)})
			}
		}
	}
	return &Domination{plumbing: p, root: root, tree: flow.Dominators(simple.Node(root), g)}, nil
}

// Must lists, in order from the root, every room and way that all paths to a room pass, both ends included. ok is false
// where the room can't be got to at all.
func (d *Domination) Must(to string) (vertices []Vertex, ok bool) {
	room, err := d.plumbing.room(to)
	if err != nil {
		return nil, false
	}
	for id := int64(room); id != int64(d.root); {
		vertices = append(vertices, d.plumbing.vertex(int(id)))
		var up gonum.Node = d.tree.DominatorOf(id)
		if up == nil {
			return nil, false
		}
		id = up.ID()
	}
	vertices = append(vertices, d.plumbing.vertex(d.root))
	slices.Reverse(vertices)
	return vertices, true
}

// Immediate is the last room before a room that all paths pass; "" for the root and for rooms that can't be got to.
func (d *Domination) Immediate(to string) string {
	must, ok := d.Must(to)
	if !ok {
		return ""
	}
	for i := len(must) - 2; i >= 0; i-- {
		if must[i].Way == nil {
			return must[i].Name
		}
	}
	return ""
}

// Cuts lists the ways each of which, shut alone, keeps air of one room from getting to another, in order from the start.
// It is empty where no single way does, and where no air gets there anyway.
func (p *Plumbing) Cuts(from, to string, open Open) []Way {
	d, err := p.Dominators(from, open)
	if err != nil {
		return nil
	}
	must, _ := d.Must(to)
	var cuts []Way
	for _, v := range must {
		if v.Way != nil {
			cuts = append(cuts, *v.Way)
		}
	}
	return cuts
}

// vertex by the number that the dominator graph uses: rooms first, ways after them.
func (p *Plumbing) vertex(i int) Vertex {
	if i < len(p.rooms) {
		return Vertex{Name: p.rooms[i]}
	}
	w := p.ways[i-len(p.rooms)]
	return Vertex{Name: w.ID, Way: &w}
}
