package airflow

import (
	"math"
	"slices"

	"airpath/circuit"
)

// lineFlow is the sonic conductance (m³/(s·Pa)) and critical pressure ratio of a smooth tube of bore d and length l (m):
//
//	C = 0.029·d²/√(l/d^1.25 + 510)      b = 474·C/d²
//
// an empirical correlation of pneumatics textbooks, quoted from memory. Against an adiabatic flow with friction (Fanno), C is
// right within 1 to 9 %, but b is too high: at the pressure ratios that matter here the flow behaves as with 0.8 of it in
// short wide tubes and a third of it in long thin ones. The factor is a straight line through that comparison.
func lineFlow(d, l float64) (conductance, crit float64) {
	conductance = 0.029 * d * d / math.Sqrt(l/math.Pow(d, 1.25)+510)
	crit = 474 * conductance / (d * d) * max(0.25, min(0.8, 0.83-0.00041*l/d))
	return conductance, crit
}

// buildBore: an air line is its bore, with half its volume at either end.
func buildBore(b *Builder) {
	d, l := b.Line().Bore.SI, b.Line().Length.SI
	conductance, crit := lineFlow(d, l)
	volume := math.Pi / 4 * d * d * l
	if pieces := b.plan.detail.LinePieces; pieces > 1 {
		b.pieces(pieces, volume, conductance, crit)
		return
	}
	b.Volume("from", volume/2)
	b.Volume("to", volume/2)
	b.Passage(Bore, conductance, crit, Open)
}

var kinked = Mode{Name: "kinked", Severity: shareOf("share of the way that is closed", 0.35, 0.9, 0.99), Where: canKink,
	Apply: func(e *Edit, share float64) { e.Scale(Bore, left(share)) }}

var tubeLaw = Law{
	Build: buildBore,
	Modes: []Mode{
		leaking("leaking", "from", holeOf(0.15, 0.5, 4)),
		kinked,
		iced("iced", shareOf("share of the way that ice closes", 0.35, 0.98, 1), Bore),
		choked("blocked", shareOf("share of the way that is closed", 0.9, 1, 1), Bore),
		{Name: "carboned", Severity: shareOf("share of the way that carbon closes", 0.85, 0.988, 0.9975), Where: leavesCompressor,
			Apply: func(e *Edit, share float64) { e.Scale(Bore, left(share)) }},
		// Dirt or ice that lifts on the way to the part and falls back behind it.
		{Name: "staying charged", Severity: shareOf("share of the way back that is closed", 0.97, 0.9995, 1), Where: worksDryer,
			Apply: func(e *Edit, share float64) {
				if worksPurge(e.Circuit(), e.Line().To) {
					e.ScaleBack(Bore, left(share))
				} else {
					e.ScaleForth(Bore, left(share))
				}
			}},
	},
}

var hoseLaw = Law{
	Build: buildBore,
	Modes: []Mode{
		leaking("leaking", "from", holeOf(0.15, 0.5, 4)),
		kinked,
		iced("iced", shareOf("share of the way that ice closes", 0.35, 0.98, 1), Bore),
		choked("blocked", shareOf("share of the way that is closed", 0.9, 1, 1), Bore),
		{Name: "lining closing the way out", Severity: shareOf("share of the way out that the lining closes", 0.25, 0.97, 1),
			Apply: func(e *Edit, share float64) { e.ScaleForth(Bore, left(share)) }},
		{Name: "lining closing the way back", Severity: shareOf("share of the way back that the lining closes", 0.25, 0.97, 1),
			Apply: func(e *Edit, share float64) { e.ScaleBack(Bore, left(share)) }},
	},
}

// rodLaw: a push-rod carries no air; what its chamber needs to know of the far end it asks for itself.
var rodLaw = Law{Build: func(*Builder) {}}

var wireLaw = Law{
	Build: func(*Builder) {},
	Modes: []Mode{
		{Name: "open", Severity: whole("broken"), Apply: func(e *Edit, _ float64) { e.Wire(true, false) }},
		{Name: "shorted", Severity: whole("touching ground"), Apply: func(e *Edit, _ float64) { e.Wire(false, true) }},
	},
}

// shortest is the length under which a pipe between two fittings doesn't kink. Engineering judgement.
const shortest = 0.5 // m

func canKink(c *circuit.Circuit, line string) bool {
	return slices.ContainsFunc(c.Lines, func(l *circuit.Line) bool { return l.ID == line && l.Length.SI > shortest })
}

// leavesCompressor: only the line from a compressor's outlet is hot and oily enough to carbon up.
func leavesCompressor(c *circuit.Circuit, line string) bool {
	return endsAt(c, line, func(ref circuit.PortRef) bool {
		part := componentOf(c, ref)
		if part == nil || part.Kind.Name != "compressor" {
			return false
		}
		port, ok := part.Kind.Port(ref.Port)
		return ok && port.Role() == circuit.Delivery
	})
}

// worksDryer: the line that works a dryer's purge valve.
func worksDryer(c *circuit.Circuit, line string) bool {
	return endsAt(c, line, func(ref circuit.PortRef) bool { return worksPurge(c, ref) })
}

func worksPurge(c *circuit.Circuit, ref circuit.PortRef) bool {
	part := componentOf(c, ref)
	if part == nil || part.Kind.Name != "air-dryer" {
		return false
	}
	port, ok := part.Kind.Port(ref.Port)
	return ok && port.Role() == circuit.Control
}

func endsAt(c *circuit.Circuit, line string, fits func(circuit.PortRef) bool) bool {
	for _, l := range c.Lines {
		if l.ID == line {
			return fits(l.From) || fits(l.To)
		}
	}
	return false
}

func componentOf(c *circuit.Circuit, ref circuit.PortRef) *circuit.Component {
	for _, part := range c.Components {
		if part.ID == ref.Component {
			return part
		}
	}
	return nil
}
