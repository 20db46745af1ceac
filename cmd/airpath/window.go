package main

import (
	"errors"
	"io/fs"
	"os"
	"runtime"
	"strings"

	"airpath/ui"
)

// openWindow opens the window on a file, or on the live example.
func (p *program) openWindow(path string) error {
	if path != "" && !isLibrary(path) {
		if _, err := os.Stat(path); errors.Is(err, fs.ErrNotExist) && !isPath(path) {
			return badCall("no command and no file %q; the commands are %s", path, strings.Join(commandNames(), ", "))
		} else if err != nil {
			return err
		}
	}
	if !hasDisplay() {
		return badCall("%s", noDisplay)
	}
	return ui.Main(ui.Options{Path: path, Program: programName()})
}

// hasDisplay tells whether a window can be opened at all. Outside X11 and Wayland the system says so itself.
func hasDisplay() bool {
	switch runtime.GOOS {
	case "windows", "darwin":
		return true
	}
	return os.Getenv("DISPLAY") != "" || os.Getenv("WAYLAND_DISPLAY") != ""
}

const noDisplay = `there is no display to open a window on: neither DISPLAY nor WAYLAND_DISPLAY is set.

How to go on:
  - On a desktop, start it from a terminal of that desktop; over ssh, connect with ssh -X.
  - Without one, the same work is there as commands, in text:
      airpath list procedures --circuit gritter
      airpath trace --case FILE
      airpath --help
  - To see the window's picture all the same, draw it on a virtual screen (Debian package xvfb):
      xvfb-run -a airpath screenshot -o window.png`
