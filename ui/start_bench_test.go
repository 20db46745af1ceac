package ui

import (
	"fmt"
	"os"
	"strconv"
	"strings"
	"testing"
	"time"
)

// BenchmarkStart is the whole program from its start to the first frame that shows the largest vehicle, in a real window under
// Xvfb, drawn by the processor, and what memory it takes once everything has been worked out. The table of what faults do is
// made anew the first time, in a folder of the benchmark's own.
func BenchmarkStart(b *testing.B) {
	b.Setenv("XDG_CACHE_HOME", b.TempDir())
	s := newScreen(b)
	var first, spent, resident, peak float64
	for b.Loop() {
		os.Remove(s.dir + "/window.json")
		begun := time.Now()
		s.open(largest)
		s.await("the first frame", time.Minute, func(d Description) bool { return d.Vehicle != "" })
		first += time.Since(begun).Seconds() * 1000
		spent += processorOf(b, fmt.Sprint(s.program.Process.Pid))
		s.await("what can be said of the case", 10*time.Minute, func(d Description) bool { return !d.Working })
		resident += memory(b, s.program.Process.Pid, "VmRSS")
		peak = max(peak, memory(b, s.program.Process.Pid, "VmHWM"))
		s.kill()
	}
	n := float64(b.N)
	b.ReportMetric(first/n, "ms/first-frame")
	b.ReportMetric(spent/n, "cpu-ms/first-frame") // of all its threads: what other work on the machine does not lengthen
	b.ReportMetric(resident/n, "MB-resident")
	b.ReportMetric(peak, "MB-peak")
}

// memory of a process in megabytes, by its name in the system's own account.
func memory(b *testing.B, pid int, name string) float64 {
	text, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", pid))
	if err != nil {
		b.Skipf("the system does not tell what memory a program takes: %v", err)
	}
	for line := range strings.Lines(string(text)) {
		if rest, ok := strings.CutPrefix(line, name+":"); ok {
			kb, _ := strconv.ParseFloat(strings.Fields(rest)[0], 64)
			return kb / 1000
		}
	}
	return 0
}

// processor is the milliseconds that all processors have spent on this process.
func processor(b *testing.B) float64 { return processorOf(b, "self") }

func processorOf(b *testing.B, pid string) float64 {
	text, err := os.ReadFile("/proc/" + pid + "/stat")
	if err != nil {
		b.Skipf("the system does not tell what a program spends: %v", err)
	}
	_, rest, _ := strings.Cut(string(text), ") ")
	fields := strings.Fields(rest)
	user, _ := strconv.ParseFloat(fields[11], 64)
	system, _ := strconv.ParseFloat(fields[12], 64)
	return (user + system) * 10 // Linux counts hundredths of a second there
}
