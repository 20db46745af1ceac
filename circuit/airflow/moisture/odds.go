package moisture

import (
	"math"

	"airpath/circuit/airflow"
)

// How likely a fault that is ice is at some ambient temperature, beside how likely it is over the year, which is what the catalogue says.
// It needs frost, and all of a year's ice falls on the days that have some. A little above freezing it is not ruled out: air that
// expands in a valve cools further, and a part may have frozen in the night. Engineering judgement, all three.
const (
	frostDays   = 0.25           // share of the days on which a vehicle stands in frost
	noIceAbove  = freezing + 4.0 // K
	iceInWarmth = 1e-3           // beside a year's mean: nothing is ever ruled out
)

// IceOdds is the factor on how likely a mode is, for a vehicle whose trouble showed at an ambient temperature, K. It is 1 for all that
// is not ice. What the air's water comes to is not in it: ice behind a dryer that works takes a second fault, and which that is the
// findings have to say.
func IceOdds(m airflow.Mode, ambient float64) float64 {
	switch {
	case !m.Ice:
		return 1
	case ambient <= freezing:
		return 1 / frostDays
	case ambient >= noIceAbove:
		return iceInWarmth
	}
	way := (ambient - freezing) / (noIceAbove - freezing)
	return math.Exp((1-way)*math.Log(1/frostDays) + way*math.Log(iceInWarmth))
}
