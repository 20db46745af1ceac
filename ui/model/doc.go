// Package model is the window without the window: the case that is being worked on, its undo history, what is selected,
// the background work that asks the tracer, preferences, and the autosave. It draws nothing and imports no toolkit, so
// everything a person can do is tested here without a screen.
//
// A [Session] belongs to one goroutine, the window's. Background work reaches it only through [Session.Collect], which
// the window calls at the start of each frame after it was woken.
package model
