package procedure

import (
	"slices"

	"airpath/circuit"
)

// A branch is a line that leaves a service reservoir for some part of the vehicle.
type branch struct {
	of   reservoir
	line *circuit.Line
	port string // at the reservoir: "tank.26"
}

// branches of the service reservoirs, in file order: not what fills them, nor what leads to drains, gauges and switches only.
func (v *vehicle) branches() []branch {
	var out []branch
	for _, r := range v.kept() {
		for _, l := range v.circuit.Lines {
			for _, end := range [2][2]circuit.PortRef{{l.From, l.To}, {l.To, l.From}} {
				if l.Type.Medium() == circuit.Air && v.circuit.Room(end[0]) == r.room && v.feeds(l, end[1], r.room) {
					out = append(out, branch{r, l, end[0].String()})
				}
			}
		}
	}
	return out
}

// instruments at the end of a line that no air goes on from.
var deadEnds = []string{"drain-valve", "test-connection", "gauge", "pressure-switch", "tee"}

// feeds says whether a line leads to something that uses air, its far end being given.
func (v *vehicle) feeds(l *circuit.Line, far circuit.PortRef, home string) bool {
	for _, c := range v.checks {
		if c.part.ID == far.Component && c.part.Room("2") == v.circuit.Room(far) {
			return false // it fills the reservoir
		}
	}
	rooms := v.plumbing.Reach(v.circuit.Room(far), func(id, passage string) bool { return passage == circuit.Bore && id != l.ID })
	for _, c := range v.circuit.Components {
		if slices.Contains(deadEnds, c.Kind.Name) {
			continue
		}
		for _, room := range c.Kind.Rooms {
			if name := c.Room(room.Name); name != home && slices.Contains(rooms, name) {
				return true
			}
		}
	}
	return false
}

// plugAndWatch takes the branches of the service reservoirs away, one of each at a time, and watches which fall stops.
func (v *vehicle) plugAndWatch() *Procedure {
	const settle, watch = 30, 180
	all := v.branches()
	if len(all) == 0 {
		return nil
	}
	p := Procedure{
		ID: "plug-and-watch", Title: "Branches plugged and watched",
		About: "A reservoir that falls loses its air itself or by one of its branches. Each branch is undone at the reservoir and plugged, one of each reservoir at a time: the branch with which the fall stops has the leak. " +
			"Where it goes on with every one of them plugged in turn, the reservoir, its drain or its gauge line leaks.",
		Start: v.at.released,
		Tools: []string{"plugs, counted", "spanners", stopwatch, "chocks"},
		State: circuit.State{Engine: "off", Park: "released", Pedal: "up"},
	}
	for round := range len(all) {
		var now []branch
		for _, r := range v.kept() {
			k := 0
			for _, b := range all {
				if b.of.room != r.room {
					continue
				}
				if k == round {
					now = append(now, b)
				}
				k++
			}
		}
		if len(now) == 0 {
			break
		}
		var do plugOff
		var taps []tap
		var lines []string
		for _, b := range now {
			do.ports, do.names = append(do.ports, b.port), append(do.names, "the "+b.line.Name+" at the "+b.of.name)
			taps, lines = append(taps, *b.of.dash), append(lines, b.line.ID)
			r := v.rate("fall", "fall per minute on the "+b.of.dash.name+" with the "+b.line.Name+" plugged", *b.of.dash, watch)
			r.Place, r.Access = b.line.ID, v.access(b.line.ID)
			p.Readings = append(p.Readings, r)
		}
		p.Minutes += 12 + (settle+watch)/60
		p.Steps = append(p.Steps,
			Step{do, ""},
			Step{wait{settle, ""}, ""},
			Step{noteNeedles{"before"}, ""},
			Step{wait{watch, ""}, ""},
			Step{readBranches{"fall", "before", taps, lines}, ""},
		)
	}
	p.Steps = append(p.Steps, Step{lookOver{"Take all plugs out, count them, and fasten the lines again.", nil}, ""})
	return v.procedure(p)
}

// readBranches: how fast needles have fallen since a moment, each for the branch that is plugged.
type readBranches struct {
	id, since string
	taps      []tap
	lines     []string
}

func (a readBranches) words(phrase) string {
	return "Write down how far " + theTaps(a.taps) + " " + have(a.taps) + " fallen since, and divide by the minutes."
}

func (a readBranches) run(x *execution) error {
	before, now := x.at(a.since), x.moment()
	for i, t := range a.taps {
		k := x.index(t)
		x.put(a.id, a.lines[i], (before.taps[k]-now.taps[k])/(now.time-before.time))
	}
	return nil
}

func (readBranches) dangers() []danger { return nil }
func (readBranches) looksAt() sight    { return sight{needles: true} }
