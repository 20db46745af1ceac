package airflow

// A Hole is a fault that is nothing but one hole from a room into the open. Where on that room it sits, in a line, a tee or a valve, is all
// the same to the air: it is only heard somewhere else.
type Hole struct {
	Room  string  // that it leads out of; "" for a vehicle that differs otherwise, or in more
	Size  float64 // its conductance, m³/(s·Pa)
	Place string  // the component or line that it is in, where nothing else is heard
}

// Holes says of each of several vehicles with faults whether all that is wrong with it is one hole.
func (n *Network) Holes(vehicles [][]Fault) ([]Hole, error) {
	holes := make([]Hole, len(vehicles))
	err := n.eachSick(vehicles, func(i int, p *plan) { holes[i] = p.hole(n.plan) })
	if err != nil {
		return nil, err
	}
	return holes, nil
}

// hole that a plan has and the healthy one has not, if that is all.
func (p *plan) hole(healthy *plan) Hole {
	found := -1
	for i := range p.elements {
		if p.elements[i].same(&healthy.elements[i]) {
			continue
		}
		if found >= 0 {
			return Hole{}
		}
		found = i
	}
	if found < 0 {
		return Hole{}
	}
	e, was := p.elements[found], healthy.elements[found]
	out := Hole{Size: e.c}
	if !e.dormant || e.end || e.from < 0 || e.to != outside || e.place < 0 || was.c != 0 || p.places[e.place] != p.owners[e.owner] {
		return Hole{}
	}
	out.Room, out.Place = p.rooms[e.from].name, p.places[e.place]
	p.elements[found].c = 0 // all else must be as it should be
	if p.key(healthy) != "" {
		return Hole{}
	}
	p.elements[found].c = e.c
	return out
}
