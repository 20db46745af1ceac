package procedure

import (
	"slices"
	"strings"

	"airpath/circuit"
)

// minutesAt is what it takes to get to a place on the vehicle and look, listen or put a hand there. Engineering judgement,
// for a truck on a level yard with the bonnet or cab to be raised and a creeper to lie on.
var minutesAt = map[string]float64{
	"cab": 0.5, "engine bay": 2, "left rail": 1.5, "right rail": 1.5, "front axle": 2, "rear axle": 2.5, "trailer": 2, "board": 0.5,
}

// whereabouts of a component or line: a line is got at where its first end is.
func (v *vehicle) whereabouts(place string) string {
	id, _, _ := strings.Cut(place, ".")
	if l := v.circuit.Line(id); l != nil {
		id = l.From.Component
	}
	if c := v.circuit.Component(id); c != nil {
		return c.Place
	}
	return ""
}

// access to one place, minutes.
func (v *vehicle) access(place string) float64 {
	if m, ok := minutesAt[v.whereabouts(place)]; ok {
		return m
	}
	return 2
}

// inPassing is what one fitting among many others takes an ear that goes round all of them, minutes.
const inPassing = 0.05

// round is the time to go round several places: each whereabouts is gone to once, and every single place there takes some
// minutes more.
func (v *vehicle) round(places []string, each float64) float64 {
	var seen []string
	minutes := 0.0
	for _, p := range places {
		if w := v.whereabouts(p); !slices.Contains(seen, w) {
			seen = append(seen, w)
			minutes += v.access(p)
		}
		minutes += each
	}
	return minutes
}

// listened are the places where a leak can be heard: exhausts, vents, parts and lines that hold air, in alphabetical order.
// The open ends of lines that have been taken off are left out.
func (v *vehicle) listened() []string {
	var out []string
	for _, place := range v.network.Vents() {
		id, end, ok := strings.Cut(place, ".")
		if ok && v.circuit.Line(id) != nil && (end == "from" || end == "to") {
			continue
		}
		if c := v.circuit.Component(id); c != nil && len(c.Kind.Rooms) == 0 {
			continue // a lever or a lamp holds no air
		}
		out = append(out, place)
	}
	return out
}

// way lists the lines from one room to another, through lines alone, in order.
func (v *vehicle) way(from, to string) []*circuit.Line {
	path, ok := v.plumbing.Path(from, to, func(_, passage string) bool { return passage == circuit.Bore })
	if !ok {
		return nil
	}
	var out []*circuit.Line
	for _, w := range path.Ways {
		if w.Line {
			out = append(out, v.circuit.Line(w.Component))
		}
	}
	return out
}

// swapSide turns the id of what is on the left into that of its opposite: "rear_left_chamber" into "rear_right_chamber".
func swapSide(id string) (string, bool) {
	before, after, ok := strings.Cut(id, "left")
	return before + "right" + after, ok
}

// towed is "trailer" for a part of a towed vehicle, which has limits of its own, else "".
func (v *vehicle) towed(place string) string {
	if v.first("coupling") != nil && v.whereabouts(place) == "trailer" {
		return "trailer"
	}
	return ""
}
