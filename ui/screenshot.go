package ui

import (
	"fmt"
	"image"
	"image/png"
	"os"
	"time"

	"gioui.org/gpu/headless"
	"gioui.org/io/input"
	"gioui.org/layout"
	"gioui.org/op"
	"gioui.org/unit"
)

// screenshotPatience is how long a screenshot waits for the tracer.
const screenshotPatience = 10 * time.Minute

// Screenshot draws the window as it looks once the findings have been weighed, and writes it as a PNG file. It needs no
// screen, but a graphics driver: where there is none, run it under xvfb-run, or with EGL_PLATFORM=surfaceless and Mesa.
func Screenshot(opts Options, path string) error {
	e, err := newEasel(opts)
	if err != nil {
		return err
	}
	defer e.close()
	if t := e.shell.trouble; t != nil {
		return fmt.Errorf("%s: %w", t.path, t.err)
	}
	if err := e.settle(screenshotPatience); err != nil {
		return err
	}
	img, err := e.picture()
	if err != nil {
		return err
	}
	f, err := os.Create(path)
	if err != nil {
		return err
	}
	if err := png.Encode(f, img); err != nil {
		f.Close()
		return err
	}
	return f.Close()
}

// An easel draws a shell without a window.
type easel struct {
	shell  *shell
	size   image.Point
	screen *headless.Window
	router input.Router
	ops    op.Ops
	woken  chan struct{}
}

func newEasel(opts Options) (*easel, error) {
	e := &easel{size: opts.size(), woken: make(chan struct{}, 1)}
	var err error
	if e.screen, err = headless.NewWindow(e.size.X, e.size.Y); err != nil {
		return nil, fmt.Errorf("cannot draw without a screen (%w); install Mesa's drivers and run it as: EGL_PLATFORM=surfaceless airpath screenshot, or under xvfb-run", err)
	}
	e.shell = newShell(opts, func() {
		select {
		case e.woken <- struct{}{}:
		default:
		}
	})
	return e, nil
}

func (e *easel) close() {
	e.shell.close()
	e.screen.Release()
}

func (e *easel) frame() {
	e.ops.Reset()
	e.shell.Layout(layout.Context{Ops: &e.ops, Now: time.Now(), Metric: unit.Metric{PxPerDp: 1, PxPerSp: 1},
		Source: e.router.Source(), Constraints: layout.Exact(e.size)})
	e.router.Frame(&e.ops)
}

// settle draws frames until the background work is done and what follows from it is shown.
func (e *easel) settle(patience time.Duration) error {
	deadline := time.After(patience)
	for calm := 0; ; {
		e.frame()
		s := e.shell
		if s.session == nil {
			return nil
		}
		_, curves := s.session.Curves()
		if !s.session.Working().Running && !(curves && s.prefs.Curves) {
			if calm++; calm == 2 {
				break // what had been finished when the frame before this was drawn is taken in by now
			}
			continue
		}
		calm = 0
		select {
		case <-e.woken:
		case <-deadline:
			return fmt.Errorf("the findings were not weighed within %v", patience)
		}
	}
	if e.shell.shows(flowArea) {
		if err := e.shell.flowArea().Await(e.shell.opts.Moment.Deed, e.woken, deadline); err != nil {
			return err
		}
		e.frame()
		e.shell.opts.Moment.Show(e.shell.flowArea())
		for range 20 { // symbols are brought up to date a few at a time
			e.frame()
		}
	}
	if e.shell.shows(drillArea) {
		err := e.shell.drillArea().Show(e.shell.opts.Lesson, func() error {
			e.frame()
			select {
			case <-deadline:
				return fmt.Errorf("the exercise was not worked out within %v", patience)
			default:
				return nil
			}
		})
		if err != nil {
			return err
		}
	}
	if w := e.shell.opts.Show; w != "" {
		e.shell.show(w)
		e.frame()
		// what has been worked out may lead to further questions in the next frames
		for calm := 0; e.shell.session != nil && calm < 4; calm++ {
			e.frame()
			if !e.shell.session.Asking() {
				continue
			}
			calm = 0
			select {
			case <-e.woken:
			case <-deadline:
				return fmt.Errorf("what was to be shown was not worked out within %v", patience)
			}
		}
	}
	// a choice made in one frame shows in the next, and moves the sheet in the one after
	for range 3 {
		e.frame()
	}
	return nil
}

func (e *easel) picture() (*image.RGBA, error) {
	if err := e.screen.Frame(&e.ops); err != nil {
		return nil, fmt.Errorf("cannot draw the window: %w", err)
	}
	img := image.NewRGBA(image.Rectangle{Max: e.size})
	if err := e.screen.Screenshot(img); err != nil {
		return nil, fmt.Errorf("cannot read the picture back: %w", err)
	}
	return img, nil
}
