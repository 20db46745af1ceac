package trace

import (
	"airpath/circuit/airflow"
	"airpath/circuit/airflow/procedure"
)

// A hole in a tee and one as large in the pipe on it let out the same air. Only where it is heard tells them apart, so that one of them is
// simulated, and what the other comes to is told from that.

// other is a vehicle with the same hole somewhere else; without holes, one that is the same to the air and looks otherwise.
type other struct {
	vehicle int
	was, is airflow.Hole
}

// findElsewhere lists the vehicles that stand for themselves and have a hole that an earlier one has elsewhere, once. The first of a sort is
// one that is simulated in any case, if there is such.
func (t *table) findElsewhere() error {
	if t.elsewhere != nil {
		return nil
	}
	var own []int
	var faults [][]airflow.Fault
	for v := range t.vehicles[:t.own] {
		if t.alias[v] == v {
			own, faults = append(own, v), append(faults, t.vehicles[v].faults)
		}
	}
	holes, err := t.network.Holes(faults)
	if err != nil {
		return err
	}
	type hole struct {
		room string
		size float64
	}
	first := map[hole]int{} // index among own
	t.elsewhere = map[int]other{}
	if err := t.findSeen(own); err != nil {
		return err
	}
	for _, between := range []bool{false, true} {
		for i, v := range own {
			if _, ok := t.between[v]; ok != between || holes[i].Room == "" {
				continue
			}
			k, ok := first[hole{holes[i].Room, holes[i].Size}]
			if !ok {
				first[hole{holes[i].Room, holes[i].Size}] = i
				continue
			}
			t.elsewhere[v] = other{own[k], holes[k], holes[i]}
		}
	}
	return nil
}

// hearElsewhere fills in what can be told from the vehicle that has its hole elsewhere, and returns the procedures that are left to do.
func (t *table) hearElsewhere(j job) []int {
	o, ok := t.elsewhere[j.vehicle]
	if !ok {
		return j.procedures
	}
	var left []int
	for _, p := range j.procedures {
		if o.was == o.is { // one to the air: what is seen is looked at, all else is the same
			if values := t.known[p][o.vehicle]; values != nil && !t.procedures[p].Touches() {
				t.known[p][j.vehicle] = values
			} else {
				left = append(left, p)
			}
			continue
		}
		values := t.procedures[p].Elsewhere(t.known[p][o.vehicle], t.known[p][0], o.was, o.is)
		if values == nil {
			left = append(left, p)
			continue
		}
		t.known[p][j.vehicle] = values
	}
	return left
}

// findSeen lists the vehicles whose fault is seen for what it is, and that are one to the air with one whose is not.
func (t *table) findSeen(own []int) error {
	keys, err := procedure.Keys(t.network, t.faultsOf(own))
	if err != nil {
		return err
	}
	first := map[string]int{}
	for _, seen := range []bool{false, true} {
		for _, between := range []bool{false, true} {
			for i, v := range own {
				air, more := procedure.AirKey(keys[i])
				if _, ok := t.between[v]; ok != between || more != seen {
					continue
				}
				if k, ok := first[air]; !ok {
					first[air] = v
				} else if seen {
					t.elsewhere[v] = other{vehicle: k}
				}
			}
		}
	}
	return nil
}

func (t *table) faultsOf(vehicles []int) [][]airflow.Fault {
	out := make([][]airflow.Fault, len(vehicles))
	for i, v := range vehicles {
		out[i] = t.vehicles[v].faults
	}
	return out
}
