// Package drilling is the Drill work area: exercises with hidden faults are opened, made, worked on and marked.
//
// It has four faces. The start lists exercises. Making is the instructor's: faults are chosen on the sheet or drawn at random, and how
// hard that is is worked out in the background. Working is the trainee's: the same area as in Trace (package tracing) with a lesson in
// the place of the tracer's advice. Marking goes through works step by step. What they hold is in package model and knows no toolkit.
package drilling
