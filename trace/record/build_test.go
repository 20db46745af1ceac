package record

import (
	"encoding/json"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuit/airflow/procedure"
	"airpath/circuits"
	"airpath/trace"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const mended = `airpath_case = 1
circuit = "gritter"
title = "Gritter 7, slow to build"
vehicle = "depot no. 7"
mileage = "183 450 km"
date = "2026-01-14"
complaint = "Takes for ever to build air"

[[finding]]
procedure = "build-up-85-100"
reading = "time"
result = "70 s"
instrument = "stopwatch"

[[finding]]
procedure = "listen-building"
reading = "hiss"
place = "dryer.3"
result = "yes"
note = "blows all the while"

[[finding]]
procedure = "governor-cut-out"
reading = "pressure"
place = "gauge_primary"
result = "122 psi"

[[repair]]
part = "dryer"
mode = "purge valve stuck open"
done = "purge valve renewed"
technician = "C. Dahl"

[[finding]]
after = "r1"
procedure = "build-up-85-100"
reading = "time"
result = "26 s"
`

// input is a case with a verdict written by hand, so that the record alone is tested here and not the tracer.
func input(t *testing.T, text string) Input {
	c, err := circuits.Load("gritter")
	require.NoError(t, err)
	n, err := airflow.Compile(c)
	require.NoError(t, err)
	k, err := circuit.ReadCase("x.toml", []byte(text))
	require.NoError(t, err)
	in := Input{Case: k, Circuit: c, Procedures: procedure.For(n), Program: "Airpath test", Stages: make([]Stage, len(k.Repairs)+1)}
	purge := airflow.Fault{Target: "dryer", Mode: "purge valve stuck open", Severity: 0.5}
	for stage := range in.Stages {
		v := &trace.Verdict{Complaint: trace.HearComplaint(k.Complaint + ", and it quacks"), NoFault: 0.9, SomethingElse: 0.02}
		for _, f := range k.Until(stage).Findings {
			_, r, e, err := procedure.BindUnder(k.Jurisdiction, in.Procedures, f)
			require.NoError(t, err)
			for _, l := range r.LimitsIn(k.Jurisdiction) {
				v.Limits = append(v.Limits, trace.LimitCheck{Finding: f.ID, Reading: r.Title, Text: f.Result.Text, Limit: l, Pass: l.Meets(e.High)})
			}
		}
		if stage == 0 {
			v.NoFault = 0.001
			v.Suspects = []trace.Suspect{
				{Fault: purge, Title: "air dryer: the purge valve is stuck open", Probability: 0.93, Because: "air is heard. Path: a → b. Against it: nothing.", Confirm: "Feel the port.", Repair: "Renew the valve.",
					Severity: trace.Severity{Means: "share that stays open", Dimension: circuit.Ratio, Low: 0.4, Mid: 0.5, High: 0.7}, Cautions: []string{"The purge blast carries grit."},
					Path: []trace.Step{{ID: "dryer", Words: "purge valve of the air dryer"}, {ID: "dryer", Words: "cartridge of the air dryer"}, {ID: "discharge_line", Words: "discharge line"}}, ForFindings: []string{"f2"}},
				{Fault: airflow.Fault{Target: "compressor", Mode: "worn"}, Title: "compressor: it is worn", Probability: 0.04, Confirm: "Time the filling of a known reservoir."},
				{Fault: airflow.Fault{Target: "governor", Mode: "stuck"}, Title: "governor: it sticks", Probability: 0.001},
			}
			v.Cleared = []trace.Cleared{
				{Fault: airflow.Fault{Target: "governor", Mode: "cut-out high"}, Title: "governor: it is set too high", Because: "it cuts out at 122 psi", By: []string{"f3", "f1"}},
				{Fault: airflow.Fault{Target: "governor", Mode: "cut-out low"}, Title: "governor: it is set too low", Because: "it cuts out at 122 psi", By: []string{"f1", "f3"}},
			}
			v.Unexplained = []trace.Unexplained{{Finding: "f1", Because: "none explains it"}}
		}
		in.Stages[stage] = Stage{Verdict: v}
	}
	return in
}

// written is all that a document says, a chapter after another.
func written(t *testing.T, d *Document) (all string, parts map[string]string) {
	parts = map[string]string{}
	for _, p := range d.Parts {
		blocks := slices.Clone(p.Blocks)
		for i, b := range blocks {
			if drawing, ok := b.(Drawing); ok {
				blocks[i] = Text{Words: drawing.Caption}
			}
		}
		text, err := json.Marshal(blocks)
		require.NoError(t, err)
		plain := strings.NewReplacer(`\u0026`, "&", `\u003c`, "<", `\u003e`, ">", `\"`, `"`).Replace(string(text))
		parts[p.Title] = plain
		all += p.Title + "\n" + plain + "\n"
	}
	return all, parts
}

// A technician who notes no figure but "within limits" is told by the record within which.
func TestWithinLimitsNamesTheLimits(t *testing.T) {
	d, err := New(input(t, strings.Replace(mended, `result = "122 psi"`, `result = "within limits"

[[finding]]
procedure = "leak-down-released"
reading = "fall"
place = "gauge_primary"
result = "within limits"`, 1)))
	require.NoError(t, err)
	_, parts := written(t, d)
	assert.Contains(t, parts["What was found"], "at most 2.0 psi/min; 49 CFR 570.57(a)(5) (US)")
}

func TestARecordTellsEverything(t *testing.T) {
	in := input(t, mended)
	d, err := New(in)
	require.NoError(t, err)
	all, parts := written(t, d)
	assert.Equal(t, []Fact{{"Vehicle", "depot no. 7"}, {"Technician", ""}, {"Mileage", "183 450 km"}, {"Date", "2026-01-14"},
		{"Circuit", in.Circuit.Title}, {"Limits of", "US"}}, d.Facts)
	assert.Equal(t, "2026-01-14", d.Day.Format("2006-01-02"))

	assert.Contains(t, parts["In short"], "Air dryer: the purge valve is stuck open; probability 93 %.")
	assert.Contains(t, parts["In short"], "Of 1 reading, ")
	found := parts["What was found"]
	assert.Contains(t, found, "Takes for ever to build air")
	require.NotEmpty(t, in.Stages[0].Verdict.Complaint.Heard)
	assert.Contains(t, found, in.Stages[0].Verdict.Complaint.Heard[0].Meaning.Means)
	assert.Contains(t, found, "Not understood, and so not weighed: “it quacks”.")
	for _, f := range in.Case.AtStage(0) {
		assert.Contains(t, found, f.Result.Text)
		assert.Contains(t, found, `"`+f.ID+`"`)
	}
	assert.Contains(t, found, "stopwatch")
	assert.Contains(t, found, "blows all the while")
	limits := 0
	for _, l := range in.Stages[0].Verdict.Limits {
		assert.Contains(t, found, l.Limit.Source)
		assert.Contains(t, found, l.Limit.Wanted())
		limits++
	}
	assert.NotZero(t, limits)
	assert.Contains(t, found, "outside")
	assert.Contains(t, found, "within")
	assert.NotContains(t, found, "26 s", "what was found after the repair stands elsewhere")
	assert.NotContains(t, found, "came in for this", "nobody said which")
	in.Case.Reported, in.Case.Ambient = "f1", "-8 C"
	d, err = New(in)
	require.NoError(t, err)
	_, saying := written(t, d)
	assert.Contains(t, d.Facts, Fact{"Ambient", "-8 C"})
	assert.Equal(t, 1, strings.Count(saying["What was found"], "The vehicle came in for this."))

	came := parts["What the findings come to, as the vehicle came in"]
	assert.Contains(t, came, "Air dryer: the purge valve is stuck open.")
	assert.Contains(t, came, "93 %")
	assert.Contains(t, came, "Share that stays open: 40.0 % to 70.0 %")
	assert.Contains(t, came, "purge valve of the air dryer, cartridge of the air dryer", "a part is numbered once, as on the sheet")
	assert.Contains(t, came, "compressor: it is worn")
	assert.NotContains(t, came, "governor: it sticks", "too unlikely to be named")
	assert.Contains(t, came, "1 further fault")
	assert.Contains(t, came, "none explains it")
	assert.Contains(t, parts["What was cleared, and why"], "Governor (2)")
	assert.Contains(t, parts["What was cleared, and why"], "it cuts out at 122 psi")
	assert.Contains(t, parts["What was cleared, and why"], "f1, f3", "whatever the order in which the tracer names them")
	assert.Contains(t, parts["Every fault that was cleared"], "it is set too high; it is set too low")

	repair := parts["Repair"]
	assert.Contains(t, repair, "purge valve renewed")
	assert.Contains(t, repair, "C. Dahl")
	assert.Contains(t, repair, "93 % by the findings before this repair")
	check := parts["Check after the repair"]
	assert.Contains(t, check, "26 s")
	assert.Contains(t, check, "70 s", "beside what it was before")
	assert.Contains(t, check, "Listen while building")
	assert.Contains(t, check, "not repeated yet")
	assert.NotContains(t, check, "Governor cut-out", "it was in order before")
	assert.Contains(t, parts["Still to do: Listen while building"], "Stand the vehicle on level ground")
	assert.Contains(t, parts["What the findings come to, after the repair"], "They leave no fault likely")

	for _, c := range procedure.Safety() {
		assert.Contains(t, parts["Cautions"], c)
	}
	assert.Contains(t, parts["Cautions"], "The purge blast carries grit.")
	assert.Contains(t, parts["About this record"], "Airpath test")
	assert.Contains(t, parts["About this record"], CircuitDigest(in.Circuit))
	assert.Contains(t, parts["About this record"], "does not certify")
	assert.Contains(t, parts["Signatures"], "Work done by")

	// Nothing in it passes a vehicle.
	judged := regexp.MustCompile(`(?i)\b(passed|passes|failed|fails|roadworthy|road-worthy|safe to drive|fit for|approved|certif\w+|compli\w+|guarante\w+)\b`)
	assert.Equal(t, []string{"certify"}, judged.FindAllString(all, -1), "but for the sentence that says so")

	// The order of chapters: cautions stand before the steps that they are about.
	assert.Less(t, strings.Index(all, "Cautions\n"), strings.Index(all, "Still to do"))
	again, err := New(input(t, mended))
	require.NoError(t, err)
	same, _ := written(t, again)
	assert.Equal(t, all, same)
}

func TestARecordOfWorkThatHasJustBegun(t *testing.T) {
	before, _, _ := strings.Cut(mended, "[[repair]]")
	in := input(t, before)
	in.Case.Complaint, in.Case.Vehicle, in.Case.Date, in.Case.Jurisdiction = "", "", "", "Canada/Ontario"
	d, err := New(in)
	require.NoError(t, err)
	_, parts := written(t, d)
	assert.True(t, d.Day.IsZero())
	assert.Contains(t, parts["Repair"], "No repair is noted")
	assert.NotContains(t, parts, "Check after the repair")
	assert.Equal(t, Fact{Name: "Vehicle"}, d.Facts[0], "room to write")
	assert.Contains(t, d.Facts, Fact{"Limits of", "Canada, Ontario"})
	pdf, err := d.PDF(A4)
	require.NoError(t, err)
	assert.NotEmpty(t, pdf)
}

func TestARecordWithoutAFinding(t *testing.T) {
	head, rest, _ := strings.Cut(mended, "[[finding]]")
	_, repair, _ := strings.Cut(rest, "[[repair]]")
	repair, _, _ = strings.Cut(repair, "[[finding]]")
	in := input(t, head+"[[repair]]"+repair)
	d, err := New(in)
	require.NoError(t, err)
	_, parts := written(t, d)
	assert.Contains(t, parts["In short"], "No finding has been made")
	assert.Contains(t, parts["In short"], "no procedure is named to be done again")
	assert.Contains(t, parts["What was found"], "Nothing was measured or looked at before the first repair.")
	assert.NotContains(t, parts["What the findings come to, as the vehicle came in"], "compressor", "how common faults are is no finding")
	assert.Contains(t, parts["Check after the repair"], "Nothing was checked after it")
}

func TestWhatIsSaidOfDoubt(t *testing.T) {
	in := input(t, mended)
	v := in.Stages[0].Verdict
	v.Suspects[0].Probability = 0.5
	v.Ignored = []trace.Ignored{{Finding: "f3", Because: "it was not sure"}}
	v.Disagree, v.Failed = []string{"Paths and numbers differ."}, []string{"purge iced"}
	d, err := New(in)
	require.NoError(t, err)
	_, parts := written(t, d)
	assert.Contains(t, parts["In short"], "Not named yet; the likeliest is air dryer: the purge valve is stuck open, probability 50 %.")
	assert.Contains(t, parts["What the findings come to, as the vehicle came in"], "They do not name one fault yet.")
	for _, want := range []string{"was not used: it was not sure", "Paths and numbers differ.", "purge iced"} {
		assert.Contains(t, parts["What the findings come to, as the vehicle came in"], want)
	}

	v.Inseparable = []trace.Alike{{Faults: []airflow.Fault{v.Suspects[1].Fault, v.Suspects[0].Fault}, Titles: []string{"compressor: it is worn", "air dryer: ..."}, Weight: 0.95}}
	d, err = New(in)
	require.NoError(t, err)
	_, parts = written(t, d)
	assert.Contains(t, parts["In short"], "or 1 fault not told apart from it; probability together 95 %")
	assert.Contains(t, parts["What the findings come to, as the vehicle came in"], "Compressor: it is worn.")

	in.Stages[0].Verdict = &trace.Verdict{SomethingElse: 0.97}
	d, err = New(in)
	require.NoError(t, err)
	_, parts = written(t, d)
	assert.Contains(t, parts["What the findings come to, as the vehicle came in"], "No fault in the catalogue fits them")
}

func TestAProcedureToRepeatThatTheRepairNames(t *testing.T) {
	in := input(t, strings.Replace(mended, `done = "purge`, "recheck = [\"full-application\", \"build-up-85-100\"]\ndone = \"purge", 1))
	d, err := New(in)
	require.NoError(t, err)
	_, parts := written(t, d)
	assert.Contains(t, parts["Check after the repair"], "One full application; Build-up from 85 to 100 psi")
	assert.Contains(t, parts["Check after the repair"], "not done yet")
	assert.Contains(t, parts, "Still to do: One full application")
	assert.NotContains(t, parts, "Still to do: Build-up from 85 to 100 psi")
}

func TestARecordNeedsItsInput(t *testing.T) {
	in := input(t, mended)
	in.Stages = nil
	_, err := New(in)
	assert.EqualError(t, err, `a record needs what the findings came to; the case "Gritter 7, slow to build" was not traced`)
	in = input(t, mended)
	in.Case.Findings[1].Reading = "hoot"
	_, err = New(in)
	assert.ErrorContains(t, err, `finding "f2": `)
}

func TestPercent(t *testing.T) {
	for p, want := range map[float64]string{0: "under 1 %", 0.004: "under 1 %", 0.01: "1 %", 0.5: "50 %", 0.99: "99 %", 0.9999: "over 99 %", 1: "over 99 %"} {
		assert.Equal(t, want, percent(p), fmt.Sprint(p))
	}
}
