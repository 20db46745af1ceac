package score

import (
	"math"
	"math/rand/v2"
)

// dice for one purpose in one vehicle: what is drawn for one purpose does not change with how much is drawn for another, nor
// with which strategy plays.
func (w *world) dice(vehicle int, purpose ...uint64) *rand.Rand {
	h := mix(w.options.Seed)
	for _, p := range append([]uint64{uint64(vehicle)}, purpose...) {
		h = mix(h ^ p)
	}
	return rand.New(rand.NewPCG(h, mix(h)))
}

// mix is the finaliser of the SplitMix64 generator (Steele, Lea and Flood, OOPSLA 2014; constants from memory).
func mix(x uint64) uint64 {
	x += 0x9e3779b97f4a7c15
	x = (x ^ x>>30) * 0xbf58476d1ce4e5b9
	x = (x ^ x>>27) * 0x94d049bb133111eb
	return x ^ x>>31
}

// Purposes.
const (
	forTruth uint64 = iota + 1
	forVehicle
	forNotice
	forReadings
	forStrategy
	forReasoner
	forOptimum
	forShuffle
)

// logistic draws from the standard logistic distribution.
func logistic(r *rand.Rand) float64 {
	u := r.Float64()
	for u == 0 {
		u = r.Float64()
	}
	return math.Log(u / (1 - u))
}

// pick an index in proportion to weights.
func pick(r *rand.Rand, weights []float64) int {
	total := 0.0
	for _, w := range weights {
		total += w
	}
	at := r.Float64() * total
	for i, w := range weights {
		if at -= w; at < 0 {
			return i
		}
	}
	return len(weights) - 1
}
