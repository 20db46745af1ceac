// Package symbol draws a circuit: how each kind of component looks, once, for every canvas.
//
// A [Sheet] is a circuit laid out: where the symbols stand, how the lines run. It draws itself on any [Surface] in a
// [Look] (colours and zoom) with [Marks] (what is known and believed), and says what lies at a point. [SVG], [PDF] and
// [PNG] write whole pictures, a [PDFDocument] holds pages of drawings and text; a window brings its own Surface.
//
// Symbols are composed from the basic shapes of ISO 1219-1 (from memory: large circle for energy conversion, three-quarter
// circle for instruments, square for control components, diamond for conditioning, rectangle for cylinders and valve
// envelopes, capsule for reservoirs, open triangle for exhaust, double line for mechanical links, dashes for pilot lines,
// a bar across a way that is blocked). Inside a valve the ways through it are drawn as they stand at the moment: an open
// way runs on with an arrow head, a shut one ends at a bar.
//
// PDF is written by codeberg.org/go-pdf/fpdf: MIT, kept up, embeds of a TrueType font what is used, draws any path, and
// with its dates given writes the same bytes each time.
//
// A kind is added by adding its [Drawing] to a table in one of the drawing files; nothing else changes. The package knows
// no physics: what a part shows of the moment comes as a [State].
package symbol
