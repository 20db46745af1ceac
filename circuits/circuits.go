// Package circuits holds the vehicles that come with the program, as circuit files inside the binary, and opens others
// by path.
package circuits

import (
	"embed"
	"fmt"
	"os"
	"slices"
	"strings"

	"airpath/circuit"
)

//go:embed *.toml
var files embed.FS

const extension = ".toml"

// Names of the vehicles in the library, in order.
func Names() []string {
	entries, err := files.ReadDir(".")
	if err != nil {
		panic("circuits: " + err.Error()) // the folder is part of the binary
	}
	var names []string
	for _, e := range entries {
		names = append(names, strings.TrimSuffix(e.Name(), extension))
	}
	slices.Sort(names)
	return names
}

// Text of a library vehicle's file; nil where there is no such vehicle.
func Text(name string) []byte {
	text, err := files.ReadFile(name + extension)
	if err != nil {
		return nil
	}
	return text
}

// Load reads a vehicle: one of the library by its name, or any by the path of its file. What has a path's separator or
// ends in .toml is a path.
func Load(nameOrPath string) (*circuit.Circuit, error) {
	if strings.HasSuffix(nameOrPath, extension) || strings.ContainsAny(nameOrPath, `/\`) {
		text, err := os.ReadFile(nameOrPath)
		if err != nil {
			return nil, fmt.Errorf("circuit file: %w", err)
		}
		return circuit.Read(nameOrPath, text)
	}
	text := Text(nameOrPath)
	if text == nil {
		return nil, fmt.Errorf("no circuit %q in the library, which has %s; a file is given by its path, such as ./%s%s",
			nameOrPath, strings.Join(Names(), ", "), nameOrPath, extension)
	}
	return circuit.Read(nameOrPath+extension, text)
}
