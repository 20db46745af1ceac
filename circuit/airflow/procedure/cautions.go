package procedure

import "slices"

// A danger is a reason for a caution. Each action names its own, so that a step cannot come without its caution.
type danger int

const (
	vehicleMay danger = iota // roll away: any test
	parkOff                  // the spring brakes are released
	engineRuns
	airWorked // pedal or springs move the push-rods
	blast     // air leaves a drain or the purge port
	lineOpen  // a line or fitting is undone
	discharge // work at the discharge line or the compressor
	nearWheel // hands, ears or eyes at chambers and drums
)

// general holds before any procedure and on every record and chart.
var general = []string{
	"Level ground. Chock the wheels on both sides before anything else; a caged brake is no parking brake.",
	"A spring brake chamber holds a compressed spring that can kill. Never open one; cage it only as its maker says.",
	"Wear eye and ear protection.",
	"Never clamp a brake hose: plug it or shut it off. Count plugs out and in again, and never drive with a circuit isolated.",
}

// byDanger are the cautions that particular steps call for.
var byDanger = map[danger]string{
	parkOff:    "A second person is in the cab before the park is released, and the wheels stay chocked until it is set again.",
	engineRuns: "Exhaust fumes kill indoors: open the doors or lead them outside. Stay clear of belts, fan and pulleys while the engine runs.",
	airWorked:  "Stay clear of push-rods, shoes and slack adjusters whenever air is worked; call out before the pedal or the park moves.",
	blast:      "Purge and drain air comes out with force, water and grit: face away, and keep hands out of the jet.",
	lineOpen:   "Bleed the whole system down, all reservoirs, before a line or fitting is undone; a hose under pressure whips.",
	discharge:  "The compressor and its discharge line burn: let them cool, or wear gloves.",
	nearWheel:  "Brake dust harms the lungs: don't blow it about.",
}

// last holds whatever was done.
var last = []string{
	"Thaw a frozen part with warm air, never with a flame.",
	"Keep the vehicle off the road until it has been repaired and inspected. Local regulations, the vehicle maker's data and a licensed technician decide.",
}

// Safety is the whole list, for records and charts.
func Safety() []string {
	all := slices.Clone(general)
	for d := vehicleMay; d <= nearWheel; d++ {
		if text, ok := byDanger[d]; ok {
			all = append(all, text)
		}
	}
	return append(all, last...)
}

// cautionsFor collects what holds always and what these steps, and those of the starting state, call for.
func cautionsFor(start *Start, steps []Step, more ...danger) []string {
	found := slices.Clone(more)
	for s := start; s != nil; s = s.From {
		for _, step := range s.Steps {
			found = append(found, step.Do.dangers()...)
		}
	}
	for _, step := range steps {
		found = append(found, step.Do.dangers()...)
	}
	all := slices.Clone(general)
	for d := vehicleMay; d <= nearWheel; d++ {
		if text, ok := byDanger[d]; ok && slices.Contains(found, d) {
			all = append(all, text)
		}
	}
	return append(all, last...)
}
