package score

import (
	"fmt"
	"math"
)

// Options of a score.
type Options struct {
	Cases int    // vehicles
	Seed  uint64 // vehicle i depends on it and on i alone
	Only  int    // play this vehicle alone; they are counted from 1, and 0 is all

	Faults     int     // in each vehicle: 1, 2, or 0 for vehicles that nothing is the matter with
	Mixed      bool    // vehicles as the tracer expects them to come in: with one fault, two, nothing, or something that it does not know
	Unmodelled float64 // share of vehicles with something that the catalogue does not know, half of them beside a fault that it knows
	Matched    bool    // the hidden vehicle has the tracer's own structure: no finer lines, wall, hysteresis
	Mismatch   bool    // parameters 20 % off, faults up to three times as common or as rare as the tracer thinks

	Baselines int     // vehicles on which the other ways of choosing are played too
	Budget    float64 // minutes of work after which a vehicle is given up
	Workers   int     // 0: one for each core
}

// DefaultBudget is a long working day on one vehicle, minutes.
const DefaultBudget = 480.0

// Check the options, and fill in what was left open.
func (o *Options) Check() error {
	switch {
	case o.Cases < 1:
		return fmt.Errorf("score: %d vehicles are none; at least 1 is wanted", o.Cases)
	case o.Only < 0 || o.Only > o.Cases:
		return fmt.Errorf("score: no vehicle %d among %d; they are counted from 1, and 0 is all", o.Only, o.Cases)
	case o.Faults < 0 || o.Faults > 2:
		return fmt.Errorf("score: %d faults in a vehicle; it can be 0, 1 or 2", o.Faults)
	case !(o.Unmodelled >= 0 && o.Unmodelled <= 1):
		return fmt.Errorf("score: the share of vehicles with something unmodelled is between 0 and 1, not %g", o.Unmodelled)
	case o.Mixed && o.Unmodelled > 0:
		return fmt.Errorf("score: of mixed vehicles a share has something unmodelled anyway; give one of the two")
	case o.Matched && o.Mismatch:
		return fmt.Errorf("score: a vehicle is either matched or mismatched, not both")
	case o.Baselines < 0:
		return fmt.Errorf("score: baselines on %d vehicles; it can be 0 and more", o.Baselines)
	case math.IsNaN(o.Budget) || o.Budget < 0:
		return fmt.Errorf("score: a budget of %g minutes; it can be 0, for %g, and more", o.Budget, DefaultBudget)
	}
	if o.Budget == 0 {
		o.Budget = DefaultBudget
	}
	return nil
}
