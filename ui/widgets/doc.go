// Package widgets holds the controls that every work area shares: text, buttons, chips, fields, the number pad, cards,
// probability bars, scrolling columns and notices.
//
// State that must live from frame to frame is in the widget types (Button, Field, Scroll ...); what it looks like is
// passed at layout. Every control carries a semantic label, which tests use as their hook, can be reached and worked by
// the keyboard with a visible ring, and is at least 44 dp high where a finger must hit it.
package widgets
