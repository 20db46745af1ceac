package ui

import (
	"context"
	"fmt"
	"image"
	"math"
	"strings"
	"sync"
	"testing"
	"time"

	"gioui.org/f32"
	"gioui.org/io/event"
	"gioui.org/io/input"
	"gioui.org/io/key"
	"gioui.org/io/pointer"
	"gioui.org/layout"
	"gioui.org/op"
	"gioui.org/unit"
	"github.com/stretchr/testify/require"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuit/airflow/procedure"
	"airpath/circuits"
	"airpath/ui/model"
)

// harness drives a shell by synthetic events, without a window and without a graphics driver.
type harness struct {
	t      testing.TB
	shell  *shell
	router input.Router
	ops    op.Ops
	size   image.Point
	now    time.Time
	woken  chan struct{}

	density float32 // pixels to a dp; 0 is one
}

func newHarness(t testing.TB, opts Options) *harness {
	t.Helper()
	h := &harness{t: t, size: opts.size(), now: time.Unix(0, 0), woken: make(chan struct{}, 1)}
	if opts.Place == (model.Place{}) {
		opts.Place = model.Place{Config: t.TempDir(), State: t.TempDir()}
	}
	if opts.Engine == nil {
		opts.Engine = quick(plain)
	}
	h.shell = newShell(opts, func() {
		select {
		case h.woken <- struct{}{}:
		default:
		}
	})
	t.Cleanup(func() { h.shell.close() })
	h.frame()
	h.settle()
	return h
}

func (h *harness) frame() {
	h.ops.Reset()
	h.now = h.now.Add(20 * time.Millisecond)
	density := max(1, h.density)
	h.shell.Layout(layout.Context{Ops: &h.ops, Now: h.now, Metric: unit.Metric{PxPerDp: density, PxPerSp: density},
		Source: h.router.Source(), Constraints: layout.Exact(h.size)})
	h.router.Frame(&h.ops)
}

// settle draws frames until the engine has answered.
func (h *harness) settle() {
	h.t.Helper()
	for deadline := time.After(20 * time.Second); ; {
		h.frame()
		if h.shell.session == nil || !h.shell.session.Working().Running {
			h.frame()
			return
		}
		select {
		case <-h.woken:
		case <-deadline:
			require.Fail(h.t, "the engine did not answer")
		}
	}
}

// send queues events and draws the two frames in which they take effect.
func (h *harness) send(events ...event.Event) {
	h.t.Helper()
	h.router.Queue(events...)
	h.frame()
	h.settle()
}

func (h *harness) clickAt(p image.Point) {
	h.t.Helper()
	at := f32.Pt(float32(p.X), float32(p.Y))
	h.send(pointer.Event{Kind: pointer.Move, Source: pointer.Mouse, Position: at},
		pointer.Event{Kind: pointer.Press, Source: pointer.Mouse, Buttons: pointer.ButtonPrimary, Position: at},
		pointer.Event{Kind: pointer.Release, Source: pointer.Mouse, Position: at})
}

// control finds a control by the beginning of its label.
func (h *harness) control(label string) (Control, bool) {
	for _, c := range controlsIn(&h.router) {
		if strings.HasPrefix(c.Label, label) && c.Role != "region" {
			return c, true
		}
	}
	return Control{}, false
}

func (h *harness) press(label string) {
	h.t.Helper()
	c, ok := h.control(label)
	require.True(h.t, ok, "no control %q among %v", label, h.labels())
	h.clickAt(middle(c.Place))
}

func (h *harness) labels() []string {
	var out []string
	for _, c := range controlsIn(&h.router) {
		out = append(out, c.Label)
	}
	return out
}

func (h *harness) clickPart(id string) {
	h.t.Helper()
	h.clickAt(middle(h.part(id)))
}

func (h *harness) part(id string) image.Rectangle {
	h.t.Helper()
	for _, p := range h.shell.describe().Parts {
		if p.Label == id {
			return p.Place
		}
	}
	require.Fail(h.t, "no part "+id)
	return image.Rectangle{}
}

func (h *harness) key(name key.Name, with key.Modifiers) {
	h.t.Helper()
	h.send(key.Event{Name: name, Modifiers: with, State: key.Press}, key.Event{Name: name, Modifiers: with, State: key.Release})
}

// tab moves the focus as the toolkit's window does when nothing has taken the Tab key.
func (h *harness) tab() {
	h.t.Helper()
	h.router.MoveFocus(key.FocusForward)
	h.router.RevealFocus(image.Rectangle{Max: h.size})
	h.frame()
	h.settle()
}

func (h *harness) typeText(s string) {
	h.t.Helper()
	for _, r := range s {
		h.send(key.Event{Name: key.Name(strings.ToUpper(string(r))), State: key.Press})
		h.send(key.EditEvent{Range: key.Range{Start: math.MaxInt32, End: math.MaxInt32}, Text: string(r)})
	}
}

func middle(r image.Rectangle) image.Point { return r.Min.Add(r.Max).Div(2) }

func (h *harness) findings() []circuit.Finding { return h.shell.session.Case().Findings }

func (h *harness) say() []string {
	var out []string
	for _, f := range h.findings() {
		out = append(out, h.shell.session.Say(f))
	}
	return out
}

// quickEngine stands in for the tracer in tests of the window: the procedures are the real ones, the answer is the
// test's.
type quickEngine struct {
	procedures []*procedure.Procedure
	ask        func(ctx context.Context, e *quickEngine, cs *circuit.Case, progress func(done, total int)) (*model.Answer, error)
}

type asker func(ctx context.Context, e *quickEngine, cs *circuit.Case, progress func(done, total int)) (*model.Answer, error)

func quick(ask asker) func(*circuit.Circuit) (model.Engine, error) {
	return func(c *circuit.Circuit) (model.Engine, error) {
		if c.Name == "gritter" {
			return &quickEngine{gritterProcedures(), ask}, nil
		}
		n, err := airflow.Compile(c)
		if err != nil {
			return nil, err
		}
		return &quickEngine{procedure.For(n), ask}, nil
	}
}

// gritterProcedures are read-only and shared by all tests.
var gritterProcedures = sync.OnceValue(func() []*procedure.Procedure {
	c, err := circuits.Load("gritter")
	if err != nil {
		panic(err)
	}
	n, err := airflow.Compile(c)
	if err != nil {
		panic(err)
	}
	return procedure.For(n)
})

func (e *quickEngine) Procedures() []*procedure.Procedure { return e.procedures }

func (e *quickEngine) Ask(ctx context.Context, cs *circuit.Case, _ model.Units, progress func(done, total int)) (*model.Answer, error) {
	return e.ask(ctx, e, cs, progress)
}

func (e *quickEngine) Curves(_ context.Context, _ *circuit.Case, x *model.Suspect, p *procedure.Procedure) (*model.Plot, error) {
	m := &model.Plot{Title: p.Title, Marks: []model.Mark{{Words: "at most", Limit: 25, Dimension: circuit.Time, From: 6e5, To: 7e5, Start: 10, End: 35}, {Words: "at least", Limit: 9e5, Dimension: circuit.Pressure, From: 9e5, To: 9e5, Start: math.NaN(), End: math.NaN()}},
		Values: []model.Value{{Title: "time", Dimension: circuit.Time, Healthy: 20, Suspect: 60, Measured: "70 s"}}}
	for _, healthy := range []bool{true, false} {
		c := model.Curve{Title: "primary gauge", Healthy: healthy}
		for t := range 90 {
			c.Time = append(c.Time, float64(t))
			c.Value = append(c.Value, circuit.AtmospherePressure+circuit.PSI*(60+float64(t)))
		}
		m.Curves = append(m.Curves, c)
	}
	if x != nil {
		m.Suspect = x.Title
	}
	return m, nil
}

// plain suspects the compressor, the line after it and the dryer, besides whatever air was heard at.
func plain(_ context.Context, e *quickEngine, cs *circuit.Case, progress func(done, total int)) (*model.Answer, error) {
	progress(1, 1)
	step := func(id, words string) model.Step { return model.Step{Target: id, Words: words} }
	path := []model.Step{step("compressor", "compressor"), step("discharge_line", "discharge line"), step("dryer", "air dryer"), step("tank", "tank")}
	suspect := func(target, mode string, p float64, path []model.Step) model.Suspect {
		return model.Suspect{Key: target + "/" + mode, Target: target, Mode: mode, Title: target + ": " + mode, Probability: p,
			Low: 0.2, Mid: 0.3, High: 0.4, Dimension: circuit.Ratio, Means: "share lost", Path: path,
			Because: "The build-up took too long.", Confirm: "Look at it.", Repair: "Exchange it.", RepairMinutes: 30}
	}
	a := &model.Answer{Else: 0.02, NoFault: 0.01, Limits: map[string]model.Check{},
		Suspects: []model.Suspect{suspect("compressor", "worn", 0.4, path), suspect("discharge_line", "carboned", 0.2, path[1:]),
			suspect("dryer", "cartridge plugged", 0.1, path[2:]), suspect("compressor", "intake restricted", 0.1, path)},
		Alike:   []model.Alike{{Suspects: []int{2, 3}}},
		Cleared: []model.Cleared{{Target: "foot_valve", Mode: "leaking", Title: "foot valve: leaking", Because: "It was quiet there."}},
	}
	for _, f := range cs.Findings {
		if f.Result.Kind == circuit.Yes {
			target := model.ComponentOf(f.Place)
			a.Suspects = append([]model.Suspect{suspect(target, "leaking", 0.6, []model.Step{step(target, target)})}, a.Suspects...)
			a.Alike = nil
		}
	}
	for _, p := range e.procedures {
		if len(a.Next) < 3 {
			a.Next = append(a.Next, model.Next{Procedure: p, Minutes: 5, Bits: 1, Because: fmt.Sprintf("%s tells most.", p.Title)})
		}
	}
	return a, nil
}
