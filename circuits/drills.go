package circuits

import (
	"embed"
	"slices"
	"strings"
)

//go:generate go test ../trace/drill -run LibraryExercises -timeout 30m -update

// The library's exercises: NAME.exercise.json for whoever works on it, and keys/NAME.key.json for the instructor. Both are made from
// drills/definitions.toml by go generate.
//
//go:embed drills
var drills embed.FS

const (
	exerciseEnding = ".exercise.json"
	keyEnding      = ".key.json"
)

// Drills are the names of the library's exercises, the easiest first.
func Drills() []string {
	entries, err := drills.ReadDir("drills")
	if err != nil {
		panic("circuits: " + err.Error()) // the folder is part of the binary
	}
	var names []string
	for _, e := range entries {
		if name, is := strings.CutSuffix(e.Name(), exerciseEnding); is {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	return names
}

// Drill is the text of a library exercise's file; nil where there is no such exercise.
func Drill(name string) []byte { return drillFile("drills/" + name + exerciseEnding) }

// DrillKey is the text of the key to a library exercise; nil where there is no such exercise.
func DrillKey(name string) []byte { return drillFile("drills/keys/" + name + keyEnding) }

func drillFile(path string) []byte {
	text, err := drills.ReadFile(path)
	if err != nil {
		return nil
	}
	return text
}
