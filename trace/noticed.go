package trace

import (
	"math"

	"airpath/circuit"
	"airpath/circuit/airflow/procedure"
	"airpath/trace/reason"
)

// What a driver or an inspector would notice: more than what instruments, vehicles and people scatter anyway, and less than what is
// plainly wrong, because what is held to be too slight to be noticed is cleared more easily. Engineering judgement.
const (
	noticedYes   = 0.4                    // of the chance of a yes
	noticedLevel = 5 * circuit.PSI        // of a pressure
	noticedFall  = 4 * circuit.PSI        // of a difference of pressures
	noticedRate  = 0.8 * circuit.PSI / 60 // of a fall per time
	noticedShare = 0.2                    // of a time or anything else
	noticedSigma = 3.0                    // spreads of one reading, of anything
)

// unnoticed is how likely a vehicle is to come in with a fault that nobody would have noticed, beside one that somebody would: by
// chance, at a service. Engineering judgement.
const unnoticed = 0.05

// findSlight marks the cells at which a fault shows in no reading of any procedure, neither there nor at the next severities. It needs
// the whole table, and that it is counted what shows. Such a fault brings no vehicle in: the severities that show are the likelier ones.
func (t *Tracer) findSlight() {
	shows := make([]bool, len(t.cells))
	for i := range t.cells {
		c := &t.cells[i]
		shows[i] = t.shows(c.from) || t.shows(c.to)
	}
	for h := range t.list {
		first, last := t.list[h].cell, t.list[h].cell+t.list[h].cells-1
		for i := first; i <= last; i++ {
			t.space.Cells[i].Slight = h >= firstFault && !shows[i] && !shows[max(i-1, first)] && !shows[min(i+1, last)]
		}
		t.expectNoticed(&t.list[h], t.space.Cells[first:last+1])
	}
}

// expectNoticed takes from the slight cells of a fault what its plain ones are the likelier for.
func (t *Tracer) expectNoticed(h *hypothesis, cells []reason.Cell) {
	plain, all := 0.0, 0.0
	for i := range cells {
		all += t.cells[h.cell+i].width()
		if !cells[i].Slight {
			plain += t.cells[h.cell+i].width()
		}
	}
	for i := range cells {
		share := t.cells[h.cell+i].width() / (plain + unnoticed*(all-plain))
		switch {
		case plain == 0:
			share = unnoticed * t.cells[h.cell+i].width() / all
		case cells[i].Slight:
			share *= unnoticed
		}
		cells[i].Prior = h.words.Prior * share
	}
}

// shows tells whether some reading of a vehicle is another than the healthy one's. What could not be simulated may show.
func (t *Tracer) shows(v int) bool {
	for p, count := range t.showing[t.table.alias[v]] {
		if count > 0 || t.table.values(p, 0) == nil || t.table.values(p, v) == nil {
			return true
		}
	}
	return false
}

// leastNoticed of a pressure, a difference of pressures and a rate; of all else, a share of the healthy value is.
var leastNoticed = map[circuit.Dimension]float64{
	circuit.Pressure: noticedLevel, circuit.PressureSpan: noticedFall, circuit.Rate: noticedRate,
}

func differs(r *procedure.Reading, healthy, value float64) bool {
	switch {
	case healthy == value:
		return false
	case math.IsNaN(healthy) || math.IsNaN(value):
		return math.IsNaN(healthy) != math.IsNaN(value)
	case r.Form == procedure.YesNo:
		return math.Abs(r.Judge.Says(value)-r.Judge.Says(healthy)) > noticedYes
	}
	least, ok := leastNoticed[r.Dimension]
	if !ok {
		least = noticedShare * math.Abs(healthy)
	}
	return math.Abs(value-healthy) > math.Max(least, noticedSigma*r.Sigma)
}
