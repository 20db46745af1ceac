// Package drill makes exercises out of vehicles with hidden faults, and marks what a trainee made of them.
//
// An [Exercise] holds only what may be observed: the complaint, and for each procedure that is allowed the results that it
// would have on the hidden vehicle, worked out beforehand by simulation (build.go). Two faults with equal results give equal
// files, so nothing in the file gives the answer away. The [Key], the instructor's, holds the answer.
//
// A trainee works on an [Attempt]: prepares the work, carries out procedures, clears parts, names the faults. Handed in, it is
// a [Work], sealed to the exercise that it was done on.
//
// [Mark] plays the work again with the tracer beside it: what each choice told for its minutes, what would have told more, what
// was cleared rightly and wrongly, whether the safety order was kept. The mark is 100 × what the tracer's own way costs / what
// the trainee's way cost, in minutes (path.go), times the share of the hidden parts that were named: a vehicle handed back
// unmended earns nothing. The tracer's own way thus has 100, and nothing has more.
package drill
