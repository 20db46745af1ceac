package ui

import (
	"context"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"airpath/circuit"
	"airpath/circuit/airflow/procedure"
	"airpath/ui/model"
)

// lateEngine answers in the middle of a frame: after the window has asked whether there is anything new, and before the frame is done.
type lateEngine struct {
	*quickEngine
	inFrame func()
}

func (e *lateEngine) Procedures() []*procedure.Procedure {
	e.inFrame()
	return e.quickEngine.Procedures()
}

// A picture is drawn once the answer is shown, not once it has been found.
func TestAPictureWaitsUntilTheAnswerIsShown(t *testing.T) {
	t.Setenv("EGL_PLATFORM", "surfaceless")
	answer := make(chan struct{})
	var e *easel
	released := false
	inFrame := func() {
		if e == nil || released || e.shell.session == nil {
			return
		}
		released = true
		close(answer)
		for e.shell.session.Working().Running {
			time.Sleep(time.Millisecond)
		}
	}
	engine := func(c *circuit.Circuit) (model.Engine, error) {
		return &lateEngine{&quickEngine{gritterProcedures(), func(ctx context.Context, e *quickEngine, cs *circuit.Case, progress func(done, total int)) (*model.Answer, error) {
			<-answer
			return plain(ctx, e, cs, progress)
		}}, inFrame}, nil
	}
	made, err := newEasel(Options{Show: "repair", Engine: engine, Place: model.Place{Config: t.TempDir(), State: t.TempDir()}})
	if err != nil {
		t.Skipf("nothing can be drawn here: %v", err)
	}
	defer made.close()
	e = made
	require.NoError(t, e.settle(time.Minute))
	require.True(t, released)
	found := false
	for _, c := range controlsIn(&e.router) {
		found = found || c.Label == "Enter the repair"
	}
	assert.True(t, found, "the form for the repair of the likeliest suspect")
}
