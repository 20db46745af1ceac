package trace

import (
	"slices"

	"airpath/circuit/airflow/procedure"
	"airpath/trace/reason"
)

// What a vehicle came in for is more than what was read: of all that its fault shows, somebody noticed just this. A fault that shows in
// little else is the likelier one; one that shows in a dozen checks would as likely have been noticed in any of the others. It takes the whole table.

// byTool is how likely something is to be noticed that needs a workshop's tool, beside what is noticed from the seat and on a round.
// Engineering judgement.
const byTool = 0.1

// seatTools are what a driver or an inspector has at hand.
var seatTools = []string{"stopwatch", "chocks", "pedal prop"}

// noticeable is how likely something is to be noticed in a procedure.
func noticeable(p *procedure.Procedure) float64 {
	if slices.ContainsFunc(p.Tools, func(tool string) bool { return !slices.Contains(seatTools, tool) }) {
		return byTool
	}
	return 1
}

// findShowing counts, by vehicle and procedure, the readings that show its fault.
func (t *Tracer) findShowing() {
	t.showing = make([][]uint16, t.table.own)
	onAllCores(t.table.own, func(v int) {
		if t.table.alias[v] == v {
			t.showing[v] = t.countShowing(v)
		}
	})
	for v, stands := range t.table.alias[:t.table.own] {
		t.showing[v] = t.showing[stands]
	}
}

func (t *Tracer) countShowing(v int) []uint16 {
	out := make([]uint16, len(t.procedures))
	for p, pr := range t.procedures {
		healthy, values := t.table.values(p, 0), t.table.values(p, v)
		if healthy == nil || values == nil || sameBits(healthy, values) {
			continue
		}
		for r := range values {
			if differs(&pr.Readings[r], healthy[r], values[r]) {
				out[p]++
			}
		}
	}
	return out
}

// reportedFactor weighs that an observation is what the vehicle came in for. Something else is taken to show as much as faults do on average.
func (t *Tracer) reportedFactor(o *observation) reason.Factor {
	n := len(t.nuisances.draws)
	f := reason.Factor{Key: "reported/" + o.key, Rows: make([]int32, len(t.cells))}
	rows := map[float64]int32{}
	row := func(value float64) int32 { return levelRow(&f, rows, value, n) }
	mean, all := 0.0, 0.0
	for c := range t.cells {
		chance := (t.reportedOn(o, t.cells[c].from) + t.reportedOn(o, t.cells[c].to)) / 2
		f.Rows[c] = row(chance)
		mean += t.space.Cells[c].Prior * chance
		all += t.space.Cells[c].Prior
	}
	f.Rows[t.list[somethingElse].cell] = row(mean / all)
	return f
}

// reportedOn is the chance that of all that a vehicle shows, an observation is what is reported. One that its fault does not show
// came about by mistake, and is one more thing beside them.
func (t *Tracer) reportedOn(o *observation, vehicle int) float64 {
	vehicle = t.table.alias[vehicle]
	sum := 0.0
	for p, count := range t.showing[vehicle] {
		if count > 0 {
			sum += noticeable(t.procedures[p])
		}
	}
	mine := noticeable(t.procedures[o.procedure])
	here := float64(t.showing[vehicle][o.procedure])
	if here == 0 {
		sum += mine
	}
	healthy, values := t.table.values(o.procedure, 0), t.table.values(o.procedure, vehicle)
	if healthy == nil || values == nil || !differs(o.r, healthy[o.reading], values[o.reading]) {
		here++
	}
	return mine / sum / here
}
