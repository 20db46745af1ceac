// Package viewer shows a file in whatever the person's system shows such files with: a PDF, a picture, a page for a browser. It
// knows nothing of the window, so that commands use it too.
package viewer

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
)

// programs are what opens a file, by operating system.
var programs = map[string][]string{
	"linux":   {"xdg-open"},
	"freebsd": {"xdg-open"},
	"darwin":  {"open"},
	"windows": {"rundll32", "url.dll,FileProtocolHandler"},
}

// Open shows a file that was written just now in the system's own viewer. The file is there whatever comes of it, and errors
// say so, and what to do instead.
func Open(ctx context.Context, path string) error {
	words, ok := programs[runtime.GOOS]
	if !ok {
		return fmt.Errorf("%s is written; how this system (%s) shows a file is not known, so open it by hand", path, runtime.GOOS)
	}
	whole, err := filepath.Abs(path)
	if err != nil {
		return err
	}
	cmd := exec.CommandContext(ctx, words[0], append(words[1:len(words):len(words)], whole)...)
	var said bytes.Buffer
	cmd.Stderr = &said
	err = cmd.Run()
	switch {
	case errors.Is(err, exec.ErrNotFound):
		return fmt.Errorf("%s is written, but %s is not installed, so it cannot be shown (Debian has it in xdg-utils); open it by hand", path, words[0])
	case err != nil:
		return fmt.Errorf("%s is written, but %s could not show it: %w. %s", path, words[0], err, strings.TrimSpace(said.String()))
	}
	return nil
}
