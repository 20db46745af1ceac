package circuit

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

const slowBuild = `airpath_case = 1
circuit = "gritter"
title = "Slow build-up, unit 12"
complaint = "takes for ever to build air"
jurisdiction = "Canada/Ontario"

# Cold morning.
[[finding]]
procedure = "build-up-85-100"
reading = "time"
result = "70 s" # by the yard clock
instrument = "stopwatch"

[[finding]]
id = "purge"
procedure = "listen-building"
reading = "hiss"
place = "dryer.3"
state = { engine = "idle", compressor = "loaded", park = "released", pedal = "up" }
result = "no"
note = "twice"
`

func TestReadCase(t *testing.T) {
	k, err := ReadCase("x.toml", []byte(slowBuild))
	require.NoError(t, err)
	k.source = nil
	assert.Equal(t, &Case{
		Circuit: "gritter", Title: "Slow build-up, unit 12", Complaint: "takes for ever to build air", Jurisdiction: "Canada/Ontario", Source: Position{"x.toml", 1, 1},
		Findings: []Finding{
			{ID: "f1", Procedure: "build-up-85-100", Reading: "time", Result: Result{Number, "70 s"}, Instrument: "stopwatch", Source: Position{"x.toml", 8, 1}},
			{ID: "purge", Procedure: "listen-building", Reading: "hiss", Place: "dryer.3", State: State{Engine: "idle", Compressor: "loaded", Park: "released", Pedal: "up"}, Result: Result{No, "no"}, Note: "twice", Source: Position{"x.toml", 14, 1}},
		},
	}, k)
	assert.Equal(t, []string{"dryer"}, k.Targets())
}

func TestReadCaseSaysWhatIsWrong(t *testing.T) {
	for _, tt := range []struct{ name, old, new, want string }{
		{"no version", "airpath_case = 1\n", "", `x.toml:1:1: the version "airpath_case" is missing; the file starts with airpath_case = 1`},
		{"a circuit file", "airpath_case = 1", "airpath = 1", `x.toml:1:1: the version "airpath_case" is missing; the file starts with airpath_case = 1`},
		{"other version", "airpath_case = 1", "airpath_case = 7", `x.toml:1:16: unknown version 7; this program reads airpath_case = 1`},
		{"no circuit", "circuit = \"gritter\"\n", "", `x.toml:1:1: "circuit" is missing; write circuit = "gritter"`},
		{"no title", "title = \"Slow build-up, unit 12\"\n", "", `x.toml:1:1: "title" is missing; write title = "slow build-up, unit 12"`},
		{"unknown key", "complaint =", "complain =", `x.toml:4:1: unknown key "complain"; did you mean "complaint"?`},
		{"unknown jurisdiction", "Canada/Ontario", "Canada/Ontaro", `x.toml:5:16: unknown jurisdiction "Canada/Ontaro"; did you mean "Canada/Ontario"?`},
		{"digest", "title =", "digest = \"dryer\"\ntitle =", `x.toml:3:10: "dryer" is no part of a digest; leave the key out, and the program will write it`},
		{"reported, but not there", "title =", "reported = \"purg\"\ntitle =", `x.toml:3:12: there is no finding "purg" on the vehicle as it came in; did you mean "purge"?`},
		{"unknown section", "[[finding]]\nid", "[[findings]]\nid", `x.toml:14:1: unknown section [findings]; it can only be [[finding]], [[log]] or [[repair]]`},
		{"one of several", "[[finding]]\nid", "[finding]\nid", `x.toml:14:1: [finding] is one of several; write [[finding]]`},
		{"state in a section", "state = {", "[finding.state]\nx = {", `x.toml:14:1: finding "purge": "result" is missing; write result = "70 s"
x.toml:19:1: unknown section [finding.state]; write the state in one line: state = { engine = "off", park = "released" }`},
		{"bad id", `id = "purge"`, `id = "Purge"`, `x.toml:15:6: finding "Purge": "Purge" cannot be an id; ids are small letters, digits and _, and start with a letter, such as "purge"`},
		{"id twice", `id = "purge"`, `id = "f1"`, `x.toml:14:1: the finding id "f1" is taken; it is first used at line 8`},
		{"no procedure", "procedure = \"build-up-85-100\"\n", "", `x.toml:8:1: finding 1: "procedure" is missing; write procedure = "build-up-85-100"`},
		{"no reading", "reading = \"time\"\n", "", `x.toml:8:1: finding 1: "reading" is missing; write reading = "time"`},
		{"no result", "result = \"no\"\n", "", `x.toml:14:1: finding "purge": "result" is missing; write result = "70 s"`},
		{"no place", `"dryer.3"`, `"dryer 3"`, `x.toml:18:9: finding "purge": "dryer 3" is not a place; write the id of a component or line, or a port, such as "dryer.3"`},
		{"no port", `"dryer.3"`, `"dryer."`, `x.toml:18:9: finding "purge": "dryer." is not a place; write the id of a component or line, or a port, such as "dryer.3"`},
		{"state of no table", `{ engine = "idle", compressor = "loaded", park = "released", pedal = "up" }`, `"idle"`, `x.toml:19:9: finding "purge": "state" must be a table of controls; such as state = { engine = "off", park = "released" }`},
		{"unknown control", "compressor = \"loaded\"", "compresor = \"loaded\"", `x.toml:19:28: finding "purge", state: unknown key "compresor"; did you mean "compressor"?`},
		{"unknown word", `park = "released"`, `park = "open"`, `x.toml:19:58: finding "purge", state: unknown park "open"; it can be "set", "released"`},
		{"a word for another control", `pedal = "up"`, `pedal = "set"`, `x.toml:19:78: finding "purge", state: unknown pedal "set"; it can be "up", "down"`},
		{"control twice", `pedal = "up"`, `engine = "off"`, `x.toml:19:70: finding "purge", state: "engine" is given twice, first at line 19; keep one of them`},
		{"a number without quotes", `"70 s"`, `70`, `x.toml:11:10: finding 1: "result" must be text in quotes, with its unit; such as result = "70 s"`},
		{"a truth value", `"70 s"`, `true`, `x.toml:11:10: finding 1: "result" must be text in quotes, with its unit; such as result = "70 s"`},
		{"no number", `"70 s"`, `"seventy"`, `x.toml:11:10: finding 1: "result": "seventy" is no result; want a number with its unit, such as "70 s", a range, such as "60..75 s", or one of the words within limits, yes, no, never, not sure`},
		{"near a word", `"70 s"`, `"withn limits"`, `x.toml:11:10: finding 1: "result": "withn limits" is no result; did you mean "within limits"?`},
		{"unknown unit", `"70 s"`, `"70 sec"`, `x.toml:11:10: finding 1: "result": "70 sec" is no result; want a number with its unit, such as "70 s" or "118 psi"`},
		{"near a unit", `"70 s"`, `"70 PSI"`, `x.toml:11:10: finding 1: "result": "70 PSI": unknown unit "PSI"; did you mean "psi"?`},
		{"range downwards", `"70 s"`, `"75..60 s"`, `x.toml:11:10: finding 1: "result": the range runs downwards; write the lower number first`},
		{"half a range", `"70 s"`, `"60.. s"`, `x.toml:11:10: finding 1: "result": "60.. s" is no range; want two numbers and a unit, such as "60..75 s"`},
	} {
		t.Run(tt.name, func(t *testing.T) {
			require.Equal(t, 1, strings.Count(slowBuild, tt.old), "the place to spoil is there once")
			k, err := ReadCase("x.toml", []byte(strings.Replace(slowBuild, tt.old, tt.new, 1)))
			require.Error(t, err)
			assert.Nil(t, k)
			assert.Equal(t, tt.want, err.Error())
		})
	}
	_, err := ReadCase("x.toml", nil)
	assert.EqualError(t, err, "x.toml:1:1: the file is empty")
	_, err = ReadCase("x.toml", []byte(slowBuild[:len(slowBuild)-3]))
	assert.ErrorContains(t, err, "the file seems to be cut off here")
}

func TestParseResult(t *testing.T) {
	for _, tt := range []struct {
		text      string
		kind      ResultKind
		d         Dimension
		low, high float64
	}{
		{"70 s", Number, Time, 70, 70},
		{" 70s ", Number, Time, 70, 70},
		{"1.5 min", Number, Time, 90, 90},
		{"118 psi", Number, Pressure, 118*PSI + AtmospherePressure, 118*PSI + AtmospherePressure},
		{"-2 psi", Number, PressureSpan, -2 * PSI, -2 * PSI},
		{"-22 mm", Number, LengthSpan, -0.022, -0.022},
		{"60..75 s", Range, Time, 60, 75},
		{"60 .. 75 s", Range, Time, 60, 75},
		{"60 s..2 min", Range, Time, 60, 120},
		{"6.5..7 bar", Range, Pressure, 6.5e5 + AtmospherePressure, 7e5 + AtmospherePressure},
		{"3..5", Range, Count, 3, 5},
		{"4", Number, Count, 4, 4},
		{"8 %", Number, Ratio, 0.08, 0.08},
		{"2..2 psi/min", Range, Rate, 2 * PSI / 60, 2 * PSI / 60},
		{"Yes", Yes, "", 0, 0},
		{"no", No, "", 0, 0},
		{"within limits", WithinLimits, "", 0, 0},
		{"never", Never, "", 0, 0},
		{"not sure", NotSure, "", 0, 0},
	} {
		r, err := ParseResult(tt.text)
		require.NoError(t, err, tt.text)
		assert.Equal(t, tt.kind, r.Kind, tt.text)
		low, high, err := r.Bounds(tt.d)
		if tt.d == "" {
			assert.Error(t, err)
			continue
		}
		require.NoError(t, err, tt.text)
		assert.InDelta(t, tt.low, low, 1e-9*(1+math.Abs(tt.high)), tt.text)
		assert.InDelta(t, tt.high, high, 1e-9*(1+math.Abs(tt.high)), tt.text)
	}
	for _, text := range []string{"", "..", "1..", "..1 s", "60...75 s", "60..75..80 s", "60 psi..75 s", "70 s or so", "1e999 s", "NaN s"} {
		_, err := ParseResult(text)
		assert.Error(t, err, text)
	}
	_, _, err := Result{Number, "70 s"}.Bounds(Pressure)
	assert.EqualError(t, err, `unit "s" does not measure a pressure; write it in psi, bar, kPa, such as "12 psi"`)
	_, _, err = Result{Number, "70"}.Bounds(Time)
	assert.EqualError(t, err, `"70" has no unit; a time is written in s, min, h, ms, such as "70 s"`)
	_, _, err = Result{Never, "never"}.Bounds(Time)
	assert.EqualError(t, err, `"never" is no number`)
}

func drawCase(t *rapid.T) *Case {
	maybe := rapid.OneOf(rapid.Just(""), words)
	pick := func(words []string) string { return rapid.SampledFrom(append([]string{""}, words...)).Draw(t, "word") }
	k := &Case{Circuit: words.Draw(t, "circuit"), Title: words.Draw(t, "title"), Complaint: maybe.Draw(t, "complaint"), Jurisdiction: pick(Jurisdictions),
		Vehicle: maybe.Draw(t, "vehicle"), Mileage: maybe.Draw(t, "mileage"), Technician: maybe.Draw(t, "technician"), Date: pick([]string{"2026-01-14"}), Ambient: pick([]string{"-8 C"})}
	repairs := []string{""}
	for i := range rapid.IntRange(0, 3).Draw(t, "repairs") {
		r := Repair{ID: defaultRepairID(i + 1), Part: "dryer", Mode: maybe.Draw(t, "mode"), Done: words.Draw(t, "done"), Date: pick([]string{"2026-02-28"}),
			Technician: maybe.Draw(t, "mender"), Note: maybe.Draw(t, "note"), Recheck: rapid.SliceOfN(words, 0, 3).Draw(t, "recheck")}
		if len(r.Recheck) == 0 {
			r.Recheck = nil
		}
		k.Repairs = append(k.Repairs, r)
		repairs = append(repairs, r.ID)
	}
	if rapid.Bool().Draw(t, "digest") {
		k.Digest = "dryer:0a1b2c3d tank:ffffffff"
	}
	for i := range rapid.IntRange(0, 5).Draw(t, "findings") {
		f := Finding{ID: defaultFindingID(i + 1), Procedure: words.Draw(t, "procedure"), Reading: words.Draw(t, "reading"), Place: pick([]string{"dryer", "dryer.3", "discharge_line"}),
			State: State{
				Engine: pick([]string{"off", "idle", "rated"}), Compressor: pick([]string{"loaded", "unloaded"}), Park: pick([]string{"set", "released"}),
				Pedal: pick([]string{"up", "down"}), Hand: pick([]string{"released", "applied"}), Trailer: pick([]string{"in", "out", "uncoupled"}),
			},
			Instrument: maybe.Draw(t, "instrument"), Note: maybe.Draw(t, "note"), After: rapid.SampledFrom(repairs).Draw(t, "after")}
		if rapid.Bool().Draw(t, "id") {
			f.ID = fmt.Sprintf("own%d", i)
		}
		text := rapid.SampledFrom([]string{"70 s", "60..75 s", "yes", "not sure", "within limits", "1e2 kPa"}).Draw(t, "result")
		f.Result, _ = ParseResult(text)
		k.Findings = append(k.Findings, f)
	}
	return k
}

func bareCase(k *Case) Case {
	b := *k
	b.source, b.Source, b.Findings, b.Repairs = nil, Position{}, nil, nil
	for _, r := range k.Repairs {
		r.Source = Position{}
		b.Repairs = append(b.Repairs, r)
	}
	for _, f := range k.Findings {
		f.Source = Position{}
		b.Findings = append(b.Findings, f)
	}
	return b
}

func TestWrittenCasesReadTheSame(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		again := readsBack(t, drawCase(t), WriteCase, ReadCase, bareCase)
		// And after findings were dropped, added and moved.
		n := len(again.Findings)
		if n > 1 {
			again.Findings = slices.Delete(again.Findings, 0, 1)
			again.Findings = append(again.Findings, Finding{ID: "late", Procedure: "p", Reading: "r", Result: Result{Yes, "yes"}})
			again.Findings[0], again.Findings[n-1] = again.Findings[n-1], again.Findings[0]
			readsBack(t, again, WriteCase, ReadCase, bareCase)
		}
	})
}

func TestEditedCasesKeepComments(t *testing.T) {
	k, err := ReadCase("x.toml", []byte(slowBuild))
	require.NoError(t, err)
	assert.Equal(t, slowBuild, string(WriteCase(k)))
	k.Findings[0].Result = Result{Number, "68 s"}
	k.Digest = "dryer:0a1b2c3d"
	want := strings.Replace(slowBuild, `result = "70 s" # by`, `result = "68 s" # by`, 1)
	want = strings.Replace(want, "circuit = \"gritter\"\n", "circuit = \"gritter\"\ndigest = \"dryer:0a1b2c3d\"\n", 1)
	assert.Equal(t, want, string(WriteCase(k)))
	k.Findings = k.Findings[1:]
	assert.NotContains(t, string(WriteCase(k)), "Cold morning", "a comment right above a finding belongs to it")
}

func TestCheckCase(t *testing.T) {
	c := readGritter(t)
	for _, tt := range []struct{ name, old, new, want string }{
		{"fits", "", "", ""},
		{"by path", `"gritter"`, `"../elsewhere/gritter_7.toml"`, ""},
		{"another circuit", `"gritter"`, `"coach"`, `x.toml:2:11: this case is about the circuit "coach", not "gritter"; open it with its own circuit`},
		{"unknown component", `"dryer.3"`, `"dryr.3"`, `x.toml:18:9: finding "purge": the circuit "gritter" has no component or line "dryr"; did you mean "dryer"?`},
		{"unknown port", `"dryer.3"`, `"dryer.33"`, `x.toml:18:9: finding "purge": an air dryer has no port "33"; did you mean "3"?`},
		{"port of a line", `"dryer.3"`, `"discharge_line.3"`, `x.toml:18:9: finding "purge": "discharge_line" is a line, which has no ports; write the place as "discharge_line"`},
		{"a line", `"dryer.3"`, `"discharge_line"`, ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			k, err := ReadCase("x.toml", []byte(strings.Replace(slowBuild, tt.old, tt.new, 1)))
			require.NoError(t, err)
			assert.Equal(t, tt.want, CheckCase(k, c).Error())
		})
	}
}

func TestDigest(t *testing.T) {
	c := readGritter(t)
	whole := c.Digest(c.ids()...)
	parts := strings.Fields(whole)
	assert.Len(t, parts, len(c.Components)+len(c.Lines))
	assert.True(t, slices.IsSorted(parts))
	assert.Equal(t, c.Digest("dryer", "tank"), c.Digest("tank", "dryer", "tank", "nobody"), "order, repeats and unknown ids change nothing")
	assert.Empty(t, c.Digest())

	// What does not matter.
	c.Component("dryer").At, c.Component("dryer").Name, c.Component("dryer").Note, c.Component("dryer").Turn = Point{1, 1}, "x", "y", 2
	c.Component("dryer").Place = "cab"
	c.Line("supply_line").Name, c.Line("supply_line").Route = "x", []Point{{1, 1}}
	c.Component("dryer").Given["purge_volume"] = MustQuantity("2600 mL", Volume) // the kind's own value, in another unit
	slices.Reverse(c.Lines)
	assert.Equal(t, whole, c.Digest(c.ids()...))

	// What does, and to whom.
	changed := func(edit func(c *Circuit)) []string {
		c := readGritter(t)
		before := map[string]string{}
		for _, id := range c.ids() {
			before[id] = c.Digest(id)
		}
		edit(c)
		var ids []string
		for _, id := range c.ids() {
			if c.Digest(id) != before[id] {
				ids = append(ids, id)
			}
		}
		slices.Sort(ids)
		return ids
	}
	assert.Equal(t, []string{"dryer"}, changed(func(c *Circuit) { c.Component("dryer").Given["purge_volume"] = MustQuantity("3 L", Volume) }))
	assert.Equal(t, []string{"supply_line"}, changed(func(c *Circuit) { c.Line("supply_line").Bore = MustQuantity("11 mm", Length) }))
	assert.Equal(t, []string{"supply_line"}, changed(func(c *Circuit) { c.Line("supply_line").Type = Hose }))
	// A line that is taken off changes the parts at its ends.
	assert.Equal(t, []string{"tank", "tee_primary"}, changed(func(c *Circuit) {
		c.Lines = slices.DeleteFunc(c.Lines, func(l *Line) bool { return l.ID == "primary_gauge_line" })
	}))
	assert.Equal(t, []string{"rear_relay"}, changed(func(c *Circuit) { c.Component("rear_relay").Kind, _ = KindNamed("quick-release-valve") }))
}

func TestCaseForAnEditedCircuit(t *testing.T) {
	c := readGritter(t)
	k, err := ReadCase("x.toml", []byte(slowBuild))
	require.NoError(t, err)
	k.Digest = c.Digest("dryer", "tank", "discharge_line")
	k, err = ReadCase("x.toml", WriteCase(k))
	require.NoError(t, err)
	assert.Empty(t, CheckCase(k, c))
	c.Component("dryer").Given["purge_volume"] = MustQuantity("3 L", Volume)
	c.Line("discharge_line").Length = MustQuantity("4 m", Length)
	problems := CheckCase(k, c)
	assert.EqualError(t, problems, `x.toml:3:10: warning: the circuit has changed since this case was written: "discharge_line", "dryer"; look whether the findings still hold, then save the case again`)
	assert.NoError(t, problems.Err())
}
