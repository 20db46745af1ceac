package circuit

import (
	"fmt"
	"strconv"
	"strings"
)

// CaseVersion leads every case file: airpath_case = 1.
const CaseVersion = 1

// The words for the controls in a finding's state, in the order in which they are written.
var stateWords = []struct {
	key   string
	words []string
	of    func(*State) *string
}{
	{"engine", []string{"off", "idle", "rated"}, func(s *State) *string { return &s.Engine }},
	{"compressor", []string{"loaded", "unloaded"}, func(s *State) *string { return &s.Compressor }},
	{"park", []string{"set", "released"}, func(s *State) *string { return &s.Park }},
	{"pedal", []string{"up", "down"}, func(s *State) *string { return &s.Pedal }},
	{"hand", []string{"released", "applied"}, func(s *State) *string { return &s.Hand }},
	{"trailer", []string{"in", "out", "uncoupled"}, func(s *State) *string { return &s.Trailer }},
}

// ReadCase takes a case file apart. The error, if any, is a [Problems] that lists everything found. Whether the case fits
// a circuit is for [CheckCase] to say; whether there are such procedures and readings, for those who know them.
func ReadCase(name string, text []byte) (*Case, error) {
	doc, problems := parseDocument(name, text)
	if doc == nil {
		return nil, problems
	}
	head := doc.sections[0]
	k := &Case{Source: head.at, source: doc}
	f := newFields(&problems, "", head.at, head.entries)
	if readVersion(f, head, "airpath_case", CaseVersion) {
		k.Circuit, _ = f.text("circuit", true, "gritter")
		k.Digest = readDigest(f)
		k.Title, _ = f.text("title", true, "slow build-up, unit 12")
		k.Vehicle, _ = f.text("vehicle", false, "depot no. 12")
		k.Mileage, _ = f.text("mileage", false, "183 450 km")
		k.Technician, _ = f.text("technician", false, "A. Berg")
		k.Date = readDate(f)
		k.Ambient, _ = f.text("ambient", false, "-8 C")
		k.Complaint, _ = f.text("complaint", false, "takes for ever to build air")
		k.Reported, _ = f.text("reported", false, "f1")
		k.Jurisdiction = f.choice("jurisdiction", false, Jurisdictions)
		f.finish()
		for _, s := range doc.sections[1:] {
			switch {
			case s.name == "finding" && s.array:
				k.Findings = append(k.Findings, readFinding(&problems, s, len(k.Findings)+1))
			case s.name == "repair" && s.array:
				k.Repairs = append(k.Repairs, readRepair(&problems, s, len(k.Repairs)+1))
			case s.name == "log" && s.array:
				k.Logs = append(k.Logs, readLog(&problems, s, len(k.Logs)+1))
			case s.name == "finding" || s.name == "repair" || s.name == "log":
				problems.add(s.at, "", "["+s.name+"] is one of several", "write [["+s.name+"]]")
			case s.name == "finding.state":
				problems.add(s.at, "", "unknown section [finding.state]", `write the state in one line: state = { engine = "off", park = "released" }`)
			default:
				problems.add(s.at, "", fmt.Sprintf("unknown section [%s]", s.name), "it can only be [[finding]], [[log]] or [[repair]]")
			}
		}
		first := map[string]Finding{}
		for _, fd := range k.Findings {
			if before, taken := first[fd.ID]; taken && fd.ID != "" {
				problems.add(fd.Source, "", fmt.Sprintf("the finding id %q is taken", fd.ID), fmt.Sprintf("it is first used at line %d", before.Source.Line))
				continue
			}
			first[fd.ID] = fd
		}
		k.checkAmbient(&problems)
		k.checkReported(&problems)
		k.checkRepairs(&problems)
		k.checkLogs(&problems)
	}
	problems.sort()
	if err := problems.Err(); err != nil {
		return nil, err
	}
	return k, nil
}

// checkAmbient wants a temperature that there is weather for.
func (k *Case) checkAmbient(problems *Problems) {
	if k.Ambient == "" {
		return
	}
	q, err := ParseQuantity(k.Ambient, Temperature)
	switch {
	case err != nil:
		problems.add(k.at("ambient", k.Source), "", err.Error(), `write it with its unit, such as "-8 C"`)
	case !isWeather(q):
		problems.add(k.at("ambient", k.Source), "", fmt.Sprintf("%q is no weather", k.Ambient), weatherLies)
	}
}

// ParseAmbient reads how cold it was as a case file may have it: "-8 C".
func ParseAmbient(text string) (Quantity, error) {
	q, err := ParseQuantity(text, Temperature)
	if err == nil && !isWeather(q) {
		err = fmt.Errorf("%q is no weather: %s", text, weatherLies)
	}
	return q, err
}

func isWeather(q Quantity) bool { return q.SI >= coldest && q.SI <= hottest }

// Weather that a case may have been found in, K.
const (
	coldest = 213.15
	hottest = 333.15

	weatherLies = "it lies between -60 and 60 °C"
)

// checkReported looks for the finding that the vehicle came in for: it is one of the file's, and older than every repair.
func (k *Case) checkReported(problems *Problems) {
	if k.Reported == "" {
		return
	}
	var ids []string
	for _, f := range k.Findings {
		switch {
		case f.After != "":
		case f.ID == k.Reported:
			return
		default:
			ids = append(ids, f.ID)
		}
	}
	right := "leave the key out, or write down what the vehicle came in for as a [[finding]]"
	if len(ids) > 0 {
		right = Suggest(k.Reported, ids)
	}
	problems.add(k.at("reported", k.Source), "", fmt.Sprintf("there is no finding %q on the vehicle as it came in", k.Reported), right)
}

// defaultFindingID is the id of a finding that gives none.
func defaultFindingID(number int) string { return "f" + strconv.Itoa(number) }

func readFinding(problems *Problems, s *section, number int) Finding {
	f := newFields(problems, label("finding", s, number), s.at, s.entries)
	fd := Finding{ID: defaultFindingID(number), Source: s.at}
	if id, e := f.text("id", false, "f1"); e != nil {
		fd.ID = id
		if !validID(id) {
			problems.add(e.value.at, f.where, fmt.Sprintf("%q cannot be an id", id), idRule(id))
		}
	}
	fd.After, _ = f.text("after", false, "r1")
	fd.Procedure, _ = f.text("procedure", true, "build-up-85-100")
	fd.Reading, _ = f.text("reading", true, "time")
	place, e := f.text("place", false, "dryer.3")
	if e != nil && place != "" {
		id, port, dotted := strings.Cut(place, ".")
		if !validID(id) || dotted && (port == "" || strings.Contains(port, ".")) {
			problems.add(e.value.at, f.where, fmt.Sprintf("%q is not a place", place), `write the id of a component or line, or a port, such as "dryer.3"`)
		}
	}
	fd.Place = place
	fd.State = readState(f)
	if e, ok := f.take("result", true, `"70 s"`); ok {
		fd.Result = readResult(f, e)
	}
	fd.Instrument, _ = f.text("instrument", false, "dash gauge")
	fd.Note, _ = f.text("note", false, "measured twice")
	f.finish()
	return fd
}

func readResult(f *fields, e *entry) Result {
	if e.value.kind != textValue {
		right := `such as result = "70 s"`
		if e.value.kind == numberValue {
			right = fmt.Sprintf(`such as result = "%s s"`, e.value.text)
		}
		f.problems.add(e.value.at, f.where, `"result" must be text in quotes, with its unit`, right)
		return Result{}
	}
	r, err := ParseResult(e.value.text)
	if err != nil {
		f.problems.add(e.value.at, f.where, `"result": `+err.Error(), "")
	}
	return r
}

func readState(f *fields) State {
	var st State
	e, ok := f.take("state", false, "")
	if !ok {
		return st
	}
	if e.value.kind != tableValue {
		f.problems.add(e.value.at, f.where, `"state" must be a table of controls`, `such as state = { engine = "off", park = "released" }`)
		return st
	}
	in := newFields(f.problems, f.where+", state", e.value.at, e.value.fields)
	for _, w := range stateWords {
		*w.of(&st) = in.choice(w.key, false, w.words)
	}
	in.finish()
	return st
}

func readDigest(f *fields) string {
	s, e := f.text("digest", false, "dryer:0a1b2c3d")
	if e == nil {
		return ""
	}
	for _, part := range strings.Fields(s) {
		if id, sum, ok := strings.Cut(part, ":"); !ok || !validID(id) || len(sum) != digestLength || strings.Trim(sum, "0123456789abcdef") != "" {
			f.problems.add(e.value.at, f.where, fmt.Sprintf("%q is no part of a digest", part), "leave the key out, and the program will write it")
			return ""
		}
	}
	return s
}
