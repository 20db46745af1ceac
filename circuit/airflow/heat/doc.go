// Package heat tells what brakes bear: drum temperatures on a descent, how lining friction fades, what is left of the brake
// after it, and what the springs alone would do there.
//
//	out, err := heat.Descend(vehicle, heat.Descent{Grade: 0.07, Length: 6000, Speed: 10, EngineShare: 0.3})
//	out.End.Temperature // one a wheel, K
//	out.Left            // share of the cold brake force that a full application still gives
//
// Each drum is one lump of cast iron that takes up all of its brake's work and gives heat off to the air: the form of the grade
// severity rating system. Hot drums grow, so that rods come out further; hot linings grip less. Which wheel does how much of
// the work is worked out anew at each moment, so that a brake that has faded leaves its work to the others.
//
// Sources stand beside each formula; where none is named the value is engineering judgement. Units: SI, temperatures in K,
// pressures as spans above the atmosphere.
package heat
