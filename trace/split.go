package trace

import (
	"context"
	"fmt"
)

// A Split is what would tell a group of suspects apart that no listed procedure does.
type Split struct {
	Tap    *Tap   // the cheapest added test port or observation; nil where none would
	LookAt string // the part that is looked at first
	Look   string // how it is proven by hand, which splits the group in any case
}

// SplitBy finds what would split a group of a verdict on a case: at the severities that fit the findings. It simulates the
// group's members once more with a look at every room, some tenths of a second for each, and so is only done when asked for.
func (t *Tracer) SplitBy(ctx context.Context, g Alike) (Split, error) {
	t.turn.Lock()
	defer t.turn.Unlock()
	var members []member
	for _, f := range g.Faults {
		h := t.hypothesisOf(f.Target, f.Mode)
		if h < 0 {
			return Split{}, fmt.Errorf("trace: the vehicle has no fault %s/%s", f.Target, f.Mode)
		}
		m := member{hypothesis: h, own: t.list[h].around(f.Severity)}
		if len(members) > 0 {
			m.first = members[0].own
		}
		members = append(members, m)
	}
	taps, err := t.findTaps(ctx, [][]member{members}, nil)
	if err != nil {
		return Split{}, err
	}
	i := t.inseparable(members, taps[0])
	return Split{i.Tap, i.LookAt, i.Look}, nil
}

// around a severity: the simulated vehicles between which it lies.
func (h *hypothesis) around(severity float64) [2]int {
	for i := range len(h.points) - 1 {
		if a, b := h.points[i], h.points[i+1]; (severity-a)*(severity-b) <= 0 {
			return [2]int{h.vehicle + i, h.vehicle + i + 1}
		}
	}
	return [2]int{h.typical(), h.typical()}
}

// hypothesisOf a fault; -1 where the vehicle has none such.
func (t *Tracer) hypothesisOf(target, mode string) int {
	for h := firstFault; h < len(t.list); h++ {
		if t.list[h].fault.Target == target && t.list[h].fault.Mode == mode {
			return h
		}
	}
	return -1
}
