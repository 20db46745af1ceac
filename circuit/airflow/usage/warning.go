package usage

import "airpath/circuit"

// isWarning: a lamp or buzzer that a switch closing below a pressure works, by way of other lamps too.
func isWarning(c *circuit.Circuit, lamp *circuit.Component) bool {
	seen := map[string]bool{}
	var reaches func(id string) bool
	reaches = func(id string) bool {
		if seen[id] {
			return false
		}
		seen[id] = true
		part := c.Component(id)
		if part == nil || part.Kind == nil {
			return false
		}
		if _, ok := part.Kind.Param("closes_below"); ok {
			return true
		}
		for _, p := range part.Kind.Ports {
			ref := circuit.PortRef{Component: id, Port: p.Name}
			if p.Medium != circuit.Current {
				continue
			}
			if l := c.LineAt(ref); l != nil && reaches(l.Other(ref).Component) {
				return true
			}
		}
		return false
	}
	if _, ok := lamp.Kind.Param("closes_below"); ok {
		return false
	}
	return reaches(lamp.ID)
}
