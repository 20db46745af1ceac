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

// untilCancelled works on until somebody cancels it.
func untilCancelled(ctx context.Context, _ *quickEngine, _ *circuit.Case, progress func(done, total int)) (*model.Answer, error) {
	progress(30, 90)
	<-ctx.Done()
	return nil, ctx.Err()
}

// firstLook tells of a rough answer first, and works on until somebody cancels it.
type firstLook struct{ *quickEngine }

func (e firstLook) AskInParts(ctx context.Context, cs *circuit.Case, u model.Units, first func(*model.Answer), progress func(done, total int)) (*model.Answer, error) {
	rough, err := plain(ctx, e.quickEngine, cs, progress)
	if err != nil {
		return nil, err
	}
	rough.Early, rough.Rough = true, true
	first(rough)
	return e.Ask(ctx, cs, u, progress)
}

// While something is worked out it is shown, with what is known so far, and can be cancelled; what is known stays.
func TestWorkingIsShownAndCanBeCancelled(t *testing.T) {
	for _, rough := range []bool{false, true} {
		opts := Options{Engine: quick(untilCancelled), Place: model.Place{Config: t.TempDir(), State: t.TempDir()}}
		if rough {
			opts.Engine = func(c *circuit.Circuit) (model.Engine, error) {
				e, err := quick(untilCancelled)(c)
				if err != nil {
					return nil, err
				}
				return firstLook{e.(*quickEngine)}, nil
			}
		}
		h := &harness{t: t, size: opts.size(), now: time.Unix(0, 0), woken: make(chan struct{}, 1)}
		h.shell = newShell(opts, func() {})
		t.Cleanup(h.shell.close)
		require.Eventually(t, func() bool { h.frame(); return h.shell.session.Working().Done == 30 }, 5*time.Second, 5*time.Millisecond)
		h.frame()
		if rough {
			assert.NotEmpty(t, h.shell.describe().Suspects)
		}
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
		if a, _ := h.shell.session.Answer(); rough {
			require.NotNil(t, a)
			assert.True(t, a.Rough)
		}
	}
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
