package procedure

import (
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuit/limit"
	"airpath/circuits"
)

// screened is how the fault table is simulated: as exactly as ever, with longer steps where nothing happens.
var screened = airflow.Options{Relative: airflow.Fine.Relative, Absolute: airflow.Fine.Absolute, MaxStep: 30, Smoothing: airflow.Fine.Smoothing}

// Every healthy vehicle of the library meets every limit of every jurisdiction that one of its readings names. Sources stand
// beside each limit in circuit/limit.
func TestEveryHealthyVehicleMeetsItsLimits(t *testing.T) {
	for _, name := range circuits.Names() {
		c, err := circuits.Load(name)
		require.NoError(t, err)
		n := compiled(t, c)
		b := bench(t, n)
		b.Tune(screened)
		for _, p := range For(n) {
			if !limited(p) {
				continue
			}
			o := do(t, b, p)
			assert.Empty(t, o.Undone, "%s: %s", name, p.ID)
			for i, r := range p.Readings {
				for _, l := range r.Limits {
					assert.True(t, l.Meets(o.Values[i]), "%s: %s/%s@%s = %s misses %s: %s (%s)", name, p.ID, r.ID, r.Place,
						circuit.Format(o.Values[i], r.Dimension, "", 2), l.ID, l.Wanted(), l.Source)
				}
			}
		}
	}
}

func limited(p *Procedure) bool {
	return slices.ContainsFunc(p.Readings, func(r Reading) bool {
		return slices.ContainsFunc(r.Limits, func(l limit.Limit) bool { return !l.Usual })
	})
}

// A pair is a fault and a limit that concern each other: at its worst the fault takes a reading at least half the way from what the
// healthy truck shows to the limit, or past it.
type pair struct{ fault, limit string }

// All or nothing, with the mode that is its milder form; and faults of the instrument that the limit is read with.
var mildBreaks = map[string]string{
	"check-valve/stuck shut": "as good as shut: restricted is its milder form",
	"line/blocked":           "as good as shut: kinked and iced are its milder forms",
	"gauge/reading high":     "the reading, not the vehicle: within the 7 % that a gauge may be off (49 CFR 571.121 S5.1.4) it is none",
	"gauge/reading low":      "the reading, not the vehicle: within the 7 % that a gauge may be off (49 CFR 571.121 S5.1.4) it is none",
}

// For each fault and limit that concern each other: the fault's range reaches past the limit, and its mildest end does not. The pairs
// are found by that rule on the truck: each mode of each kind once, and every third line. What falls short stands in
// testdata/limits.txt, to be seen when it changes.
func TestFaultsReachPastTheLimitsThatConcernThem(t *testing.T) {
	n := gritter(t)
	var all []*Procedure
	for _, p := range For(n) {
		if limited(p) {
			all = append(all, p)
		}
	}
	m, err := NewModel(t.Context(), n, all, screened)
	require.NoError(t, err)
	b := bench(t, n)
	require.NoError(t, b.Follow(m))
	read := func(faults ...airflow.Fault) [][]float64 {
		require.NoError(t, b.Next(faults, airflow.Scatter{}))
		out := make([][]float64, len(all))
		for k, p := range all {
			if o := do(t, b, p); o.Undone == "" {
				out[k] = o.Values
			}
		}
		return out
	}
	healthy := read()
	broken, short, mild := map[pair]bool{}, map[pair]string{}, map[pair]string{}
	for _, f := range representatives(n.Circuit()) {
		mode, err := airflow.ModeOf(n.Circuit(), f)
		require.NoError(t, err)
		at := func(severity float64) [][]float64 {
			f.Severity = severity
			return read(f)
		}
		s := mode.Severity
		worst := at(s.Severe)
		var typical, between, mildest [][]float64
		for k, p := range all {
			for i, r := range p.Readings {
				for _, l := range r.Limits {
					if l.Usual || worst[k] == nil || !concerns(l, healthy[k][i], worst[k][i]) {
						continue
					}
					if typical == nil {
						typical, mildest = at(s.Typical), at(s.Mild)
					}
					q := pair{kindOf(n.Circuit(), f.Target) + "/" + f.Mode, l.ID}
					breaks := !l.Meets(worst[k][i]) || typical[k] != nil && !l.Meets(typical[k][i])
					if !breaks && s.Typical > 0 { // a worst leak empties a tank before it is timed
						if between == nil {
							between = at(math.Sqrt(s.Typical * s.Severe))
						}
						breaks = between[k] != nil && !l.Meets(between[k][i])
					}
					where := fmt.Sprintf("%s by %s, %s healthy, %s at worst", p.ID, f.Target, circuit.Format(healthy[k][i], r.Dimension, "", 1), circuit.Format(worst[k][i], r.Dimension, "", 1))
					if breaks {
						broken[q] = true
					} else if _, ok := short[q]; !ok {
						short[q] = where
					}
					if mildest[k] != nil && !l.Meets(mildest[k][i]) && s.Mild != s.Severe {
						mild[q] = where + ", " + circuit.Format(mildest[k][i], r.Dimension, "", 1) + " at its mildest"
					}
				}
			}
		}
	}
	for q, where := range mild {
		assert.Contains(t, mildBreaks, q.fault, "the mildest %s breaks %s already: %s", q.fault, q.limit, where)
	}
	assert.Greater(t, len(broken), 200)
	var lines []string
	for q, where := range short {
		if !broken[q] {
			lines = append(lines, q.fault+" stays within "+q.limit+": "+where)
		}
	}
	slices.Sort(lines)
	text := fmt.Sprintf("Faults of the truck that come near a limit and do not pass it anywhere in their range. All other pairs do.\n\n%s\n", strings.Join(lines, "\n"))
	const golden = "testdata/limits.txt"
	if *update {
		require.NoError(t, os.WriteFile(golden, []byte(text), 0o644))
	}
	want, err := os.ReadFile(golden)
	require.NoError(t, err)
	assert.Equal(t, string(want), text, "run the test with -update if this is meant")
}

// concerns says whether a limit is about what a fault does.
func concerns(l limit.Limit, healthy, worst float64) bool {
	if math.IsNaN(healthy) || !l.Meets(healthy) {
		return false
	}
	if !l.Meets(worst) {
		return true
	}
	edge := l.High
	if worst < healthy {
		edge = l.Low
	}
	return !math.IsInf(edge, 0) && math.Abs(worst-healthy) >= 0.5*math.Abs(edge-healthy)
}

func kindOf(c *circuit.Circuit, target string) string {
	if part := c.Component(target); part != nil {
		return part.Kind.Name
	}
	return "line"
}

// representatives are each mode of each kind once, where it differs from what is there already, and those of every third line.
func representatives(c *circuit.Circuit) []airflow.Fault {
	var out []airflow.Fault
	seen := map[string]bool{}
	lines := map[string]int{}
	for _, f := range airflow.Catalogue(c) {
		kind := kindOf(c, f.Target)
		if kind == "line" {
			if _, ok := lines[f.Target]; !ok {
				lines[f.Target] = len(lines)
			}
			if lines[f.Target]%3 == 0 {
				out = append(out, f)
			}
			continue
		}
		if key := kind + "/" + f.Mode; !seen[key] {
			seen[key] = true
			out = append(out, f)
		}
	}
	return out
}
