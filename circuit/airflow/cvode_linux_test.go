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

// Both solvers at equal accuracy: each with the fastest of its settings that keeps the gauges within equalAccuracy of an exact
// solution (CVODE's at 1e-9), run by run, in processor time of one core. CVODE has its own root finding, stop times at every
// corner, an exact Jacobian, and three ways to weigh errors to choose from. Reports how many times longer it takes.
func BenchmarkAgainstCVODE(b *testing.B) {
	driver := cvodeDriver(b)
	dir := b.TempDir()
	for b.Loop() {
		var ours, theirs, ourSteps, theirSteps float64
		for k, row := range referenceRuns {
			g := gritter(b, row.faults...)
			start := g.Snapshot()
			e := g.Export()
			row.do(g)
			e.close()
			if len(e.Changes) > 0 {
				continue // the driver doesn't know of lines taken off
			}
			path := filepath.Join(dir, fmt.Sprintf("run%d.json", k))
			var text bytes.Buffer
			require.NoError(b, e.Write(&text))
			require.NoError(b, os.WriteFile(path, text.Bytes(), 0o600))
			exact, ok := runCVODE(b, driver, path, cvodeOptions{1e-9, 1e-3, 0, 0}, 1)
			require.True(b, ok)
			mine, mySetting := fastestOurs(b, g, start, e, exact)
			other, setting := fastestCVODE(b, driver, path, exact)
			b.Logf("%s: here %.2f ms, %d tries at %.1g, gauges %.1e; CVODE %.1f ms, %d steps at %.0e, gauges %.1e: %.1f times as long", row.name,
				1e3*mine.seconds, mine.steps, mySetting.Relative, mine.worst(exact), 1e3*other.seconds, other.steps, setting.rtol, other.worst(exact),
				other.seconds/mine.seconds)
			ours, theirs = ours+mine.seconds, theirs+other.seconds
			ourSteps, theirSteps = ourSteps+float64(mine.steps), theirSteps+float64(other.steps)
		}
		b.ReportMetric(theirs/ours, "x-CVODE")
		b.ReportMetric(1e3*ours, "ms-here")
		b.ReportMetric(1e3*theirs, "ms-CVODE")
		b.ReportMetric(1e6*ours/ourSteps, "us/try")
		b.ReportMetric(1e6*theirs/theirSteps, "us/CVODE-step")
	}
}

func fastestOurs(b *testing.B, g *rig, start *Snapshot, e *Export, exact answered) (best answered, at Options) {
	b.Helper()
	best.seconds = math.Inf(1)
	for _, relative := range []float64{2e-3, 1e-3, 7e-4, 5e-4, 3e-4, 2e-4, 1e-4, 5e-5} {
		o := Options{relative, 30, 5, defaultSmoothing}
		if relative < 1e-4 {
			o.Absolute = 10
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
