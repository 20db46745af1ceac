package circuit

import "slices"

// Component finds a component by id; nil where there is none.
func (c *Circuit) Component(id string) *Component {
	i := slices.IndexFunc(c.Components, func(x *Component) bool { return x.ID == id })
	if i < 0 {
		return nil
	}
	return c.Components[i]
}

// Line finds a line by id; nil where there is none.
func (c *Circuit) Line(id string) *Line {
	i := slices.IndexFunc(c.Lines, func(x *Line) bool { return x.ID == id })
	if i < 0 {
		return nil
	}
	return c.Lines[i]
}

// LineAt finds the line on a port; nil where none is fastened there.
func (c *Circuit) LineAt(port PortRef) *Line {
	i := slices.IndexFunc(c.Lines, func(x *Line) bool { return x.From == port || x.To == port })
	if i < 0 {
		return nil
	}
	return c.Lines[i]
}

// Other is the far end of a line, seen from one of its ports.
func (l *Line) Other(port PortRef) PortRef {
	if l.From == port {
		return l.To
	}
	return l.From
}

// Room that a port opens into, as "component.room", or [Atmosphere] for a vent; "" where there is no such air port.
func (c *Circuit) Room(port PortRef) string {
	comp := c.Component(port.Component)
	if comp == nil || comp.Kind == nil {
		return ""
	}
	spec, ok := comp.Kind.Port(port.Port)
	if !ok || spec.Medium != Air {
		return ""
	}
	return comp.Room(spec.Room)
}

// Room of a component in the form that names it within the vehicle: "tank.primary". The atmosphere is the same for all.
func (c *Component) Room(name string) string {
	if name == Atmosphere {
		return Atmosphere
	}
	return c.ID + "." + name
}

// Passage of a component or line in the form that names it within the vehicle: "rear_relay/inlet seat", "front_hose/bore".
func Passage(id, name string) string { return id + "/" + name }

// Bore is the name of a line's one passage.
const Bore = "bore"

// ids lists components and lines in file order.
func (c *Circuit) ids() []string {
	var ids []string
	for _, x := range c.Components {
		ids = append(ids, x.ID)
	}
	for _, x := range c.Lines {
		ids = append(ids, x.ID)
	}
	return ids
}
