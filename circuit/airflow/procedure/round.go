package procedure

import "slices"

// Round tells whether the procedure is a round by ear, whose places are gone to one by one: not all need be, and only those
// gone to take time.
func (p *Procedure) Round() bool {
	return len(p.Readings) > 8 && !slices.ContainsFunc(p.Readings, func(r Reading) bool { return r.Sense != Ear })
}
