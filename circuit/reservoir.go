package circuit

import (
	"slices"
	"strings"
)

// A Reservoir is a room of one vehicle that keeps air for later.
type Reservoir struct {
	Component *Component
	Spec      RoomSpec
	Room      string   // "tank.primary"
	Volume    float64  // m³
	Drained   bool     // a way out by hand is joined to it by lines alone
	FedBy     []string // reservoirs that it is filled from, by the names of their rooms; none for a supply reservoir
	Lost      []string // those of FedBy to which its own air could go back: no check valve protects it from their loss
}

// Reservoirs of a vehicle in file order. Parts without a kind are left out.
func (c *Circuit) Reservoirs() []Reservoir {
	var rs []Reservoir
	p := NewPlumbing(c)
	filling, holding := p.Forward(), p.Holding()
	for _, comp := range c.Components {
		if comp.Kind == nil {
			continue
		}
		for _, spec := range comp.Kind.Rooms {
			if !spec.Reservoir {
				continue
			}
			r := Reservoir{Component: comp, Spec: spec, Room: comp.Room(spec.Name), Volume: comp.Value(spec.Volume)}
			joined := p.Reach(r.Room, func(_, passage string) bool { return passage == Bore })
			r.Drained = slices.ContainsFunc(joined, c.handOpened)
			reach := holding.Reach(r.Room, nil)
			for _, source := range filling.Sources(r.Room, nil) {
				// Of two that are joined without a check valve, the one nearer to the compressor fills the other.
				if !p.reservoir[p.roomIndex[source]] || filling.far(source) >= filling.far(r.Room) {
					continue
				}
				r.FedBy = append(r.FedBy, source)
				if slices.Contains(reach, source) {
					r.Lost = append(r.Lost, source)
				}
			}
			rs = append(rs, r)
		}
	}
	return rs
}

// far counts the ways from the atmosphere to a room.
func (p *Plumbing) far(room string) int {
	path, _ := p.Path(Atmosphere, room, nil)
	return len(path.Ways)
}

// handOpened tells whether a hand-worked passage leads from a room to the atmosphere.
func (c *Circuit) handOpened(room string) bool {
	id, name, _ := strings.Cut(room, ".")
	comp := c.Component(id)
	return comp != nil && comp.Kind != nil && slices.ContainsFunc(comp.Kind.Passages, func(p PassageSpec) bool {
		return p.From == name && p.To == Atmosphere && p.Control != "" && !p.Worn
	})
}
