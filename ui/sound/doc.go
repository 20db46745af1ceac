// Package sound makes what escaping air sounds like: a hiss that grows with the logarithm of the flow, as hearing does, brighter for a
// leak than for an exhaust. It is made as it is played, by the same numbers each time.
//
// It is heard where the system has something to play it with. On Linux that is whichever of pw-cat, paplay and aplay is installed, fed
// through a pipe: a library would need ALSA's headers to build and its own system library to run. On Windows and macOS it is
// github.com/ebitengine/oto, which needs neither.
package sound
