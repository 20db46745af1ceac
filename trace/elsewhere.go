package trace

import (
	"airpath/circuit/airflow"
)

// A hole in a tee and one as large in the pipe on it let out the same air. Only where it is heard tells them apart, so that one of them is
// simulated, and what the other comes to is told from that.

// other is a vehicle with the same hole somewhere else.
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
		values := t.procedures[p].Elsewhere(t.known[p][o.vehicle], t.known[p][0], o.was, o.is)
		if values == nil {
			left = append(left, p)
			continue
		}
		t.known[p][j.vehicle] = values
	}
	return left
}
