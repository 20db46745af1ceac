// Package reason is the arithmetic of finding out: which hypotheses the findings leave standing, which smallest sets of
// parts explain the contradictions, which test tells most for its minutes, which hypotheses no test can tell apart, and
// in which order repairs are tried.
//
// It knows nothing of air, parts or vehicles: hypotheses, tests and outcomes are numbers in tables. Everything is exact on
// the list it is given, nothing is sampled, and every answer is in a fixed order, so that equal input gives equal bits
// whatever the order in which the evidence came.
package reason
