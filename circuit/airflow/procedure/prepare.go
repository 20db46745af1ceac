package procedure

import "slices"

// A Preparation is something that a person sees to before a procedure that calls for it is begun.
type Preparation struct {
	ID    string // "chock"
	Words string // "Chock the wheels on both sides, on level ground"
	// Lasts tells whether it holds once it was done; the other way, it must be done again after the system has been charged.
	Lasts bool

	against danger
}

// preparations, in the order in which they are made.
var preparations = []Preparation{
	{ID: "chock", Words: "Chock the wheels on both sides, on level ground", Lasts: true, against: vehicleMay},
	{ID: "protect", Words: "Put on eye and ear protection", Lasts: true, against: vehicleMay},
	{ID: "second-person", Words: "Have a second person in the cab before the park is released", Lasts: true, against: parkOff},
	{ID: "fumes", Words: "Open the doors or lead the exhaust outside before the engine is started", Lasts: true, against: engineRuns},
	{ID: "bleed", Words: "Bleed the whole system down before a line or fitting is undone", against: lineOpen},
	{ID: "cool", Words: "Let the compressor and its discharge line cool, or put on gloves", against: discharge},
}

// Preparations that there are, in the order in which they are made.
func Preparations() []Preparation { return slices.Clone(preparations) }

// Preparations that the procedure calls for: what its cautions ask for that is done before it and not in it.
func (p *Procedure) Preparations() []Preparation {
	var out []Preparation
	for _, q := range preparations {
		if text, particular := byDanger[q.against]; !particular || slices.Contains(p.Cautions, text) {
			out = append(out, q)
		}
	}
	return out
}

// Charges tells whether the procedure builds up air, so that the system has to be bled down again before a line is undone.
func (p *Procedure) Charges() bool { return slices.Contains(p.Cautions, byDanger[engineRuns]) }
