package main

import (
	"encoding/json"
	"flag"
	"path/filepath"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

var update = flag.Bool("update", false, "write what the program says into the scripts")

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"airpath": main})
}

// TestCommands runs every script in testdata: each a shell session with airpath, and the files it needs. To write what the
// program now says into the scripts' own expected output: go test ./cmd/airpath -run TestCommands -update.
func TestCommands(t *testing.T) {
	root, err := filepath.Abs(root)
	if err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Dir:                 "testdata",
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		UpdateScripts:       *update,
		Setup: func(e *testscript.Env) error {
			e.Setenv("REPO", root)
			e.Setenv("HOME", e.WorkDir)
			e.Setenv("DISPLAY", "")
			e.Setenv("WAYLAND_DISPLAY", "")
			return nil
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"status": statusCommand,
			"json":   jsonCommand,
		},
	})
}

// statusCommand runs a command and holds its exit status against the wanted one: status 3 airpath check truck.toml.
func statusCommand(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: status WANTED COMMAND...")
	}
	err := ts.Exec(args[1], args[2:]...)
	got := "0"
	if err != nil {
		got = strings.TrimPrefix(err.Error(), "exit status ")
	}
	if got != args[0] {
		ts.Fatalf("%s: exit status %s, want %s", strings.Join(args[1:], " "), got, args[0])
	}
}

// jsonCommand looks into the JSON of a file (or stdout): json stdout KEY... prints nothing and fails unless the text is one
// JSON object that has each of the keys.
func jsonCommand(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 1 {
		ts.Fatalf("usage: json FILE KEY...")
	}
	var object map[string]json.RawMessage
	if err := json.Unmarshal([]byte(ts.ReadFile(args[0])), &object); err != nil {
		ts.Fatalf("%s is not one JSON object: %v", args[0], err)
	}
	for _, key := range args[1:] {
		if _, ok := object[key]; !ok {
			ts.Fatalf("%s has no key %q", args[0], key)
		}
	}
}
