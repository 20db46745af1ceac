package trace

import (
	"math"
	"slices"

	"airpath/circuit/airflow/procedure"
	"airpath/trace/reason"
)

// What a vehicle came in for is more than what was read: of all that its fault shows, somebody noticed just this. A fault that shows in
// little else is the likelier one; one that shows in a dozen checks would as likely have been noticed in any of the others. And who takes something for
// wrong by mistake might have done so anywhere: what a vehicle in good order is brought in for is one of a great many such. Beside something real hardly
// anybody brings a vehicle in for what he has imagined. It takes the whole table.

// Engineering judgement.
const (
	byTool        = 0.1  // share of vehicles that come in for what was found with a workshop's tool, where something is to be noticed from the seat too
	besideReal    = 0.1  // how likely a mistake is to be what a vehicle came in for that shows something real, beside one that shows nothing
	mistakenMost  = 0.15 // a yes that is likelier than that where all is well is taken for usual, and a no likewise
	strayReported = 0.1  // how often a finding that has nothing to do with the vehicle is what it came in for, beside any other: it was looked at twice
)

// seatTools are what a driver or an inspector has at hand.
var seatTools = []string{"stopwatch", "chocks", "pedal prop"}

// fromSeat tells whether something is noticed in a procedure from the seat or on a round. What is heard takes no tool: soap and brush only confirm it.
func fromSeat(p *procedure.Procedure) bool {
	return p.Round() || !slices.ContainsFunc(p.Tools, func(tool string) bool { return !slices.Contains(seatTools, tool) })
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

// findMistaken works out, by procedure, how likely something in it is to be taken for wrong on a vehicle in good order.
func (t *Tracer) findMistaken() {
	t.mistaken = make([]float64, len(t.procedures))
	for p, pr := range t.procedures {
		none := 1.0
		for r, x := range t.table.values(p, 0) {
			none *= 1 - mistaken(&pr.Readings[r], x)
		}
		t.mistaken[p] = 1 - none
	}
}

// mistaken is how likely a reading of some value is to be taken for another. Figures are read twice.
func mistaken(r *procedure.Reading, value float64) float64 {
	if r.Form != procedure.YesNo {
		return 0
	}
	yes := r.Judge.Says(value)
	if least := min(yes, 1-yes); least <= mistakenMost {
		return least
	}
	return 0
}

// reported is the factor of an observation that the vehicle came in for, kept.
func (t *Tracer) reported(one []observation) (*reason.Taken, error) {
	finding, err := t.takenOf(one)
	if err != nil {
		return nil, err
	}
	return t.factors.of("reported/"+one[0].content(), func() (*reason.Taken, error) { return t.space.Take(t.reportedFactor(&one[0], finding)) })
}

// reportedFactor weighs that an observation is what the vehicle came in for. Something else is taken to show just where the faults of the catalogue do:
// what a vehicle came in for doesn't tell whether the catalogue knows what is the matter with it.
func (t *Tracer) reportedFactor(o *observation, finding *reason.Taken) reason.Factor {
	n := len(t.nuisances.draws)
	f := reason.Factor{Key: "reported/" + o.key, Rows: make([]int32, len(t.cells))}
	rows := map[float64]int32{}
	row := func(value float64) int32 { // chances that are told apart by a hundredth share a row
		return levelRow(&f, rows, math.Exp(math.Round(100*math.Log(value))/100), n)
	}
	l := &likelihood{o: o, sigma: o.e.Sigma, healthy: t.healthy(o.procedure, o.reading)}
	outliers, flat := l.background()
	stray := (1 - strayReported) * outliers * flat
	sum, all := 0.0, 0.0
	for c := range t.cells {
		found := finding.Mean(c, n)
		chance := (t.reportedOn(o, t.cells[c].from) + t.reportedOn(o, t.cells[c].to)) / 2 * (1 - stray/found)
		f.Rows[c] = row(chance)
		if t.cells[c].hypothesis >= firstFault {
			sum += t.space.Cells[c].Prior * chance * found
			all += t.space.Cells[c].Prior
		}
	}
	other := &t.list[somethingElse]
	for c := other.cell; c < other.cell+other.cells; c++ {
		f.Rows[c] = row(sum / all / finding.Mean(c, n))
	}
	return f
}

// reportedOn is the chance that of all that a vehicle shows, and of all that is taken for wrong on it by mistake, an observation is what is
// reported. One that its fault does not show came about by mistake itself.
func (t *Tracer) reportedOn(o *observation, vehicle int) float64 {
	vehicle = t.table.alias[vehicle]
	mine := fromSeat(t.procedures[o.procedure])
	mistake := 1.0
	if slices.ContainsFunc(t.showing[vehicle], func(count uint16) bool { return count > 0 }) {
		mistake = besideReal
	}
	sum, shown, quiet := 1.0, false, 1.0 // what else there is where this was noticed; whether the seat shows anything, and that nobody takes anything for wrong there
	for p, count := range t.showing[vehicle] {
		seat := fromSeat(t.procedures[p])
		there := mistake * t.mistaken[p]
		if count > 0 {
			there = 1
		}
		if seat == mine && p != o.procedure {
			sum += there
		}
		if seat {
			shown = shown || count > 0
			quiet *= 1 - there
		}
	}
	here := float64(t.showing[vehicle][o.procedure])
	healthy, values := t.table.values(o.procedure, 0), t.table.values(o.procedure, vehicle)
	if healthy == nil || values == nil || !differs(o.r, healthy[o.reading], values[o.reading]) {
		here = (here + 1) / mistake
	}
	workshop := byTool
	if !shown {
		workshop += (1 - byTool) * quiet
	}
	if mine {
		return (1 - workshop) / sum / here
	}
	return workshop / sum / here
}
