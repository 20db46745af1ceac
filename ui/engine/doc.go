// Package engine puts the real tracer and simulator behind the model's Engine interface: it turns verdicts into what the
// window shows, and simulates the curves of a test.
package engine
