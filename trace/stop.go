package trace

import (
	"fmt"
	"math"

	"airpath/trace/reason"
)

// What is said of the suspects that are left when testing is over: those of some probability, and no more than a person reads.
const (
	leastLeft = 0.01
	mostLeft  = 4
)

// stop says when no further procedure is worth its minutes, and what is left then: a repair is a test as well, the only one that
// parts what no procedure does.
func (a *analysis) stop(v *Verdict, field []live) {
	if len(a.observations) == 0 || len(field) == 0 {
		return
	}
	for _, g := range v.Inseparable {
		if g.Weight >= sureEnough {
			v.Stop = fmt.Sprintf("No listed procedure tells %s apart, and together they are as good as certain (%s): confirm by hand which it is. %s",
				listed(g.Titles, mostLeft), percentDown(g.Weight), a.splitByRepair(field))
			return
		}
	}
	if p := field[0].weight; field[0].hypothesis >= firstFault && p >= sureEnough {
		title := a.list[field[0].hypothesis].title(a.circuit)
		if given := a.given(); given != 0 {
			v.Stop = fmt.Sprintf("Two faults are as good as certain (%s): %s; and %s. Confirm each by hand, then repair.", percentDown(p), a.list[given].title(a.circuit), title)
			return
		}
		v.Stop = fmt.Sprintf("%s is as good as certain (%s): confirm it by hand, then repair.", title, percentDown(p))
		if rest := a.leftOf(field[1:]); rest != "" {
			v.Stop += fmt.Sprintf(" If the vehicle is not in order after that: %s.", rest)
		}
		return
	}
	if len(v.Next) == 0 {
		v.Stop = fmt.Sprintf("No listed procedure tells more: confirm the suspects by hand, the most probable for its work first. Left: %s. %s", a.leftOf(field), a.splitByRepair(field))
		return
	}
	a.repairFirst(v, field)
}

// percentDown writes a probability so that what is nearly certain is not called certain.
func percentDown(p float64) string { return fmt.Sprintf("%.0f %%", math.Floor(100*p)) }

// leftOf a field lists what has some probability, the likeliest first.
func (a *analysis) leftOf(field []live) string {
	var names []string
	for _, l := range field {
		if l.weight < leastLeft {
			break
		}
		switch l.hypothesis {
		case noFault:
			names = append(names, fmt.Sprintf("nothing the matter (%s)", percentDown(l.weight)))
		case somethingElse:
			names = append(names, fmt.Sprintf("something that no catalogue has (%s)", percentDown(l.weight)))
		default:
			names = append(names, fmt.Sprintf("%s (%s)", a.short(l.hypothesis), percentDown(l.weight)))
		}
	}
	return listed(names, mostLeft)
}

// repairs of a field in the order in which they are best tried, and what that takes on average.
func (a *analysis) repairs(field []live) (order []int, minutes float64) {
	var hypotheses []int
	var causes []float64
	for _, l := range field {
		if l.hypothesis >= firstFault {
			hypotheses, causes = append(hypotheses, l.hypothesis), append(causes, l.weight)
		}
	}
	repairs := make([]reason.Repair, len(causes))
	for i, h := range hypotheses {
		repairs[i] = reason.Repair{Cost: a.list[h].words.Minutes, Mends: make([]float64, len(causes))}
		for j, other := range hypotheses { // a part that is exchanged takes all that is the matter with it along
			if a.list[other].fault.Target == a.list[h].fault.Target && a.list[other].words.Repair == a.list[h].words.Repair {
				repairs[i].Mends[j] = 1
			}
		}
	}
	tried, minutes := reason.RepairOrder(causes, repairs)
	for _, i := range tried {
		order = append(order, hypotheses[i])
	}
	return order, minutes
}

// splitByRepair says how a repair parts what is left.
func (a *analysis) splitByRepair(field []live) string {
	order, _ := a.repairs(field)
	if len(order) < 2 {
		return ""
	}
	return fmt.Sprintf("A repair is a test too: begin with %s (%.0f minutes); if the vehicle is in order then, it was that; if not, go on with %s.",
		a.short(order[0]), a.list[order[0]].words.Minutes, a.short(order[1]))
}

// repairFirst stops where trying repairs in the best order costs less than the best procedure and the repairs after it.
func (a *analysis) repairFirst(v *Verdict, field []live) {
	order, minutes := a.repairs(field)
	if len(order) > 0 && minutes < v.Next[0].Minutes {
		v.Stop = fmt.Sprintf("Trying the repairs in order of probability for their work takes about %.0f minutes on average, less than the next procedure. Left: %s. %s",
			minutes, a.leftOf(field), a.splitByRepair(field))
	}
}
