package circuit

// A Circuit is one vehicle: its components and the lines between them.
type Circuit struct {
	Name       string    // short id, the file's stem: "gritter"
	Title      string    // "Gritter 7, two-axle 16 t"
	Notes      string    // a page about the vehicle
	Class      string    // "truck", "bus", "trailer", "combination": which published limits apply
	Includes   []Include // the files of vehicles that it is made of
	Engine     Engine
	Vehicle    Vehicle
	Sheet      Sheet
	Components []*Component // in file order
	Lines      []*Line      // in file order

	source *document // the file that it was read from, so that saving keeps comments; nil for a new circuit

	engineIncluded bool // the engine is an included vehicle's
}

// Engine speeds that procedures refer to.
type Engine struct {
	Idle  Quantity // Speed
	Rated Quantity // Speed: the engine maker's recommended maximum
}

// A Sheet is the plan view that the vehicle is drawn on; the unit is the grid step (8 dp at zoom 1), x to the rear, y to the left-hand side of the vehicle.
type Sheet struct {
	Width, Height float64
	Rails         [2]float64 // y of the two frame rails; zero values mean a plain board
	Axles         []Axle
	Frames        []Frame // of vehicles that are included; where there are some, the sheet has no frame of its own
}

// Frame is where an included vehicle's frame rails lie.
type Frame struct {
	X0, X1 float64
	Rails  [2]float64
}

// Axle is a ghost under the drawing.
type Axle struct {
	X      float64
	Y0, Y1 float64
	Name   string // "front axle"

	Included bool // from another file
}

// Point is a place on the sheet in grid steps.
type Point struct{ X, Y float64 }

// A Component is one part of the vehicle.
type Component struct {
	ID     string // survives every edit of the layout; component and line ids share one set
	Kind   *Kind
	Name   string // "rear relay valve"
	Place  string // where to crawl: one of Places
	Note   string
	Given  map[string]Quantity // parameters that the file states; see Value
	At     Point
	Turn   int // clockwise quarter turns of the drawing, 0 to 3
	Source Position

	Included bool // from another file: it is changed there
}

// Places where a part can sit; access minutes hang on them.
var Places = []string{"cab", "engine bay", "left rail", "right rail", "front axle", "rear axle", "trailer", "board"}

// Value of a parameter in SI: the file's, or the kind's default. It panics for a name that the kind lacks, which is an
// error of the program; files are checked on reading.
func (c *Component) Value(param string) float64 {
	if q, ok := c.Given[param]; ok {
		return q.SI
	}
	spec, ok := c.Kind.Param(param)
	if !ok {
		panic("circuit: kind " + c.Kind.Name + " has no parameter " + param)
	}
	return MustQuantity(spec.Default, spec.Dimension).SI
}

// A PortRef names one port of one component; its text form is "tank.11".
type PortRef struct {
	Component string
	Port      string
}

func (r PortRef) String() string { return r.Component + "." + r.Port }

// LineType says what a line is made of, and so what it carries.
type LineType string

const (
	Tube LineType = "tube" // nylon or steel pipe
	Hose LineType = "hose" // flexible, with a lining that can collapse
	Rod  LineType = "rod"  // a mechanical link
	Wire LineType = "wire"
)

// Medium that a line of this type carries.
func (t LineType) Medium() Medium {
	switch t {
	case Rod:
		return Motion
	case Wire:
		return Current
	}
	return Air
}

// A Line joins two ports and can itself fail.
type Line struct {
	ID     string
	Name   string
	Type   LineType
	From   PortRef
	To     PortRef
	Length Quantity // air lines
	Bore   Quantity // air lines
	Route  []Point  // corners on the sheet between the two ports, in order
	Source Position

	Included bool // from another file: it is changed there
}

// A Position is a place in a file.
type Position struct {
	File         string
	Line, Column int
}
