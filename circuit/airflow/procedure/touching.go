package procedure

import (
	"math"
	"slices"
	"strings"

	"airpath/circuit"
	"airpath/circuit/airflow"
)

// What eye and hand find at a part itself, whatever the air does: a line that is kinked or crushed, a needle that moves when its glass is tapped.
// Common practice; how plain they are is engineering judgement.

const (
	following = 0.5 // minutes to follow one line from end to end, once one is there
	kinked    = "kinked"
	sticking  = "sticking"
)

// plainKink: half of all people call it one where it closes half of the way; one in seven is out of sight behind frame, tank or loom.
var plainKink = Judge{Half: 0.5, Spread: 0.08, Miss: 0.15, False: 0.003}

// plainJump of a needle, by the change that it does not follow by itself. One in good order moves by a psi at most.
var plainJump = Judge{Half: 2.5 * psi, Spread: 0.5 * psi, Miss: 0.05, False: 0.01}

// looking are the tests by eye and hand alone.
func (v *vehicle) looking() []*Procedure {
	if !v.builds() {
		return nil
	}
	p := Procedure{
		ID: "lines-followed", Title: "Lines followed by eye and hand", each: following,
		About: "Kinked, flattened or crushed between frame and body: a line that passes too little may be seen to. Where nothing is seen, ice, dirt or a swollen lining may narrow it still.",
		Start: v.at.standing, Minutes: 1,
		Tools: []string{"lamp"},
		State: circuit.State{Engine: "off", Park: "set", Pedal: "up"},
	}
	var lines []string
	for _, l := range v.circuit.Lines {
		if _, err := airflow.ModeOf(v.circuit, airflow.Fault{Target: l.ID, Mode: kinked}); err != nil {
			continue
		}
		lines = append(lines, l.ID)
		r := said("kink", "a kink shows at the "+v.nameOf(l.ID), l.ID, Eye, byEye, plainKink)
		r.Dimension, r.Access, r.Touched = circuit.Ratio, v.access(l.ID), true
		p.Readings = append(p.Readings, r)
	}
	if len(lines) == 0 {
		return nil
	}
	p.Minutes += v.round(lines, following)
	p.Steps = []Step{{readTouch{
		id: "kink", mode: kinked, places: lines, near: []danger{nearWheel, discharge},
		text: "Follow the lines from end to end by eye and hand, under clips and through the frame: write down which is kinked, flattened, or crushed.",
	}, ""}}
	return []*Procedure{v.procedure(p)}
}

// tapped is a reading of a dash gauge: whether its needle jumps when the glass is tapped.
func (v *vehicle) tapped(t tap) Reading {
	r := said("jumps", "the needle of the "+t.name+" jumps when its glass is tapped", t.place, Eye, byEye, plainJump)
	r.Dimension, r.Touched = circuit.PressureSpan, true
	return r
}

// readTouch: by how much parts have something that is found at them by eye or hand.
type readTouch struct {
	id, mode string
	places   []string
	near     []danger
	text     string
}

func (a readTouch) words(phrase) string { return a.text }

func (a readTouch) run(x *execution) error {
	for _, place := range a.places {
		much := 0.0
		for _, f := range x.bench.faults {
			if f.Target == place && f.Mode == a.mode {
				much = math.Max(much, f.Severity)
			}
		}
		x.put(a.id, place, much)
	}
	return nil
}

func (a readTouch) dangers() []danger { return a.near }
func (a readTouch) looksAt() sight {
	return sight{needles: a.mode == sticking, faults: a.mode != sticking}
}
func (readTouch) still() {}

// Touches tells whether a procedure finds faults at parts themselves that the air does not tell from others.
func (p *Procedure) Touches() bool {
	return slices.ContainsFunc(p.Readings, func(r Reading) bool { return r.Touched && r.ID == "kink" })
}

// seenMark is before what of a vehicle's faults is seen, in its key.
const seenMark = "\x00"

// seen is what of a fault is found by eye and hand that its air does not tell.
func seen(f airflow.Fault) string {
	if f.Mode == kinked {
		return seenMark + f.String()
	}
	return ""
}

// AirKey is the part of a vehicle's key, see Keys, by which all vehicles that are one to the air are alike; seen says that it is not all.
func AirKey(key string) (air string, seen bool) {
	air, _, seen = strings.Cut(key, seenMark)
	return air, seen
}
