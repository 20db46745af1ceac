package ui

import (
	"context"
	"errors"
	"flag"
	"image"
	"image/png"
	"os"
	"path/filepath"
	"testing"
	"time"

	"gioui.org/f32"
	"gioui.org/io/pointer"
	"github.com/stretchr/testify/require"

	"airpath/circuit"
	"airpath/ui/model"
)

var update = flag.Bool("update", false, "write the golden pictures anew")

// A view is one screen of the window, as it stands in a golden picture.
type view struct {
	name string
	opts Options
	ask  asker // nil: plain
	do   func(s *shell)
	over image.Point // where the pointer is; nowhere if zero
}

// views are every screen and state. The answers are the test's own, so that the pictures change with the window alone.
func views() []view {
	one := image.Pt(1280, 800)
	list := []view{
		{name: "trace", opts: Options{Suspect: 1, Curves: true}},
		{name: "crosshair", opts: Options{Suspect: 1, Curves: true}, over: image.Pt(560, 640)},
		{name: "first-start", opts: Options{}},
		{name: "empty-case", opts: Options{Path: "gritter"}},
		{name: "nothing-fits", opts: Options{}, ask: func(context.Context, *quickEngine, *circuit.Case, func(done, total int)) (*model.Answer, error) {
			return &model.Answer{Else: 0.9, Unexplained: []model.Remark{{Finding: "f1", Words: "the build-up takes 70 s"}}, Stop: "No listed test tells more."}, nil
		}},
		{name: "engine-failed", opts: Options{}, ask: func(context.Context, *quickEngine, *circuit.Case, func(done, total int)) (*model.Answer, error) {
			return nil, errors.New("the solver gave up at the air dryer, 12 s after the start")
		}},
		{name: "stopped", opts: Options{}, ask: stopsAtTheSecond, do: func(s *shell) {
			s.prefs.HintsSeen = true
			f := circuit.Finding{Procedure: "listen-building", Reading: "hiss", Place: "dryer.3", Result: circuit.Result{Kind: circuit.Yes, Text: "yes"}}
			if err := s.session.Enter(f); err != nil {
				panic(err)
			}
			s.session.StopWorking()
		}},
		{name: "damaged-file", opts: Options{Path: filepath.Join("testdata", "damaged.toml")}, do: func(s *shell) { s.trouble.path = "depot_van.toml" }},
		{name: "after-a-repair", opts: Options{}, do: func(s *shell) { s.session.Repair("compressor", "worn", "renewed") }},
		{name: "two-at-once", opts: Options{Suspect: 2, Show: "verdict"}, ask: twoAtOnce, do: func(s *shell) { s.prefs.HintsSeen = true; afterTheWinter(s); s.area.ShowVerdict() }},
		{name: "small-sheet", opts: Options{Size: image.Pt(420, 760)}},
		{name: "largest", opts: Options{Path: largest}},
		{name: "strong-colours", opts: Options{Suspect: 1}, do: func(s *shell) { s.prefs.TextScale = 1.3 }},
		{name: "flow", opts: Options{Area: "Flow", Moment: "knob=1,5,pedal=0.6,2"}},
		{name: "flow-line", opts: Options{Area: "Flow", Moment: "knob=1,5,look:relay_supply"}},
		{name: "flow-fault", opts: Options{Area: "Flow", Moment: "knob=1,fault:rear_relay/stuck shut,pedal=0.6,2,look:rear_relay,page:Faults"}},
		{name: "flow-walk", opts: Options{Area: "Flow", Moment: "walk:2"}},
		{name: "flow-water", opts: Options{Area: "Flow", Moment: "knob=1,page:Water"}},
		{name: "flow-combination", opts: Options{Area: "Flow", Path: largest, Moment: "knob=1,5,pedal=0.6,2"}},
		{name: "flow-small", opts: Options{Area: "Flow", Moment: "knob=1", Size: image.Pt(420, 760)}},
		{name: "drill", opts: Options{Area: "Drill"}},
		{name: "drill-work", opts: Options{Area: "Drill", Lesson: "begin:06-pulls-right;do:push-rod-stroke;good:rear_relay;doubt:front_left_slack;name:front_left_slack/not adjusting;file:/home/bay/prentice.work.json"}},
		{name: "drill-hints", opts: Options{Area: "Drill", Lesson: "begin:02-purge-blows;do:listen-building;part:dryer;file:/home/bay/prentice.work.json"}},
		{name: "drill-test", opts: Options{Area: "Drill", Lesson: "begin:05-early-cut-out;test:governor-cut-out;file:/home/bay/prentice.work.json"}},
		{name: "drill-making", opts: Options{Area: "Drill", Path: "gritter", Lesson: "make;hide:governor/cut-out low;complaint:cuts out too low;work out", Engine: instructed}},
		{name: "drill-marks", opts: Options{Area: "Drill", Lesson: "marks:05-early-cut-out;mark:" + prenticeWork() + ";review:A. Prentice", Engine: instructed}},
	}
	for _, what := range []Showing{"settings", "help", "open", "paper", "path", "tests", "outcomes", "doubt", "repair", "test:build-up-85-100", "test:listen-building", "part:rear_relay", "why:foot_valve"} {
		name := string(what)
		for i, c := range name {
			if c == ':' {
				name = name[:i] + "-" + name[i+1:]
			}
		}
		list = append(list, view{name: name, opts: Options{Show: what}})
	}
	for i := range list {
		if list[i].opts.Size == (image.Point{}) {
			list[i].opts.Size = one
		}
	}
	return list
}

// stopsAtTheSecond finding: the person cancels the weighing of it.
func stopsAtTheSecond(ctx context.Context, e *quickEngine, cs *circuit.Case, progress func(done, total int)) (*model.Answer, error) {
	if len(cs.Findings) > 1 {
		<-ctx.Done()
		return nil, ctx.Err()
	}
	return plain(ctx, e, cs, progress)
}

// Every screen in light and dark looks as it did when somebody last looked at it. Drivers round differently, so a few pixels may
// differ by a little.
func TestScreensHaveNotChanged(t *testing.T) {
	t.Setenv("EGL_PLATFORM", "surfaceless")
	t.Setenv("HOME", "/home/depot") // whose folder is looked through: there is nothing in it
	today := model.Today
	model.Today = func() string { return "2026-01-14" }
	defer func() { model.Today = today }()
	for _, v := range views() {
		for _, dark := range []bool{false, true} {
			name := v.name + "-light"
			if dark {
				name = v.name + "-dark"
			}
			t.Run(name, func(t *testing.T) {
				compare(t, filepath.Join("testdata", name+".png"), halved(pictureOf(t, v, dark)))
			})
		}
	}
}

func pictureOf(t *testing.T, v view, dark bool) *image.RGBA {
	opts := v.opts
	opts.Dark, opts.Place = &dark, model.Place{Config: t.TempDir(), State: t.TempDir()}
	ask := v.ask
	if ask == nil {
		ask = plain
	}
	if opts.Engine == nil {
		opts.Engine = quick(ask)
	}
	e, err := newEasel(opts)
	if err != nil {
		t.Skipf("nothing can be drawn here: %v", err)
	}
	defer e.close()
	if v.name == "strong-colours" {
		e.shell.prefs.Look = map[bool]string{false: "high-contrast", true: "high-contrast-dark"}[dark]
		e.shell.savePrefs()
	}
	require.NoError(t, e.settle(time.Minute))
	if v.do != nil {
		v.do(e.shell)
		require.NoError(t, e.settle(time.Minute))
	}
	if v.over != (image.Point{}) {
		e.router.Queue(pointer.Event{Kind: pointer.Move, Source: pointer.Mouse, Position: f32.Pt(float32(v.over.X), float32(v.over.Y))})
		require.NoError(t, e.settle(time.Minute))
	}
	img, err := e.picture()
	require.NoError(t, err)
	return img
}

// halved averages four pixels into one and leaves out the last bits: fine enough to see what is where, in a tenth of the bytes.
func halved(img *image.RGBA) *image.RGBA {
	out := image.NewRGBA(image.Rect(0, 0, img.Rect.Dx()/2, img.Rect.Dy()/2))
	for y := range out.Rect.Dy() {
		for x := range out.Rect.Dx() {
			for c := range 3 {
				at := func(dx, dy int) int { return int(img.Pix[(2*y+dy)*img.Stride+4*(2*x+dx)+c]) }
				out.Pix[y*out.Stride+4*x+c] = uint8((at(0, 0)+at(1, 0)+at(0, 1)+at(1, 1)+2)/4) &^ 7
			}
			out.Pix[y*out.Stride+4*x+3] = 0xff
		}
	}
	return out
}

// What may differ: pixels off by more than a little, as a share of all.
const (
	littleOff = 40
	mostOff   = 0.004
)

// compare a picture with the golden one. Updating leaves those alone that have not changed: drivers differ in the last bits.
func compare(t *testing.T, path string, got *image.RGBA) {
	t.Helper()
	share, err := offBy(path, got)
	switch {
	case err == nil && share <= mostOff:
	case *update:
		writePicture(t, path, got)
	case err != nil:
		require.NoError(t, err, "no golden picture; look at the screen, then go test ./ui -run TestScreens -update")
	default:
		wrong := filepath.Join(os.TempDir(), "airpath-"+filepath.Base(path))
		writePicture(t, wrong, got)
		t.Errorf("%s looks different in %.2f %% of its pixels (see %s); if that is meant, go test ./ui -run TestScreens -update", path, 100*share, wrong)
	}
}

func writePicture(t *testing.T, path string, img *image.RGBA) {
	t.Helper()
	f, err := os.Create(path)
	require.NoError(t, err)
	require.NoError(t, (&png.Encoder{CompressionLevel: png.BestCompression}).Encode(f, img))
	require.NoError(t, f.Close())
}

// offBy is the share of pixels that differ from those of the picture in a file; all of them where it has another size.
func offBy(path string, got *image.RGBA) (float64, error) {
	f, err := os.Open(path)
	if err != nil {
		return 1, err
	}
	defer f.Close()
	decoded, err := png.Decode(f)
	if err != nil {
		return 1, err
	}
	if got.Bounds() != decoded.Bounds() {
		return 1, nil
	}
	off := 0
	for y := range got.Rect.Dy() {
		for x := range got.Rect.Dx() {
			r, g, b, _ := decoded.At(x, y).RGBA()
			p := got.Pix[y*got.Stride+4*x:]
			if far(p[0], r) || far(p[1], g) || far(p[2], b) {
				off++
			}
		}
	}
	return float64(off) / float64(got.Rect.Dx()*got.Rect.Dy()), nil
}

func far(a uint8, b uint32) bool {
	d := int(a) - int(b>>8)
	return d > littleOff || d < -littleOff
}
