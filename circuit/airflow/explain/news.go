package explain

import (
	"cmp"
	"fmt"
	"strings"

	"airpath/circuit"
)

// News is one sentence about the whole vehicle: what the air is doing now. It names what blows off, the pumps, and what is
// moved by whom, most striking first.
func (m *Moment) News() string {
	var said []string
	if loud := m.loudest(); loud != "" {
		said = append(said, loud)
	}
	for _, part := range m.circuit.Components {
		if _, ok := m.index.Pump[part.ID]; ok {
			if pumping := m.pumping(part); pumping != "" {
				said = append(said, pumping)
			}
		}
	}
	if springs := m.springs(); springs != "" {
		said = append(said, springs)
	}
	if on := m.braked(); on != "" {
		said = append(said, on)
	}
	return strings.Join(said, " ")
}

// loud is a flow to the open air, kg/s, that can't be missed.
const loud = 2e-3

// loudest is the place where most air goes off, where that is much.
func (m *Moment) loudest() string {
	best, at := loud, ""
	for place, i := range m.index.Vent {
		if f := m.glance.Vent[i]; f > best || f == best && place < at {
			best, at = f, place
		}
	}
	if at == "" {
		return ""
	}
	id, port, is := strings.Cut(at, ".")
	where := "the " + m.nameOf(id)
	if part := m.circuit.Component(id); is && part != nil {
		if spec, ok := part.Kind.Port(port); ok {
			where = fmt.Sprintf("the %s (%s)", m.nameOf(id), spec.About)
		}
	}
	return fmt.Sprintf("Air blows off at %s, %s.", where, sayFlow(best))
}

// pumping tells what a compressor does, or a workshop's hose: a pump that is put on by a control of its part, not by an engine.
// A hose that is not on has no news.
func (m *Moment) pumping(part *circuit.Component) string {
	v := view{m, part}
	flow, hose := 0.0, ""
	for _, p := range part.Kind.Passages {
		if p.OneWay {
			flow += max(0, v.flow(p.Name))
			hose = cmp.Or(hose, p.Control)
		}
	}
	switch {
	case hose != "" && !worked(hose).holds(v):
		return ""
	case hose != "" && flow > flowing:
		return fmt.Sprintf("A workshop's hose on the %s gives %s.", part.Name, sayFlow(flow))
	case hose != "":
		return fmt.Sprintf("A workshop's hose is on the %s, and no air goes through it.", part.Name)
	case !turns.holds(v):
		return "Engine off."
	case flow > 1e-5:
		return fmt.Sprintf("The %s pumps, %s.", part.Name, sayFlow(flow))
	}
	return fmt.Sprintf("The %s runs unloaded.", part.Name)
}

// springs counts the chambers whose spring is on or held off.
func (m *Moment) springs() string {
	set, held := 0, 0
	for _, part := range m.circuit.Components {
		if _, ok := part.Kind.Param("held_off_at"); !ok {
			continue
		}
		if m.pressure(part.Room("spring")) >= settingOf(part, "held_off_at") {
			held++
		} else {
			set++
		}
	}
	switch {
	case set+held == 0:
		return ""
	case held == 0:
		return "The springs are set."
	case set == 0:
		return "The springs are held off."
	}
	return fmt.Sprintf("Of %d springs %d are on.", set+held, set)
}

// braked tells the highest service pressure in any chamber.
func (m *Moment) braked() string {
	most := 0.0
	for _, part := range m.circuit.Components {
		if _, ok := part.Kind.Param("contact_at"); ok {
			most = max(most, m.pressure(part.Room("service"))-circuit.AtmospherePressure)
		}
	}
	if most < some {
		return ""
	}
	return fmt.Sprintf("The brakes have %s.", m.sayPressure(most+circuit.AtmospherePressure))
}
