// Package circuit says what a vehicle's compressed-air system is: kinds of components with their ports, rooms, parameters
// and possible passages; one vehicle's components and lines; and the questions that its graph answers.
//
// It knows no physics and no screen. A passage is listed here as something that can exist; whether it is open at a given
// moment is a question that reach and zones hand to a function, which package airflow supplies.
//
// [Read] and [ReadCase] take files apart strictly, [Write] and [WriteCase] give them back with their comments, and [Save]
// puts them on the disk. [Check] says what is wrong with a circuit, read or half drawn; [CheckCase], whether a case fits
// one. [NewPlumbing] answers questions about where air can go.
//
// All quantities are SI with absolute pressure inside; text with other units is converted where it is read or shown
// (see [Quantity]).
package circuit
