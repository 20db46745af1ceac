package main

import (
	"flag"
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strings"

	"airpath/circuit"
	"airpath/circuit/symbol"
	"airpath/trace/record"
)

var drawCommand = command{
	name:     "draw",
	synopsis: "--circuit C | --case FILE  -o F.svg|F.pdf|F.png [--width W] [--look L] [--unit U]",
	about:    "draw a vehicle's schematic, with a case's findings and suspects marked on it",
	details: `
The form follows from the ending of the output's name: .svg, .pdf or .png. With a case, parts are outlined the heavier the more
they are suspected, cleared ones are greyed, findings are pinned where they were made, and the path of the first suspect
is lit. A PDF is one page as large as the drawing; printers fit it to the paper.

  airpath draw --circuit gritter -o gritter.svg
  airpath draw --circuit gritter -o gritter.pdf --look print
  airpath draw --case slow.toml -o slow.png --width 2400
`,
	declare: func(flags *flag.FlagSet) func(*program, []string) error {
		vehicle := flags.String("circuit", "", "a `circuit` of the library, a path, or -")
		caseFile := flags.String("case", "", "a case `file`, or -")
		output := flags.String("o", "", "the picture's `file`")
		width := flags.Int("width", 1600, "`pixels` across, for .png")
		look := flags.String("look", "light", "`colours`: "+strings.Join(lookNames(), ", "))
		dark := flags.Bool("dark", false, "the same as --look dark")
		unit := pressureFlag(flags)
		return func(p *program, args []string) error {
			if len(args) > 0 {
				return badCall("draw: no further word is wanted, got %q", args[0])
			}
			if *vehicle == "" && *caseFile == "" {
				return badCall("draw: say what to draw, as in --circuit gritter")
			}
			form, err := pictureForm(*output)
			if err != nil {
				return err
			}
			if *width < 100 || *width > 10000 {
				return badCall("draw: --width must lie between 100 and 10000, got %d", *width)
			}
			if *dark {
				*look = symbol.Dark.Name
			}
			palette, err := paletteNamed(*look)
			if err != nil {
				return err
			}
			return p.draw(*vehicle, *caseFile, *output, form, *width, palette, *unit)
		}
	},
}

var pictureForms = []string{".svg", ".pdf", ".png"}

// pictureForm is the form that an output's name asks for.
func pictureForm(path string) (string, error) {
	if path == "" {
		return "", badCall("draw: say where the picture goes, as in -o gritter.svg")
	}
	form := strings.ToLower(filepath.Ext(path))
	if slices.Contains(pictureForms, form) {
		return form, nil
	}
	return "", badCall("draw: no picture of the form %q can be drawn; the forms are %s", form, strings.Join(pictureForms, ", "))
}

func lookNames() []string {
	var names []string
	for _, p := range symbol.Palettes() {
		names = append(names, p.Name)
	}
	return names
}

func paletteNamed(name string) (*symbol.Palette, error) {
	for _, p := range symbol.Palettes() {
		if p.Name == name {
			return p, nil
		}
	}
	return nil, badCall("draw: no look %q; %s", name, circuit.Suggest(name, lookNames()))
}

func (p *program) draw(vehicle, caseFile, output, form string, width int, palette *symbol.Palette, unit pressureUnit) error {
	var c *circuit.Circuit
	var marks symbol.Marks
	if caseFile == "" {
		loaded, err := p.loadCircuit(vehicle)
		if err != nil {
			return err
		}
		c = loaded
	} else {
		t, err := p.traceCase(caseFile, vehicle, unit)
		if err != nil {
			return err
		}
		c, marks = t.circuit, record.Marks(t.found, t.procedures, t.verdict)
	}
	look := symbol.Look{Palette: palette, Unit: string(unit)}
	if form == ".svg" {
		look.Scale = 8
		return p.writeOutput(output, symbol.SVG(c, look, marks))
	}
	if form == ".pdf" {
		look.Scale = 8
		page, err := symbol.PDF(c, look, marks)
		if err != nil {
			return fmt.Errorf("picture of %s: %w", c.Name, err)
		}
		return p.writeOutput(output, page)
	}
	bounds := symbol.NewSheet(c).Bounds()
	height := int(math.Round(float64(width) * bounds.Height() / bounds.Width()))
	picture, err := symbol.PNG(c, width, height, look, marks)
	if err != nil {
		return fmt.Errorf("picture of %s: %w", c.Name, err)
	}
	return p.writeOutput(output, picture)
}
