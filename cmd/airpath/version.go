package main

import (
	"flag"
	"fmt"
	"runtime"
	"runtime/debug"
)

var versionCommand = command{
	name:     "version",
	synopsis: "[--json]",
	about:    "say which build of airpath this is",
	declare: func(flags *flag.FlagSet) func(*program, []string) error {
		asJSON := flags.Bool("json", false, "report as JSON")
		return func(p *program, args []string) error {
			if len(args) > 0 {
				return badCall("version: takes no argument, got %q", args[0])
			}
			v := readVersion()
			if *asJSON {
				return p.printJSON(v)
			}
			changed := ""
			if v.Changed {
				changed = ", changed since"
			}
			fmt.Fprintf(p.out, "airpath %s, commit %s%s, %s, %s\n", v.Version, v.Commit, changed, v.Go, v.Platform)
			return nil
		}
	},
}

type version struct {
	Version  string `json:"version"`
	Commit   string `json:"commit"`
	Changed  bool   `json:"changed"` // built from files that differ from the commit
	Go       string `json:"go"`
	Platform string `json:"platform"`
}

// readVersion takes what the Go tool stamped into the program.
func readVersion() version {
	v := version{Version: "unreleased", Commit: "unknown", Go: runtime.Version(), Platform: runtime.GOOS + "/" + runtime.GOARCH}
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return v
	}
	if info.Main.Version != "" && info.Main.Version != "(devel)" {
		v.Version = info.Main.Version
	}
	for _, s := range info.Settings {
		switch s.Key {
		case "vcs.revision":
			v.Commit = s.Value
		case "vcs.modified":
			v.Changed = s.Value == "true"
		}
	}
	return v
}

// programName is how papers name what made them.
func programName() string {
	v := readVersion()
	return fmt.Sprintf("Airpath %s, commit %s", v.Version, v.Commit)
}
