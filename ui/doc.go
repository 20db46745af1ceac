// Package ui is Airpath's window.
//
// [Main] opens it and returns when it is closed; [Screenshot] draws one frame of it into a picture file without a screen.
// The parts: model (the case, its history, background work; no toolkit), engine (the real tracer behind the model's
// interface), canvas (the sheet), widgets and theme, and one folder for each work area, of which tracing is the first. This package
// puts them together: the bar at the top, what is opened and saved, panels over everything, shortcuts.
package ui
