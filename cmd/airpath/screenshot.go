package main

import (
	"flag"
	"fmt"
	"image"
	"os"

	"airpath/ui"
	"airpath/ui/model"
)

var screenshotCommand = command{
	name:     "screenshot",
	synopsis: "-o F.png [FILE] [--size WxH] [--suspect N] [--curves] [--dark]",
	about:    "draw the window into a picture, without a screen",
	details: `
FILE is a circuit or a case; without it the window shows the live example that it first opens with. What the window keeps
for its user, preferences and cases on the bench, is neither read nor changed.

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
		return func(p *program, args []string) error {
			opts := ui.Options{Dark: dark, Suspect: *suspect, Curves: *curves}
			switch {
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
			return ui.Screenshot(opts, *output)
		}
	},
}
