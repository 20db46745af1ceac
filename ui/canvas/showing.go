package canvas

import (
	"math"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuit/symbol"
)

// showing says of each part of a vehicle what its symbol shows of a glance: worked out once, so that a glance is read off
// by index.
type showing struct {
	parts []partShowing // in file order
	pipes []pipeShowing // in the order of the sheet's pipes
}

type partShowing struct {
	id       string
	rooms    []namedIndex
	passages []namedIndex
	control  int // -1 for none
	full     float64
	needle   int
	lamp     int
	contact  int
	pump     []int // passages that it pumps through
	hose     int   // control that puts a workshop's air on it, -1 for none
	stroke   int
	stop     float64 // the rod's full stroke, m
	exact    []int   // rooms whose pressure is written in the symbol
	shown    symbol.State
}

type namedIndex struct {
	name string
	at   int
}

type pipeShowing struct {
	rooms [2]int // -1 for the atmosphere
	flow  int    // passage
}

func newShowing(n *airflow.Network, sheet *symbol.Sheet) showing {
	c, x := n.Circuit(), n.Index()
	find := func(m map[string]int, name string) int {
		if i, ok := m[name]; ok {
			return i
		}
		return -1
	}
	var s showing
	for _, part := range c.Components {
		p := partShowing{id: part.ID, control: -1, needle: find(x.Gauge, part.ID), lamp: find(x.Sink, part.ID), contact: find(x.Contact, part.ID), stroke: -1, hose: -1}
		for _, r := range part.Kind.Rooms {
			if i, ok := x.Room[part.Room(r.Name)]; ok {
				p.rooms = append(p.rooms, namedIndex{r.Name, i})
				if r.Reservoir {
					p.exact = append(p.exact, i)
				}
			}
		}
		_, pumps := x.Pump[part.ID]
		for _, w := range part.Kind.Passages {
			if i, ok := x.Passage[circuit.Passage(part.ID, w.Name)]; ok {
				p.passages = append(p.passages, namedIndex{w.Name, i})
				if pumps && w.OneWay {
					p.pump = append(p.pump, i)
				}
			}
			if w.From == circuit.Atmosphere && w.Coupling {
				p.hose = find(x.Control, part.ID+"."+w.Control)
			}
		}
		if len(part.Kind.Controls) > 0 {
			k := part.Kind.Controls[0]
			p.control, p.full = find(x.Control, part.ID+"."+k.Name), k.Max
		}
		if rod := rodBehind(c, x, part); rod != nil {
			p.stroke, p.stop = x.Rod[rod.ID], 1
			if _, ok := rod.Kind.Param("full_stroke"); ok {
				p.stop = rod.Value("full_stroke")
			}
		}
		s.parts = append(s.parts, p)
	}
	for _, pipe := range sheet.Pipes() {
		s.pipes = append(s.pipes, pipeShowing{
			rooms: [2]int{find(x.Room, pipe.Rooms[0]), find(x.Room, pipe.Rooms[1])},
			flow:  find(x.Passage, circuit.Passage(pipe.Line.ID, circuit.Bore)),
		})
	}
	return s
}

// rodBehind is the part whose push-rod moves this one: itself, or what links lead to from it.
func rodBehind(c *circuit.Circuit, x *airflow.Index, part *circuit.Component) *circuit.Component {
	seen := map[string]bool{}
	for next := []*circuit.Component{part}; len(next) > 0; next = next[1:] {
		p := next[0]
		if p == nil || seen[p.ID] {
			continue
		}
		seen[p.ID] = true
		if _, ok := x.Rod[p.ID]; ok {
			return p
		}
		for _, spec := range p.Kind.Ports {
			if spec.Medium != circuit.Motion {
				continue
			}
			ref := circuit.PortRef{Component: p.ID, Port: spec.Name}
			if l := c.LineAt(ref); l != nil {
				next = append(next, c.Component(l.Other(ref).Component))
			}
		}
	}
	return nil
}

// least is the flow, kg/s, that counts as pumping.
const least = 1e-5

// state is what the part's symbol shows. Its maps are used again the next time.
func (p *partShowing) state(g *airflow.Glance) symbol.State {
	s := &p.shown
	if s.Open == nil {
		s.Open, s.Pressure = make(map[string]float64, len(p.passages)), make(map[string]float64, len(p.rooms))
	}
	s.On, s.Stroke, s.Control, s.Hose = p.on(g), p.out(g), p.moved(g), p.fed(g)
	for _, w := range p.passages {
		s.Open[w.name] = g.Open[w.at]
	}
	for _, r := range p.rooms {
		s.Pressure[r.name] = g.Pressure[r.at]
	}
	if p.needle >= 0 {
		s.Needle = g.Needle[p.needle]
	}
	return *s
}

func (p *partShowing) on(g *airflow.Glance) bool {
	switch {
	case p.lamp >= 0:
		return g.Lit[p.lamp]
	case p.contact >= 0:
		return g.Contact[p.contact]
	}
	for _, i := range p.pump {
		if g.Flow[i] > least {
			return true
		}
	}
	return false
}

func (p *partShowing) out(g *airflow.Glance) float64 {
	if p.stroke < 0 {
		return 0
	}
	return g.Stroke[p.stroke] / p.stop
}

// fed tells whether a workshop's hose is on the part, and open.
func (p *partShowing) fed(g *airflow.Glance) bool { return p.hose >= 0 && g.Control[p.hose] > 0 }

func (p *partShowing) moved(g *airflow.Glance) float64 {
	if p.control < 0 {
		return 0
	}
	return g.Control[p.control] / p.full
}

// look sums up what a symbol shows in one number: two states of the same number look alike. Unit is what one step of a
// written pressure is worth, Pa.
func (p *partShowing) look(g *airflow.Glance, unit float64) uint64 {
	h := uint64(14695981039346656037)
	add := func(v int) {
		h ^= uint64(uint32(v))
		h *= 1099511628211
	}
	for _, r := range p.rooms {
		add(symbol.PressureTier(g.Pressure[r.at]))
	}
	for _, w := range p.passages {
		add(symbol.OpenTier(g.Open[w.at]))
	}
	for _, i := range p.exact {
		add(int(math.Round((g.Pressure[i] - circuit.AtmospherePressure) / unit)))
	}
	if p.needle >= 0 {
		add(int(math.Round(g.Needle[p.needle] / needleStep)))
	}
	if p.on(g) {
		add(1)
	}
	if p.fed(g) {
		add(2)
	}
	add(symbol.StrokeTier(p.out(g)))
	add(symbol.StrokeTier(p.moved(g)))
	return h
}

// needleStep is by how much a needle must move for it to be seen: half a psi.
const needleStep = circuit.PSI / 2

// pressure of a pipe: the mean of its ends.
func (p *pipeShowing) pressure(g *airflow.Glance) float64 {
	sum, n := 0.0, 0
	for _, r := range p.rooms {
		if r >= 0 {
			sum += g.Pressure[r]
			n++
		}
	}
	if n == 0 {
		return circuit.AtmospherePressure
	}
	return sum / float64(n)
}
