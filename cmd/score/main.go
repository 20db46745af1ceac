// Score is airpath score by itself: the same work without the window, so that it can be built without the window's system
// libraries (CGO_ENABLED=0 go build ./cmd/score) and carried to a machine that has many cores and nothing else.
package main

import (
	"context"
	"flag"
	"fmt"
	"os"
	"os/signal"

	"airpath/circuit/airflow"
	"airpath/circuits"
	"airpath/trace/score"
)

func main() {
	name := flag.String("circuit", "gritter", "a `circuit` of the library, or a path")
	bar := flag.Bool("progress", true, "show how far it is")
	call := score.Declare(flag.CommandLine)
	flag.Parse()
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	if err := run(ctx, *name, call, *bar); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func run(ctx context.Context, name string, call *score.Call, bar bool) error {
	c, err := circuits.Load(name)
	if err != nil {
		return err
	}
	n, err := airflow.Compile(c)
	if err != nil {
		return err
	}
	return call.Do(ctx, n, os.Stdout, os.Stderr, bar)
}
