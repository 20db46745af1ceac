package circuit

import (
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// small is a whole circuit, so that each test can spoil one thing. Line numbers in the expected messages are its own.
const small = `airpath = 1
name = "small"
title = "Small board"
class = "truck"

[engine]
idle = "700 rpm"
rated = "2000 rpm"

[sheet]
size = [60, 40]

[[component]]
id = "compressor"
kind = "compressor"
name = "compressor"
place = "board"
at = [10, 10]
displacement = "200 mL"

[[component]]
id = "tank"
kind = "three-compartment-tank"
name = "tank"
place = "board"
at = [30, 10]
supply_volume = "10 L"
primary_volume = "10 L"
secondary_volume = "10 L"

[[component]]
id = "governor"
kind = "governor"
name = "governor"
place = "board"
at = [20, 20]

[[component]]
id = "drain"
kind = "drain-valve"
name = "drain"
place = "board"
at = [40, 20]

[[component]]
id = "lamp"
kind = "lamp"
name = "lamp"
place = "board"
at = [50, 20]

[[line]]
id = "discharge"
name = "discharge line"
type = "tube"
from = "compressor.2"
to = "tank.11"
length = "3 m"
bore = "12 mm"

[[line]]
id = "sensing"
name = "sensing line"
type = "tube"
from = "tank.23"
to = "governor.1"
length = "1 m"
bore = "6 mm"
`

func TestReadSmall(t *testing.T) {
	c, err := Read("x.toml", []byte(small))
	require.NoError(t, err)
	assert.Equal(t, "small", c.Name)
	assert.Equal(t, "truck", c.Class)
	assert.InEpsilon(t, 700.0/60, c.Engine.Idle.SI, 1e-12)
	assert.Equal(t, "2000 rpm", c.Engine.Rated.Text)
	assert.Equal(t, Sheet{Width: 60, Height: 40}, c.Sheet)
	require.Len(t, c.Components, 5)
	tank := c.Component("tank")
	assert.Equal(t, "three-compartment-tank", tank.Kind.Name)
	assert.Equal(t, Point{30, 10}, tank.At)
	assert.InEpsilon(t, 0.010, tank.Value("supply_volume"), 1e-12)
	assert.InEpsilon(t, 8, tank.Value("wall_heat"), 1e-12, "the kind's default")
	assert.Equal(t, Position{"x.toml", 21, 1}, tank.Source)
	line := c.Line("sensing")
	assert.Equal(t, PortRef{"tank", "23"}, line.From)
	assert.InEpsilon(t, 0.006, line.Bore.SI, 1e-12)
	assert.Same(t, line, c.LineAt(PortRef{"governor", "1"}))
	assert.Nil(t, c.LineAt(PortRef{"governor", "2"}))
	assert.Equal(t, PortRef{"governor", "1"}, line.Other(line.From))
	assert.Equal(t, PortRef{"tank", "23"}, line.Other(line.To))
	assert.Equal(t, "compressor.head", c.Room(PortRef{"compressor", "2"}))
	assert.Equal(t, Atmosphere, c.Room(PortRef{"compressor", "0"}))
	assert.Equal(t, "", c.Room(PortRef{"lamp", "e1"}))
	assert.Nil(t, c.Component("nobody"))
	assert.Nil(t, c.Line("nobody"))
}

// TestReadSaysWhatIsWrong spoils the small circuit in one place each, and wants exactly these problems.
func TestReadSaysWhatIsWrong(t *testing.T) {
	for _, tt := range []struct{ name, old, new, want string }{
		{"no version", "airpath = 1\n", "", `x.toml:1:1: the version "airpath" is missing; the file starts with airpath = 1`},
		{"other version", "airpath = 1", "airpath = 2", `x.toml:1:11: unknown version 2; this program reads airpath = 1`},
		{"version in quotes", "airpath = 1", `airpath = "1"`, `x.toml:1:11: unknown version "1"; this program reads airpath = 1`},
		{"version not first", "airpath = 1\nname = \"small\"\n", "name = \"small\"\nairpath = 1\n", `x.toml:2:1: the version is not the first key; the file starts with airpath = 1`},
		{"bad name", `name = "small"`, `name = "Small Board"`, `x.toml:2:8: "Small Board" cannot be the name of a circuit; ids are small letters, digits and _, and start with a letter, such as "small_board"`},
		{"no title", "title = \"Small board\"\n", "", `x.toml:1:1: "title" is missing; write title = "Gritter 7, two-axle 16 t"`},
		{"empty title", `"Small board"`, `""`, `x.toml:3:9: "title" is empty; such as title = "Gritter 7, two-axle 16 t"`},
		{"unknown class", `"truck"`, `"lorry"`, `x.toml:4:9: unknown class "lorry"; it can be "truck", "bus", "trailer", "combination"`},
		{"slip in class", `"truck"`, `"trcuk"`, `x.toml:4:9: unknown class "trcuk"; did you mean "truck"?`},
		{"unknown head key", `class = "truck"`, "class = \"truck\"\nnots = \"\"", `x.toml:5:1: unknown key "nots"; did you mean "notes"?`},
		{"dotted key", `class = "truck"`, "class = \"truck\"\nengine.idle = \"700 rpm\"", `x.toml:5:1: unknown key "engine.idle"; it can be "airpath", "name", "title", "class", "notes"`},

		{"unknown section", "[engine]", "[engin]", `x.toml:1:1: [engine] is missing; write [engine] with idle = "700 rpm" and rated = "2000 rpm"
x.toml:6:1: unknown section [engin]; did you mean "engine"?`},
		{"one of several", "[[line]]\nid = \"sensing\"", "[line]\nid = \"sensing\"", `x.toml:61:1: [line] is one of several; write [[line]]`},
		{"only once", "[sheet]", "[[sheet]]", `x.toml:10:1: [[sheet]] can stand only once; write [sheet]`},
		{"twice", "[[line]]\nid = \"discharge\"", "[sheet]\nsize = [60, 40]\n[[line]]\nid = \"discharge\"", `x.toml:52:1: [sheet] stands twice, first at line 10; keep one of them`},
		{"table of a component", "[[line]]\nid = \"discharge\"", "[component.params]\n[[line]]\nid = \"discharge\"", `x.toml:52:1: unknown section [component.params]; write parameters as keys of the component itself`},
		{"no sheet", "[sheet]\nsize = [60, 40]\n", "", `x.toml:1:1: [sheet] is missing; write [sheet] with size = [150, 96]`},
		{"axle before sheet", "[engine]", "[[sheet.axle]]\nname = \"front\"\nx = 1\ny = [1, 2]\n[engine]", `x.toml:6:1: [[sheet.axle]] stands before [sheet]; move it after`},

		{"speed without unit", `"700 rpm"`, `700`, `x.toml:7:8: engine: "idle" needs its unit, in quotes; such as idle = "700 rpm"`},
		{"speed in another unit", `"700 rpm"`, `"12 Hz"`, `x.toml:7:8: engine: "idle": unit "Hz" does not measure a speed of rotation; write it in rpm, such as "12 rpm"`},
		{"speed as a list", `"700 rpm"`, `[700]`, `x.toml:7:8: engine: "idle" must be a speed of rotation in quotes; such as idle = "12 rpm"`},
		{"speed too low", `"700 rpm"`, `"7 rpm"`, `x.toml:7:8: engine: "idle" is too low: 7 rpm; it goes from 100 rpm to 3000 rpm`},
		{"idle above rated", `"700 rpm"`, `"2500 rpm"`, `x.toml:8:9: engine: "rated" is not above "idle"; "idle" is the lower of the two`},
		{"size", "[60, 40]", "[60]", `x.toml:11:8: sheet: "size" must be a list of two numbers; such as size = [150, 96]`},
		{"size in quotes", "[60, 40]", `["60", 40]`, `x.toml:11:9: sheet: "size" must be a plain number; such as size = [150, 96]`},
		{"size out of range", "[60, 40]", `[60, 1e9]`, `x.toml:11:13: sheet: "size" is out of range: 1e9; it goes from 8 to 2000`},
		{"size infinite", "[60, 40]", `[60, inf]`, `x.toml:11:13: sheet: "size" must be a plain number; such as size = [150, 96]`},

		{"no id", "id = \"lamp\"\n", "", `x.toml:45:1: component 5: "id" is missing; write id = "rear_relay"`},
		{"bad id", `id = "lamp"`, `id = "Warning lamp!"`, `x.toml:46:6: component "Warning lamp!": "Warning lamp!" cannot be an id; ids are small letters, digits and _, and start with a letter, such as "warning_lamp"`},
		{"hopeless id", `id = "lamp"`, `id = "7/2"`, `x.toml:46:6: component "7/2": "7/2" cannot be an id; ids are small letters, digits and _, and start with a letter`},
		{"taken word", `id = "lamp"`, `id = "atmosphere"`, `x.toml:46:6: component "atmosphere": "atmosphere" cannot be an id; that word is taken: it is the air outside`},
		{"id twice", `id = "lamp"`, `id = "drain"`, `x.toml:46:6: component "drain": the id "drain" is taken; it is first used at line 39; components and lines share one set of ids`},
		{"line with a component's id", `id = "sensing"`, `id = "drain"`, `x.toml:62:6: line "drain": the id "drain" is taken; it is first used at line 39; components and lines share one set of ids`},
		{"no kind", "kind = \"lamp\"\n", "", `x.toml:45:1: component "lamp": "kind" is missing; write kind = "air-dryer"`},
		{"unknown kind", `kind = "governor"`, `kind = "governer"`, `x.toml:33:8: component "governor": unknown kind "governer"; did you mean "governor"?`},
		{"kind as a number", `kind = "governor"`, `kind = 7`, `x.toml:33:8: component "governor": "kind" must be text in quotes; such as kind = "air-dryer"`},
		{"unknown place", "name = \"lamp\"\nplace = \"board\"", "name = \"lamp\"\nplace = \"roof\"", `x.toml:49:9: component "lamp": unknown place "roof"; it can be "cab", "engine bay", "left rail", "right rail", "front axle", "rear axle", "trailer", "board"`},
		{"no at", "at = [50, 20]\n", "", `x.toml:45:1: component "lamp": "at" is missing; write at = [20, 45]`},
		{"turn", "at = [50, 20]\n", "at = [50, 20]\nturn = 4\n", `x.toml:51:8: component "lamp": "turn" is out of range: 4; it goes from 0 to 3`},
		{"half a turn", "at = [50, 20]\n", "at = [50, 20]\nturn = 0.5\n", `x.toml:51:8: component "lamp": "turn" must be a whole number of quarter turns; it can be 0, 1, 2 or 3`},
		{"missing parameter", "displacement = \"200 mL\"\n", "", `x.toml:13:1: component "compressor": "displacement" is missing; write displacement = "12 L"`},
		{"unknown parameter", `displacement = "200 mL"`, "displacement = \"200 mL\"\nclearence = \"5 %\"", `x.toml:20:1: component "compressor": unknown key "clearence"; did you mean "clearance"?`},
		{"parameter of another kind", `displacement = "200 mL"`, "displacement = \"200 mL\"\narea = \"30 in2\"", `x.toml:20:1: component "compressor": unknown key "area"; it can be "id", "kind", "name", "place", "at", "turn", "note", "displacement", "drive_ratio", "clearance", "efficiency", "intake_conductance" and 2 more`},
		{"wrong unit", `"200 mL"`, `"200 mm"`, `x.toml:19:16: component "compressor": "displacement": "mm" is no unit of a volume; did you mean "mL"?`},
		{"no number", `"200 mL"`, `"plenty"`, `x.toml:19:16: component "compressor": "displacement": "plenty" is not a volume: want a number and a unit, such as "12 L"`},
		{"too large", `"200 mL"`, `"200 L"`, `x.toml:19:16: component "compressor": "displacement" is too high: 200 L; it goes from 20 mL to 2 L`},
		{"too small", `"200 mL"`, `"2 mL"`, `x.toml:19:16: component "compressor": "displacement" is too low: 2 mL; it goes from 20 mL to 2 L`},
		{"cut-in above cut-out", "at = [20, 20]", "at = [20, 20]\ncut_in = \"125 psi\"", `x.toml:37:10: component "governor": "cut_in" is not below "cut_out": 125 psi and 122 psi`},
		{"cut-out below cut-in", "at = [20, 20]", "at = [20, 20]\ncut_out = \"100 psi\"", `x.toml:37:11: component "governor": "cut_in" is not below "cut_out": 103 psi and 100 psi`},
		{"key twice", "at = [20, 20]", "at = [20, 20]\nat = [20, 21]", `x.toml:37:1: component "governor": "at" is given twice, first at line 36; keep one of them`},

		{"unknown line type", "type = \"tube\"\nfrom = \"tank.23\"", "type = \"tub\"\nfrom = \"tank.23\"", `x.toml:64:8: line "sensing": unknown type "tub"; did you mean "tube"?`},
		{"not a port", `"tank.23"`, `"tank"`, `x.toml:65:8: line "sensing": "from": "tank" is not a port; write component, dot, port, such as "compressor.2"`},
		{"line to nowhere", `"tank.23"`, `"tnak.23"`, `x.toml:65:8: line "sensing": "from" goes to tnak.23, and there is no component "tnak"; did you mean "tank"?`},
		{"unknown port", `"governor.1"`, `"governor.11"`, `x.toml:66:6: line "sensing": "to" goes to governor.11, but a governor has no port "11"; it can be "1", "2"`},
		{"line on a vent", `"governor.1"`, `"governor.3"`, `x.toml:66:6: line "sensing": "to" goes to governor.3, which opens to the atmosphere and takes no line; it can be "1", "2"`},
		{"wrong medium", `"governor.1"`, `"lamp.e1"`, `x.toml:66:6: line "sensing": a tube carries air, but lamp.e1 is for current; it takes a wire`},
		{"wire on an air port", "type = \"tube\"\nfrom = \"tank.23\"\nto = \"governor.1\"\nlength = \"1 m\"\nbore = \"6 mm\"\n", "type = \"wire\"\nfrom = \"lamp.e1\"\nto = \"governor.1\"\n", `x.toml:66:6: line "sensing": a wire carries current, but governor.1 is for air; it takes a tube or hose`},
		{"no such port for a wire", "type = \"tube\"\nfrom = \"tank.23\"\nto = \"governor.1\"\nlength = \"1 m\"\nbore = \"6 mm\"\n", "type = \"wire\"\nfrom = \"lamp.e1\"\nto = \"governor.e\"\n", `x.toml:66:6: line "sensing": "to" goes to governor.e, but a governor has no port "e"; a governor has no port for a wire`},
		{"two lines on a port", `"tank.23"`, `"tank.11"`, `x.toml:65:8: line "sensing": tank.11 has a line already, "discharge"; a port takes one line; put a tee between`},
		{"to itself", `"governor.1"`, `"tank.23"`, `x.toml:66:6: line "sensing": it goes from tank.23 back to the same port; a line joins two ports`},
		{"no length", "length = \"1 m\"\n", "", `x.toml:61:1: line "sensing": "length" is missing; write length = "12 mm"`},
		{"no bore", "bore = \"6 mm\"\n", "", `x.toml:61:1: line "sensing": "bore" is missing; write bore = "12 mm"`},
		{"bore of a pipeline", `"6 mm"`, `"6 m"`, `x.toml:68:8: line "sensing": "bore" is too high: 6 m; it goes from 1 mm to 60 mm`},
		{"bore of a wire", "type = \"tube\"\nfrom = \"tank.23\"\nto = \"governor.1\"\nlength = \"1 m\"\n", "type = \"wire\"\nfrom = \"lamp.e1\"\nto = \"lamp.e2\"\n", `x.toml:67:1: line "sensing": a wire has no "bore"; leave the key out`},
		{"route", "bore = \"6 mm\"\n", "bore = \"6 mm\"\nroute = 7\n", `x.toml:69:9: line "sensing": "route" must be a list of corners; such as route = [[22, 45], [30, 45]]`},
		{"route of one list", "bore = \"6 mm\"\n", "bore = \"6 mm\"\nroute = [22, 45]\n", `x.toml:69:10: line "sensing": "route" must be a list of two numbers; such as route = [[22, 45], [30, 45]]`},
	} {
		t.Run(tt.name, func(t *testing.T) {
			require.Equal(t, 1, strings.Count(small, tt.old), "the place to spoil is there once")
			c, err := Read("x.toml", []byte(strings.Replace(small, tt.old, tt.new, 1)))
			require.Error(t, err)
			assert.Nil(t, c)
			assert.Equal(t, tt.want, err.Error())
		})
	}
}

func TestReadSaysWhatIsNoTOML(t *testing.T) {
	for _, tt := range []struct{ name, text, want string }{
		{"empty", "", `x.toml:1:1: the file is empty`},
		{"blank", " \n\n\t\n", `x.toml:1:1: the file is empty`},
		{"too large", strings.Repeat("# no vehicle\n", 400_000), `x.toml:1:1: the file is too large: 5200000 bytes; at most 4194304 are read`},
		{"only a comment", "# nothing yet\n", `x.toml:1:1: the version "airpath" is missing; the file starts with airpath = 1`},
		{"not text", "airpath = 1\n\xff\xfe", `x.toml:2:1: the file is not text in UTF-8; save it as UTF-8`},
		{"truncated in a string", "airpath = 1\nname = \"gri", `x.toml:2:11: this is not TOML: unterminated basic string; the file seems to be cut off here`},
		{"truncated in a list", "airpath = 1\nat = [20,", `x.toml:2:9: this is not TOML: array is incomplete; the file seems to be cut off here`},
		{"truncated in a header", "airpath = 1\n[[compo", `x.toml:2:7: this is not TOML: expected ']]' to close array table name; the file seems to be cut off here`},
		{"truncated after a key", "airpath = 1\nname", `x.toml:2:4: this is not TOML: expected '=' after key; the file seems to be cut off here`},
		{"text without quotes", "airpath = 1\nname = gritter\n", `x.toml:2:8: this is not TOML: unexpected character U+0067 'g' at start of value; text stands in quotes, numbers without, lists in [ ], and each key on a line of its own`},
		{"letter outside quotes", "airpath = 1\nnäme = 2\n", `x.toml:2:2: this is not TOML: 'ä' stands outside quotes; text stands in quotes, numbers without, lists in [ ], and each key on a line of its own`},
		{"two keys on a line", "airpath = 1 name = 2\nx = 1\n", `x.toml:1:13: this is not TOML: expected newline but got U+006E 'n'; text stands in quotes, numbers without, lists in [ ], and each key on a line of its own`},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c, err := Read("x.toml", []byte(tt.text))
			require.Error(t, err)
			assert.Nil(t, c)
			assert.Equal(t, tt.want, err.Error())
		})
	}
}

func TestReadCollectsProblemsInOrder(t *testing.T) {
	text := small
	for _, swap := range [][2]string{{`"700 rpm"`, "700"}, {`"governor"`, `"governer"`}, {`"6 mm"`, `"6 psi"`}, {`"compressor.2"`, `"compresor.2"`}} {
		text = strings.Replace(text, swap[0], swap[1], 1)
	}
	_, err := Read("x.toml", []byte(text))
	var lines []string
	for _, p := range err.(Problems) {
		assert.False(t, p.Warning)
		lines = append(lines, p.Position.String()+" "+p.What)
	}
	assert.Equal(t, []string{
		`x.toml:7:8 "idle" needs its unit, in quotes`,
		`x.toml:56:8 "from" goes to compresor.2, and there is no component "compresor"`,
		`x.toml:66:6 "to" goes to governor.1, and there is no component "governor"`,
		`x.toml:68:8 "bore": unit "psi" does not measure a length; write it in mm, m, cm, in, such as "12 mm"`,
	}, lines)
}

// Columns count characters, as editors do; a byte order mark and Windows line ends are no hindrance.
func TestPositionsCountCharacters(t *testing.T) {
	text := "\ufeff" + strings.ReplaceAll(strings.Replace(small, `name = "lamp"`, "name = \"Lämpchen\"", 1), "\n", "\r\n")
	c, err := Read("x.toml", []byte(text))
	require.NoError(t, err)
	assert.Equal(t, "Lämpchen", c.Component("lamp").Name)
	doc, problems := parseDocument("x.toml", []byte(`k = { "äöü" = "é", b = [7, 8] }`))
	require.Empty(t, problems)
	b := doc.sections[0].entries[0].value.fields[1]
	assert.Equal(t, Position{"x.toml", 1, 20}, b.at)
	assert.Equal(t, Position{"x.toml", 1, 25}, b.value.items[0].at)
}

func TestCheckWarnings(t *testing.T) {
	c, err := Read("x.toml", []byte(small))
	require.NoError(t, err)
	want := []string{
		`x.toml:13:1: warning: component "compressor": nothing is fastened to port 4 (unloader), it counts as plugged; a tube or hose from "compressor.4" is wanted`,
		`x.toml:21:1: warning: component "tank": nothing is fastened to port 12 (primary: from its check valve), it counts as plugged; a tube or hose from "tank.12" is wanted`,
		`x.toml:21:1: warning: component "tank": the supply compartment has no drain; fasten a drain valve to it`,
		`x.toml:21:1: warning: component "tank": the primary compartment has no drain; fasten a drain valve to it`,
		`x.toml:38:1: warning: component "drain": nothing is fastened to port 1 (reservoir), it counts as plugged; a tube or hose from "drain.1" is wanted`,
		`x.toml:45:1: warning: component "lamp": nothing is fastened to port e1 (from a switch); a wire from "lamp.e1" is wanted`,
	}
	all := Check(c).Error()
	for _, w := range want {
		assert.Contains(t, all, w)
	}
	assert.NoError(t, Check(c).Err(), "warnings are no errors")
}

func TestCheckSupply(t *testing.T) {
	for _, tt := range []struct {
		name string
		edit func(c *Circuit)
		want string
	}{
		{"check valve fitted the wrong way round", func(c *Circuit) {
			c.Line("primary_feed").To, c.Line("primary_fill").From = c.Line("primary_fill").From, c.Line("primary_feed").To
		}, `component "check_primary": nothing feeds its port 1; no air gets from a compressor to it`},
		{"drain unfastened", func(c *Circuit) {
			c.Lines = slices.DeleteFunc(c.Lines, func(l *Line) bool { return l.ID == "drain_primary_stub" })
		}, `component "tank": the primary compartment has no drain; fasten a drain valve to it`},
		{"relay cut off", func(c *Circuit) {
			c.Lines = slices.DeleteFunc(c.Lines, func(l *Line) bool { return l.ID == "relay_supply" || l.ID == "relay_control" })
		}, `component "rear_relay": nothing feeds its ports 21, 22; no air gets from a compressor to them`},
		{"chamber cut off", func(c *Circuit) {
			c.Lines = slices.DeleteFunc(c.Lines, func(l *Line) bool { return l.ID == "front_release_line" })
		}, `component "front_left_chamber": nothing feeds it; no air gets from a compressor to any of its ports`},
		{"part off the sheet", func(c *Circuit) { c.Component("buzzer").At = Point{999, 2} }, `component "buzzer": it lies off the sheet, at [999, 2]`},
		{"corner off the sheet", func(c *Circuit) { c.Line("relay_supply").Route = []Point{{1, 1}, {2, -2}} }, `line "relay_supply": a corner lies off the sheet, at [2, -2]`},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c := readGritter(t)
			require.Empty(t, Check(c), "nothing wrong before")
			tt.edit(c)
			assert.Contains(t, Check(c).Error(), tt.want)
			assert.NoError(t, Check(c).Err(), "only warnings")
		})
	}
}

// readGritter reads the library's truck, afresh for each test that edits it.
func readGritter(t testing.TB) *Circuit {
	t.Helper()
	text, err := os.ReadFile("../circuits/gritter.toml")
	require.NoError(t, err)
	c, err := Read("gritter.toml", text)
	require.NoError(t, err)
	return c
}

func TestCheckOfAnEditedCircuit(t *testing.T) {
	c, err := Read("x.toml", []byte(small))
	require.NoError(t, err)
	c.Component("tank").Given["supply_volume"] = MustQuantity("1 mL", Volume)
	c.Component("lamp").Kind = nil
	c.Lines = append(c.Lines, &Line{ID: "sensing", Type: Tube, From: PortRef{"tank", "24"}, To: PortRef{"nobody", "1"}})
	c.Components[2].ID = "regulator"
	var got []string
	for _, p := range Check(c).Errors() {
		got = append(got, p.Error())
	}
	assert.Equal(t, []string{
		`line "sensing": the id "sensing" is taken; it is first used at line 62; components and lines share one set of ids`,
		`line "sensing": "to" goes to nobody.1, and there is no component "nobody"; it can be "compressor", "tank", "regulator", "drain", "lamp"`,
		`x.toml:27:17: component "tank": "supply_volume" is too low: 1 mL; it goes from 2 L to 200 L`,
		`x.toml:45:1: component "lamp": it has no kind; ` + oneOf(kindNames()),
		`x.toml:66:6: line "sensing": "to" goes to governor.1, and there is no component "governor"; it can be "compressor", "tank", "regulator", "drain", "lamp"`,
	}, got)
	assert.NotPanics(t, func() { NewPlumbing(c); c.Reservoirs(); Write(c); c.Digest("lamp", "tank", "sensing") }, "even so")
}

func TestNoCompressor(t *testing.T) {
	i, j := strings.Index(small, "[[component]]"), strings.Index(small, "[[component]]\nid = \"tank\"")
	text := small[:i] + small[j:]
	text = strings.Replace(text, "from = \"compressor.2\"", "from = \"drain.1\"", 1)
	c, err := Read("x.toml", []byte(text))
	require.NoError(t, err)
	assert.Contains(t, Check(c).Error(), "x.toml:1:1: warning: no component draws air from the atmosphere, so nothing feeds this circuit; a compressor is wanted")
	assert.NotContains(t, Check(c).Error(), "nothing feeds it")
}

func TestSuggest(t *testing.T) {
	known := []string{"air-dryer", "relay-valve", "tee"}
	for given, want := range map[string]string{
		"air-drier": `did you mean "air-dryer"?`, "relayvalve": `did you mean "relay-valve"?`, "Air_Dryer": `did you mean "air-dryer"?`, "realy-valve": `did you mean "relay-valve"?`,
		"te": `did you mean "tee"?`, "muffler": `it can be "air-dryer", "relay-valve", "tee"`, strings.Repeat("x", 9999): `it can be "air-dryer", "relay-valve", "tee"`,
	} {
		assert.Equal(t, want, Suggest(given, known))
	}
	assert.Equal(t, "there are none here", Suggest("x", nil))
	assert.Equal(t, `it can only be "tee"`, Suggest("x", known[2:]))
}
