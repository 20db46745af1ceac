// Package score measures how well the tracer does: it hides a fault in a simulated vehicle, lets the tracer find it by procedures
// that are carried out on that vehicle, and counts what came of it.
//
// The hidden vehicle is not the tracer's own: it lies within 10 % of its file, differs in what the model leaves out, is read
// with instruments that err, and is listened to by somebody who misses one hiss in twenty. Vehicle i of a seed is the same
// whatever else is played, on however many cores.
package score
