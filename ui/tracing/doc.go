// Package tracing is the Trace work area: the vehicle's sheet, the column beside it that reasons from what is wrong to
// what it can be to what to do next, and the strip of curves below.
//
// Everything that a person can do here is a call on a [model.Session]; this package keeps only what belongs to the
// screen: which card is open, what has been typed so far, where the lists are scrolled to.
package tracing
