package procedure

import "slices"

// Minutes for one place of a round once one is there. Engineering judgement: an ear takes in a fitting in passing. A brush goes all round
// it, and the film is watched for some ten seconds, since the bubbles of a small leak are slow to grow.
const (
	hearing  = 0.1
	brushing = 0.4
)

// Leak tells whether the reading is air that comes out at a place, heard or seen in soap.
func (r *Reading) Leak() bool {
	return r.Form == YesNo && r.Place != "" && (r.Sense == Ear || r.Instrument == bySoap)
}

// Round tells whether the procedure is a round by ear or with soap, whose places are gone to one by one: not all need be, and only
// those gone to take time.
func (p *Procedure) Round() bool {
	return len(p.Readings) > 8 && !slices.ContainsFunc(p.Readings, func(r Reading) bool { return !r.Leak() })
}

// Brushed tells whether each place of a round is brushed with soap by itself. Whoever listens takes in what is nearby as well.
func (p *Procedure) Brushed() bool { return p.Round() && p.Readings[0].Instrument == bySoap }

// EachPlace of a round takes so many minutes, once one is there.
func (p *Procedure) EachPlace() float64 {
	if p.Brushed() {
		return brushing
	}
	return hearing
}

// Twin is the procedure with the same steps on the air that finds the same out by another sense: each reading here is of the same value as
// the one with the same index there. It is nil for none. Who has simulated the twin need not simulate this one.
func (p *Procedure) Twin() *Procedure { return p.twin }
