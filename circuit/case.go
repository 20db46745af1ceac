package circuit

import (
	"slices"
	"strings"
)

// A Case is what was found on one vehicle, in the order it was found.
type Case struct {
	Circuit      string // library name or path of the circuit file, as written
	Digest       string // of what matters to the ids in this case; see Circuit.Digest; "" where none was taken
	Title        string
	Vehicle      string // which one it is, in the workshop's words: fleet number, plate; ""
	Mileage      string // as read, with its unit: "183 450 km"; ""
	Technician   string
	Date         string // of the first finding: "2026-01-14"; ""
	Ambient      string // how cold it was where the trouble showed, with its unit: "-8 C"; "" where nobody said
	Complaint    string // in trade words, as the driver put it
	Reported     string // id of the finding that the vehicle came in for; "" where nobody said
	Jurisdiction string // whose limits apply: one of Jurisdictions; "" means US
	Findings     []Finding
	Logs         []Log    // recorded curves, as findings of the vehicle as it came in
	Repairs      []Repair // in the order of time
	Last         string   // the procedure that was carried out last, and left the vehicle as it stands; "" where that isn't known. It is not kept in the file.
	Source       Position

	source *document // the file that it was read from, so that saving keeps comments; nil for a new case
}

// Jurisdictions whose limits a case may ask for: countries first, then parts of them.
var Jurisdictions = []string{
	"Australia", "Canada", "UN", "US",
	"Australia/Western Australia", "Canada/Alberta", "Canada/British Columbia", "Canada/Ontario", "Canada/Quebec", "US/California",
}

// A Finding is one reading's result on this vehicle.
type Finding struct {
	ID         string // unique in the case: "f1"
	After      string // id of the repair that it was taken after, and so after all before that one; "" means on the vehicle as it came in
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
	Hand       string // the trailer's hand valve: "released", "applied"
	Trailer    string // the trailer's supply knob: "in", "out"; or its hoses "uncoupled"
}

// Targets are the ids of the components and lines that the case's findings and repairs are about, sorted.
func (k *Case) Targets() []string {
	var ids []string
	for _, f := range k.Findings {
		if id, _ := f.Target(); id != "" && !slices.Contains(ids, id) {
			ids = append(ids, id)
		}
	}
	for _, r := range k.Repairs {
		if r.Part != "" && !slices.Contains(ids, r.Part) {
			ids = append(ids, r.Part)
		}
	}
	slices.Sort(ids)
	return ids
}

// AmbientTemperature is how cold it was where the trouble showed, K; ok is false where the case does not say.
func (k *Case) AmbientTemperature() (kelvin float64, ok bool) {
	q, err := ParseQuantity(k.Ambient, Temperature)
	return q.SI, k.Ambient != "" && err == nil
}

// Target splits the place of a finding into a component or line, and a port of it, where it names one.
func (f Finding) Target() (id, port string) {
	id, port, _ = strings.Cut(f.Place, ".")
	return id, port
}
