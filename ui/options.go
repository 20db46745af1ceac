package ui

import (
	"context"
	"image"
	"io"

	"airpath/circuit"
	"airpath/ui/flow"
	"airpath/ui/model"
)

// Options say what the window opens and how it looks at first. The zero value opens the case that was last on the bench,
// or at the very first start a live example.
type Options struct {
	Path     string      // of a circuit or case file, or the name of a library vehicle
	Dark     *bool       // nil: as the preferences say
	Size     image.Point // in dp; zero: 1280 by 800
	Place    model.Place // where preferences and the autosave are kept; zero: where the system keeps such things
	Describe string      // a file that always says in JSON what the window shows; see Description
	Suspect  int         // chosen at first, counted from 1; 0 chooses none (screenshots)
	Curves   bool        // the curves are drawn up at first (screenshots)
	Area     string      // "Trace", "Flow" or "Drill": the work area that is shown at first; "" is Trace
	Lesson   string      // what is done in Drill before a screenshot; see [drilling.Area.Show]
	Moment   Moment      // what is done to the vehicle in Flow before a screenshot is taken

	Show    Showing // what is opened in the window at first (screenshots)
	Program string  // name and version that records bear

	// Viewer shows a file; nil for the system's own.
	Viewer func(ctx context.Context, path string) error
	// Loudspeaker is what plays the sound of air; nil for the system's own.
	Loudspeaker func() (io.WriteCloser, error)
	// Engine makes what the window asks; nil for the real tracer. Window tests put a quick one in its place.
	Engine func(*circuit.Circuit) (model.Engine, error)
	// Vehicle makes what is worked in Flow; nil for one that runs by itself.
	Vehicle func(c *circuit.Circuit, wake func()) flow.Vehicle
}

func (o Options) size() image.Point {
	if o.Size == (image.Point{}) {
		return image.Pt(1280, 800)
	}
	return o.Size
}

func (o Options) place() model.Place {
	if o.Place == (model.Place{}) {
		return model.UserPlace()
	}
	return o.Place
}
