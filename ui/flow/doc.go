// Package flow is the work area in which a vehicle is worked and its air is watched.
//
// The vehicle itself runs elsewhere (engine.Live); the area shows its latest frame and hands it deeds, and never waits for
// it. What can be worked comes from the kinds' own lists of controls, what is said of a part from package explain, what is
// learnt step by step from package walk: nothing here knows one kind from another.
package flow
