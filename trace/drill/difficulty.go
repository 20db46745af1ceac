package drill

import (
	"slices"

	"airpath/circuit/airflow"
	"airpath/trace"
)

// Difficulty says how hard an exercise is.
type Difficulty struct {
	Level      string  `json:"level"`      // one of Levels
	Procedures int     `json:"procedures"` // on the tracer's own way
	Group      int     `json:"group"`      // how many faults no allowed procedure tells from the hidden one; 1 is none but itself
	Misleading float64 `json:"misleading"` // the highest probability that a good part had on the way
	Parts      int     `json:"parts"`      // how many are at fault
}

// Levels of difficulty, the easiest first.
var Levels = []string{"first day", "apprentice", "technician", "master"}

// difficultyOf an exercise, from the tracer's own way. The bounds between levels are a judgement: one procedure shows a
// first-day fault; what misleads, hides in a group or comes in twos is for those who have seen some.
func difficultyOf(k *Key, w *way) Difficulty {
	d := Difficulty{Procedures: len(w.taken), Group: groupOf(k, w.last.verdict), Parts: len(k.Faults)}
	if w.last.other != nil {
		d.Group = max(d.Group, groupOf(k, w.last.other))
	}
	for _, o := range append(slices.Clone(w.asked), w.last) {
		for _, s := range o.verdict.Suspects {
			if !k.hides(s.Fault) {
				d.Misleading = max(d.Misleading, s.Probability)
			}
		}
	}
	points := max(0, d.Procedures-1) + max(0, d.Group-1)/2 + 3*(d.Parts-1) + len(w.fitted)
	if d.Misleading > 0.5 {
		points++
	}
	switch {
	case points <= 0:
		d.Level = Levels[0]
	case points <= 2:
		d.Level = Levels[1]
	case points <= 4:
		d.Level = Levels[2]
	default:
		d.Level = Levels[3]
	}
	return d
}

// hides tells whether a fault's part is one of the hidden.
func (k *Key) hides(f airflow.Fault) bool {
	return slices.ContainsFunc(k.Faults, func(h Hidden) bool { return h.Component == f.Target })
}

// groupOf the hidden faults: the largest that one of them is in, and that no procedure splits.
func groupOf(k *Key, v *trace.Verdict) int {
	size := 1
	for _, g := range v.Inseparable {
		if slices.ContainsFunc(g.Faults, k.hides) {
			size = max(size, len(g.Faults))
		}
	}
	return size
}
