package explain

import (
	"fmt"
	"math"

	"airpath/circuit"
	"airpath/circuit/airflow"
)

// A Book explains one vehicle.
type Book struct {
	circuit  *circuit.Circuit
	index    *airflow.Index
	plumbing *circuit.Plumbing
}

// New opens the book of a vehicle.
func New(n *airflow.Network) *Book {
	return &Book{circuit: n.Circuit(), index: n.Index(), plumbing: circuit.NewPlumbing(n.Circuit())}
}

// A Moment is the vehicle at one moment of a run.
type Moment struct {
	*Book
	glance *airflow.Glance
	unit   string
}

// At looks at a moment; pressures are told in a unit: psi, bar or kPa.
func (b *Book) At(g *airflow.Glance, unit string) *Moment {
	return &Moment{Book: b, glance: g, unit: unit}
}

func (m *Moment) pressure(room string) float64 {
	if i, ok := m.index.Room[room]; ok {
		return m.glance.Pressure[i]
	}
	return circuit.AtmospherePressure
}

func (m *Moment) sayPressure(pa float64) string {
	v, ok := circuit.In(pa, circuit.Pressure, m.unit)
	if !ok {
		return "?"
	}
	if m.unit == "bar" {
		return fmt.Sprintf("%.1f bar", math.Round(v*10)/10+0)
	}
	return fmt.Sprintf("%.0f %s", math.Round(v)+0, m.unit)
}

// stroke of the push-rod that a part has, or that links lead to from it, m.
func (m *Moment) stroke(part *circuit.Component) (float64, bool) {
	seen := map[string]bool{}
	for next := []*circuit.Component{part}; len(next) > 0; next = next[1:] {
		p := next[0]
		if p == nil || seen[p.ID] {
			continue
		}
		seen[p.ID] = true
		if i, ok := m.index.Rod[p.ID]; ok {
			return m.glance.Stroke[i], true
		}
		for _, spec := range p.Kind.Ports {
			if spec.Medium != circuit.Motion {
				continue
			}
			ref := circuit.PortRef{Component: p.ID, Port: spec.Name}
			if l := m.circuit.LineAt(ref); l != nil {
				next = append(next, m.circuit.Component(l.Other(ref).Component))
			}
		}
	}
	return 0, false
}

// An Account is what is said of a part or line.
type Account struct {
	ID    string
	Title string
	Kind  string // "relay valve"; "tube", "hose" of lines
	Place string // where to find it
	Does  string // what it is for
	Now   []string
	Ports []Port
}

// A Port is one connection of a part.
type Port struct {
	Name     string  // ISO 6786 digits of air ports
	About    string  // what it is for
	To       string  // what is fastened to it; "" for an open or plugged one
	Line     string  // the line's id; ""
	Pressure float64 // Pa absolute; NaN for ports that carry no air
}

// Of says what a component or line is and does; ok is false for an id that there is not.
func (m *Moment) Of(id string) (a Account, ok bool) {
	if part := m.circuit.Component(id); part != nil {
		return m.part(part), true
	}
	if l := m.circuit.Line(id); l != nil {
		return m.line(l), true
	}
	return Account{}, false
}

func (m *Moment) part(part *circuit.Component) Account {
	a := Account{ID: part.ID, Title: part.Name, Kind: part.Kind.Title, Place: part.Place, Does: part.Kind.About, Now: view{m, part}.say()}
	for _, spec := range part.Kind.Ports {
		p := Port{Name: spec.Name, About: spec.About, Pressure: math.NaN()}
		ref := circuit.PortRef{Component: part.ID, Port: spec.Name}
		if l := m.circuit.LineAt(ref); l != nil {
			p.To, p.Line = m.nameOf(l.Other(ref).Component), l.ID
		} else if spec.Optional {
			continue // plugged
		}
		if spec.Medium == circuit.Air {
			p.Pressure = m.pressure(part.Room(spec.Room))
			if spec.Vent {
				p.Pressure = circuit.AtmospherePressure
			}
		}
		a.Ports = append(a.Ports, p)
	}
	return a
}

func (m *Moment) nameOf(id string) string {
	if part := m.circuit.Component(id); part != nil && part.Name != "" {
		return part.Name
	}
	if l := m.circuit.Line(id); l != nil && l.Name != "" {
		return l.Name
	}
	return id
}

// What the four sorts of line are for.
var lineDoes = map[circuit.LineType]string{
	circuit.Tube: "A pipe that carries air.",
	circuit.Hose: "A hose: it carries air to something that moves against the frame.",
	circuit.Rod:  "A mechanical link: it passes a movement on.",
	circuit.Wire: "A wire: it carries current to a lamp or buzzer.",
}

func (m *Moment) line(l *circuit.Line) Account {
	a := Account{ID: l.ID, Title: l.Name, Kind: string(l.Type), Does: lineDoes[l.Type]}
	from, to := m.nameOf(l.From.Component), m.nameOf(l.To.Component)
	if a.Title == "" {
		a.Title = from + " to " + to
	}
	if l.Type.Medium() != circuit.Air {
		a.Now = []string{fmt.Sprintf("It runs from the %s to the %s.", from, to)}
		return a
	}
	i, ok := m.index.Passage[circuit.Passage(l.ID, circuit.Bore)]
	if !ok {
		return a
	}
	pa, flow := m.linePressure(l), m.glance.Flow[i]
	switch {
	case flow > flowing:
		a.Now = append(a.Now, fmt.Sprintf("Air flows from the %s to the %s, %s, at %s.", from, to, sayFlow(flow), m.sayPressure(pa)))
	case flow < -flowing:
		a.Now = append(a.Now, fmt.Sprintf("Air flows back from the %s to the %s, %s, at %s.", to, from, sayFlow(flow), m.sayPressure(pa)))
	case pa-circuit.AtmospherePressure < some:
		a.Now = append(a.Now, "It is empty, and nothing flows.")
	default:
		a.Now = append(a.Now, fmt.Sprintf("It holds %s, and nothing flows: both ends have the same pressure.", m.sayPressure(pa)))
	}
	return a
}

// linePressure is the mean of a line's two ends, Pa absolute.
func (m *Moment) linePressure(l *circuit.Line) float64 {
	return (m.pressure(m.circuit.Room(l.From)) + m.pressure(m.circuit.Room(l.To))) / 2
}
