// Package limit holds the published limits of compressed-air brakes as data: what the value is, whose it is, where it is
// written, in which edition, and how it is known. Sources disagree by edition and place, so that there are several
// limits for one quantity; a reading is judged by those of the jurisdiction that a case names.
//
// [For] finds limits. [CheckVehicle] holds a vehicle's file, which describes the vehicle in good order, against those
// that a file can be held against without the air moving.
package limit
