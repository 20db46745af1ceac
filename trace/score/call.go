package score

import (
	"bufio"
	"context"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"time"

	"airpath/circuit/airflow"
)

// A Call is a score as it is asked for on a command line.
type Call struct {
	Options
	JSON   bool
	Detail string // file for one line of JSON a vehicle
}

// Declare the options on a set of flags.
func Declare(flags *flag.FlagSet) *Call {
	c := &Call{}
	flags.IntVar(&c.Cases, "cases", 200, "how many simulated `vehicles`")
	flags.Uint64Var(&c.Seed, "seed", 1, "the `number` that they are drawn by")
	flags.IntVar(&c.Faults, "faults", 1, "how `many` faults each has: 0, 1 or 2")
	flags.BoolVar(&c.Mixed, "mixed", false, "vehicles as the tracer expects them to come in: most with one fault, some with two, with nothing, or with something that it does not know")
	flags.Float64Var(&c.Unmodelled, "unmodelled", 0, "`share` of vehicles with something that the catalogue does not know, such as 0.05")
	flags.BoolVar(&c.Matched, "matched", false, "vehicles without structural differences from the tracer's model")
	flags.BoolVar(&c.Mismatch, "mismatch", false, "parameters 20 % off instead of 10 %, priors wrong by up to a factor of 3")
	flags.IntVar(&c.Baselines, "baselines", 0, "play the textbook, random and half-split orders too, on the first so many `vehicles`")
	flags.Float64Var(&c.Budget, "budget", DefaultBudget, "`minutes` of work after which a vehicle is given up")
	flags.IntVar(&c.Workers, "workers", 0, "how `many` vehicles are played side by side; 0 for one on each core")
	flags.IntVar(&c.Only, "only", 0, "play this `vehicle` alone (they are counted from 1), and print every step")
	flags.StringVar(&c.Detail, "detail", "", "write one line of JSON for each vehicle to this `file`")
	flags.BoolVar(&c.JSON, "json", false, "report as JSON")
	return c
}

// Do the call: the report goes to out, progress and steps to notes. Progress is shown where bar is set.
func (c *Call) Do(ctx context.Context, n *airflow.Network, out, notes io.Writer, bar bool) (err error) {
	watch := Watch{Tell: func(format string, args ...any) { fmt.Fprintf(notes, format+"\n", args...) }}
	if bar {
		began := time.Now()
		shown := time.Time{}
		show := func(what string, done, total int) {
			if done < total && time.Since(shown) < time.Second/4 {
				return
			}
			shown = time.Now()
			left := time.Since(began).Seconds() / float64(done) * float64(total-done)
			fmt.Fprintf(notes, "\r%s: %d of %d, about %.0f s left  (Ctrl-C stops and reports)\033[K", what, done, total, left)
		}
		watch.Preparing = func(done, total int) { show("simulating every fault", done, total) }
		first := true
		watch.Progress = func(done, total int) {
			if first {
				began, first = time.Now(), false
			}
			show("vehicles", done, total)
		}
		defer fmt.Fprint(notes, "\r\033[K")
	}
	if c.Detail != "" {
		file, err := os.Create(c.Detail)
		if err != nil {
			return err
		}
		lines := bufio.NewWriter(file)
		encode := json.NewEncoder(lines)
		watch.Record = func(r *Record) error { return encode.Encode(r) }
		defer func() { err = errors.Join(err, lines.Flush(), file.Close()) }()
	}
	report, err := Run(ctx, n, c.Options, watch)
	if err != nil {
		return err
	}
	if bar {
		fmt.Fprint(notes, "\r\033[K")
	}
	if c.JSON {
		return report.WriteJSON(out)
	}
	report.Write(out)
	return nil
}
