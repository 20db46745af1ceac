package explain

import (
	"fmt"
	"strings"

	"airpath/circuit"
)

// A Reason says why a line is live, or why it is empty.
type Reason struct {
	Live  bool
	Words string   // one or two sentences
	Path  []string // components and lines, from the source to the line or from the line to the open air, to be lit
	Steps []Step   // the same, with what each does
}

// A Step is one thing on the way.
type Step struct {
	ID    string
	Words string
}

// sure is the share from which on a passage lets air through, as airflow counts it.
const sure = 1e-3

func (m *Moment) openNow(component, passage string) bool {
	i, ok := m.index.Passage[circuit.Passage(component, passage)]
	return ok && m.glance.Open[i] > sure
}

// Why says where the air in a line comes from, or what keeps air out of it. ok is false for what carries no air.
func (m *Moment) Why(line string) (r Reason, ok bool) {
	l := m.circuit.Line(line)
	if l == nil || l.Type.Medium() != circuit.Air {
		return Reason{}, false
	}
	near, far := m.circuit.Room(l.From), m.circuit.Room(l.To)
	if i, ok := m.index.Passage[circuit.Passage(l.ID, circuit.Bore)]; ok && m.glance.Flow[i] < -flowing {
		near, far = far, near // air comes in at the other end
	}
	if m.linePressure(l)-circuit.AtmospherePressure < some {
		return m.whyEmpty(l, near, far), true
	}
	for _, room := range []string{near, far} {
		if path, ok := m.feed(room); ok {
			return m.fed(l, path), true
		}
	}
	return m.shutIn(l, near), true
}

// feed is the shortest open way from a reservoir, or from a pump, that has at least the room's own pressure.
func (m *Moment) feed(room string) (circuit.Path, bool) {
	if m.isReservoir(room) {
		return circuit.Path{Rooms: []string{room}}, true
	}
	best, found := circuit.Path{}, false
	for _, source := range m.plumbing.Sources(room, m.openNow) {
		if m.pressure(source) < m.pressure(room)-circuit.PSI {
			continue
		}
		path, ok := m.plumbing.Path(source, room, m.openNow)
		if ok && (!found || len(path.Ways) < len(best.Ways)) {
			best, found = path, true
		}
	}
	return best, found
}

func (m *Moment) isReservoir(room string) bool {
	id, name, _ := strings.Cut(room, ".")
	part := m.circuit.Component(id)
	if part == nil {
		return false
	}
	spec, ok := part.Kind.Room(name)
	return ok && spec.Reservoir
}

// roomName as a person says it: "primary compartment of the tank".
func (m *Moment) roomName(room string) string {
	id, name, _ := strings.Cut(room, ".")
	part := m.circuit.Component(id)
	if part == nil {
		return "open air"
	}
	if spec, ok := part.Kind.Room(name); ok && len(part.Kind.Rooms) > 1 && spec.About != "" {
		return spec.About + " of the " + part.Name
	}
	return part.Name
}

func (m *Moment) fed(l *circuit.Line, path circuit.Path) Reason {
	source := path.Rooms[0]
	r := Reason{Live: true, Words: fmt.Sprintf("It is live because air comes to it from the %s, which has %s.", m.roomName(source), m.sayPressure(m.pressure(source)))}
	r.add(componentOf(source), upper(m.roomName(source))+", "+m.sayPressure(m.pressure(source)))
	m.follow(&r, path)
	r.add(l.ID, "the line itself, "+m.sayPressure(m.linePressure(l)))
	return r
}

// follow adds what a path passes.
func (m *Moment) follow(r *Reason, path circuit.Path) {
	for i, w := range path.Ways {
		to := path.Rooms[i+1]
		if w.Line {
			r.add(w.Component, fmt.Sprintf("%s, %s", upper(m.lineTitle(w.Component)), m.sayPressure(m.pressure(to))))
			continue
		}
		r.add(w.Component, fmt.Sprintf("%s: %s is open, %s behind it", upper(m.nameOf(w.Component)), w.Name, m.sayPressure(m.pressure(to))))
	}
}

func (m *Moment) lineTitle(id string) string {
	l := m.circuit.Line(id)
	if l == nil || l.Name != "" {
		return m.nameOf(id)
	}
	return "line from the " + m.nameOf(l.From.Component) + " to the " + m.nameOf(l.To.Component)
}

// add a step; a thing that is there already is not added again.
func (r *Reason) add(id, words string) {
	for i := range r.Steps {
		if r.Steps[i].ID == id {
			r.Steps[i].Words = words
			return
		}
	}
	r.Steps = append(r.Steps, Step{id, words})
	r.Path = append(r.Path, id)
}

// shutIn: the air in the line has no way from a source any more. It says what keeps it.
func (m *Moment) shutIn(l *circuit.Line, room string) Reason {
	r := Reason{Live: true}
	r.add(l.ID, "the line, "+m.sayPressure(m.linePressure(l)))
	var by []string
	inside := map[string]bool{}
	for _, x := range m.plumbing.Reach(room, m.openNow) {
		inside[x] = true
	}
	for _, w := range m.plumbing.Ways() {
		if w.Worn || inside[w.From] == inside[w.To] || m.openNow(w.Component, w.Name) {
			continue
		}
		if _, lit := indexOf(r.Path, w.Component); !lit {
			r.add(w.Component, fmt.Sprintf("%s: %s is shut", upper(m.nameOf(w.Component)), w.Name))
			by = append(by, fmt.Sprintf("the %s (%s)", m.nameOf(w.Component), w.Name))
		}
	}
	r.Words = fmt.Sprintf("It is live because %s are shut in: no open way leads to it from a reservoir any more.", m.sayPressure(m.linePressure(l)))
	if len(by) > 0 {
		r.Words += " They are kept by " + listed(by) + "."
	}
	return r
}

// mostPaths is how many ways from each source are looked at for what shuts them.
const mostPaths = 8

// whyEmpty says what keeps air out of a line, and where it stands open.
func (m *Moment) whyEmpty(l *circuit.Line, near, far string) Reason {
	r := Reason{}
	r.add(l.ID, "the line, empty")
	var by []string
	for _, room := range []string{near, far} {
		if len(by) > 0 {
			break
		}
		for _, source := range m.plumbing.Sources(room, nil) {
			if m.pressure(source)-circuit.AtmospherePressure < some || !m.isReservoir(source) {
				continue
			}
			paths, _ := m.plumbing.Paths(source, room, nil, mostPaths)
			for _, path := range paths {
				for i, w := range path.Ways {
					if m.openNow(w.Component, w.Name) || m.pressure(path.Rooms[i]) < m.pressure(path.Rooms[i+1])+some {
						continue // it holds nothing back
					}
					if _, told := indexOf(r.Path, w.Component); !told {
						by = append(by, fmt.Sprintf("the %s (%s, with %s before it)", m.nameOf(w.Component), w.Name, m.sayPressure(m.pressure(w.From))))
						r.add(w.Component, fmt.Sprintf("%s: %s is shut", upper(m.nameOf(w.Component)), w.Name))
					}
					break
				}
			}
		}
	}
	if len(by) > 0 {
		r.Words = "It is empty because the way is shut at " + listed(by) + "."
	}
	for _, room := range []string{near, far} {
		if path, ok := m.plumbing.Path(room, circuit.Atmosphere, m.openNow); ok && len(path.Ways) > 0 {
			last := path.Ways[len(path.Ways)-1]
			r.Words = strings.TrimSpace(r.Words + fmt.Sprintf(" It stands open to the air at the %s (%s).", m.nameOf(last.Component), last.Name))
			m.follow(&r, path)
			break
		}
	}
	if r.Words == "" {
		r.Words = "It is empty because nothing that could feed it has any air."
	}
	return r
}

func componentOf(room string) string {
	id, _, _ := strings.Cut(room, ".")
	return id
}

func indexOf(list []string, id string) (int, bool) {
	for i, v := range list {
		if v == id {
			return i, true
		}
	}
	return 0, false
}

func upper(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

func listed(s []string) string {
	if len(s) > 4 {
		s = append(append([]string{}, s[:3]...), fmt.Sprintf("%d others", len(s)-3))
	}
	if len(s) == 1 {
		return s[0]
	}
	return strings.Join(s[:len(s)-1], ", ") + " and " + s[len(s)-1]
}
