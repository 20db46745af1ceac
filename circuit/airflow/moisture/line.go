package moisture

import (
	"math"

	"airpath/circuit"
)

const (
	// Air at about 100 °C (textbook).
	airHeat       = 1005.0 // J/(kg·K), at constant pressure
	airViscosity  = 2.2e-5 // Pa·s
	airConduction = 0.031  // W/(m·K)
	airPrandtl    = 0.7

	compression = 1.25   // polytropic index of a water-cooled compressor
	lineOutside = 30.0   // W/(m²·K) from a tube to the air around it, driving
	lineWall    = 1.5e-3 // m
)

// dischargeLine lists the air lines between the compressor and the dryer, or the first reservoir where there is none.
func dischargeLine(c *circuit.Circuit) []*circuit.Line {
	ends := map[string]bool{}
	for _, d := range dryers(c) {
		ends[d.ID] = true
	}
	if len(ends) == 0 {
		for _, tank := range c.Reservoirs() {
			ends[tank.Component.ID] = true
		}
	}
	for _, comp := range c.Components {
		if comp.Kind == nil {
			continue
		}
		if _, ok := comp.Kind.Param("displacement"); !ok {
			continue
		}
		for _, p := range comp.Kind.Ports {
			if p.Medium != circuit.Air || p.Role() != circuit.Delivery {
				continue
			}
			if path := pathTo(c, circuit.PortRef{Component: comp.ID, Port: p.Name}, ends, map[string]bool{comp.ID: true}); path != nil {
				return path
			}
		}
	}
	return nil
}

// pathTo finds the lines from a port to one of some components, by way of parts that are no end: tees.
func pathTo(c *circuit.Circuit, from circuit.PortRef, ends, seen map[string]bool) []*circuit.Line {
	l := c.LineAt(from)
	if l == nil || l.Type.Medium() != circuit.Air {
		return nil
	}
	next := l.Other(from)
	comp := c.Component(next.Component)
	if comp == nil || comp.Kind == nil {
		return nil
	}
	if ends[comp.ID] {
		return []*circuit.Line{l}
	}
	if seen[comp.ID] {
		return nil
	}
	seen[comp.ID] = true
	for _, p := range comp.Kind.Ports {
		if p.Medium != circuit.Air || p.Vent || p.Name == next.Port {
			continue
		}
		if rest := pathTo(c, circuit.PortRef{Component: comp.ID, Port: p.Name}, ends, seen); rest != nil {
			return append([]*circuit.Line{l}, rest...)
		}
	}
	return nil
}

// DischargeTemperature of the compressed air at the head, K: polytropic compression, T1·(p2/p1)^((n − 1)/n) (textbook).
func DischargeTemperature(intake, pressureRatio float64) float64 {
	return intake * math.Pow(max(pressureRatio, 1), (compression-1)/compression)
}

// LineEnd is the temperature of the air at the end of lines that it is pumped through with a mass flow (kg/s) for a share of the
// time, K. While it is pumped it loses heat to the wall, as in any tube of one temperature (textbook): its excess falls as
// exp(−h·A/(m·cp)), with h after Dittus and Boelter, Nu = 0.023·Re^0.8·Pr^0.4. The wall has the temperature at which it gives
// off to the air around it, all the time, what it takes up while the compressor pumps: it is heavy enough not to follow single
// cycles.
func LineEnd(from, ambient, flow, loaded float64, lines []*circuit.Line) float64 {
	if flow <= 0 {
		return ambient
	}
	inner, outer := 0.0, 0.0 // W/K
	for _, l := range lines {
		reynolds := 4 * flow / (math.Pi * l.Bore.SI * airViscosity)
		nusselt := 0.023 * math.Pow(reynolds, 0.8) * math.Pow(airPrandtl, 0.4)
		inner += nusselt * airConduction / l.Bore.SI * math.Pi * l.Bore.SI * l.Length.SI
		outer += lineOutside * math.Pi * (l.Bore.SI + 2*lineWall) * l.Length.SI
	}
	carried := flow * airHeat
	stays := math.Exp(-inner / carried)
	given := loaded * carried * (1 - stays)
	wall := ambient
	if given+outer > 0 {
		wall = (given*from + outer*ambient) / (given + outer)
	}
	return wall + (from-wall)*stays
}
