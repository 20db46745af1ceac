package trace

import (
	"context"
	"slices"
	"strings"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuit/airflow/procedure"
	"airpath/trace/reason"
)

// A model is the vehicle at one moment seen only by its structure: unknown are the pressure of every room, the flow of every
// way and of every leak that might be there; each way has its law, each room its balance, each leak is nought; what is read
// are the gauges, and on a listening round the flow at each place.
type model struct {
	structure reason.Structure
	unknown   map[string]int
	balance   map[string]int // by room
	law       map[string]int // by way
	leak      map[string]int // by room and place
	reads     map[string]int // by gauge
}

func (m *model) the(name string) int {
	x, ok := m.unknown[name]
	if !ok {
		x = m.structure.Unknowns
		m.unknown[name] = x
		m.structure.Unknowns++
	}
	return x
}

func (m *model) add(unknowns ...int) int {
	slices.Sort(unknowns)
	m.structure.Equations = append(m.structure.Equations, slices.Compact(unknowns))
	return len(m.structure.Equations) - 1
}

// modelOf a moment. leaks are the rooms and places at which some fault would let air out; heard, where it is listened.
func (t *Tracer) modelOf(s *scene, leaks []airflow.Change, heard []string) *model {
	m := &model{unknown: map[string]int{}, balance: map[string]int{}, law: map[string]int{}, leak: map[string]int{}, reads: map[string]int{}}
	pressure := func(room string) []int {
		if room == circuit.Atmosphere {
			return nil // known
		}
		return []int{m.the("p " + room)}
	}
	in := map[string][]int{}
	at := map[string][]int{} // flows by place
	for i, w := range t.atlas.ways {
		flow := m.the("w " + w.ID)
		ties := []int{flow}
		if s.open[i] {
			ties = append(append(ties, pressure(w.From)...), pressure(w.To)...)
			for _, room := range t.atlas.pilots[i] {
				ties = append(ties, pressure(room)...)
			}
		}
		m.law[w.ID] = m.add(ties...)
		for _, room := range []string{w.From, w.To} {
			in[room] = append(in[room], flow)
		}
		if w.To == circuit.Atmosphere || w.From == circuit.Atmosphere {
			place := t.atlas.place(i)
			at[place] = append(at[place], flow)
		}
	}
	for _, l := range leaks {
		name := "l " + l.Room + " " + l.Place
		if _, ok := m.leak[name]; ok {
			continue
		}
		x := m.the(name)
		m.leak[name] = m.add(x)
		in[l.Room] = append(in[l.Room], x)
		at[l.Place] = append(at[l.Place], x)
	}
	for _, room := range t.network.Rooms() {
		m.balance[room] = m.add(append(pressure(room), in[room]...)...)
	}
	for _, g := range t.network.Gauges() {
		if room, ok := t.network.GaugedRoom(g); ok {
			m.reads[g] = m.add(pressure(room)...)
		}
	}
	for _, place := range heard {
		if flows := at[place]; len(flows) > 0 {
			m.add(slices.Clone(flows)...)
		}
	}
	return m
}

// breaks lists the equations that a fault breaks.
func (m *model) breaks(changes []airflow.Change) []int {
	var out []int
	put := func(e int, ok bool) {
		if ok && !slices.Contains(out, e) {
			out = append(out, e)
		}
	}
	for _, c := range changes {
		switch {
		case c.Effect == airflow.Signals:
		case c.Effect == airflow.Leaks:
			e, ok := m.leak["l "+c.Room+" "+c.Place]
			put(e, ok)
		case c.Effect == airflow.Swells:
			e, ok := m.balance[c.Room]
			put(e, ok)
		case c.Effect == airflow.Reads:
			e, ok := m.reads[c.Part]
			put(e, ok)
		default:
			e, ok := m.law[c.Passage]
			put(e, ok)
		}
	}
	return out
}

// structureReport takes together what the moments of all procedures show: a fault can be told from another if it can at some
// moment.
func (t *Tracer) structureReport(ctx context.Context) (StructureReport, error) {
	var faults []int // hypotheses that break an equation
	var leaks []airflow.Change
	for h := firstFault; h < len(t.list); h++ {
		acts := false
		for _, c := range t.list[h].changes {
			acts = acts || c.Effect != airflow.Signals
			if c.Effect == airflow.Leaks {
				leaks = append(leaks, c)
			}
		}
		if acts {
			faults = append(faults, h)
		}
	}
	// Faults that break the same equations are one to the structure.
	classOf, classes := map[string]int{}, [][]int{}
	for _, h := range faults {
		key := keyOfChanges(t.list[h].changes)
		k, ok := classOf[key]
		if !ok {
			k = len(classes)
			classOf[key] = k
			classes = append(classes, nil)
		}
		classes[k] = append(classes[k], h)
	}
	detectable := make([]bool, len(classes))
	apart := make([][]bool, len(classes))
	for i := range apart {
		apart[i] = make([]bool, len(classes))
	}
	for p, pr := range t.procedures {
		scenes, err := t.scenesOf(ctx, p)
		if err != nil {
			return StructureReport{}, err
		}
		heard := heardPlaces(pr)
		for _, s := range scenes {
			m := t.modelOf(s, leaks, heard)
			broken := make([][]int, len(classes))
			for k, c := range classes {
				broken[k] = m.breaks(t.list[c[0]].changes)
			}
			shown, alike := m.structure.Isolability(broken)
			for i := range classes {
				detectable[i] = detectable[i] || shown[i]
				for j := range classes {
					apart[i][j] = apart[i][j] || !alike[i][j]
				}
			}
			if err := ctx.Err(); err != nil {
				return StructureReport{}, err
			}
		}
	}
	return reportOf(classes, detectable, apart), nil
}

func reportOf(classes [][]int, detectable []bool, apart [][]bool) StructureReport {
	var out StructureReport
	var groups [][]int // of classes
	for i, members := range classes {
		out.Faults += len(members)
		if !detectable[i] {
			continue
		}
		out.Detectable += len(members)
		at := slices.IndexFunc(groups, func(g []int) bool {
			return !slices.ContainsFunc(g, func(j int) bool { return apart[i][j] && apart[j][i] })
		})
		if at < 0 {
			groups = append(groups, []int{i})
		} else {
			groups[at] = append(groups[at], i)
		}
	}
	out.Groups = len(groups)
	for _, g := range groups {
		n := 0
		for _, k := range g {
			n += len(classes[k])
		}
		out.Largest = max(out.Largest, n)
	}
	return out
}

// keyOfChanges is the same for faults that act in the same places.
func keyOfChanges(changes []airflow.Change) string {
	var parts []string
	for _, c := range changes {
		if c.Effect != airflow.Signals {
			effect := c.Effect
			if c.Passage != "" { // whatever it does, it breaks the passage's law
				effect = "law"
			}
			parts = append(parts, strings.Join([]string{string(effect), c.Passage, c.Room, c.Place, readsOnly(c)}, "\x00"))
		}
	}
	slices.Sort(parts)
	return strings.Join(slices.Compact(parts), "\x01")
}

func readsOnly(c airflow.Change) string {
	if c.Effect == airflow.Reads {
		return c.Part
	}
	return ""
}

// heardPlaces are where a procedure listens.
func heardPlaces(p *procedure.Procedure) []string {
	var out []string
	for i := range p.Readings {
		if r := &p.Readings[i]; r.Leak() && !slices.Contains(out, r.Place) {
			out = append(out, r.Place)
		}
	}
	return out
}
