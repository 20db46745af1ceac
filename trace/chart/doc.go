// Package chart grows a whole troubleshooting tree for a vehicle and a complaint, or for findings, and sets it out on pages to
// print and pin up.
//
// [Grow] asks the tracer at every node what it would ask at a case with the findings so far ([trace.Tracer.Inquire]), and follows
// each answer: the chart is the tracer's own policy written down, no second opinion. A branch ends where the tracer stops, or
// where it becomes so rare or so deep that paper does not pay; then the leaf says what to confirm and repair, in the order of
// probability for the work.
//
// [Chart.Text] writes it as text, [Chart.Pages] sets it out on pages, and [Chart.SVG] and [Chart.PDF] draw those. The same
// vehicle and complaint give the same bytes.
package chart
