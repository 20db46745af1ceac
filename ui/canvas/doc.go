// Package canvas shows a circuit's sheet in the window: it pans, zooms, hits, and draws the one drawing of package symbol
// on Gio.
//
// What is drawn follows from how Gio draws. A rectangle on whole pixels is a single blit, while every other shape is a
// path that costs its whole bounding box; so upright and level strokes become pixel rectangles, and what is left of a
// symbol is gathered into one small outline per colour. Zooming is done here, in sheet coordinates, and never by a
// transform of the operation list, which would turn each rectangle below it into a path. The recorded sheet is kept and
// replayed as long as nothing on it changes, and moved by whole pixels only.
package canvas
