package score

import "airpath/circuit"

// A Filed is a case as it stood when its part was named or mended, so that it can be traced again by whoever changes the reasoning: no vehicle has to
// be simulated anew for that.
type Filed struct {
	Left []string `json:"left"`          // true faults that were in the vehicle,
	Odd  string   `json:"odd,omitempty"` // and the part with something that the catalogue does not know
	Text string   `json:"case"`          // the case file, as airpath trace reads it
}

// file the case that is at hand, once, where somebody keeps records.
func (t *table) file() {
	if !t.filing || len(t.game.Cases) == t.opened {
		return
	}
	f := Filed{Left: []string{}, Odd: t.odd, Text: string(circuit.WriteCase(t.kase))}
	for _, x := range t.left {
		f.Left = append(f.Left, x.String())
	}
	t.game.Cases = append(t.game.Cases, f)
}

// forget the cases: the report does not need them, and of ten thousand vehicles they are many.
func (r *Record) forget() {
	for i := range r.Games {
		r.Games[i].Cases = nil
	}
}
