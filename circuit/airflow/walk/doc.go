// Package walk holds guided walks: what a beginner does to a vehicle step by step, what to look at, and what must then be
// seen.
//
// A walk is a TOML file in the folder walks. It names parts by what they are (a kind, "reservoir 1", "gauge 2"), so that it
// can be taken on every vehicle that has them; Bind finds the parts of one vehicle. Its deeds and expectations are short
// sentences of a small fixed language (deed.go, claim.go), read strictly: what cannot be understood is an error with line
// and column. Each expectation is held against the simulation on every vehicle of the library by the tests of ui/engine.
package walk
