package trace

import (
	"slices"

	"airpath/circuit"
	"airpath/circuit/airflow"
)

// An atlas is the vehicle's ways for the path arm: the healthy circuit's rooms and passages with what works them, and the
// parts joined by wires. It knows no fault mode; where a fault acts is told by its changes.
type atlas struct {
	circuit *circuit.Circuit
	ways    []circuit.Way
	index   map[string]int     // by way id
	at      map[string][]int   // ways that end in a room
	piloted map[string][]int   // ways that a room's pressure works
	pilots  [][]string         // for each way, the rooms that work it
	vents   map[string]string  // where a component's air leaves
	wired   map[string][]wired // by part
	gauges  []string           // parts that show a pressure
}

type wired struct{ wire, part string }

func newAtlas(c *circuit.Circuit, gauges []string) *atlas {
	a := &atlas{
		circuit: c, ways: circuit.NewPlumbing(c).Ways(), index: map[string]int{}, at: map[string][]int{},
		piloted: map[string][]int{}, vents: map[string]string{}, wired: map[string][]wired{}, gauges: gauges,
	}
	a.pilots = make([][]string, len(a.ways))
	for i, w := range a.ways {
		a.index[w.ID] = i
		a.at[w.From] = append(a.at[w.From], i)
		a.at[w.To] = append(a.at[w.To], i)
	}
	for _, part := range c.Components {
		a.vents[part.ID] = part.ID
		if i := slices.IndexFunc(part.Kind.Ports, func(p circuit.PortSpec) bool { return p.Vent }); i >= 0 {
			a.vents[part.ID] = part.ID + "." + part.Kind.Ports[i].Name
		}
		for _, p := range part.Kind.Passages {
			i, ok := a.index[circuit.Passage(part.ID, p.Name)]
			if !ok {
				continue
			}
			for _, room := range p.Pilot {
				full := part.Room(room)
				a.pilots[i] = append(a.pilots[i], full)
				a.piloted[full] = append(a.piloted[full], i)
			}
		}
	}
	for _, l := range c.Lines {
		if l.Type.Medium() == circuit.Current {
			a.wired[l.From.Component] = append(a.wired[l.From.Component], wired{l.ID, l.To.Component})
			a.wired[l.To.Component] = append(a.wired[l.To.Component], wired{l.ID, l.From.Component})
		}
	}
	return a
}

// place where the air of a way to the atmosphere is heard.
func (a *atlas) place(way int) string { return a.vents[a.ways[way].Component] }

// A scene is the healthy vehicle at one moment: which ways stand open, where there is pressure, where air flows.
type scene struct {
	name     string
	open     []bool             // by way
	flow     []float64          // kg/s by way
	pressure map[string]float64 // Pa absolute by room
}

// Differences of pressure and flow that count. A gauge line that fills carries a few milligrams a second.
const (
	counts      = 2 * circuit.PSI
	countsAsAir = 1e-8 // kg/s
)

func (a *atlas) scene(name string, n *airflow.Network, r *airflow.Run) *scene {
	s := &scene{name: name, open: make([]bool, len(a.ways)), flow: make([]float64, len(a.ways)), pressure: map[string]float64{}}
	open := n.Open(r)
	for i, w := range a.ways {
		s.open[i] = open(w.Component, w.Name)
		s.flow[i] = r.PassageFlow(w.ID)
	}
	for _, room := range n.Rooms() {
		s.pressure[room] = r.Pressure(room)
	}
	s.pressure[circuit.Atmosphere] = circuit.AtmospherePressure
	return s
}

// high tells whether a room holds pressure.
func (s *scene) high(room string) bool { return s.pressure[room] > circuit.AtmospherePressure+counts }

// A Step is one thing on the way from a fault to its symptom: a component or line to light up, and the passage in it.
type Step struct {
	ID      string // component or line
	Passage string // "inlet seat", "bore"; "" for the part itself
	Words   string // "inlet seat of the rear relay valve"
}

func (a *atlas) stepOf(way int) Step {
	w := a.ways[way]
	if w.Line {
		return Step{ID: w.Component, Passage: w.Name, Words: nameOf(a.circuit, w.Component)}
	}
	return Step{ID: w.Component, Passage: w.Name, Words: w.Name + " of the " + nameOf(a.circuit, w.Component)}
}

func (a *atlas) partStep(id string) Step { return Step{ID: id, Words: nameOf(a.circuit, id)} }

// trail is a walk's way back: how each room was first got to.
type trail struct {
	way  int // -1 at the start
	room string
}

// walk goes breadth first from rooms through ways that pass allows, in the order of the ways, so that equal questions
// get equal answers. Nothing leads on from the atmosphere.
func (a *atlas) walk(starts []string, pass func(way int, from, to string) bool) map[string]trail {
	seen := map[string]trail{}
	var queue []string
	for _, s := range starts {
		if _, ok := seen[s]; !ok && s != circuit.Atmosphere {
			seen[s] = trail{-1, ""}
			queue = append(queue, s)
		}
	}
	for ; len(queue) > 0; queue = queue[1:] {
		room := queue[0]
		for _, i := range a.at[room] {
			w := a.ways[i]
			to := w.To
			if room == w.To {
				to = w.From
			}
			if _, ok := seen[to]; ok || to == circuit.Atmosphere || !pass(i, room, to) {
				continue
			}
			seen[to] = trail{i, room}
			queue = append(queue, to)
		}
	}
	return seen
}

// back lists the ways from the start of a walk to a room, in the direction of the walk.
func back(seen map[string]trail, room string) []int {
	var ways []int
	for t := seen[room]; t.way >= 0; t = seen[room] {
		ways = append(ways, t.way)
		room = t.room
	}
	slices.Reverse(ways)
	return ways
}

// through makes steps of ways, without naming one part twice in a row for nothing.
func (a *atlas) through(first []Step, ways []int) []Step {
	steps := slices.Clone(first)
	for _, i := range ways {
		if s := a.stepOf(i); !slices.Contains(steps, s) {
			steps = append(steps, s)
		}
	}
	return steps
}

// together puts a part's own place at the end of a path.
func together(steps []Step, end Step) []Step {
	if n := len(steps); n > 0 && steps[n-1].ID == end.ID {
		return steps
	}
	return append(steps, end)
}
