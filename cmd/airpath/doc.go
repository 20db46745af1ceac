// Airpath narrows down the fault in a heavy vehicle's compressed-air system, from what was seen, heard and measured.
//
// Without a command it opens the window; with one it does the same work in text. Each command lives in a file of its
// own as a [command] in [commands]; all of them read their input and write their answers through [program], so that a
// test can run the whole program inside itself.
//
// Exit status: 0 done, 1 the input is at fault, 2 the call is at fault, 3 the thing checked falls short.
package main
