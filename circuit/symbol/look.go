package symbol

// A Look is how a sheet is shown: colours, zoom and what follows from it.
type Look struct {
	Palette   *Palette
	Scale     float64 // pixels (dp) per grid step; 8 is zoom 1. Text keeps its size in dp whatever the scale
	TextScale float64 // 1 when zero
	Detail    Detail  // how much is written; ByScale when zero
	View      Box     // only what touches it is drawn; everything when zero
	Unit      string  // pressures are written in it: "psi", "bar" or "kPa"; psi when empty
	Letters   bool    // a part whose name has no room has a letter instead: see Sheet.Lettered
}

// Detail is how much is written on the sheet.
type Detail int

const (
	ByScale Detail = iota // as the scale allows
	Bare                  // symbols and lines only
	Names                 // and the components' names
	Full                  // and port digits, values and the lines' names where there is room
)

// Scales, in dp per grid step, from which on more is written.
const (
	namesFrom = 2.6
	fullFrom  = 9.5
)

func (l Look) detail() Detail {
	switch {
	case l.Detail != ByScale:
		return l.Detail
	case l.Scale >= fullFrom:
		return Full
	case l.Scale >= namesFrom:
		return Names
	}
	return Bare
}

// dp turns a size on the screen into grid steps.
func (l Look) dp(v float64) float64 { return v / l.Scale }

// text turns a size of type on the screen into grid steps.
func (l Look) text(v float64) float64 {
	if l.TextScale > 0 {
		v *= l.TextScale
	}
	return v / l.Scale
}

// stroke is a line width given in grid steps, but never thinner than least dp on the screen.
func (l Look) stroke(steps, least float64) float64 { return max(steps, l.dp(least)) }

// Sizes of type in dp: three, as everywhere in Airpath.
const (
	smallType  = 9.5
	normalType = 11
	largeType  = 13
)

// State is what one component shows of the moment: which seats stand open, which pressures it holds. A nil map or NaN
// means that it is not known or not shown; the drawing then shows the part at rest.
type State struct {
	Open     map[string]float64 // by passage name, 0 shut to 1 open
	Pressure map[string]float64 // by room name, Pa absolute
	On       bool               // lamp lit, buzzer sounding, contact closed, compressor pumping
	Needle   float64            // what the gauge shows, Pa absolute; 0 means not known
	Stroke   float64            // of the push-rod, 0 back to 1 at the stop; also the slack adjuster's swing
	Control  float64            // the operator's control, 0 at rest to 1: pedal down, knob in, cock open
	Hose     bool               // a workshop's air is on its face
}

// Marks are what is known and believed about the vehicle, to be shown on its sheet. All of it is optional.
type Marks struct {
	State    map[string]State   // by component id
	Pressure map[string]float64 // by room, "tank.primary", Pa absolute; a line takes it from the rooms at its ends
	Suspect  map[string]float64 // by component or line id: probability, 0 to 1
	Cleared  map[string]bool    // by component or line id
	Path     []string           // component and line ids from fault to symptom, in order: the lit path
	Selected string             // component or line id
	Hover    string             // component or line id under the pointer
	Pins     []Pin              // findings
	Names    map[string]bool    // lines to be named although nothing else asks for it
	Arranged *Arrangement       // of these marks at this look, worked out before; nil has it worked out
}

// A Pin is a finding where it was made.
type Pin struct {
	Place string  // a component or line id, or "component.port"
	Kind  PinKind // its little picture
	Text  string  // its result, short: "70 s", "122 psi"; may be empty
	Bad   bool    // a limit is broken, or the thing is wrong by itself (air blows): drawn as a filled flag
}

// PinKind is the little picture on a pin.
type PinKind int

const (
	NotePin   PinKind = iota
	HissPin           // air was heard or seen there
	QuietPin          // none was heard
	GaugePin          // a pressure was read
	TimePin           // something was timed
	LampPin           // a lamp or buzzer came on
	CheckPin          // looked at, and in order
	BubblePin         // soap was blown into bubbles
	HotPin            // a temperature was taken
	WetPin            // water was drained or seen
	OilPin            // oil was seen
	StrokePin         // a travel was measured or seen
)
