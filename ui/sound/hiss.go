package sound

import "math"

// Rate is samples a second, 16 bits each, one channel.
const Rate = 22050

// Air is what blows out of the vehicle at a moment, kg/s.
type Air struct {
	Exhaust float64 // where air is meant to come out: purge, exhausts, drains
	Leak    float64 // where it is not
}

// quietest is the flow, kg/s, from which on it is heard: a leak of half a litre of free air a minute in a quiet bay. The loudest is
// that of a purge, ten thousand times as much. (Engineering judgement.)
const (
	quietest = 1e-5
	decades  = 4
	most     = 0.22 // of full scale, so that no purge startles
)

// loudness of a flow, 0 to most: even steps for even factors.
func loudness(flow float64) float64 {
	if flow <= quietest {
		return 0
	}
	return most * min(1, 0.15+0.85*math.Log10(flow/quietest)/decades)
}

// A hiss makes samples.
type hiss struct {
	seed          uint32
	exhaust, leak float64 // loudness now; it follows what blows without a click
	low, band     float64 // state of the filters
}

// fill makes the next samples.
func (h *hiss) fill(out []int16, air Air) {
	// what follows reaches two thirds of a change in 40 ms
	const follow = 1.0 / (0.04 * Rate)
	exhaust, leak := loudness(air.Exhaust), loudness(air.Leak)
	for i := range out {
		h.exhaust += (exhaust - h.exhaust) * follow
		h.leak += (leak - h.leak) * follow
		noise := h.noise()
		h.low += 0.35 * (noise - h.low) // below about 1.5 kHz: the breath of an exhaust
		high := noise - h.low           // above: a leak
		h.band += 0.6 * (high - h.band)
		out[i] = int16(32767 * max(-1, min(1, h.exhaust*(1.1*h.low+0.5*h.band)+h.leak*0.9*high)))
	}
}

// noise is evenly spread from -1 to 1 (G. Marsaglia, Xorshift RNGs, Journal of Statistical Software 8, 2003, number 14).
func (h *hiss) noise() float64 {
	if h.seed == 0 {
		h.seed = 2463534242
	}
	h.seed ^= h.seed << 13
	h.seed ^= h.seed >> 17
	h.seed ^= h.seed << 5
	return float64(h.seed)/(1<<31) - 1
}

// silent says that nothing can be heard any more.
func (h *hiss) silent() bool { return h.exhaust < 1e-4 && h.leak < 1e-4 }
