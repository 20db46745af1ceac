package airflow

import (
	"fmt"
	"runtime"
	"slices"
	"strings"
	"sync"
)

// Keys gives one key for each of several vehicles with faults: the same for those that differ from the healthy one in the same
// way. A hose that is kinked to a tenth and one that is blocked to a tenth are one to the air.
func (n *Network) Keys(vehicles [][]Fault) ([]string, error) {
	keys := make([]string, len(vehicles))
	err := n.eachSick(vehicles, func(i int, p *plan) { keys[i] = p.key(n.plan) })
	if err != nil {
		return nil, err
	}
	return keys, nil
}

// eachSick makes the plan of each vehicle with its faults, on all cores; the plan is there only for what is done with it. What is done for one
// vehicle must not hang on another.
func (n *Network) eachSick(vehicles [][]Fault, do func(i int, p *plan)) error {
	cores := max(1, min(runtime.GOMAXPROCS(0), len(vehicles)/16))
	failed := make([]error, cores)
	var work sync.WaitGroup
	for c := range cores {
		work.Go(func() {
			var p plan
			for i := len(vehicles) * c / cores; i < len(vehicles)*(c+1)/cores; i++ {
				n.plan.copyTo(&p)
				for _, f := range vehicles[i] {
					if failed[c] = p.apply(f); failed[c] != nil {
						return
					}
				}
				do(i, &p)
			}
		})
	}
	work.Wait()
	for _, err := range failed { // the first vehicle's
		if err != nil {
			return err
		}
	}
	return nil
}

// key of a plan: what is other than in the healthy one, number by number.
func (p *plan) key(healthy *plan) string {
	var b strings.Builder
	differ(&b, "room", p.rooms, healthy.rooms, (*room).same)
	differ(&b, "element", p.elements, healthy.elements, (*element).same)
	differ(&b, "pump", p.pumps, healthy.pumps, (*pump).same)
	differ(&b, "latch", p.latches, healthy.latches, equal)
	differ(&b, "trip", p.trips, healthy.trips, equal)
	differ(&b, "gauge", p.gauges, healthy.gauges, equal)
	differ(&b, "contact", p.contacts, healthy.contacts, equal)
	differ(&b, "sink", p.sinks, healthy.sinks, equal)
	differ(&b, "wire", p.wires, healthy.wires, equal)
	differ(&b, "control", p.controls, healthy.controls, equal)
	differ(&b, "rod", p.rods, healthy.rods, (*rod).same)
	return b.String()
}

func differ[T any](b *strings.Builder, what string, other, healthy []T, same func(a, b *T) bool) {
	for i := range other {
		if !same(&other[i], &healthy[i]) {
			fmt.Fprintf(b, "%s %d %v\n", what, i, other[i])
		}
	}
}

func equal[T comparable](a, b *T) bool { return *a == *b }

func (r *room) same(q *room) bool {
	return r.volume == q.volume && r.heat == q.heat && r.piston.same(q.piston)
}

func (p Piston) same(q Piston) bool {
	return slices.Equal(p.Gauge, q.Gauge) && slices.Equal(p.Volume, q.Volume)
}

func (p *pump) same(q *pump) bool {
	return p.efficiency == q.efficiency && p.ratio == q.ratio && p.opening.same(&q.opening)
}

func (d *rod) same(e *rod) bool {
	return slices.Equal(d.Gauge, e.Gauge) && slices.Equal(d.Stroke, e.Stroke)
}
