package procedure

import (
	"fmt"
	"math"

	"airpath/circuit"
)

// A Start is the state that a vehicle is in when a procedure begins. It is reached by steps, from another state; procedures
// that begin alike share it.
type Start struct {
	ID       string
	Title    string // "charged, engine off, parked, settled"
	From     *Start // nil: as the vehicle came
	Steps    []Step
	Minutes  float64 // from the state before
	Required bool    // a procedure can't be done from less
	Lasts    bool    // the vehicle stays in it while nothing is done: the engine is off

	stems   []stem                  // by step
	missing func(*execution) string // what there is less of than there should be; "" for nothing
}

// All lists the steps to the state, those of the states before it first.
func (s *Start) All() []Step {
	if s == nil {
		return nil
	}
	return append(s.From.All(), s.Steps...)
}

// SetUp is the time to reach the state from a vehicle that has just been driven in, minutes.
func (s *Start) SetUp() float64 {
	if s == nil {
		return 0
	}
	return s.From.SetUp() + s.Minutes
}

const (
	psi          = circuit.PSI
	longestBuild = 900.0 // s at rated speed after which nobody goes on waiting
	settling     = 180.0 // s: five times as long as the air in a reservoir takes to cool, and more
)

func gauge(levelPSI float64) float64 { return circuit.AtmospherePressure + levelPSI*psi }

// starts of one vehicle.
type starts struct {
	standing, empty, low, cutOut, idling, parked, released, hundred *Start
}

func (v *vehicle) starts() starts {
	charged := func(need float64) func(x *execution) string {
		return func(x *execution) string {
			// Who hears the compressor unload trusts that, whatever a needle shows.
			if m, ok := x.marks["unloaded"]; ok && !math.IsNaN(m.time) {
				return ""
			}
			if high := v.highest(x.run); high < need {
				return fmt.Sprintf("the vehicle could not be charged: no needle passed %.0f psi", (high-circuit.AtmospherePressure)/psi)
			}
			return ""
		}
	}
	var s starts
	s.standing = &Start{
		ID: "standing", Title: "engine off, park set, wheels chocked, with whatever air is left in it", Lasts: true, Minutes: 1,
		Steps: []Step{{lookOver{"Stand the vehicle on level ground, set the park, stop the engine and chock the wheels.", nil}, ""}},
	}
	s.empty = &Start{
		ID: "empty", Title: "drained of air, engine off, park set", Lasts: true, From: s.standing, Minutes: 5,
		Steps: []Step{{drained{v, circuit.AtmospherePressure}, ""}},
	}
	s.low = &Start{
		ID: "low", Title: "first needle at 70 psi, building at rated speed, park set", From: s.standing, Minutes: 3,
		Steps: []Step{
			{drained{v, gauge(60)}, "So the compressor is sure to pump."},
			{v.engine("rated"), ""},
			{await{until: []condition{needles{v.dash, false, gauge(70), true}, unloads{v}}, within: longestBuild, rising: true, mark: "low"}, ""},
		},
		missing: func(x *execution) string {
			if math.IsNaN(x.marks["low"].time) {
				return fmt.Sprintf("no needle got to 70 psi in %s at rated speed", duration(longestBuild))
			}
			return ""
		},
	}
	s.cutOut = &Start{
		ID: "cut-out", Title: "just cut out, engine at rated speed, park set", From: s.low, Minutes: 1, Required: true,
		Steps:   []Step{{await{until: []condition{unloads{v}}, within: longestBuild, rising: true, mark: "unloaded"}, ""}},
		missing: charged(gauge(90)),
	}
	s.idling = &Start{
		ID: "idling", Title: "charged, purge over, engine idling, park set", From: s.cutOut, Minutes: 1, Required: true,
		Steps: []Step{{v.engine("idle"), ""}, {wait{60, "for the purge to end"}, ""}},
	}
	s.parked = &Start{
		ID: "parked", Title: "charged, engine off, park set, settled", Lasts: true, From: s.cutOut, Minutes: settling / 60, Required: true,
		Steps: []Step{{v.engine("off"), ""}, {wait{settling, "for the air in the reservoirs to cool and the needles to settle"}, ""}},
	}
	if v.park != nil {
		s.released = &Start{
			ID: "released", Title: "charged, engine off, park released, wheels chocked, settled", Lasts: true, From: s.low, Minutes: 1 + settling/60, Required: true,
			Steps: append(v.release(), []Step{
				{v.engine("off"), ""},
				{wait{settling, "for the air in the reservoirs to cool and the needles to settle"}, ""},
			}...),
			missing: charged(gauge(90)),
		}
		s.hundred = v.bledTo(s.released, 100)
	}
	return s
}

// bledTo lets the service reservoirs down to a level: 100 psi are what times of application are stated for (49 CFR 571.121
// S5.3.3).
func (v *vehicle) bledTo(from *Start, level float64) *Start {
	kept := v.kept()
	if len(kept) == 0 {
		return nil
	}
	s := &Start{ID: "hundred", Title: "100 psi in the service reservoirs, engine off, park released, wheels chocked", Lasts: true, From: from, Minutes: 1.5, Required: true}
	for _, r := range kept {
		s.Steps = append(s.Steps,
			Step{r.cock(slow), ""},
			Step{await{until: []condition{needles{[]tap{*r.dash}, true, gauge(level), false}}, within: 120, mark: "at " + r.room}, ""},
			Step{r.cock(0), ""},
		)
	}
	return s
}
