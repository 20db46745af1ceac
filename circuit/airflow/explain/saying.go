package explain

import (
	"fmt"
	"maps"
	"strings"

	"airpath/circuit"
)

// A Saying is a sentence and when it holds.
type Saying struct {
	When Condition
	Says string // {room} becomes a pressure, {stroke} a push-rod's way, {flow:passage} a flow
}

// Words of a kind: of each group the first sentence that holds is said.
type Words [][]Saying

// A Condition looks at one part at one moment. About lists what it asks for, so that a test can hold it against the kind.
type Condition struct {
	holds func(v view) bool
	about []string // "passage:inlet seat", "room:1", "control:pedal", "latch:cutout"
}

// view is one part at one moment.
type view struct {
	*Moment
	part *circuit.Component
}

func (v view) passage(name string) (int, bool) {
	i, ok := v.index.Passage[circuit.Passage(v.part.ID, name)]
	return i, ok
}

// gauge pressure of a room of the part, Pa above the atmosphere.
func (v view) gauge(room string) float64 {
	return v.pressure(v.part.Room(room)) - circuit.AtmospherePressure
}

func (v view) open(passage string) bool {
	i, ok := v.passage(passage)
	return ok && v.glance.Open[i] > openEnough
}

func (v view) flow(passage string) float64 {
	if i, ok := v.passage(passage); ok {
		return v.glance.Flow[i]
	}
	return 0
}

func (v view) control(name string) float64 {
	if i, ok := v.index.Control[v.part.ID+"."+name]; ok {
		return v.glance.Control[i]
	}
	return 0
}

// Bounds of what counts as open, as flowing and as pressure.
const (
	openEnough = 0.02
	flowing    = 2e-6 // kg/s: a tenth of a litre of free air a minute
	some       = 3 * circuit.PSI
)

var always = Condition{holds: func(view) bool { return true }}

func on(about string, holds func(view) bool) Condition {
	return Condition{holds: holds, about: []string{about}}
}

// open: a passage lets air through.
func open(passage string) Condition {
	return on("passage:"+passage, func(v view) bool { return v.open(passage) })
}

// flows: air passes, forth or back.
func flows(passage string) Condition {
	return on("passage:"+passage, func(v view) bool { f := v.flow(passage); return f > flowing || f < -flowing })
}

// forth: air passes in the normal direction.
func forth(passage string) Condition {
	return on("passage:"+passage, func(v view) bool { return v.flow(passage) > flowing })
}

// back: air passes against it.
func back(passage string) Condition {
	return on("passage:"+passage, func(v view) bool { return v.flow(passage) < -flowing })
}

// air: a room has pressure.
func air(room string) Condition {
	return on("room:"+room, func(v view) bool { return v.gauge(room) > some })
}

// over: a room has at least so much, psi.
func over(room string, psi float64) Condition {
	return on("room:"+room, func(v view) bool { return v.gauge(room) >= psi*circuit.PSI })
}

// higher: one room is over another by more than a trifle.
func higher(room, than string) Condition {
	c := on("room:"+room, func(v view) bool { return v.gauge(room) > v.gauge(than)+circuit.PSI })
	c.about = append(c.about, "room:"+than)
	return c
}

// worked: a control is away from 0.
func worked(control string) Condition {
	return on("control:"+control, func(v view) bool { return v.control(control) > 0.02 })
}

// popped: a control has sprung back by itself.
func popped(control string) Condition {
	return on("control:"+control, func(v view) bool {
		i, ok := v.index.Control[v.part.ID+"."+control]
		return ok && v.glance.Tripped[i]
	})
}

// param compares a room with one of the part's own settings.
func atLeast(room, param string) Condition {
	c := on("room:"+room, func(v view) bool {
		return v.pressure(v.part.Room(room)) >= settingOf(v.part, param)
	})
	c.about = append(c.about, "param:"+param)
	return c
}

// settingOf a part, as an absolute pressure: spans are above the atmosphere.
func settingOf(part *circuit.Component, param string) float64 {
	p, ok := part.Kind.Param(param)
	if !ok {
		return 0
	}
	if p.Dimension == circuit.PressureSpan {
		return part.Value(param) + circuit.AtmospherePressure
	}
	return part.Value(param)
}

// out: the push-rod that the part has or is moved by is out by more than a trifle.
var out = Condition{holds: func(v view) bool { s, ok := v.stroke(v.part); return ok && s > 0.003 }}

// lit: a lamp or buzzer is on. closed: a contact is.
var (
	lit    = Condition{holds: func(v view) bool { i, ok := v.index.Sink[v.part.ID]; return ok && v.glance.Lit[i] }}
	closed = Condition{holds: func(v view) bool { i, ok := v.index.Contact[v.part.ID]; return ok && v.glance.Contact[i] }}
	turns  = Condition{holds: func(v view) bool { i, ok := v.index.Pump[v.part.ID]; return ok && v.glance.Turns[i] > 0.1 }}
)

func not(c Condition) Condition {
	return Condition{holds: func(v view) bool { return !c.holds(v) }, about: c.about}
}

func all(cs ...Condition) Condition {
	var about []string
	for _, c := range cs {
		about = append(about, c.about...)
	}
	return Condition{about: about, holds: func(v view) bool {
		for _, c := range cs {
			if !c.holds(v) {
				return false
			}
		}
		return true
	}}
}

// words of all kinds.
var words = joined(supplyWords, storageWords, controlWords, trailerWords, wheelWords, sensingWords, auxiliaryWords)

func joined(tables ...map[string]Words) map[string]Words {
	all := map[string]Words{}
	for _, t := range tables {
		maps.Copy(all, t)
	}
	return all
}

// WordsFor a kind; nil for a kind that has none.
func WordsFor(kind string) Words { return words[kind] }

// say what holds of a part now.
func (v view) say() []string {
	var said []string
	for _, group := range words[v.part.Kind.Name] {
		for _, s := range group {
			if s.When.holds(v) {
				if text := v.fill(s.Says); text != "" {
					said = append(said, text)
				}
				break
			}
		}
	}
	return said
}

// fill puts numbers into a sentence.
func (v view) fill(text string) string {
	for {
		from := strings.IndexByte(text, '{')
		if from < 0 {
			return text
		}
		to := strings.IndexByte(text[from:], '}')
		if to < 0 {
			return text
		}
		text = text[:from] + v.number(text[from+1:from+to]) + text[from+to+1:]
	}
}

// number that a place in a sentence stands for.
func (v view) number(name string) string {
	what, of, _ := strings.Cut(name, ":")
	switch what {
	case "stroke":
		s, _ := v.stroke(v.part)
		return fmt.Sprintf("%.0f mm", s*1000)
	case "flow":
		return sayFlow(v.flow(of))
	case "set":
		return v.sayPressure(settingOf(v.part, of))
	case "needle":
		if i, ok := v.index.Gauge[v.part.ID]; ok {
			return v.sayPressure(v.glance.Needle[i])
		}
	}
	return v.sayPressure(v.pressure(v.part.Room(name)))
}

// sayFlow of a mass flow as free air.
func sayFlow(kg float64) string {
	if kg < 0 {
		kg = -kg
	}
	l := kg / 1.185 * 60000 // ISO 8778 reference air: 1.185 kg/m³
	switch {
	case l < 1:
		return fmt.Sprintf("%.1f L/min", l)
	case l < 20:
		return fmt.Sprintf("%.0f L/min", l)
	}
	return fmt.Sprintf("%.0f L/min", 5*float64(int(l/5+0.5)))
}
