// Package record makes the work record of a case: what was complained of, found, concluded, repaired and checked, for the
// workshop's files and for whoever signs it.
//
// [New] turns a case, and what the tracer said of it before each repair, into a [Document]: chapters of paragraphs, tables
// and drawings, without a word about paper. [Document.PDF] lays it out on pages; [Document.HTML] writes the same as one
// file for a browser, in a style that prints. Both are complete by themselves: typeface and drawings are in them, nothing is
// fetched. The same input gives the same bytes: the day that a document bears is the case's own.
//
// A record tells and does not judge. A reading is within or outside a limit whose source is named; whether the vehicle may
// go on the road is for others to say, and each record says so.
//
// Pages are drawn through package symbol's surfaces, so that a page can be looked at as a picture as well
// ([Document.Pictures]). Everything that carries meaning is carried by words, weight or shape too, for grey printers.
package record
