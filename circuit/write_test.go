package circuit

import (
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// bare is a circuit without the places and the file that it was read from, so that two can be compared.
func bare(c *Circuit) Circuit {
	b := *c
	b.source = nil
	b.Components, b.Lines = nil, nil
	for _, x := range c.Components {
		y := *x
		y.Source = Position{}
		b.Components = append(b.Components, &y)
	}
	for _, x := range c.Lines {
		y := *x
		y.Source = Position{}
		b.Lines = append(b.Lines, &y)
	}
	return b
}

func drawQuantity(t *rapid.T, d Dimension, low, high string) Quantity {
	a, b := MustQuantity(low, d).SI, MustQuantity(high, d).SI
	for range 20 {
		u := rapid.SampledFrom(units[d]).Draw(t, "unit")
		v := rapid.Float64Range((a-u.Offset)/u.Scale, (b-u.Offset)/u.Scale).Draw(t, "number")
		q, err := ParseQuantity(fmt.Sprintf("%.*g %s", rapid.IntRange(2, 17).Draw(t, "digits"), v, u.Name), d)
		if err != nil {
			continue
		}
		if what, _ := outOfBounds("", q, low, high); what == "" {
			return q
		}
	}
	return MustQuantity(low, d)
}

var words = rapid.StringOfN(rapid.RuneFrom([]rune("abc \"\\#'[]=\n\r\t äß€\u200b\x01\x7f")), 1, 12, -1)

// bound parameters must stay below or above another one; drawn circuits leave them at the kind's own value.
func bound(k *Kind, p ParamSpec) bool {
	return p.Below != "" || slices.ContainsFunc(k.Params, func(o ParamSpec) bool { return o.Below == p.Name })
}

// drawCircuit makes a circuit that can be read: parts of every kind, lines between ports that are free.
func drawCircuit(t *rapid.T) *Circuit {
	c := &Circuit{Name: "drawn", Title: words.Draw(t, "title"), Class: rapid.SampledFrom(Classes).Draw(t, "class"), Notes: rapid.OneOf(rapid.Just(""), words).Draw(t, "notes")}
	c.Engine = Engine{MustQuantity("700 rpm", Speed), MustQuantity(rapid.SampledFrom([]string{"2000 rpm", "1.9e3 rpm"}).Draw(t, "rated"), Speed)}
	at := func() Point {
		return Point{rapid.Float64Range(0, 200).Draw(t, "x"), float64(rapid.IntRange(0, 100).Draw(t, "y"))}
	}
	c.Sheet = Sheet{Width: 200, Height: 100}
	if rapid.Bool().Draw(t, "rails") {
		c.Sheet.Rails = [2]float64{40, 60.5}
	}
	for range rapid.IntRange(0, 2).Draw(t, "axles") {
		c.Sheet.Axles = append(c.Sheet.Axles, Axle{X: at().X, Y0: 1, Y1: 2, Name: words.Draw(t, "axle")})
	}
	if rapid.Bool().Draw(t, "vehicle") {
		c.Vehicle = Vehicle{Mass: drawQuantity(t, Mass, massMin, massMax), TyreRadius: drawQuantity(t, Length, tyreMin, tyreMax)}
		if rapid.Bool().Draw(t, "centre height") {
			c.Vehicle.CentreHeight = drawQuantity(t, Length, heightMin, heightMax)
		}
		for i := range rapid.IntRange(0, 3).Draw(t, "vehicle axles") {
			a := VehicleAxle{Name: words.Draw(t, "vehicle axle"), Role: rapid.SampledFrom(AxleRoles).Draw(t, "role"), Load: drawQuantity(t, Mass, massMin, massMax)}
			if i > 0 {
				a.Behind = NewQuantity(float64(i)*rapid.Float64Range(1.3, 1.4).Draw(t, "behind"), Length)
			}
			c.Vehicle.Axles = append(c.Vehicle.Axles, a)
		}
	}
	free := map[Medium][]PortRef{}
	for i := range rapid.IntRange(0, 6).Draw(t, "components") {
		k := rapid.SampledFrom(Kinds()).Draw(t, "kind")
		comp := &Component{ID: fmt.Sprintf("c%d", i), Kind: k, Name: words.Draw(t, "name"), Place: rapid.SampledFrom(Places).Draw(t, "place"), At: at(), Turn: rapid.IntRange(0, 3).Draw(t, "turn"),
			Note: rapid.OneOf(rapid.Just(""), words).Draw(t, "note"), Given: map[string]Quantity{}}
		for _, p := range k.Params {
			if p.Default == "" || !bound(k, p) && rapid.Bool().Draw(t, "given") {
				comp.Given[p.Name] = drawQuantity(t, p.Dimension, p.Min, p.Max)
			}
		}
		for _, p := range k.Ports {
			if !p.Vent {
				free[p.Medium] = append(free[p.Medium], PortRef{comp.ID, p.Name})
			}
		}
		c.Components = append(c.Components, comp)
	}
	for i := range rapid.IntRange(0, 6).Draw(t, "lines") {
		l := &Line{ID: fmt.Sprintf("l%d", i), Name: words.Draw(t, "line name"), Type: rapid.SampledFrom(lineTypes).Draw(t, "type")}
		ports := free[l.Type.Medium()]
		if len(ports) < 2 {
			continue
		}
		ports = rapid.Permutation(ports).Draw(t, "ports")
		l.From, l.To = ports[0], ports[1]
		free[l.Type.Medium()] = ports[2:]
		if l.Type.Medium() == Air {
			l.Length, l.Bore = drawQuantity(t, Length, lengthMin, lengthMax), drawQuantity(t, Length, boreMin, boreMax)
		}
		for range rapid.IntRange(0, 3).Draw(t, "corners") {
			l.Route = append(l.Route, at())
		}
		c.Lines = append(c.Lines, l)
	}
	return c
}

func TestWrittenCircuitsReadTheSame(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) { readsBack(t, drawCircuit(t), Write, Read, bare) })
}

// readsBack writes what a file tells and reads it again: it must be the same but for what bare takes off, and be written the same.
func readsBack[File, Bare any](t *rapid.T, it File, write func(File) []byte, read func(string, []byte) (File, error), bare func(File) Bare) File {
	text := write(it)
	again, err := read("drawn.toml", text)
	require.NoError(t, err, "%s", text)
	require.Equal(t, bare(it), bare(again), "%s", text)
	require.Equal(t, string(text), string(write(again)), "and is written the same")
	return again
}

func TestUnchangedFilesStayAsTheyAre(t *testing.T) {
	text, err := os.ReadFile("../circuits/gritter.toml")
	require.NoError(t, err)
	assert.Equal(t, string(text), string(Write(readGritter(t))))
	odd := strings.NewReplacer("id = \"lamp\"\n", "\n  # the lamp\n  \"id\"   =   'lamp' # odd but right\n", "at = [50, 20]", "at = [ # corners\n  5_0, # x\n  2e1 ]", "title = ", "title=").Replace(small) + "\n# the end"
	c, err := Read("x.toml", []byte(odd))
	require.NoError(t, err)
	assert.Equal(t, odd+"\n", string(Write(c)))
}

func TestEditsKeepCommentsAndUnits(t *testing.T) {
	text := strings.NewReplacer(
		"airpath = 1\n", "# My board.\nairpath = 1 # the version\n",
		"[[component]]\nid = \"drain\"", "# --- drains\n\n# The only one.\n[[component]] # a part\nid = \"drain\"",
		"supply_volume = \"10 L\"", "# measured\nsupply_volume   = \"10 L\"   # by hand",
		"bore = \"6 mm\"\n", "bore = \"6 mm\"\n\n# The end.\n",
	).Replace(small)
	read := func(t *testing.T) *Circuit {
		c, err := Read("x.toml", []byte(text))
		require.NoError(t, err)
		return c
	}
	for _, tt := range []struct {
		name     string
		edit     func(c *Circuit)
		old, new string // what becomes of the text
	}{
		{"a number", func(c *Circuit) { c.Component("tank").Given["supply_volume"] = MustQuantity("12 L", Volume) }, "supply_volume   = \"10 L\"   # by hand", "supply_volume   = \"12 L\"   # by hand"},
		{"a computed number", func(c *Circuit) {
			c.Component("tank").Given["supply_volume"] = Quantity{SI: 0.0125, Dimension: Volume, Text: "10 L"}
		}, "supply_volume   = \"10 L\"   # by hand", "supply_volume   = \"12.5 L\"   # by hand"},
		{"a place on the sheet", func(c *Circuit) { c.Component("drain").At = Point{41.5, 20} }, "at = [40, 20]", "at = [41.5, 20]"},
		{"a turn", func(c *Circuit) { c.Component("drain").Turn = 1 }, "at = [40, 20]\n", "at = [40, 20]\nturn = 1\n"},
		{"a new parameter", func(c *Circuit) { c.Component("tank").Given["wall_heat"] = MustQuantity("9 W/K", HeatConductance) }, "secondary_volume = \"10 L\"\n", "secondary_volume = \"10 L\"\nwall_heat = \"9 W/K\"\n"},
		{"a name", func(c *Circuit) { c.Component("lamp").Name = "the lamp" }, "name = \"lamp\"", "name = \"the lamp\""},
		{"an id", func(c *Circuit) { c.Component("drain").ID = "tap" }, "id = \"drain\"", "id = \"tap\""},
		{"a route", func(c *Circuit) { c.Line("discharge").Route = []Point{{20, 5}} }, "bore = \"12 mm\"\n", "bore = \"12 mm\"\nroute = [[20, 5]]\n"},
		{"notes", func(c *Circuit) { c.Notes = "Built for lessons.\nNever \"driven\"." }, "class = \"truck\"\n", "class = \"truck\"\nnotes = \"\"\"\nBuilt for lessons.\nNever \"driven\".\"\"\"\n"},
		{"an axle", func(c *Circuit) { c.Sheet.Axles = []Axle{{Name: "front", X: 3, Y0: 1, Y1: 9}} }, "size = [60, 40]\n", "size = [60, 40]\n\n[[sheet.axle]]\nname = \"front\"\nx = 3\ny = [1, 9]\n"},
		{"a part removed", func(c *Circuit) {
			c.Components = slices.DeleteFunc(c.Components, func(x *Component) bool { return x.ID == "drain" })
		}, "\n# The only one.\n[[component]] # a part\nid = \"drain\"\nkind = \"drain-valve\"\nname = \"drain\"\nplace = \"board\"\nat = [40, 20]\n", ""},
		{"the last line removed", func(c *Circuit) { c.Lines = c.Lines[:1] }, "\n[[line]]\nid = \"sensing\"\nname = \"sensing line\"\ntype = \"tube\"\nfrom = \"tank.23\"\nto = \"governor.1\"\nlength = \"1 m\"\nbore = \"6 mm\"\n", ""},
		{"a part added", func(c *Circuit) {
			k, _ := KindNamed("buzzer")
			c.Components = append(c.Components, &Component{ID: "buzzer", Kind: k, Name: "buzzer", Place: "cab", At: Point{1, 2}})
		}, "at = [50, 20]\n", "at = [50, 20]\n\n[[component]]\nid = \"buzzer\"\nkind = \"buzzer\"\nname = \"buzzer\"\nplace = \"cab\"\nat = [1, 2]\n"},
		{"a part added first", func(c *Circuit) {
			k, _ := KindNamed("buzzer")
			c.Components = slices.Insert(c.Components, 0, &Component{ID: "buzzer", Kind: k, Name: "buzzer", Place: "cab", At: Point{1, 2}})
		}, "size = [60, 40]\n", "size = [60, 40]\n\n[[component]]\nid = \"buzzer\"\nkind = \"buzzer\"\nname = \"buzzer\"\nplace = \"cab\"\nat = [1, 2]\n"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			require.Equal(t, 1, strings.Count(text, tt.old))
			c := read(t)
			tt.edit(c)
			assert.Equal(t, strings.Replace(text, tt.old, tt.new, 1), string(Write(c)))
		})
	}
	c := read(t)
	c.Components[3], c.Components[4] = c.Components[4], c.Components[3]
	got := string(Write(c))
	for _, comment := range []string{"# My board.", "# the version", "# --- drains", "# The only one.\n[[component]] # a part\nid = \"drain\"", "# measured", "# by hand", "# The end."} {
		assert.Contains(t, got, comment, "parts that change places keep their comments")
	}
	again, err := Read("x.toml", []byte(got))
	require.NoError(t, err)
	assert.Equal(t, bare(c), bare(again))
}

// Whatever is done to a circuit that was read, its file reads as what it was made, and no comment of what is left is lost.
func TestEditedFilesReadTheSame(t *testing.T) {
	text, err := os.ReadFile("../circuits/gritter.toml")
	require.NoError(t, err)
	rapid.Check(t, func(rt *rapid.T) {
		c, err := Read("gritter.toml", text)
		require.NoError(rt, err)
		comp := func() *Component { return rapid.SampledFrom(c.Components).Draw(rt, "component") }
		line := func() int { return rapid.IntRange(0, len(c.Lines)-1).Draw(rt, "line") }
		for i := range rapid.IntRange(1, 8).Draw(rt, "edits") {
			switch rapid.IntRange(0, 8).Draw(rt, "edit") {
			case 0:
				comp().At = Point{rapid.Float64Range(0, 100).Draw(rt, "x"), 7}
			case 1:
				comp().Name = words.Draw(rt, "name")
			case 2:
				comp().Turn = rapid.IntRange(0, 3).Draw(rt, "turn")
			case 3:
				j := line()
				c.Lines = slices.Delete(c.Lines, j, j+1)
			case 4:
				j, k := line(), line()
				c.Lines[j], c.Lines[k] = c.Lines[k], c.Lines[j]
			case 5:
				x := *comp()
				x.ID, x.Given = fmt.Sprintf("copy%d", i), maps.Clone(x.Given)
				c.Components = slices.Insert(c.Components, rapid.IntRange(0, len(c.Components)).Draw(rt, "where"), &x)
			case 6:
				x := comp()
				for _, p := range x.Kind.Params {
					if p.Default != "" && !bound(x.Kind, p) {
						x.Given[p.Name] = drawQuantity(rt, p.Dimension, p.Min, p.Max)
					}
				}
			case 7:
				x := c.Lines[line()]
				x.ID = fmt.Sprintf("renamed%d", i)
			case 8:
				c.Lines[line()].Route = []Point{{1, 2}}
			}
		}
		got := Write(c)
		again, err := Read("gritter.toml", got)
		require.NoError(rt, err)
		require.Equal(rt, bare(c), bare(again))
		for _, l := range strings.Split(string(text), "\n") {
			if strings.HasPrefix(l, "# ---") {
				require.Contains(rt, string(got), l)
			}
		}
	})
}

func TestSave(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "board.toml")
	require.NoError(t, Save(path, []byte("one")))
	require.NoError(t, os.Chmod(path, 0o600))
	link := filepath.Join(dir, "link.toml")
	require.NoError(t, os.Symlink(path, link))
	require.NoError(t, Save(link, []byte("two")))
	got, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, "two", string(got), "through the link")
	info, err := os.Lstat(link)
	require.NoError(t, err)
	assert.NotZero(t, info.Mode()&os.ModeSymlink, "which is still one")
	info, err = os.Stat(path)
	require.NoError(t, err)
	assert.Equal(t, os.FileMode(0o600), info.Mode().Perm(), "permissions are kept")

	assert.ErrorContains(t, Save(dir, []byte("x")), "it is not a file")
	assert.ErrorContains(t, Save(filepath.Join(dir, "no", "such", "folder.toml"), []byte("x")), "no such file")
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	assert.Len(t, entries, 2, "nothing is left lying about")
}
