// Package circuits holds the vehicles that come with the program, as circuit files inside the binary, and opens others
// by path.
package circuits

import (
	"embed"
	"fmt"
	"os"
	"path/filepath"
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
// ends in .toml is a path. A file may include others: of the library by name, or by their path from its own folder.
func Load(nameOrPath string) (*circuit.Circuit, error) {
	name, text, err := open(nameOrPath)
	if err != nil {
		return nil, err
	}
	return Read(name, text)
}

// Read is [circuit.Read] for a text that may include files of the library, or others beside the file of that name.
func Read(name string, text []byte) (*circuit.Circuit, error) {
	return circuit.ReadIncluding(name, text, func(file string) (string, []byte, error) {
		if isPath(file) && !filepath.IsAbs(file) {
			file = filepath.Join(filepath.Dir(name), file)
		}
		return open(file)
	})
}

func isPath(s string) bool {
	return strings.HasSuffix(s, extension) || strings.ContainsAny(s, `/\`)
}

// open finds a file's text and the name that problems call it.
func open(nameOrPath string) (string, []byte, error) {
	if isPath(nameOrPath) {
		text, err := os.ReadFile(nameOrPath)
		if err != nil {
			return "", nil, fmt.Errorf("circuit file: %w", err)
		}
		return nameOrPath, text, nil
	}
	text := Text(nameOrPath)
	if text == nil {
		return "", nil, fmt.Errorf("no circuit %q in the library, which has %s; a file is given by its path, such as ./%s%s",
			nameOrPath, strings.Join(Names(), ", "), nameOrPath, extension)
	}
	return nameOrPath + extension, text, nil
}
