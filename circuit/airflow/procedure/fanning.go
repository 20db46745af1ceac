package procedure

import (
	"fmt"
	"math"
	"slices"

	"airpath/circuit"
	"airpath/circuit/limit"
)

// applications until the warning comes, engine off.
func (v *vehicle) applicationsUntilWarning() *Procedure {
	if len(v.warnings) == 0 {
		return nil
	}
	const most = 12
	p := Procedure{
		ID: "applications-until-warning", Title: "Applications until the warning",
		About: "Engine off, the pedal to the floor and up again, over and over: how many applications the reservoirs have before the warning comes, and what five of them leave. " +
			"Lost volume and long strokes make them few.",
		Minutes: 3, Start: v.at.released,
		Tools: []string{"chocks"},
		State: circuit.State{Engine: "off", Park: "released"},
		Steps: []Step{
			{noteNeedles{"before"}, ""},
			{v.pedal(true), ""},
			{wait{30, "for the needles to settle a little"}, "Count: this is the first."},
			{noteNeedles{"first"}, ""},
			{fan{v.pedal(false), v.kept(), v.warnings, most, "before", "first"}, ""},
			{readFan{"applications", "left-after-five", "level", v.dash, v.cutOutSpan()}, ""},
		},
		Readings: []Reading{
			{ID: "applications", Title: "full applications until the warning came", Dimension: circuit.Count, Form: Measured, Sense: Eye, Instrument: byEye, Sigma: 0.4},
			Reading{ID: "left-after-five", Title: "share of cut-out left after five full applications, on the lower needle", Dimension: circuit.Ratio, Form: Measured, Sense: Needle, Instrument: dashGauge,
				Sigma: needleError / v.cutOutSpan()}.within(v, limit.ApplicationsLeft),
		},
	}
	for _, t := range v.dash {
		p.Readings = append(p.Readings, v.level("level", "where the "+t.name+" stands when the warning comes", t))
	}
	return v.procedure(p)
}

// fan the pedal until a warning comes, or so many times. The first application has been made and shows what share of its pressure
// each reservoir gives for one; that each further one takes the same share of what is left is Boyle's law for the chambers that it
// fills (49 CFR 571.121: r/(r + 1) of the gauge pressure, for reservoirs of r times the chambers' volume). So the further ones need not
// be worked out one by one; TestFanningIsWhatFanningDoes holds them against that.
type fan struct {
	up            pedal
	kept          []reservoir
	warnings      []*circuit.Component
	most          int
	before, first string
}

func (a fan) words(phrase) string {
	return fmt.Sprintf("Let the pedal up, and go on pressing it to the floor and letting it up, five seconds each, counting, until the warning comes; note the lower needle after the fifth time. Give up after %d.", a.most)
}

func (a fan) run(x *execution) error {
	before, first := x.at(a.before), x.at(a.first)
	left := map[string]float64{} // share of the gauge pressure that one application leaves, by room
	for _, r := range a.kept {
		i := x.index(*r.dash)
		left[r.room] = math.Min((first.taps[i]-circuit.AtmospherePressure)/(before.taps[i]-circuit.AtmospherePressure), 1)
	}
	after := func(n int) moment {
		m := moment{time: float64(n), taps: slices.Clone(first.taps)} // the count stands for the time
		for _, r := range a.kept {
			i := x.index(*r.dash)
			m.taps[i] = circuit.AtmospherePressure + (before.taps[i]-circuit.AtmospherePressure)*math.Pow(left[r.room], float64(n))
		}
		return m
	}
	x.marks["fifth"] = after(5)
	warned := after(a.most)
	warned.time = math.NaN()
	for n := 1; n <= a.most; n++ {
		m := after(n)
		at := func(part string) float64 {
			for _, r := range a.kept {
				if c := x.v.circuit.Component(part); c != nil && slices.Contains(x.v.joined(r.room), c.Room("1")) {
					return m.taps[x.index(*r.dash)] - first.taps[x.index(*r.dash)] + x.run.Pressure(r.room)
				}
			}
			return math.NaN()
		}
		if slices.ContainsFunc(a.warnings, func(c *circuit.Component) bool { return x.run.LitIf(c.ID, at) }) {
			warned = m
			break
		}
	}
	x.marks["warned"] = warned
	return a.up.run(x)
}

func (fan) dangers() []danger { return []danger{airWorked} }
func (fan) looksAt() sight    { return sight{needles: true, signals: true} }

// readFan: what fanning came to.
type readFan struct {
	count, share, level string
	taps                []tap
	full                float64 // Pa above the atmosphere
}

func (readFan) words(phrase) string {
	return "Write down how many applications there were, what share of cut-out pressure the lower needle showed after the fifth, and where the needles stand now."
}

func (a readFan) run(x *execution) error {
	end, five := x.at("warned"), x.at("fifth")
	x.put(a.count, "", end.time)
	low := math.Inf(1)
	for _, t := range a.taps {
		low = math.Min(low, five.taps[x.index(t)])
		x.put(a.level, t.place, end.taps[x.index(t)])
	}
	x.put(a.share, "", (low-circuit.AtmospherePressure)/a.full)
	return nil
}

func (readFan) dangers() []danger { return nil }
func (readFan) looksAt() sight    { return sight{needles: true} }
