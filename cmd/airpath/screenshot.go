package main

import (
	"flag"
	"fmt"
	"image"
	"os"
	"slices"
	"strings"

	"airpath/ui"
	"airpath/ui/model"
	"airpath/ui/theme"
)

var screenshotCommand = command{
	name:     "screenshot",
	synopsis: "-o F.png [FILE] [--size WxH] [--area trace|flow|drill] [--suspect N] [--moment WORDS] [--show WHAT] [--curves] [--dark]",
	about:    "draw the window into a picture, without a screen",
	details: `
FILE is a circuit or a case; without it the window shows the live example that it first opens with. What the window keeps
for its user, preferences and cases on the bench, is neither read nor changed.

With --area flow the window shows the vehicle being worked, at a moment: words with commas between them, carried out one after the
other on the charged vehicle. A number lets so many seconds go by; CONTROL=VALUE moves a control ("foot_valve.pedal=0.6", and
"pedal" for all of that name; "engine" in turns a second); fault:PART/MODE=SEVERITY puts a fault in; "empty" begins without air;
"play" leaves time running.

  airpath screenshot -o flow.png --area flow --moment "knob=1,5,pedal=0.6,0.4,play"

With --area drill, semicolons stand between the words: "begin:EXERCISE", "do:PROCEDURE", "test:PROCEDURE" to open one, "part:PART",
"good:PART", "doubt:PART", "name:PART/MODE", "file:PATH" to hand in; "make", "hide:PART/MODE", "complaint:WORDS", "work out",
"draw:LEVEL"; "marks:EXERCISE", "mark:WORK", "review:TRAINEE"; "down" goes to the end of the column.

Drawing needs an OpenGL ES or Vulkan driver, but no graphics card: Mesa (Debian package libgl1-mesa-dri) draws by itself.
The picture in README.md is made by

  EGL_PLATFORM=surfaceless airpath screenshot -o cmd/airpath/screenshot.png --suspect 1 --curves
`,
	declare: func(flags *flag.FlagSet) func(*program, []string) error {
		output := flags.String("o", "", "the picture's `file`, a .png")
		size := flags.String("size", "1280x800", "`width x height` of the window")
		suspect := flags.Int("suspect", 0, "choose this suspect, `counted` from 1, and light its path")
		curves := flags.Bool("curves", false, "draw up the curves")
		dark := flags.Bool("dark", false, "the dark theme")
		area := flags.String("area", "trace", "the work `area`: trace, flow or drill")
		moment := flags.String("moment", "", "what is done in Flow or Drill before, in `words`; see below")
		show := flags.String("show", "", "open `what` in it: settings, help, open, paper, path, tests, outcomes, verdict, doubt, repair, test:ID, part:PLACE, why:PLACE")
		look := flags.String("look", "", "`colours`: light, dark, high-contrast or high-contrast-dark")
		scale := flags.Float64("text", 1, "`scale` of the text: 0.85 to 1.5")
		return func(p *program, args []string) error {
			opts := ui.Options{Dark: dark, Suspect: *suspect, Curves: *curves, Show: ui.Showing(*show)}
			switch *area {
			case "trace":
				opts.Area = "Trace"
			case "flow":
				opts.Area, opts.Moment = "Flow", ui.Moment(*moment)
			case "drill":
				opts.Area, opts.Lesson = "Drill", *moment
			default:
				return badCall("screenshot: --area is trace, flow or drill; got %q", *area)
			}
			switch {
			case *area == "trace" && *moment != "":
				return badCall("screenshot: a moment is for --area flow or drill")
			case opts.Moment.Check() != nil:
				return badCall("screenshot: %v", opts.Moment.Check())
			case opts.Show.Check() != nil:
				return badCall("screenshot: %v", opts.Show.Check())
			case *look != "" && !slices.Contains(theme.Looks(), *look):
				return badCall("screenshot: no colours %q; there are %s", *look, strings.Join(theme.Looks(), ", "))
			case *output == "":
				return badCall("screenshot: say where the picture goes, as in -o window.png")
			case len(args) > 1:
				return badCall("screenshot: one file at most, got %q", args)
			case len(args) == 1:
				opts.Path = args[0]
			}
			var x, y int
			if _, err := fmt.Sscanf(*size, "%dx%d", &x, &y); err != nil || x < 360 || y < 280 || x > 8192 || y > 8192 {
				return badCall("screenshot: --size is width x height in pixels, from 360x280 to 8192x8192, such as 1280x800; got %q", *size)
			}
			opts.Size = image.Pt(x, y)
			kept, err := os.MkdirTemp("", "airpath")
			if err != nil {
				return err
			}
			defer os.RemoveAll(kept)
			opts.Place = model.Place{Config: kept, State: kept}
			prefs := model.DefaultPreferences()
			if prefs.TextScale, prefs.Look = float32(*scale), *look; *look != "" {
				opts.Dark = nil
			}
			if err := opts.Place.SavePreferences(prefs); err != nil {
				return err
			}
			return ui.Screenshot(opts, *output)
		}
	},
}
