package limit

import (
	"math"
	"slices"
	"strings"

	"airpath/circuit"
)

// What a limit bounds. Pressures are levels on a gauge, times run from one level to another.
const (
	BuildUp85To100       = "time from 85 to 100 psi"
	BuildUp50To90        = "time from 50 to 90 psi"
	BuildUpTo80          = "time from empty to 80 % of cut-out" // of the governor's cut-out pressure
	CutIn                = "governor cut-in"
	CutOut               = "governor cut-out"
	LeakReleased         = "leak-down, brakes released"
	LeakApplied          = "leak-down, brakes applied"
	ApplicationDrop      = "drop of one full application" // of the pressure before, engine off
	ApplicationsLeft     = "share left after five applications"
	WarningAt            = "low pressure warning"
	SpringsSetAt         = "automatic setting of the springs"
	HeldOffAt            = "springs fully held off"
	SafetyValveAt        = "safety valve opens"
	StopLampAt           = "stop lamps come on"
	ApplyTime            = "time to 60 psi in a chamber"                             // from 100 psi in the reservoir
	ReleaseTime          = "time from 95 to 5 psi in a chamber"                      //
	ResponseTime         = "time to three quarters of the final pressure"            // in the least favourable chamber
	ParkTime             = "time for the park brake to hold after the knob is moved" //
	ReservoirVolume      = "reservoir volume over chamber volume"
	GaugeError           = "gauge error over cut-out pressure"
	CompressorHolds      = "pressure that the compressor holds at idle, brakes applied"
	SpringsBeginToAct    = "pressure at which springs begin to act over the least normal pressure"
	FillTo65             = "time from empty to 65 % of the working pressure"
	FillToWorking        = "time from empty to the working pressure"
	TrailerSupplyShutsAt = "trailer supply shuts by itself"
	TornOffAt            = "trailer supply shuts with both lines off"
	TractorKeeps         = "pressure that a tractor keeps when its trailer is lost"
	PushRodStroke        = "push-rod stroke" // fully applied; by chamber, see StrokeLimit
	SlackTravel          = "travel of the slack adjuster by hand"
)

// Known tells how a value was come by.
type Known string

const (
	Seen    Known = "seen"    // read in the text of the source or a faithful copy
	Memory  Known = "memory"  // recalled, not read: never a hard assertion
	Derived Known = "derived" // computed from seen values
)

// A Limit is a published bound on one quantity, or a published usual value.
type Limit struct {
	ID           string // "us-121-build-up"
	Quantity     string // one of the constants above
	Jurisdiction string // "US", "Canada/Ontario": a country, and where it matters a part of it
	Source       string // document and section
	Edition      string // which edition of it, or when it applies; "" where only one is known
	Known        Known
	Dimension    circuit.Dimension
	Low, High    float64  // SI, inclusive; infinite for no bound
	Classes      []string // of vehicles; empty means all. "towing trailer" and "dolly" are no classes of files yet
	Usual        bool     // a usual value: nothing fails for missing it
	PerReservoir bool     // the bounds grow with reservoir volume over required volume; see On
	Note         string
}

// Applies tells whether the limit is for vehicles of a class.
func (l Limit) Applies(class string) bool {
	return len(l.Classes) == 0 || class == "" || slices.Contains(l.Classes, class)
}

// slack keeps a reading that stands on the limit from failing by a rounding of units: "must not be greater than".
const slack = 1e-9

// Meets tells whether a value in SI lies within the bounds, the bounds themselves included. A value that was never
// reached (NaN) meets nothing. A usual value is met by everything.
func (l Limit) Meets(si float64) bool {
	if l.Usual {
		return true
	}
	return si >= l.Low-slack*math.Abs(l.Low) && si <= l.High+slack*math.Abs(l.High)
}

// On a vehicle: with bounds that depend on the size of its reservoirs worked out for it.
func (l Limit) On(c *circuit.Circuit) Limit {
	if l.PerReservoir {
		if required := RequiredReservoir(c); required > 0 {
			ratio := ReservoirTotal(c) / required
			l.Low, l.High = l.Low*ratio, l.High*ratio
		}
		l.PerReservoir = false
	}
	return l
}

// Jurisdictions that limits are known for, countries first, in order.
func Jurisdictions() []string {
	var countries, parts []string
	for _, l := range all {
		list := &countries
		if strings.Contains(l.Jurisdiction, "/") {
			list = &parts
		}
		if !slices.Contains(*list, l.Jurisdiction) {
			*list = append(*list, l.Jurisdiction)
		}
		if country, _, ok := strings.Cut(l.Jurisdiction, "/"); ok && !slices.Contains(countries, country) {
			countries = append(countries, country)
		}
	}
	slices.Sort(countries)
	slices.Sort(parts)
	return append(countries, parts...)
}

// For lists the limits on one quantity in a jurisdiction, for a class of vehicle ("" for all). "" as the jurisdiction
// means US. A part of a country has its country's limits too; a country that has none of its own shows those of its
// parts, each under the part's name. Own limits come before the country's, bounds before usual values.
func For(jurisdiction, class, quantity string) []Limit {
	if jurisdiction == "" {
		jurisdiction = "US"
	}
	pick := func(of func(string) bool) []Limit {
		var out []Limit
		for _, l := range all {
			if l.Quantity == quantity && l.Applies(class) && of(l.Jurisdiction) {
				out = append(out, l)
			}
		}
		return out
	}
	found := pick(func(j string) bool { return j == jurisdiction })
	if country, _, ok := strings.Cut(jurisdiction, "/"); ok {
		found = append(found, pick(func(j string) bool { return j == country })...)
	} else if len(found) == 0 {
		found = pick(func(j string) bool { return strings.HasPrefix(j, jurisdiction+"/") })
	}
	slices.SortStableFunc(found, func(a, b Limit) int {
		if a.Usual == b.Usual {
			return 0
		}
		if a.Usual {
			return 1
		}
		return -1
	})
	return found
}

// ForCircuit is For with the vehicle's class, and bounds worked out for it.
func ForCircuit(jurisdiction string, c *circuit.Circuit, quantity string) []Limit {
	found := For(jurisdiction, c.Class, quantity)
	for i := range found {
		found[i] = found[i].On(c)
	}
	return found
}

// All limits, in order.
func All() []Limit { return slices.Clone(all) }
