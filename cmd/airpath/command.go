package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"slices"
	"strings"
)

// A command is one word that airpath understands.
type command struct {
	name     string
	synopsis string    // what follows the name: "--circuit C --case FILE"
	about    string    // one line for the list of commands
	details  string    // the rest of its help: formats, examples
	parts    []command // what its first word may be, where it is a family: "new" of airpath drill
	// declare adds the command's flags to the set and returns what is to be done once they are read.
	declare func(flags *flag.FlagSet) func(p *program, args []string) error
}

func commandNamed(name string) (command, bool) {
	i := slices.IndexFunc(commands, func(c command) bool { return c.name == name })
	if i < 0 {
		return command{}, false
	}
	return commands[i], true
}

func commandNames() []string {
	names := make([]string, len(commands))
	for i, c := range commands {
		names[i] = c.name
	}
	return names
}

func (c command) run(p *program, args []string) error {
	if len(args) > 0 {
		if i := slices.IndexFunc(c.parts, func(part command) bool { return part.name == args[0] }); i >= 0 {
			part := c.parts[i]
			part.name = c.name + " " + part.name
			return part.run(p, args[1:])
		}
	}
	flags := flag.NewFlagSet(c.name, flag.ContinueOnError)
	flags.SetOutput(io.Discard) // the flag package's own messages say less than ours
	do := c.declare(flags)
	words, err := readFlags(flags, args)
	if errors.Is(err, flag.ErrHelp) {
		c.printHelp(p.out, flags)
		return nil
	}
	if err != nil {
		what := strings.Replace(err.Error(), "flag provided but not defined: -", "there is no option --", 1)
		return badCall("%s: %s; see airpath %s --help", c.name, what, c.name)
	}
	return do(p, words)
}

// readFlags reads flags wherever they stand, so that "airpath check truck.toml --json" works; the flag package by itself
// stops at the first word that is none. What follows "--" is never a flag.
func readFlags(flags *flag.FlagSet, args []string) (words []string, err error) {
	rest := []string{}
	if i := slices.Index(args, "--"); i >= 0 {
		args, rest = args[:i], args[i+1:]
	}
	for {
		if err := flags.Parse(args); err != nil {
			return nil, err
		}
		if flags.NArg() == 0 {
			return append(words, rest...), nil
		}
		words = append(words, flags.Arg(0))
		args = flags.Args()[1:]
	}
}

func (c command) printHelp(w io.Writer, flags *flag.FlagSet) {
	fmt.Fprintf(w, "airpath %s", c.name)
	if c.synopsis != "" {
		fmt.Fprintf(w, " %s", c.synopsis)
	}
	fmt.Fprintf(w, "\n\n%s\n", upperFirst(c.about))
	for _, part := range c.parts {
		fmt.Fprintf(w, "\n  airpath %s %s %s\n    %s\n", c.name, part.name, part.synopsis, wrap(part.about, "    ", 110))
	}
	var options table
	flags.VisitAll(func(f *flag.Flag) {
		value, usage := flag.UnquoteUsage(f)
		options.row("  --"+f.Name+" "+value, usage)
	})
	if len(options.rows) > 0 {
		fmt.Fprintln(w)
		options.print(w)
	}
	if c.details != "" {
		fmt.Fprintf(w, "\n%s\n", strings.Trim(c.details, "\n"))
	}
}

func (p *program) printHelp() {
	fmt.Fprint(p.out, `airpath finds the faulty part in a heavy vehicle's compressed-air system from what was seen, heard and measured.

  airpath            opens the window on a live example
  airpath FILE       opens that circuit or case

The same work as commands, each with --help:

`)
	var t table
	for _, c := range commands {
		t.row("  "+c.name, c.about)
	}
	t.print(p.out)
	fmt.Fprint(p.out, `
A circuit is named by its name in the library (airpath list circuits) or by the path of its file; - reads standard input.
Exit status: 0 done, 1 the input is at fault, 2 the call is at fault, 3 the thing checked falls short.
`)
}

func upperFirst(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:] + "."
}
