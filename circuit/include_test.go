package circuit

import (
	"errors"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const halfFile = `airpath = 1
name = "half"
title = "One half"
class = "trailer"

[sheet]
size = [40, 40]

[[sheet.axle]]
name = "axle"
x = 20
y = [5, 35]

[[component]]
id = "hand"
kind = "gladhand"
name = "gladhand"
place = "trailer"
at = [5, 10]

[[component]]
id = "joint"
kind = "tee"
name = "tee"
place = "trailer"
at = [20, 10]

[[component]]
id = "first"
kind = "plug"
name = "first plug"
place = "trailer"
at = [30, 10]

[[component]]
id = "second"
kind = "plug"
name = "second plug"
place = "trailer"
at = [20, 20]

[[line]]
id = "pipe"
name = "pipe"
type = "tube"
from = "hand.1"
to = "joint.a"
length = "1 m"
bore = "9 mm"
route = [[12, 10]]

[[line]]
id = "first_pipe"
name = "first pipe"
type = "tube"
from = "joint.b"
to = "first.1"
length = "1 m"
bore = "9 mm"

[[line]]
id = "second_pipe"
name = "second pipe"
type = "tube"
from = "joint.c"
to = "second.1"
length = "1 m"
bore = "9 mm"
`

const wholeFile = `airpath = 1
name = "whole"
title = "Two halves"
class = "trailer"

# the left one
[[include]]
file = "half"
prefix = "left"
join = [["hand.1", "between.1"]]

[[include]]
file = "half"
prefix = "right"
at = [40, 2]   # beside it
join = [["hand.1", "between.2"]]

[sheet]
size = [80, 42]

[[component]]
id = "between"
kind = "check-valve"
name = "check between the halves"
place = "trailer"
at = [40, 30]
`

// files is a loader of texts by name.
func files(texts map[string]string) Loader {
	return func(file string) (string, []byte, error) {
		text, ok := texts[file]
		if !ok {
			return "", nil, errors.New("there is no file " + file)
		}
		return file + ".toml", []byte(text), nil
	}
}

func TestIncludeTakesOver(t *testing.T) {
	c, err := ReadIncluding("whole.toml", []byte(wholeFile), files(map[string]string{"half": halfFile}))
	require.NoError(t, err)
	var ids []string
	for _, p := range c.Components {
		ids = append(ids, p.ID)
		assert.Equal(t, p.ID != "between", p.Included, p.ID)
	}
	assert.Equal(t, []string{"left_joint", "left_first", "left_second", "right_joint", "right_first", "right_second", "between"}, ids, "what a join leaves out is left out")
	pipe := c.Line("right_pipe")
	require.NotNil(t, pipe)
	assert.Equal(t, PortRef{"between", "2"}, pipe.From)
	assert.Equal(t, PortRef{"right_joint", "a"}, pipe.To)
	assert.Equal(t, []Point{{52, 12}}, pipe.Route, "moved with its sheet")
	assert.Equal(t, Point{60, 12}, c.Component("right_joint").At)
	require.Len(t, c.Sheet.Axles, 2)
	assert.Equal(t, Axle{X: 60, Y0: 7, Y1: 37, Name: "axle", Included: true}, c.Sheet.Axles[1])
	assert.Equal(t, "half.toml", c.Component("left_joint").Source.File)
}

func TestWritingKeepsWhatIsIncludedOut(t *testing.T) {
	load := files(map[string]string{"half": halfFile})
	c, err := ReadIncluding("whole.toml", []byte(wholeFile), load)
	require.NoError(t, err)
	assert.Equal(t, wholeFile, string(Write(c)), "unchanged, letter by letter")

	c.Component("between").At = Point{38, 30}
	again, err := ReadIncluding("whole.toml", Write(c), load)
	require.NoError(t, err)
	assert.Equal(t, Point{38, 30}, again.Component("between").At)
	assert.Len(t, again.Components, len(c.Components))

	c.source = nil // as if it had never been a file
	again, err = ReadIncluding("whole.toml", Write(c), load)
	require.NoError(t, err)
	assert.Equal(t, c.Includes[1].Joins, again.Includes[1].Joins)
	assert.Len(t, again.Lines, len(c.Lines))
}

func TestIncludeSaysWhatIsWrong(t *testing.T) {
	for _, c := range []struct{ name, old, new, want string }{
		{"no such file", `file = "half"`, `file = "halve"`, `whole.toml:8:8: include 1: there is no file halve`},
		{"itself", `file = "half"`, `file = "whole"`, `whole.toml:8:8: include 1: whole.toml includes itself`},
		{"bad prefix", `prefix = "left"`, `prefix = "Left"`, `whole.toml:9:10: include 1: "Left" cannot be a prefix; ids are small letters, digits and _, and start with a letter, such as "left"`},
		{"same prefix", `prefix = "right"`, `prefix = "left"`, `half.toml:21:1: component "left_joint": the id "left_joint" is taken`},
		{"no pairs", `join = [["hand.1", "between.1"]]`, `join = ["hand.1", "between.1"]`, `whole.toml:10:8: include 1: "join" must be a list of pairs of ports; such as join = [["gladhand_supply.1", "couplings.11"]]`},
		{"unknown part", `join = [["hand.1", "between.1"]]`, `join = [["hands.1", "between.1"]]`, `whole.toml:8:8: include 1: half has no component "hands" to join; did you mean "hand"?`},
		{"to nowhere", `join = [["hand.1", "between.1"]]`, `join = [["hand.1", "betwixt.1"]]`, `there is no component "betwixt"`},
		{"unknown key", `prefix = "left"`, "prefix = \"left\"\nshift = 3", `whole.toml:10:1: include 1: unknown key "shift"`},
	} {
		t.Run(c.name, func(t *testing.T) {
			text := strings.Replace(wholeFile, c.old, c.new, 1)
			require.NotEqual(t, wholeFile, text)
			_, err := ReadIncluding("whole.toml", []byte(text), files(map[string]string{"half": halfFile, "whole": wholeFile}))
			require.Error(t, err)
			assert.Contains(t, err.Error(), c.want)
		})
	}
	_, err := Read("whole.toml", []byte(wholeFile))
	require.Error(t, err)
	assert.Contains(t, err.Error(), `another file can't be included here`)
	broken := strings.Replace(halfFile, `kind = "tee"`, `kind = "t"`, 1)
	_, err = ReadIncluding("whole.toml", []byte(wholeFile), files(map[string]string{"half": broken}))
	require.Error(t, err)
	assert.Contains(t, err.Error(), `half.toml:23:8`, "a problem in the included file is told with that file's name")
}
