package model

// A History remembers every state of something that can be taken back. States are values that nobody changes after
// they were handed over.
type History[T any] struct {
	states []entry[T] // the first has no deed
	at     int
}

type entry[T any] struct {
	state T
	deed  string // what led to it, in words: "Marked the hiss at the purge port"
}

// maxSteps bounds the memory; a case has a few dozen deeds.
const maxSteps = 500

// NewHistory starts with one state and nothing to undo.
func NewHistory[T any](first T) *History[T] {
	return &History[T]{states: []entry[T]{{state: first}}}
}

// Now is the present state.
func (h *History[T]) Now() T { return h.states[h.at].state }

// Do makes a new present. What was undone before can no longer be redone.
func (h *History[T]) Do(deed string, state T) {
	h.states = append(h.states[:h.at+1], entry[T]{state, deed})
	if len(h.states) > maxSteps {
		h.states = append(h.states[:0:0], h.states[len(h.states)-maxSteps:]...)
	}
	h.at = len(h.states) - 1
}

// Undo goes one step back and says which deed was taken back.
func (h *History[T]) Undo() (deed string, ok bool) {
	if h.at == 0 {
		return "", false
	}
	deed = h.states[h.at].deed
	h.at--
	return deed, true
}

// Redo does again what was undone last.
func (h *History[T]) Redo() (deed string, ok bool) {
	if h.at == len(h.states)-1 {
		return "", false
	}
	h.at++
	return h.states[h.at].deed, true
}

// CanUndo says what Undo would take back, and CanRedo what Redo would do again.
func (h *History[T]) CanUndo() (deed string, ok bool) {
	if h.at == 0 {
		return "", false
	}
	return h.states[h.at].deed, true
}

// CanRedo says what Redo would do again.
func (h *History[T]) CanRedo() (deed string, ok bool) {
	if h.at == len(h.states)-1 {
		return "", false
	}
	return h.states[h.at+1].deed, true
}
