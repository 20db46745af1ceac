package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"strings"

	"airpath/circuit"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	p := &program{ctx: ctx, in: os.Stdin, out: os.Stdout, err: os.Stderr}
	os.Exit(p.main(os.Args[1:]))
}

// A program is one run of airpath: where it reads, where it writes, and how it is told to stop.
type program struct {
	ctx context.Context
	in  io.Reader
	out io.Writer
	err io.Writer
}

// commands that airpath has, in the order in which its help lists them.
var commands = []command{
	traceCommand,
	chartCommand,
	drawCommand,
	recordCommand,
	runCommand,
	brakesCommand,
	descentCommand,
	moistureCommand,
	checkCommand,
	drillCommand,
	listCommand,
	scoreCommand,
	screenshotCommand,
	versionCommand,
}

// main runs the command that args name and returns the exit status.
func (p *program) main(args []string) int {
	err := p.dispatch(args)
	if err == nil {
		return statusDone
	}
	var f *failure
	if !errors.As(err, &f) {
		f = &failure{status: statusInput, err: err}
	}
	var problems circuit.Problems
	switch text := strings.TrimRight(f.Error(), "\n"); {
	case text == "":
	case errors.As(err, &problems):
		fmt.Fprintln(p.err, text) // file:line:column leads, so that an editor can jump there
	default:
		fmt.Fprintf(p.err, "airpath: %s\n", text)
	}
	return f.status
}

func (p *program) dispatch(args []string) error {
	if len(args) == 0 {
		return p.openWindow("")
	}
	switch args[0] {
	case "help", "--help", "-help", "-h":
		if len(args) > 1 {
			if c, ok := commandNamed(args[1]); ok {
				return c.run(p, []string{"--help"})
			}
			return badCall("no command %q; the commands are %s", args[1], strings.Join(commandNames(), ", "))
		}
		p.printHelp()
		return nil
	case "--version", "-version":
		return versionCommand.run(p, nil)
	}
	if c, ok := commandNamed(args[0]); ok {
		return c.run(p, args[1:])
	}
	if strings.HasPrefix(args[0], "-") && args[0] != "-" {
		return badCall("no option %s here; options follow a command, as in: airpath list kinds --json", args[0])
	}
	if len(args) > 1 {
		return badCall("no command %q; the commands are %s", args[0], strings.Join(commandNames(), ", "))
	}
	return p.openWindow(args[0])
}
