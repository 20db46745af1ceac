package ui

import (
	"fmt"
	"os"
	"runtime"
	"runtime/debug"

	"gioui.org/app"
	"gioui.org/op"
	"gioui.org/unit"
)

// sparing is how far the heap may grow over what is in use before it is swept, in per cent: half of what Go takes by default. The
// window runs beside whatever else is open on a workshop's machine.
const sparing = 50

// Main opens the window and returns when it is closed. It must be called from the program's main goroutine. On macOS, whose
// toolkit never gives that goroutine back, it ends the program instead of returning.
func Main(opts Options) error {
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(sparing)
	}
	result := make(chan error, 1)
	go func() { result <- loop(opts) }()
	if runtime.GOOS == "darwin" {
		go func() {
			if err := <-result; err != nil {
				fmt.Fprintln(os.Stderr, "airpath:", err)
				os.Exit(1)
			}
			os.Exit(0)
		}()
		app.Main()
	}
	return <-result
}

// loop draws frames until the window is closed. Frames come only when something happened: input, a wake from the
// background, or the blinking of a caret.
func loop(opts Options) error {
	size := opts.size()
	w := new(app.Window)
	w.Option(app.Title("Airpath"), app.Size(unit.Dp(size.X), unit.Dp(size.Y)), app.MinSize(360, 280))
	b := newBell(w.Invalidate)
	defer b.close()
	s := newShell(opts, b.ring)
	defer s.close()
	d := newDescriber(opts.Describe)
	var ops op.Ops
	for {
		switch e := w.Event().(type) {
		case app.DestroyEvent:
			if e.Err != nil {
				return fmt.Errorf("the window could not go on: %w", e.Err)
			}
			return nil
		case app.FrameEvent:
			b.heard()
			gtx := app.NewContext(&ops, e)
			s.Layout(gtx)
			if t := s.windowTitle(); t != s.title {
				s.title = t
				w.Option(app.Title(t))
			}
			if err := d.frame(s, gtx); err != nil {
				return err
			}
			e.Frame(gtx.Ops)
		}
	}
}

func (s *shell) windowTitle() string {
	if s.session == nil {
		return "Airpath"
	}
	mark := ""
	if s.session.Dirty() && s.session.Origin.Path != "" {
		mark = "* "
	}
	return mark + s.session.Circuit.Title + " – Airpath"
}
