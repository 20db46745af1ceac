package trace

import (
	"slices"
	"strings"

	"airpath/circuit"
	"airpath/circuit/airflow"
)

// A route is how a fault can get to a symptom in one scene.
type route struct {
	steps    []Step
	indirect bool // it works a valve that then does it, or holds something up: an accusation, never a clearing
	scene    string
}

// toPlace follows the air that a fault lets through to a place where it is heard.
func (a *atlas) toPlace(s *scene, changes []airflow.Change, place string) (route, bool) {
	for _, ch := range changes {
		switch ch.Effect {
		case airflow.Leaks:
			if ch.Place == place && s.high(ch.Room) {
				return route{steps: []Step{a.partStep(ch.Part)}, scene: s.name}, true
			}
		case airflow.Opens:
			if steps, ok := a.blow(s, a.index[ch.Passage], place); ok {
				return route{steps: steps, scene: s.name}, true
			}
		}
	}
	// A valve that leads outside at this place may be worked by what the fault does elsewhere.
	for i, w := range a.ways {
		if w.To != circuit.Atmosphere || a.place(i) != place || !s.high(w.From) && !a.fed(s, i) {
			continue
		}
		for _, ch := range changes {
			if ch.Passage == w.ID && (ch.Effect == airflow.Shifts || ch.Effect == airflow.Shuts) {
				return route{steps: []Step{a.stepOf(i)}, indirect: true, scene: s.name}, true
			}
		}
		if steps, ok := a.reach(s, changes, a.pilots[i]); ok {
			return route{steps: a.through(steps, []int{i}), indirect: true, scene: s.name}, true
		}
	}
	return route{}, false
}

// fed tells whether a room that a way empties would hold pressure with the way shut: air flows in all the time.
func (a *atlas) fed(s *scene, way int) bool { return s.flow[way] > countsAsAir }

// blow follows air through a passage that should be shut, from its high side to the low one and out at a place.
func (a *atlas) blow(s *scene, way int, place string) ([]Step, bool) {
	w := a.ways[way]
	for _, ends := range [][2]string{{w.From, w.To}, {w.To, w.From}} {
		up, down := ends[0], ends[1]
		if !s.high(up) || s.pressure[up] < s.pressure[down]+counts {
			continue
		}
		if down == circuit.Atmosphere {
			if a.place(way) == place {
				return []Step{a.stepOf(way)}, true
			}
			continue
		}
		seen := a.walk([]string{down}, func(i int, from, _ string) bool {
			return s.open[i] && (!a.ways[i].OneWay || a.ways[i].From == from)
		})
		for i, out := range a.ways {
			if out.To == circuit.Atmosphere && s.open[i] && a.place(i) == place {
				if _, ok := seen[out.From]; ok {
					return a.through([]Step{a.stepOf(way)}, append(back(seen, out.From), i)), true
				}
			}
		}
	}
	return nil, false
}

// toRooms follows a fault's influence to rooms whose pressure is read: air passes on through open ways, in either
// direction, since what is taken from one end is missing at the other; a room's pressure works the valves that it
// pilots, open or shut.
func (a *atlas) toRooms(s *scene, changes []airflow.Change, rooms []string) (route, bool) {
	if steps, ok := a.reach(s, changes, rooms); ok {
		return route{steps: steps, scene: s.name}, true
	}
	return route{}, false
}

func (a *atlas) reach(s *scene, changes []airflow.Change, rooms []string) ([]Step, bool) {
	for _, ch := range changes {
		starts, first := a.acts(s, ch)
		if len(starts) == 0 {
			continue
		}
		seen := a.walk(starts, func(i int, from, _ string) bool {
			return s.open[i] || slices.Contains(a.pilots[i], from) || a.ways[i].To == from && a.selfActing(i)
		})
		for _, room := range rooms {
			if _, ok := seen[room]; ok {
				return a.through(first, back(seen, room)), true
			}
		}
	}
	return nil, false
}

// selfActing tells whether a way is worked by the pressure at its own ends: a check that stands shut between equal
// pressures opens, and feeds on, as soon as what lies behind it loses air.
func (a *atlas) selfActing(i int) bool {
	w := a.ways[i]
	return w.OneWay || slices.Contains(a.pilots[i], w.From) || slices.Contains(a.pilots[i], w.To)
}

// acts tells where a change makes a difference in a scene: a leak only where there is pressure, a passage that should be
// shut only between different pressures, a narrow one only where air flows.
func (a *atlas) acts(s *scene, ch airflow.Change) (rooms []string, first []Step) {
	if ch.Room != "" {
		if s.high(ch.Room) {
			return []string{ch.Room}, []Step{a.partStep(ch.Part)}
		}
		return nil, nil
	}
	i, ok := a.index[ch.Passage]
	if !ok {
		return nil, nil
	}
	w := a.ways[i]
	ends := []string{w.From, w.To}
	switch ch.Effect {
	case airflow.Opens:
		if d := s.pressure[w.From] - s.pressure[w.To]; d < counts && d > -counts {
			return nil, nil
		}
	case airflow.Shuts, airflow.Weakens:
		if f := s.flow[i]; f < countsAsAir && f > -countsAsAir {
			return nil, nil
		}
	}
	return ends, []Step{a.stepOf(i)}
}

// toPart follows a fault to a gauge, a lamp or a buzzer: its own, one that it is wired to, or by the air at a switch or at
// the gauge's port.
func (a *atlas) toPart(s *scene, changes []airflow.Change, part string) (route, bool) {
	parts := a.wiring(part)
	for _, ch := range changes {
		if ch.Effect != airflow.Reads && ch.Effect != airflow.Signals {
			continue
		}
		if way, ok := parts[ch.Part]; ok {
			steps := []Step{a.partStep(ch.Part)}
			for _, id := range way {
				if id != ch.Part {
					steps = append(steps, a.partStep(id))
				}
			}
			return route{steps: steps, scene: s.name}, true
		}
	}
	var names []string
	for p := range parts {
		names = append(names, p)
	}
	slices.Sort(names)
	for _, p := range names {
		if r, ok := a.toRooms(s, changes, a.roomsOf(p)); ok {
			for _, id := range parts[p] {
				r.steps = together(r.steps, a.partStep(id))
			}
			return r, true
		}
	}
	return route{}, false
}

// wiring lists the parts that wires join to one, wires included, each with what lies between it and that one, both ends
// included.
func (a *atlas) wiring(part string) map[string][]string {
	seen := map[string][]string{part: {part}}
	queue := []string{part}
	for ; len(queue) > 0; queue = queue[1:] {
		at := queue[0]
		for _, w := range a.wired[at] {
			if _, ok := seen[w.part]; ok {
				continue
			}
			seen[w.wire] = append([]string{w.wire}, seen[at]...)
			seen[w.part] = append([]string{w.part, w.wire}, seen[at]...)
			queue = append(queue, w.part)
		}
	}
	return seen
}

// roomsOf lists the rooms of a component.
func (a *atlas) roomsOf(part string) []string {
	for _, p := range a.circuit.Components {
		if p.ID == part {
			var rooms []string
			for _, r := range p.Kind.Rooms {
				rooms = append(rooms, p.Room(r.Name))
			}
			return rooms
		}
	}
	return nil
}

// inWords writes a path: "purge valve of the air dryer → ...".
func inWords(steps []Step) string {
	words := make([]string, len(steps))
	for i, s := range steps {
		words[i] = s.Words
	}
	return strings.Join(words, " → ")
}
