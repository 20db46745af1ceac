package airflow

import (
	"bufio"
	"bytes"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"
	"unsafe"

	"github.com/stretchr/testify/require"
)

// cvodeDriver builds the C driver, with the flags that make it fastest.
func cvodeDriver(b *testing.B) string {
	b.Helper()
	path := filepath.Join(b.TempDir(), "cvode")
	words := strings.Fields("-O3 -march=native -ffast-math -I/usr/include/suitesparse -o " + path +
		" reference/cvode.c -lsundials_cvode -lsundials_nvecserial -lsundials_sunmatrixsparse -lsundials_sunlinsolklu -lklu -lm")
	if text, err := exec.Command("cc", words...).CombinedOutput(); err != nil {
		b.Skipf("CVODE with KLU is needed (Debian: gcc, libsundials-dev, libsuitesparse-dev), and can't be built against here: %v\n%s", err, text)
	}
	return path
}

// answered is what an integrator made of a run.
type answered struct {
	seconds float64   // processor time of the fastest of several repeats
	steps   int       // taken and rejected
	gauges  []float64 // the gauges' rooms every second, Pa
}

func (a answered) worst(exact answered) float64 {
	worst := 0.0
	for i := range min(len(a.gauges), len(exact.gauges)) {
		worst = max(worst, math.Abs(a.gauges[i]-exact.gauges[i])/fullScale)
	}
	return worst
}

const compareEvery = 1.0 // s

// cvodeOptions are what CVODE runs with: error weights rtol·p + atol, relieved in rooms smaller than small.
type cvodeOptions struct{ rtol, atol, small, longest float64 }

func runCVODE(b *testing.B, driver, export string, o cvodeOptions, repeats int) (a answered, ok bool) {
	b.Helper()
	g := func(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }
	command := exec.Command(driver, export, g(o.rtol), g(o.atol), g(o.small), g(o.longest), strconv.Itoa(repeats), g(compareEvery))
	text, err := command.Output()
	if err != nil {
		return a, false // it gave up: at loose tolerances it may
	}
	lines := bufio.NewScanner(bytes.NewReader(text))
	for lines.Scan() {
		words := strings.Fields(lines.Text())
		var numbers []float64
		for _, w := range words[1:] {
			v, err := strconv.ParseFloat(w, 64)
			if err != nil {
				break // an event's name
			}
			numbers = append(numbers, v)
		}
		switch words[0] {
		case "cost":
			a.seconds, a.steps = numbers[0], int(numbers[1])
		case "sample":
			a.gauges = append(a.gauges, numbers[1:]...)
		}
	}
	return a, true
}

// replay carries out an export's inputs on a run that is in its first state.
func replay(tb testing.TB, r *Run, e *Export) {
	tb.Helper()
	for _, i := range e.Inputs {
		require.NoError(tb, r.Advance(i.At-r.t))
		require.NoError(tb, r.Set(i.Control, i.To, i.Over))
	}
	require.NoError(tb, r.Advance(e.End-r.t))
}

func runOurs(b *testing.B, g *rig, start *Snapshot, e *Export, o Options, repeats int) (a answered) {
	b.Helper()
	g.Tune(o)
	g.Restore(start)
	g.Record(compareEvery, func(r *Run) {
		for _, gauge := range e.Gauges {
			a.gauges = append(a.gauges, r.Pressure(gauge.Room))
		}
	})
	replay(b, g.Run, e)
	g.Record(0, nil)
	a.seconds = math.Inf(1)
	runtime.LockOSThread()
	defer runtime.UnlockOSThread()
	for range repeats {
		g.Restore(start)
		before, _ := g.Tries()
		began := threadTime(b)
		replay(b, g.Run, e)
		a.seconds = min(a.seconds, (threadTime(b) - began).Seconds())
		after, _ := g.Tries()
		a.steps = after - before
	}
	return a
}

// threadTime is the processor time that this thread has used.
func threadTime(tb testing.TB) time.Duration {
	tb.Helper()
	const ofThread = 3 // CLOCK_THREAD_CPUTIME_ID
	var t syscall.Timespec
	_, _, failed := syscall.Syscall(syscall.SYS_CLOCK_GETTIME, ofThread, uintptr(unsafe.Pointer(&t)), 0)
	require.Zero(tb, failed)
	return time.Duration(t.Nano())
}

// equalAccuracy is what the gauges of both may be wrong by, as a share of full scale.
const equalAccuracy = 1e-4

// rounds is how often both solvers are timed, in turns, so that a busy machine is busy for both.
const rounds = 9

// Both solvers at equal accuracy: each with the fastest of its settings that keeps the gauges within equalAccuracy of an exact
// solution (CVODE's at 1e-9), run by run, in processor time of one core. CVODE has its own root finding, stop times at every
// corner, an exact Jacobian, and three ways to weigh errors to choose from. The settings are chosen once; then the runs are gone
// through in rounds, each run here and there right after one another, the fastest of a few repeats counting for either. Reports how
// many times longer CVODE takes: the median over the rounds, the least and the most.
func BenchmarkAgainstCVODE(b *testing.B) {
	driver := cvodeDriver(b)
	dir := b.TempDir()
	type contest struct {
		name    string
		g       *rig
		start   *Snapshot
		export  *Export
		path    string
		ours    Options
		theirs  cvodeOptions
		seconds [2][rounds]float64
		steps   [2]int
	}
	var contests []*contest
	for k, row := range referenceRuns {
		g := gritter(b, row.faults...)
		c := &contest{name: row.name, g: g, start: g.Snapshot(), export: g.Export(), path: filepath.Join(dir, fmt.Sprintf("run%d.json", k))}
		row.do(g)
		c.export.close()
		if len(c.export.Changes) > 0 {
			continue // the driver doesn't know of lines taken off
		}
		var text bytes.Buffer
		require.NoError(b, c.export.Write(&text))
		require.NoError(b, os.WriteFile(c.path, text.Bytes(), 0o600))
		exact, ok := runCVODE(b, driver, c.path, cvodeOptions{1e-9, 1e-3, 0, 0}, 1)
		require.True(b, ok)
		mine, at := fastestOurs(b, g, c.start, c.export, exact)
		other, setting := fastestCVODE(b, driver, c.path, exact)
		c.ours, c.theirs, c.steps = at, setting, [2]int{mine.steps, other.steps}
		contests = append(contests, c)
		b.Logf("%s: here %d tries at %.1g, gauges %.1e; CVODE %d steps at %.0e, gauges %.1e", row.name,
			mine.steps, at.Relative, mine.worst(exact), other.steps, setting.rtol, other.worst(exact))
	}
	for b.Loop() {
		var ratios, ours, theirs []float64
		for round := range rounds {
			sum := [2]float64{}
			for _, c := range contests {
				c.seconds[0][round] = runOurs(b, c.g, c.start, c.export, c.ours, 12).seconds
				a, ok := runCVODE(b, driver, c.path, c.theirs, 3)
				require.True(b, ok)
				c.seconds[1][round] = a.seconds
				sum[0], sum[1] = sum[0]+c.seconds[0][round], sum[1]+a.seconds
			}
			ratios, ours, theirs = append(ratios, sum[1]/sum[0]), append(ours, sum[0]), append(theirs, sum[1])
		}
		for _, c := range contests {
			mine, other := slices.Min(c.seconds[0][:]), slices.Min(c.seconds[1][:])
			b.Logf("%s: here %.2f ms, CVODE %.1f ms: %.1f times as long", c.name, 1e3*mine, 1e3*other, other/mine)
		}
		slices.Sort(ratios)
		b.Logf("rounds: %.2f", ratios)
		b.ReportMetric(ratios[rounds/2], "x-CVODE")
		b.ReportMetric(ratios[0], "x-least")
		b.ReportMetric(ratios[rounds-1], "x-most")
		b.ReportMetric(1e3*slices.Min(ours), "ms-here")
		b.ReportMetric(1e3*slices.Min(theirs), "ms-CVODE")
		steps := [2]int{}
		for _, c := range contests {
			steps[0], steps[1] = steps[0]+c.steps[0], steps[1]+c.steps[1]
		}
		b.ReportMetric(1e6*slices.Min(ours)/float64(steps[0]), "us/try")
		b.ReportMetric(1e6*slices.Min(theirs)/float64(steps[1]), "us/CVODE-step")
	}
}

func fastestOurs(b *testing.B, g *rig, start *Snapshot, e *Export, exact answered) (best answered, at Options) {
	b.Helper()
	best.seconds = math.Inf(1)
	for _, relative := range []float64{1e-2, 8e-3, 6e-3, 5e-3, 4e-3, 3e-3, 2e-3, 1e-3, 7e-4, 5e-4, 3e-4, 2e-4, 1e-4, 5e-5, 2e-5, 1e-5, 5e-6} {
		o := Options{relative, 30, 5, defaultSmoothing}
		if relative < 1e-4 {
			o.Absolute = 3e4 * relative // events of a governor that is drawn down slowly hang on a few Pa
		}
		if a := runOurs(b, g, start, e, o, 1); a.worst(exact) > equalAccuracy {
			continue
		}
		a := runOurs(b, g, start, e, o, 30)
		if a.seconds < best.seconds {
			best, at = a, o
		}
		break
	}
	require.False(b, math.IsInf(best.seconds, 1), "no setting here is accurate enough")
	return best, at
}

func fastestCVODE(b *testing.B, driver, path string, exact answered) (best answered, at cvodeOptions) {
	b.Helper()
	best.seconds = math.Inf(1)
	for _, atol := range []func(rtol float64) (atol, small float64){
		func(rtol float64) (float64, float64) { return 30, 0 },
		func(rtol float64) (float64, float64) { return 1e5 * rtol, 0 },
		func(rtol float64) (float64, float64) { return 1e5 * rtol, smallVolume },
	} {
		for _, rtol := range []float64{1e-3, 3e-4, 1e-4, 5e-5, 3e-5, 1e-5, 5e-6, 3e-6, 1e-6} {
			o := cvodeOptions{rtol: rtol}
			o.atol, o.small = atol(rtol)
			a, ok := runCVODE(b, driver, path, o, 1)
			if !ok || a.worst(exact) > equalAccuracy {
				continue
			}
			if a.steps < 30000 {
				a, ok = runCVODE(b, driver, path, o, 8)
			}
			if ok && a.seconds < best.seconds {
				best, at = a, o
			}
			break
		}
	}
	require.False(b, math.IsInf(best.seconds, 1), "no setting of CVODE is accurate enough")
	return best, at
}
