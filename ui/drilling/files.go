package drilling

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"airpath/circuit"
	"airpath/circuits"
	"airpath/trace/drill"
	"airpath/ui/model"
)

// An opened exercise with the vehicle that it is about.
type opened struct {
	exercise *drill.Exercise
	circuit  *circuit.Circuit
	engine   model.Engine // of the vehicle, knowing all
	path     string       // of the exercise's file; "" for one of the library
}

// open an exercise of the library by its name, or any by its path.
func (a *Area) open(nameOrPath string) (*opened, error) {
	o := &opened{}
	text := circuits.Drill(nameOrPath)
	if text == nil {
		var err error
		if text, err = os.ReadFile(nameOrPath); err != nil {
			return nil, fmt.Errorf("exercise: %w; the library has %s", err, strings.Join(circuits.Drills(), ", "))
		}
		o.path = nameOrPath
	}
	var err error
	if o.exercise, err = drill.ReadExercise(nameOrPath, text); err != nil {
		return nil, err
	}
	vehicle := o.exercise.Circuit
	if !slices.Contains(circuits.Names(), vehicle) && !filepath.IsAbs(vehicle) {
		vehicle = filepath.Join(filepath.Dir(nameOrPath), vehicle)
	}
	if o.circuit, err = circuits.Load(vehicle); err != nil {
		return nil, fmt.Errorf("the vehicle of this exercise: %w", err)
	}
	if o.engine, err = a.shop.Engine(o.circuit, vehicle); err != nil {
		return nil, err
	}
	if err := o.exercise.Fits(o.circuit, o.engine.Procedures()); err != nil {
		return nil, fmt.Errorf("%s: %w", nameOrPath, err)
	}
	return o, nil
}

// openKey of an exercise: of the library by the exercise's name, or any by its path.
func openKey(nameOrPath string) (*drill.Key, error) {
	text := circuits.DrillKey(nameOrPath)
	if text == nil {
		var err error
		if text, err = os.ReadFile(nameOrPath); err != nil {
			return nil, fmt.Errorf("instructor's key: %w", err)
		}
	}
	return drill.ReadKey(nameOrPath, text)
}

// keyBeside guesses where the key to an exercise lies.
func keyBeside(exercise string) string {
	if circuits.Drill(exercise) != nil {
		return exercise
	}
	return strings.TrimSuffix(exercise, model.ExerciseEnding) + model.KeyEnding
}

// IsExercise tells an exercise's file from other files.
func IsExercise(text []byte) bool { return drill.Kind(text) == "airpath_exercise" }
