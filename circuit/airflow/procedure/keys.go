package procedure

import (
	"airpath/circuit/airflow"
)

// Keys gives one key for each of several vehicles with faults: the same for those that read the same in every procedure. Vehicles
// that are one to the air share one, but for faults that no air tells: a lining, a cartridge, oil, and
// those that are seen.
func Keys(n *airflow.Network, vehicles [][]airflow.Fault) ([]string, error) {
	keys, err := n.Keys(vehicles)
	if err != nil {
		return nil, err
	}
	for i, faults := range vehicles {
		if keys[i] != "" {
			for _, f := range faults {
				keys[i] += seen(f)
			}
			continue
		}
		for _, f := range faults {
			keys[i] += f.String() + "\n"
		}
	}
	return keys, nil
}
