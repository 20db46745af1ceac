package engine

import (
	"slices"
	"sort"

	"airpath/circuit/airflow"
)

// A moment is a state that the time line can go back to.
type moment struct {
	t       float64
	now     *airflow.Snapshot
	healthy *airflow.Snapshot // nil without faults
	faults  []airflow.Fault
	water   tally
	input   bool   // something was done: what follows can't be worked out from an earlier moment
	deed    string // what was done, where undo stops
}

// A timeline keeps moments in order: one for each deed, and in between some as time goes by, fewer the longer it gets. The
// state of a time in between is that of the moment before it, gone on from.
type timeline struct {
	moments []moment
	here    int     // the moment that the present state has come from
	spacing float64 // of those in between, s

	shown []Deed // the deeds, as last handed out; nil when they have changed
}

// The most moments: those in between, and those of deeds. A few kilobytes each.
const (
	mostBetween = 400
	mostInputs  = 1500
)

func (l *timeline) clear() { *l = timeline{spacing: 1} }

func (l *timeline) begin() float64 { return l.moments[0].t }

func (l *timeline) end() float64 { return l.moments[len(l.moments)-1].t }

// atEnd says whether nothing on the line lies after the present.
func (l *timeline) atEnd() bool { return l.here == len(l.moments)-1 }

// due says whether it is time to take down a moment in between.
func (l *timeline) due(t float64) bool { return t >= l.end()+l.spacing }

// at finds the moment that a time has come from: of several at one time, the last.
func (l *timeline) at(t float64) int {
	return max(0, sort.Search(len(l.moments), func(i int) bool { return l.moments[i].t > t+1e-9 })-1)
}

func (l *timeline) append(m moment) {
	l.moments = append(l.moments, m)
	l.here = len(l.moments) - 1
	l.shown = nil
	l.thin()
}

// near is how near in time two parts of one movement must be for the later one to stand for both, s.
const near = 0.25

// goOn adds what belongs to the deed before.
func (l *timeline) goOn(m moment) {
	last := &l.moments[len(l.moments)-1]
	if last.input && m.t-last.t < near {
		m.deed = last.deed
		*last = m
		return
	}
	l.append(m)
}

// cut drops what lies after the present, and says whether there was anything.
func (l *timeline) cut() bool {
	if l.atEnd() {
		return false
	}
	clear(l.moments[l.here+1:])
	l.moments = l.moments[:l.here+1]
	l.shown = nil
	return true
}

// thin keeps the line from growing without end: of the moments in between every other goes, and the oldest deeds become
// such moments.
func (l *timeline) thin() {
	between, inputs := 0, 0
	for i := range l.moments {
		if l.moments[i].input {
			inputs++
		} else {
			between++
		}
	}
	for i := 1; i < len(l.moments) && inputs > mostInputs; i++ {
		if m := &l.moments[i]; m.input {
			m.input, m.deed = false, ""
			inputs--
			between++
			l.shown = nil
		}
	}
	if between <= mostBetween {
		return
	}
	l.spacing *= 2
	odd := false
	last := len(l.moments) - 1
	kept := l.moments[:0]
	for i, m := range l.moments {
		if i > 0 && i < last && !m.input {
			if odd = !odd; odd {
				continue
			}
		}
		kept = append(kept, m)
	}
	clear(l.moments[len(kept):])
	l.moments = kept
	l.here = len(kept) - 1 // it is called when something was added at the end
}

// deedBefore is the last deed that the present state has in it.
func (l *timeline) deedBefore() (int, bool) {
	for i := l.here; i > 0; i-- {
		if l.moments[i].deed != "" {
			return i, true
		}
	}
	return 0, false
}

// deedAfter is the first deed on the line that the present state does not have in it.
func (l *timeline) deedAfter() (int, bool) {
	for i := l.here + 1; i < len(l.moments); i++ {
		if l.moments[i].deed != "" {
			return i, true
		}
	}
	return 0, false
}

// deeds lists them for showing. The list is not changed afterwards.
func (l *timeline) deeds() []Deed {
	if l.shown == nil {
		l.shown = []Deed{}
		for i := range l.moments {
			if m := &l.moments[i]; m.deed != "" {
				l.shown = append(l.shown, Deed{m.t, m.deed})
			}
		}
		l.shown = slices.Clip(l.shown)
	}
	return l.shown
}
