package ui

import (
	"context"
	"errors"
	"testing"
	"time"

	"gioui.org/f32"
	"gioui.org/io/pointer"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"airpath/circuit"
	"airpath/ui/model"
)

func TestWorkingIsShownAndCanBeCancelled(t *testing.T) {
	slow := func(ctx context.Context, e *quickEngine, cs *circuit.Case, progress func(done, total int)) (*model.Answer, error) {
		progress(30, 90)
		<-ctx.Done()
		return nil, ctx.Err()
	}
	opts := Options{Engine: quick(slow), Place: model.Place{Config: t.TempDir(), State: t.TempDir()}}
	h := &harness{t: t, size: opts.size(), now: time.Unix(0, 0), woken: make(chan struct{}, 1)}
	h.shell = newShell(opts, func() {})
	t.Cleanup(h.shell.close)
	require.Eventually(t, func() bool { h.frame(); return h.shell.session.Working().Done == 30 }, 5*time.Second, 5*time.Millisecond)
	h.frame()
	c, ok := h.control("Cancel weighing")
	require.True(t, ok, "%v", h.labels())
	at := middle(c.Place)
	p := f32.Pt(float32(at.X), float32(at.Y))
	h.router.Queue(pointer.Event{Kind: pointer.Press, Buttons: pointer.ButtonPrimary, Position: p}, pointer.Event{Kind: pointer.Release, Position: p})
	h.frame()
	require.Eventually(t, func() bool { h.frame(); return !h.shell.session.Working().Running }, 5*time.Second, 5*time.Millisecond)
	h.frame() // the one before may have been drawn just before the work ended
	assert.True(t, h.shell.session.Working().Stopped)
	_, ok = h.control("Go on weighing")
	assert.True(t, ok)
}

func TestWhenNothingFitsItSaysSo(t *testing.T) {
	h := newHarness(t, Options{Engine: quick(func(ctx context.Context, e *quickEngine, cs *circuit.Case, progress func(done, total int)) (*model.Answer, error) {
		return &model.Answer{Else: 0.9, Unexplained: []model.Remark{{Finding: "f1", Words: "the build-up"}}, Stop: "Look further."}, nil
	})})
	assert.Empty(t, h.shell.describe().Suspects)
	h.frame()
}

func TestAnEngineThatFailsIsSaid(t *testing.T) {
	h := newHarness(t, Options{Engine: quick(func(context.Context, *quickEngine, *circuit.Case, func(done, total int)) (*model.Answer, error) {
		return nil, errors.New("the solver gave up at the dryer")
	})})
	assert.ErrorContains(t, h.shell.session.Working().Err, "gave up")
	_, ok := h.control("Try again")
	assert.True(t, ok)
}
