package circuit

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// mended is a case with two faults, one mended after the other.
const mended = `airpath_case = 1
circuit = "gritter"
title = "Slow build-up, unit 12"
vehicle = "depot no. 12"
mileage = "183 450 km"
technician = "A. Berg"
date = "2026-01-14"

[[finding]]
procedure = "build-up-85-100"
reading = "time"
result = "70 s"

# The purge port blew all the time.
[[repair]]
part = "dryer"
mode = "purge valve stuck open"
done = "purge valve renewed" # the second this winter
recheck = [
	"build-up-85-100",
	"leak-down-released", # to be sure
]

[[finding]]
after = "r1"
procedure = "build-up-85-100"
reading = "time"
result = "24 s"

[[repair]]
id = "hose"
part = "discharge_line"
done = "line renewed"
date = "2026-02-28"
technician = "C. Dahl"
note = "old line kept"
`

func TestReadRepairs(t *testing.T) {
	k, err := ReadCase("x.toml", []byte(mended))
	require.NoError(t, err)
	assert.Equal(t, []string{"depot no. 12", "183 450 km", "A. Berg", "2026-01-14"}, []string{k.Vehicle, k.Mileage, k.Technician, k.Date})
	assert.Equal(t, []Repair{
		{ID: "r1", Part: "dryer", Mode: "purge valve stuck open", Done: "purge valve renewed", Recheck: []string{"build-up-85-100", "leak-down-released"}, Source: Position{"x.toml", 15, 1}},
		{ID: "hose", Part: "discharge_line", Done: "line renewed", Date: "2026-02-28", Technician: "C. Dahl", Note: "old line kept", Source: Position{"x.toml", 30, 1}},
	}, k.Repairs)
	assert.Equal(t, []string{"discharge_line", "dryer"}, k.Targets(), "what was mended matters to the digest as well")
	assert.Equal(t, mended, string(WriteCase(k)))

	assert.Equal(t, 0, k.Stage(k.Findings[0]))
	assert.Equal(t, 1, k.Stage(k.Findings[1]))
	assert.Equal(t, 2, k.Stage(Finding{After: "hose"}))
	assert.Equal(t, k.Findings[:1], k.AtStage(0))
	assert.Equal(t, k.Findings[1:], k.AtStage(1))
	assert.Empty(t, k.AtStage(2))
	assert.Empty(t, CheckCase(k, readGritter(t)))

	assert.Equal(t, k.Findings[:1], k.Until(0).Findings)
	assert.Empty(t, k.Until(0).Repairs)
	assert.Equal(t, k.Findings, k.Until(1).Findings)
	assert.Len(t, k.Until(1).Repairs, 1)
	assert.Len(t, k.Until(7).Repairs, 2)
	assert.Len(t, k.Findings, 2, "the case itself is whole")
}

func TestReadRepairsSaysWhatIsWrong(t *testing.T) {
	for _, tt := range []struct{ name, old, new, want string }{
		{"after nothing", `after = "r1"`, `after = "r2"`, `x.toml:25:9: finding "f2": there is no repair "r2"; did you mean "r1"?`},
		{"one of several", "[[repair]]\nid", "[repair]\nid", `x.toml:30:1: [repair] is one of several; write [[repair]]`},
		{"id twice", `id = "hose"`, `id = "r1"`, `x.toml:30:1: the repair id "r1" is taken; it is first used at line 15`},
		{"bad id", `id = "hose"`, `id = "Hose"`, `x.toml:31:6: repair "Hose": "Hose" cannot be an id; ids are small letters, digits and _, and start with a letter, such as "hose"`},
		{"no part", "part = \"dryer\"\n", "", `x.toml:15:1: repair 1: "part" is missing; write part = "dryer"`},
		{"a port", `part = "dryer"`, `part = "dryer.3"`, `x.toml:16:8: repair 1: "dryer.3" is not a part; write the id of a component or line, such as "dryer"`},
		{"nothing done", "done = \"line renewed\"\n", "", `x.toml:30:1: repair "hose": "done" is missing; write done = "purge valve renewed"`},
		{"no day", "2026-02-28", "2026-02-29", `x.toml:34:8: repair "hose": "2026-02-29" is no day; write year, month and day, such as date = "2026-01-14"`},
		{"another calendar", `"2026-01-14"`, `"14.1.2026"`, `x.toml:7:8: "14.1.2026" is no day; write year, month and day, such as date = "2026-01-14"`},
		{"no list", "[\n\t\"build-up-85-100\",\n\t\"leak-down-released\", # to be sure\n]", `"all"`, `x.toml:19:11: repair 1: "recheck" must be a list of texts in quotes; such as recheck = ["build-up-85-100"]`},
		{"a list of numbers", `"leak-down-released"`, `7`, `x.toml:19:11: repair 1: "recheck" must be a list of texts in quotes; such as recheck = ["build-up-85-100"]`},
		{"unknown key", "note =", "notes =", `x.toml:36:1: repair "hose": unknown key "notes"; did you mean "note"?`},
	} {
		t.Run(tt.name, func(t *testing.T) {
			require.Equal(t, 1, strings.Count(mended, tt.old), "the place to spoil is there once")
			_, err := ReadCase("x.toml", []byte(strings.Replace(mended, tt.old, tt.new, 1)))
			assert.EqualError(t, err, tt.want)
		})
	}
	_, err := ReadCase("x.toml", []byte(strings.Replace(slowBuild, `id = "purge"`, `after = "r1"`, 1)))
	assert.EqualError(t, err, `x.toml:15:9: finding "f2": there is no repair "r1"; write the repair as [[repair]], or leave "after" out for a finding on the vehicle as it came in`)

	k, err := ReadCase("x.toml", []byte(strings.Replace(mended, `part = "dryer"`, `part = "dryr"`, 1)))
	require.NoError(t, err)
	assert.EqualError(t, CheckCase(k, readGritter(t)), `x.toml:16:8: repair "r1": the circuit "gritter" has no component or line "dryr"; did you mean "dryer"?`)
}

// What is added to a file stands in it in the order in which it happened.
func TestRepairsAreWrittenInTheOrderOfTime(t *testing.T) {
	k, err := ReadCase("x.toml", []byte(slowBuild))
	require.NoError(t, err)
	k.Repairs = append(k.Repairs, Repair{ID: "r1", Part: "dryer", Done: "renewed"})
	k.Findings = append(k.Findings, Finding{ID: "f3", After: "r1", Procedure: "p", Reading: "r", Result: Result{Yes, "yes"}})
	k.Repairs = append(k.Repairs, Repair{ID: "r2", Part: "tank", Done: "drained"})
	assert.Equal(t, slowBuild+`
[[repair]]
part = "dryer"
done = "renewed"

[[finding]]
after = "r1"
procedure = "p"
reading = "r"
result = "yes"

[[repair]]
part = "tank"
done = "drained"
`, string(WriteCase(k)))

	// And a finding that comes late, on a file that has the repair already, stays before it.
	k, err = ReadCase("x.toml", []byte(mended))
	require.NoError(t, err)
	k.Findings = append(k.Findings[:1:1], Finding{ID: "late", Procedure: "p", Reading: "r", Result: Result{No, "no"}}, k.Findings[1])
	text := string(WriteCase(k))
	assert.Less(t, strings.Index(text, `"late"`), strings.Index(text, "[[repair]]"))
	assert.Contains(t, text, "# The purge port blew all the time.\n[[repair]]")
}

func TestCasesFitTheirSchema(t *testing.T) {
	var schema object
	require.NoError(t, json.Unmarshal(CaseSchema(), &schema))
	require.NoError(t, conforms(schema, asJSON(t, []byte(mended))))
	require.NoError(t, conforms(schema, asJSON(t, []byte(slowBuild))))
	rapid.Check(t, func(t *rapid.T) {
		text := WriteCase(drawCase(t))
		require.NoError(t, conforms(schema, asJSON(t, text)), "%s", text)
	})
	for _, swap := range [][2]string{
		{"airpath_case = 1", "airpath_case = 2"}, {`"gritter"`, `""`}, {`"2026-02-28"`, `"28.2.2026"`}, {"part = \"dryer\"\n", ""}, {`part = "dryer"`, `part = "dryer.3"`},
		{"done = \"line renewed\"\n", ""}, {`"leak-down-released"`, "7"}, {`note = "old`, `notes = "old`}, {`"depot no. 12"`, "12"},
	} {
		require.Equal(t, 1, strings.Count(mended, swap[0]), swap[0])
		text := []byte(strings.Replace(mended, swap[0], swap[1], 1))
		_, err := ReadCase("x.toml", text)
		assert.Error(t, err, swap[1])
		assert.Error(t, conforms(schema, asJSON(t, text)), swap[1])
	}
}
