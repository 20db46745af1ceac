package ui

import (
	"context"
	"sync"
	"time"

	"gioui.org/layout"

	"airpath/ui/theme"
	"airpath/ui/widgets"
)

// An errand is long work that goes on beside the window: a record or a chart being written. At most one runs; it shows how far
// it is, and can be cancelled.
type errand struct {
	title  string
	wake   func()
	cancel context.CancelFunc

	mu    sync.Mutex
	done  int
	total int
	told  time.Time
	end   func(*shell) // what to do in the window once it is over; nil while it runs
}

// send begins an errand. Work is done in the background; what it returns is done in the window afterwards.
func (s *shell) send(title string, work func(ctx context.Context, progress func(done, total int)) func(*shell)) {
	if s.errand != nil {
		s.notice = notice{words: s.errand.title + " is still going on; wait for it, or cancel it."}
		return
	}
	ctx, cancel := context.WithCancel(context.Background())
	e := &errand{title: title, wake: s.wake, cancel: cancel}
	s.errand = e
	go func() {
		defer cancel()
		end := work(ctx, e.progress)
		if ctx.Err() != nil {
			end = func(s *shell) { s.notice = notice{words: title + " was cancelled; nothing was written."} }
		}
		e.mu.Lock()
		e.end = end
		e.mu.Unlock()
		e.wake()
	}()
}

// progress wakes the window at most ten times a second.
func (e *errand) progress(done, total int) {
	e.mu.Lock()
	e.done, e.total = done, total
	now := time.Now()
	tell := now.Sub(e.told) > 100*time.Millisecond
	if tell {
		e.told = now
	}
	e.mu.Unlock()
	if tell {
		e.wake()
	}
}

func (s *shell) updateErrand(gtx ctx) {
	e := s.errand
	if e == nil {
		return
	}
	if s.stopErrand.Clicked(gtx) {
		e.cancel()
	}
	e.mu.Lock()
	end := e.end
	e.mu.Unlock()
	if end != nil {
		s.errand = nil
		end(s)
	}
}

func (s *shell) layoutErrand(gtx ctx) dims {
	e := s.errand
	if e == nil {
		return dims{}
	}
	e.mu.Lock()
	share := 0.0
	if e.total > 0 {
		share = float64(e.done) / float64(e.total)
	}
	e.mu.Unlock()
	th := s.theme
	return layout.Inset{Left: theme.Step, Right: theme.Step, Bottom: theme.Half}.Layout(gtx, func(gtx ctx) dims {
		return widgets.Card(gtx, th, th.Card, th.Rule, func(gtx ctx) dims {
			return layout.Flex{Alignment: layout.Middle}.Layout(gtx,
				layout.Flexed(1, func(gtx ctx) dims {
					return widgets.Column(gtx,
						layout.Rigid(widgets.Words(e.title).In(th)),
						widgets.Space(6),
						layout.Rigid(func(gtx ctx) dims { return widgets.Bar(gtx, th, share, th.Accent, 6) }))
				}),
				widgets.Space(theme.Step),
				layout.Rigid(func(gtx ctx) dims {
					return s.stopErrand.Layout(gtx, th, widgets.ButtonLook{Words: "Cancel", Label: "Cancel: " + e.title})
				}))
		})
	})
}
