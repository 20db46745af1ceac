package score

import (
	"encoding/json"
	"fmt"
	"io"
	"strings"
)

// Write the report for a person to read.
func (r *Report) Write(out io.Writer) {
	what := map[int]string{0: "nothing the matter", 1: "one fault", 2: "two faults"}[r.Faults]
	if r.Mixed {
		what = "what the tracer expects"
	}
	fmt.Fprintf(out, "%d vehicles of %s with %s, seed %d", r.Vehicles, r.Circuit, what, r.Seed)
	if r.Unmodelled > 0 {
		fmt.Fprintf(out, ", %.0f %% with something unmodelled", 100*r.Unmodelled)
	}
	switch {
	case r.Matched:
		fmt.Fprint(out, ", matched to the tracer's own model")
	case r.Mismatch:
		fmt.Fprint(out, ", parameters 20 % off, priors wrong by up to a factor of 3")
	}
	fmt.Fprintf(out, "; %.0f s\n", r.Seconds)
	if r.Cut {
		fmt.Fprintf(out, "Cut short: %d of %d vehicles were played.\n", r.Vehicles, r.Wanted)
	}
	if r.Quiet > 0 {
		fmt.Fprintf(out, "%.0f %% of the faults drawn were given up, since nothing would have shown them to anybody.\n", 100*r.Quiet)
	}
	if r.Broken > 0 {
		fmt.Fprintf(out, "%d simulations of hidden vehicles broke off; the procedures read as not done.\n", r.Broken)
	}
	fmt.Fprintln(out)
	rows := []struct {
		title string
		value func(f *Figures) string
	}{
		{"vehicles", func(f *Figures) string { return fmt.Sprint(f.Vehicles) }},
		{"true fault cleared, times", func(f *Figures) string { return fmt.Sprint(len(f.Cleared)) }},
		{"  or said not to have given what it gave", func(f *Figures) string { return fmt.Sprint(len(f.Wronged)) }},
		{"first named part right, or in its group", func(f *Figures) string { return percent(f.First) }},
		{"  95 % interval", func(f *Figures) string { return fmt.Sprintf("%.2f - %.2f %%", 100*f.Low, 100*f.High) }},
		{"  the part itself", func(f *Figures) string { return percent(f.Part) }},
		{"  and how it fails", func(f *Figures) string { return percent(f.Mode) }},
		{"the other named after the first repair", func(f *Figures) string { return percent(f.Second) }},
		{"vehicle in order in the end", func(f *Figures) string { return percent(f.Found) }},
		{"faults named together, median", func(f *Figures) string { return fmt.Sprintf("%g", f.GroupMedian) }},
		{"  isolated to 1 / at most 2 / 3", func(f *Figures) string {
			return fmt.Sprintf("%.0f / %.0f / %.0f %%", 100*f.GroupTo1, 100*f.GroupTo2, 100*f.GroupTo3)
		}},
		{"innocent faults cleared at the end", func(f *Figures) string { return percent(f.Exonerated) }},
		{"  and looked for: not there besides either", func(f *Figures) string { return percent(f.LookedFor) }},
		{"minutes until the right part was named", func(f *Figures) string { return fmt.Sprintf("%.1f", f.Minutes) }},
		{"  median", func(f *Figures) string { return fmt.Sprintf("%.1f", f.MinutesMedian) }},
		{"  the tracer's on the same vehicles over these", func(f *Figures) string { return fmt.Sprintf("%.3f", f.Ratio) }},
		{"minutes until the vehicle was in order", func(f *Figures) string { return fmt.Sprintf("%.1f", f.Total) }},
		{"procedures until the right part was named", func(f *Figures) string { return fmt.Sprintf("%.2f", f.Tests) }},
		{"good parts fitted, a vehicle", func(f *Figures) string { return fmt.Sprintf("%.3f", f.GoodParts) }},
		{"findings shuffled / verdict another", func(f *Figures) string { return fmt.Sprintf("%d / %d", f.Shuffled, f.Disturbed) }},
		{"log score (nats)", func(f *Figures) string { return fmt.Sprintf("%.3f", f.Log) }},
		{"Brier score", func(f *Figures) string { return fmt.Sprintf("%.4f", f.Brier) }},
		{"calibration error, all verdicts", func(f *Figures) string { return fmt.Sprintf("%.4f", f.Calibration) }},
		{"  at the naming", func(f *Figures) string { return fmt.Sprintf("%.4f", f.AtNaming) }},
	}
	fmt.Fprintf(out, "%-48s", "")
	for i := range r.Strategies {
		fmt.Fprintf(out, "%20s", r.Strategies[i].Strategy)
	}
	fmt.Fprintln(out)
	for _, row := range rows {
		if r.Faults < 2 && strings.HasPrefix(row.title, "the other") {
			continue
		}
		fmt.Fprintf(out, "%-48s", row.title)
		for i := range r.Strategies {
			fmt.Fprintf(out, "%20s", row.value(&r.Strategies[i]))
		}
		fmt.Fprintln(out)
	}
	if len(r.Strategies) == 0 {
		return
	}
	t := &r.Strategies[0]
	fmt.Fprintf(out, "\nCalibration of the %s, all verdicts: what was said, how often it was true\n", t.Strategy)
	for _, b := range t.Bins {
		if b.Count > 0 {
			fmt.Fprintf(out, "  %.1f to %.1f  %7d  said %.3f  true %.3f\n", b.From, b.To, b.Count, b.Said, b.True)
		}
	}
	if o := r.Optimum; o != nil {
		fmt.Fprintf(out, "Expected minutes over the best possible policy's, on %d searches small enough to solve (%d procedures, %.0f classes of faults): mean %.4f, worst %.3f\n",
			o.Instances, instanceProcedures, o.Classes, o.Mean, o.Worst)
	}
	if len(t.Wronged) > 0 {
		fmt.Fprintf(out, "Vehicles whose true fault was said not to be the cause: %v\n", t.Wronged[:min(len(t.Wronged), 40)])
	}
	if len(t.Cleared) > 0 {
		fmt.Fprintf(out, "Vehicles whose true fault was cleared: %v\n", t.Cleared[:min(len(t.Cleared), 40)])
	}
}

func percent(x float64) string { return fmt.Sprintf("%.2f %%", 100*x) }

// WriteJSON writes the report as indented JSON.
func (r *Report) WriteJSON(out io.Writer) error {
	e := json.NewEncoder(out)
	e.SetIndent("", "  ")
	return e.Encode(r)
}
