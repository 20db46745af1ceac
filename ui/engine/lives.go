package engine

import (
	"fmt"

	"airpath/circuit/airflow"
)

// A life is what was done on a vehicle from one beginning to the next. Beginning again is a deed like any other: the life that it
// ended is kept, so that one can go back to it.
type life struct {
	begun  string // by which deed, in words; "" for the first
	line   timeline
	curves curves
	at     float64 // where on its line one stood when it was left, s
}

// mostKept bounds the moments in lives that are over. The oldest life goes first.
const mostKept = 4000

// Begin puts the vehicle back to the beginning: without air, or charged with the engine idling. Faults stay.
func (w *Worked) Begin(charged bool) error {
	first := len(w.line.moments) == 0
	if !first {
		w.takeDown()
	}
	old := w.life()
	start, err := w.beginning(charged)
	if err == nil {
		err = w.put(w.faults, start, start)
	}
	if err != nil {
		if !first {
			w.enter(old)
			w.trouble = fmt.Sprintf("It can't begin again: %v", err)
		}
		return err
	}
	w.line.clear()
	w.curves = w.curves.fresh()
	w.water.clear()
	w.trouble, w.last = "", ""
	w.did++
	w.take("")
	w.sample()
	if !first {
		w.over, w.undone = append(w.over, old), nil
		w.begun = "begun again without air"
		if charged {
			w.begun = "begun again, charged"
		}
		w.forgetOldest()
	}
	return nil
}

// beginning is the state of a vehicle that has no air, or is charged.
func (w *Worked) beginning(charged bool) (*airflow.Snapshot, error) {
	if err := w.now.Restart(nil, airflow.Scatter{}); err != nil {
		return nil, err
	}
	if charged {
		if err := w.charge(); err != nil {
			return nil, err
		}
	}
	return w.now.Snapshot(), nil
}

func (w *Worked) life() life { return life{w.begun, w.line, w.curves, w.now.Time()} }

// enter a life where it was left.
func (w *Worked) enter(l life) {
	w.begun, w.line, w.curves = l.begun, l.line, l.curves
	w.goTo(w.line.here, l.at)
}

func (w *Worked) forgetOldest() {
	kept := 0
	for i := len(w.over) - 1; i >= 0; i-- {
		if kept += len(w.over[i].line.moments); kept > mostKept && i < len(w.over)-1 {
			w.over = append([]life(nil), w.over[i+1:]...)
			return
		}
	}
}

// Undo goes back to just before the last deed.
func (w *Worked) Undo() {
	if _, ok := w.line.deedBefore(); ok {
		w.leave()
		i, _ := w.line.deedBefore() // leaving may thin the line out, and move what is on it
		w.goTo(i-1, w.line.moments[i].t)
		return
	}
	if n := len(w.over); n > 0 {
		w.leave()
		w.undone = append(w.undone, w.life())
		w.enter(w.over[n-1])
		w.over = w.over[:n-1]
	}
}

// Redo goes forward to just after the next deed on the time line.
func (w *Worked) Redo() {
	if _, ok := w.line.deedAfter(); ok {
		w.leave()
		i, _ := w.line.deedAfter()
		w.goTo(i, w.line.moments[i].t)
		return
	}
	if n := len(w.undone); n > 0 {
		w.leave()
		w.over = append(w.over, w.life())
		next := w.undone[n-1]
		w.undone = w.undone[:n-1]
		w.enter(next)
		w.goTo(0, w.line.begin()) // just after it had begun
	}
}

// canUndo and canRedo are the deeds in question, in words; "" for none.
func (w *Worked) canUndo() string {
	if i, ok := w.line.deedBefore(); ok {
		return w.line.moments[i].deed
	}
	if len(w.over) > 0 {
		return w.begun
	}
	return ""
}

func (w *Worked) canRedo() string {
	if i, ok := w.line.deedAfter(); ok {
		return w.line.moments[i].deed
	}
	if n := len(w.undone); n > 0 {
		return w.undone[n-1].begun
	}
	return ""
}
