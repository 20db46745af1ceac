package circuit

// A Case is what was found on one vehicle, in the order it was found.
type Case struct {
	Circuit      string // library name or path of the circuit file, as written
	Digest       string // of what matters to the ids in this case; see Circuit.Digest
	Title        string
	Complaint    string // in trade words, as the driver put it
	Jurisdiction string // whose limits apply: "US", "Canada", "UN", "Australia"; "" means US
	Findings     []Finding
	Source       Position
}

// Jurisdictions whose limits a case may ask for: countries first, then parts of them.
var Jurisdictions = []string{
	"Australia", "Canada", "UN", "US",
	"Australia/Western Australia", "Canada/Alberta", "Canada/British Columbia", "Canada/Ontario", "Canada/Quebec", "US/California",
}

// A Finding is one reading's result on this vehicle.
type Finding struct {
	ID         string // unique in the case: "f1"
	Procedure  string // which procedure yielded it: "build-up-85-100", "listen-building" ...
	Reading    string // which of its readings: "time", "hiss" ...
	Place      string // the component, port or line that it is about, where the reading is taken at several: "dryer.3", "rear_relay", "discharge_line"
	State      State  // the controls when it was taken; zero fields follow from the procedure
	Result     Result
	Instrument string // "dash gauge", "service gauge", "stopwatch", "ear", "soap"; "" means the procedure's own
	Note       string
	Source     Position
}

// State of the controls. An empty field means: as the procedure says.
type State struct {
	Engine     string // "off", "idle", "rated"
	Compressor string // "loaded", "unloaded"
	Park       string // "set", "released"
	Pedal      string // "up", "down"
}

// ResultKind is the form of a result.
type ResultKind string

const (
	Number       ResultKind = "number"        // "70 s", "118 psi"
	Range        ResultKind = "range"         // "60..75 s"
	WithinLimits ResultKind = "within limits" // no figure noted, but the published limit was met
	Yes          ResultKind = "yes"
	No           ResultKind = "no"
	Never        ResultKind = "never" // the level or event was not reached
	NotSure      ResultKind = "not sure"
)

// A Result is what was read. Low and High are SI and equal for a Number. Which dimension a reading has is the
// procedure's to say; Text is kept so that the unit of the person is kept.
type Result struct {
	Kind ResultKind
	Text string // as written: "70 s", "60..75 s", "yes"
}
