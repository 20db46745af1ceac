package trace

import (
	"fmt"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/trace/reason"
)

// What the two hypotheses without a part are worth beside the catalogue, per 10,000 vehicles that come in with an air
// complaint. Engineering judgement.
const (
	priorNoFault       = 300 // nothing is wrong: a misunderstanding, or the weather
	priorSomethingElse = 250 // what the catalogue does not know
)

// Expected is what the tracer takes vehicles to come in with, beside faults that the catalogue expects so often altogether: the shares with nothing the matter
// and with something that no catalogue has, and of the rest the share with two faults at once.
func Expected(faults float64) (nothing, unknown, two float64) {
	all := faults + priorNoFault + priorSomethingElse
	pairs := shareOfPairs * faults * faults / all
	return priorNoFault / (all + pairs), priorSomethingElse / (all + pairs), pairs / (faults + pairs)
}

// The first two hypotheses are always these.
const (
	noFault = iota
	somethingElse
	firstFault
)

// A hypothesis is one thing that may be the matter.
type hypothesis struct {
	fault    airflow.Fault // without a severity; zero for the first two
	severity airflow.Severity
	words    Words
	points   []float64        // severities simulated,
	shares   []float64        // and where they lie on the whole scale, from 0 to 1
	changes  []airflow.Change // at the typical severity
	vehicle  int              // the first of its simulated vehicles, one for each point; the healthy one is 0
	cell     int              // the first of its cells
	cells    int
}

// subCells is how many cells there are between two simulated severities.
const subCells = 2

// A cell is a stretch of severities of one hypothesis: from share a to share b of the way between two simulated vehicles.
type cell struct {
	hypothesis int
	from, to   int // vehicles
	a, b       float64
	low, high  float64 // the same as shares of the whole range of severities
	half, slow float64 // how much of what a fault does is done half way between the two vehicles, and to how fast something goes; 0 where that is half
}

// doneHalfWay is how much of what a fault does more at the worse of two severities than at the milder one it does at a severity between them:
// a hole passes by its area, and what else goes by ratios does by its size. Of a way that closes what is left of it tells how fast
// something goes, while most pressures hardly move until little is left.
func doneHalfWay(s airflow.Severity, mild, between, worse float64, fast bool) float64 {
	size := func(x float64) float64 { return x }
	switch {
	case s.Dimension == circuit.Length:
		size = func(x float64) float64 { return x * x }
	case !fast && s.Dimension == circuit.Ratio && s.Typical >= 0.5 && s.Severe <= 1 && s.Mild < 1:
		return 0.5
	}
	if size(worse) == size(mild) {
		return 0.5
	}
	return (size(between) - size(mild)) / (size(worse) - size(mild))
}

// done is how much of what lies between two simulated vehicles is done at a share of the way, where half of the way does so much.
func done(share, half float64) float64 {
	switch {
	case half == 0 || half == 0.5:
		return share
	case share <= 0.5:
		return 2 * share * half
	}
	return half + (2*share-1)*(1-half)
}

// width of a cell on the whole scale.
func (c *cell) width() float64 { return c.high - c.low }

// hypothesesOf lists what may be the matter with a vehicle, in the order of the catalogue.
func hypothesesOf(n *airflow.Network) ([]hypothesis, []cell, error) {
	c := n.Circuit()
	list := make([]hypothesis, firstFault)
	list[noFault].words.Prior, list[somethingElse].words.Prior = priorNoFault, priorSomethingElse
	vehicles := 1
	for _, f := range airflow.Catalogue(c) {
		h := hypothesis{fault: f}
		var err error
		if h.words, err = Describe(c, f); err != nil {
			return nil, nil, err
		}
		mode, err := airflow.ModeOf(c, f)
		if err != nil {
			return nil, nil, err
		}
		if h.changes, err = n.Changes(f); err != nil {
			return nil, nil, err
		}
		h.severity = mode.Severity
		if len(h.changes) > 0 { // else it moves no air and no needle: every reading is the healthy one
			h.shares, h.points = knotsOf(mode.Severity)
			h.vehicle = vehicles
			vehicles += len(h.points)
		}
		list = append(list, h)
	}
	var cells []cell
	for i := range list {
		list[i].cell = len(cells)
		cells = append(cells, cellsOf(i, &list[i])...)
		list[i].cells = len(cells) - list[i].cell
	}
	return list, cells, nil
}

func cellsOf(index int, h *hypothesis) []cell {
	if len(h.points) < 2 {
		return []cell{{hypothesis: index, from: h.vehicle, to: h.vehicle, high: 1}}
	}
	var out []cell
	for g := range len(h.points) - 1 {
		from, wide := h.shares[g], h.shares[g+1]-h.shares[g]
		for s := range subCells {
			a, b := float64(s)/subCells, float64(s+1)/subCells
			out = append(out, cell{
				hypothesis: index, from: h.vehicle + g, to: h.vehicle + g + 1, a: a, b: b, low: from + a*wide, high: from + b*wide,
				half: doneHalfWay(h.severity, h.points[g], severityAt(h.severity, from+wide/2), h.points[g+1], false),
				slow: doneHalfWay(h.severity, h.points[g], severityAt(h.severity, from+wide/2), h.points[g+1], true),
			})
		}
	}
	return out
}

// spaceOf is the hypotheses as package reason wants them: severities are equally likely along their scale.
func spaceOf(list []hypothesis, cells []cell, draws int) *reason.Space {
	s := &reason.Space{Together: true, Hypotheses: len(list), Draws: draws, Cells: make([]reason.Cell, len(cells))}
	for i, c := range cells {
		h := &list[c.hypothesis]
		s.Cells[i] = reason.Cell{Hypothesis: c.hypothesis, Prior: h.words.Prior * c.width()}
	}
	return s
}

// title of a hypothesis in plain words.
func (h *hypothesis) title(c *circuit.Circuit) string {
	return fmt.Sprintf("%s: %s", nameOf(c, h.fault.Target), h.words.Says)
}
