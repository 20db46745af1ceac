package procedure

import (
	"airpath/circuit/airflow"
)

// Two things that a procedure does or reads lie outside the air: how fast the compressor is driven, and what is left of a
// vehicle's faults when a part is taken out of it. Both are told from the faults themselves, by kind.

// slips names the mode of a kind whose severity is the share of the turns lost between the engine and the part.
var slips = map[string]string{"compressor": "drive slipping"}

// filters names the mode of a kind that goes away when its intake filter is taken out.
var filters = map[string]string{"compressor": "intake restricted"}

func (v *vehicle) has(table map[string]string, f airflow.Fault) bool {
	c := v.circuit.Component(f.Target)
	return c != nil && table[c.Kind.Name] == f.Mode
}

// isFilter says whether a fault goes out with the intake filter.
func isFilter(v *vehicle, f airflow.Fault) bool { return v.has(filters, f) }

// turns of the compressor over those that its drive should give it.
func (v *vehicle) turns(faults []airflow.Fault) float64 {
	share := 1.0
	for _, f := range faults {
		if f.Target == v.compressor.ID && v.has(slips, f) {
			share *= 1 - v.severity(f)
		}
	}
	return share
}

// severity of a fault, with the typical one for a fault that states none.
func (v *vehicle) severity(f airflow.Fault) float64 {
	if f.Severity == f.Severity {
		return f.Severity
	}
	mode, err := airflow.ModeOf(v.circuit, f)
	if err != nil {
		return 0
	}
	return mode.Severity.Typical
}
