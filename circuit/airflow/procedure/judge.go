package procedure

import "math"

// A Judge turns an exact value into the chance that a person says yes. It is the one place where that is judged: prediction
// uses it, and simulated technicians draw around it.
//
//	P(yes) = False + (1 − Miss − False)·L,  L = 1/(1 + exp(−(x − half)/spread))
//
// with x the value, or its natural logarithm where Log is set, and half the value at which half of all people say yes.
type Judge struct {
	Half   float64 // SI
	Spread float64 // of x; 1 in 9 say yes 2.2 spreads below half, 8 in 9 that much above
	Log    bool
	Miss   float64 // share that miss even the plainest yes
	False  float64 // share that say yes to nothing at all
}

// litre a minute of free air in m³/s.
const litreAMinute = 1e-3 / 60

// Who listens misses one hiss in twenty and hears one in five hundred that is not there: at the hundred places of a truck, one
// in five rounds. The flows at which half of all people
// notice are engineering judgement, set beside the leaks that matter: at the published limit of 2 psi a minute a truck's
// tanks lose about 8 L/min together, a sharp hole of 0.15 mm at full pressure about 1.3 L/min.
const (
	missed  = 0.05
	phantom = 0.002
)

// HeardBy an ear at an arm's length of the place, in a yard. A running engine drowns small leaks, at rated speed all but the largest.
func HeardBy(engine string) Judge {
	half := map[string]float64{"off": 0.8, "idle": 6, "rated": 30}[engine]
	return Judge{Half: half * litreAMinute, Spread: 0.5, Log: true, Miss: missed, False: phantom}
}

// SeenInSoap on the place: bubbles show what no ear hears, with the engine on or off.
func SeenInSoap() Judge {
	return Judge{Half: 0.02 * litreAMinute, Spread: 0.6, Log: true, Miss: missed, False: phantom}
}

// plainly is for what is seen or not: a lamp. The value is 0 or 1.
var plainly = Judge{Half: 0.5, Spread: 0.05, Miss: 0.01, False: 0.002}

// Says yes, as a chance. A value that was never reached is no yes.
func (j Judge) Says(value float64) float64 {
	if math.IsNaN(value) {
		return j.False
	}
	x, half := value, j.Half
	if j.Log {
		if value <= 0 {
			return j.False
		}
		x, half = math.Log(value), math.Log(j.Half)
	}
	return j.False + (1-j.Miss-j.False)/(1+math.Exp(-(x-half)/j.Spread))
}

// JudgeWith is the judge for a reading taken with an instrument: what a place is listened to with decides.
func (r *Reading) JudgeWith(instrument string) Judge {
	if r.Sense == Ear && instrument == bySoap {
		return SeenInSoap()
	}
	return r.Judge
}
