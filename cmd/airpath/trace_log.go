package main

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"

	"airpath/circuit"
	"airpath/trace"
)

// loadLogs reads the gauge logs that a case names, from where the case is.
func loadLogs(k *circuit.Case, path string) error {
	for i := range k.Logs {
		l := &k.Logs[i]
		file := l.File
		if !filepath.IsAbs(file) && path != "-" {
			file = filepath.Join(filepath.Dir(path), file)
		}
		data, err := os.ReadFile(file)
		if err != nil {
			return fmt.Errorf("%s: log %s: %w", l.Source, l.ID, err)
		}
		l.Data = data
	}
	return nil
}

// printFits tells what the leading suspects come to when they are fitted to the recorded curves.
func (p *program) printFits(v *trace.Verdict, unit pressureUnit) {
	if len(v.Fits) == 0 {
		return
	}
	p.heading("fitted to the recorded curves")
	for _, f := range v.Fits {
		text := f.Title
		if f.Severity.Means != "" {
			text += fmt.Sprintf("; %s %s", f.Severity.Means, unit.span(f.Severity.Low, f.Severity.High, f.Severity.Dimension))
		}
		fmt.Fprintf(p.out, "  %5s  %s\n", percent(f.Probability), wrap(text, "         ", textWidth))
		p.field("fit", fmt.Sprintf("%s, %s: within %s of the samples, root mean square; best at %s", f.Log, f.Procedure,
			unit.format(f.Misfit, circuit.PressureSpan), unit.format(f.Severity.Mid, f.Severity.Dimension)))
	}
	fmt.Fprintf(p.out, "  %s\n", wrap("One reading in ten seconds counts as independent; gauge error, the moment of the start and the vehicle's scatter are left free.", "  ", textWidth))
}

// plotFits draws the recorded curves, the best fit of each log, and the healthy vehicle beside them.
func plotFits(v *trace.Verdict, unit pressureUnit) ([]byte, error) {
	if len(v.Fits) == 0 {
		return nil, fmt.Errorf("nothing to plot: the case names no log, or no suspect changes its curve")
	}
	f := v.Fits[0]
	var curves []curve
	for g, name := range f.Gauges {
		recorded := curve{title: name + ", recorded", gauge: g + 2, healthy: false}
		for i, t := range f.Seconds {
			if !math.IsNaN(f.Measured[g][i]) {
				recorded.seconds, recorded.pascals = append(recorded.seconds, t), append(recorded.pascals, f.Measured[g][i])
			}
		}
		curves = append(curves, recorded,
			curve{title: name + ", fitted: " + faultName(f.Fault), gauge: g, seconds: f.Seconds, pascals: f.Fitted[g]},
			curve{title: name + ", in good order", gauge: g, healthy: true, seconds: f.Seconds, pascals: f.Healthy[g]})
	}
	return plotSVG(strings.TrimSpace(f.Procedure+": "+f.Title), curves, unit)
}

type fitJSON struct {
	Log       string       `json:"log"`
	Component string       `json:"component"`
	Mode      string       `json:"mode"`
	Severity  jsonSeverity `json:"severity"`
	Misfit    float64      `json:"misfit"` // Pa, root mean square
}

func fitsJSON(fits []trace.LogFit) []fitJSON {
	var out []fitJSON
	for _, f := range fits {
		out = append(out, fitJSON{f.Log, f.Fault.Target, f.Fault.Mode, jsonSeverity{
			number(f.Severity.Low), number(f.Severity.Mid), number(f.Severity.High), f.Severity.Dimension, f.Severity.Means,
		}, f.Misfit})
	}
	return out
}
