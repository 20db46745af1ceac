package moisture

import (
	"strings"

	"airpath/circuit/airflow"
	"airpath/circuit/airflow/effort"
)

// Undrained gives the faults that a vehicle has after some days without draining: the volume that each tank has lost to water, for
// those of its reservoirs that can fill up. Tanks that have lost less than a thousandth are left out.
func (r Report) Undrained(v *effort.Vehicle, days float64) []airflow.Fault {
	var out []airflow.Fault
	for _, t := range r.Tanks {
		id, room, _ := strings.Cut(t.Room, ".")
		for _, m := range airflow.Modes(v.Circuit.Component(id).Kind.Name) {
			share := min(t.Share(days), mostWater)
			if (m.Name == room+" full of water" || m.Name == "full of water") && share > 1e-3 {
				out = append(out, airflow.Fault{Target: id, Mode: m.Name, Severity: share})
			}
		}
	}
	return out
}

// mostWater is the share of a tank that water can take: above it, it leaves with the air.
const mostWater = 0.9
