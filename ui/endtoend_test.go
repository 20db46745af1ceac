package ui

import (
	"bufio"
	"encoding/json"
	"fmt"
	"image"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"airpath/ui/model"
)

// asWindow makes the test binary itself be the program that is driven: with it set, it opens the window and nothing else.
const asWindow = "AIRPATH_TEST_WINDOW"

func TestMain(m *testing.M) {
	if dir := os.Getenv(asWindow); dir != "" {
		err := Main(Options{Path: os.Getenv(asWindow + "_PATH"), Describe: filepath.Join(dir, "window.json"),
			Place: model.Place{Config: dir, State: dir}})
		if err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		os.Exit(0)
	}
	os.Exit(m.Run())
}

// screen is a virtual X server with the real program on it, driven from outside as a person would.
type screen struct {
	t       testing.TB
	display string
	dir     string
	program *exec.Cmd
}

// newScreen starts the server; it skips, in words, where the machine lacks what it takes.
func newScreen(t testing.TB) *screen {
	for _, tool := range []string{"Xvfb", "xdotool"} {
		if _, err := exec.LookPath(tool); err != nil {
			t.Skipf("%s is not installed; cmd/test installs it (Debian packages xvfb and xdotool)", tool)
		}
	}
	r, w, err := os.Pipe()
	require.NoError(t, err)
	server := exec.Command("Xvfb", "-displayfd", "3", "-screen", "0", "1400x900x24", "-nolisten", "tcp")
	server.ExtraFiles = []*os.File{w}
	require.NoError(t, server.Start())
	w.Close()
	t.Cleanup(func() { server.Process.Kill(); server.Wait() })
	number, err := bufio.NewReader(r).ReadString('\n')
	require.NoError(t, err, "Xvfb did not say which display it is")
	return &screen{t: t, display: ":" + strings.TrimSpace(number), dir: t.TempDir()}
}

// open starts the program on a vehicle or case.
func (s *screen) open(path string) {
	s.program = exec.Command(os.Args[0])
	s.program.Env = append(os.Environ(), "DISPLAY="+s.display, "WAYLAND_DISPLAY=", "XDG_RUNTIME_DIR="+s.dir, asWindow+"="+s.dir, asWindow+"_PATH="+path)
	s.program.Stderr = os.Stderr
	require.NoError(s.t, s.program.Start())
	s.t.Cleanup(s.kill)
}

func (s *screen) kill() {
	if s.program != nil {
		s.program.Process.Kill()
		s.program.Wait()
		s.program = nil
	}
}

// shows is what the window says of itself.
func (s *screen) shows() (d Description) {
	text, err := os.ReadFile(filepath.Join(s.dir, "window.json"))
	if err == nil {
		json.Unmarshal(text, &d)
	}
	return d
}

// await waits until the window shows something.
func (s *screen) await(what string, patience time.Duration, ok func(Description) bool) Description {
	s.t.Helper()
	var d Description
	for end := time.Now().Add(patience); time.Now().Before(end); time.Sleep(50 * time.Millisecond) {
		if d = s.shows(); ok(d) {
			return d
		}
	}
	labels := []string{}
	for _, c := range d.Controls {
		labels = append(labels, c.Label)
	}
	require.Fail(s.t, "the window never showed "+what, "findings %v\nnotice %q\ncontrols %v", d.Findings, d.Notice, labels)
	return d
}

// xdotool does one thing with mouse or keyboard.
func (s *screen) xdotool(args ...string) {
	s.t.Helper()
	c := exec.Command("xdotool", args...)
	c.Env = append(os.Environ(), "DISPLAY="+s.display)
	out, err := c.CombinedOutput()
	require.NoError(s.t, err, "xdotool %v: %s", args, out)
}

func (s *screen) click(r image.Rectangle) {
	s.t.Helper()
	at := middle(r)
	s.xdotool("mousemove", fmt.Sprint(at.X), fmt.Sprint(at.Y), "click", "1")
}

// control waits for a control whose label begins so, and that has lain still for a moment.
func (s *screen) control(label string) Control {
	s.t.Helper()
	var found Control
	var since time.Time
	s.await("a control "+label, 20*time.Second, func(d Description) bool {
		for _, c := range d.Controls {
			if strings.HasPrefix(c.Label, label) && c.Role != "region" {
				if c.Place != found.Place {
					found, since = c, time.Now()
				}
				return time.Since(since) > 300*time.Millisecond
			}
		}
		return false
	})
	return found
}

func (s *screen) part(id string) image.Rectangle {
	s.t.Helper()
	var found image.Rectangle
	s.await("the part "+id, 20*time.Second, func(d Description) bool {
		for _, c := range d.Parts {
			if c.Label == id && !c.Place.Empty() {
				found = c.Place
				return true
			}
		}
		return false
	})
	return found
}

// The whole program in a real window: the slow build-up is marked on the gauge by mouse and keyboard, the real tracer
// names suspects, one is chosen by keyboard and its path is lit; undo and redo; a kill; and everything is back.
func TestSlowBuildUpInARealWindow(t *testing.T) {
	s := newScreen(t)
	s.open("gritter")
	s.await("what can be said of an empty case", 4*time.Minute, func(d Description) bool { return d.Vehicle != "" && !d.Working && d.Next != "" })
	s.click(s.part("gauge_primary"))
	s.click(s.control("Time from 85 to 100 psi").Place)
	s.xdotool("type", "70")
	s.xdotool("key", "Return")
	d := s.await("the finding", 10*time.Second, func(d Description) bool { return len(d.Findings) == 1 })
	assert.Contains(t, d.Findings[0], "70 s")

	d = s.await("suspects", 8*time.Minute, func(d Description) bool { return len(d.Findings) == 1 && !d.Working && len(d.Suspects) > 0 })
	t.Logf("suspects: %v", d.Suspects[:min(6, len(d.Suspects))])
	supply := map[string]bool{"compressor": true, "discharge_line": true, "dryer": true, "governor": true, "tank": true, "dryer_line": true, "intake": true}
	assert.True(t, supply[strings.Split(d.Suspects[0].Fault, "/")[0]], "a slow build-up accuses the supply side first, not %s", d.Suspects[0].Fault)
	assert.NotEmpty(t, d.Next)

	s.xdotool("key", "Escape") // the card goes, the keyboard is on the sheet
	s.xdotool("key", "j")
	d = s.await("a lit path", 10*time.Second, func(d Description) bool { return d.Chosen != "" })
	assert.Equal(t, d.Suspects[0].Fault, d.Chosen)
	assert.NotEmpty(t, d.Path)

	s.xdotool("key", "ctrl+z")
	s.await("the finding taken back", 10*time.Second, func(d Description) bool { return len(d.Findings) == 0 })
	s.xdotool("key", "ctrl+shift+z")
	s.await("the finding again", 10*time.Second, func(d Description) bool { return len(d.Findings) == 1 })

	time.Sleep(300 * time.Millisecond) // what is on its way to the disk gets there within this
	s.kill()
	require.NoError(t, os.Remove(filepath.Join(s.dir, "window.json")))
	s.open("")
	d = s.await("the case after a kill", 20*time.Second, func(d Description) bool { return len(d.Findings) == 1 })
	assert.Contains(t, d.Findings[0], "70 s")
	assert.Contains(t, d.Notice, "back on the bench")
}
