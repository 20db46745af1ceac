package circuits_test

import (
	"bytes"
	"encoding/json"
	"flag"
	"os"
	"strings"
	"testing"

	"airpath/circuit"
	"airpath/circuits"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "write the generated parts of the guide and the schema anew")

//go:generate go test . -run Generated -update

// fill puts generated text between its marks.
func fill(t *testing.T, guide, mark, text string) string {
	t.Helper()
	start := "<!-- generated " + mark + " -->\n"
	before, rest, ok := strings.Cut(guide, start)
	require.True(t, ok, "the guide has the mark %q", mark)
	_, after, ok := strings.Cut(rest, "<!-- end -->")
	require.True(t, ok)
	return before + start + text + "<!-- end -->" + after
}

// The parts of the guide that tell of kinds and units come from the program, and so does the schema.
func TestGeneratedFilesAreFresh(t *testing.T) {
	guide, err := os.ReadFile("README.md")
	require.NoError(t, err)
	fresh := fill(t, string(guide), "quantities", circuit.QuantitiesGuide())
	fresh = fill(t, fresh, "kinds", circuit.KindsGuide())
	fresh = fill(t, fresh, "procedures", proceduresGuide(t))
	schema, caseSchema := circuit.Schema(), circuit.CaseSchema()
	if *update {
		require.NoError(t, os.WriteFile("README.md", []byte(fresh), 0o644))
		require.NoError(t, os.WriteFile("circuit.schema.json", schema, 0o644))
		require.NoError(t, os.WriteFile("case.schema.json", caseSchema, 0o644))
	}
	guide, err = os.ReadFile("README.md")
	require.NoError(t, err)
	assert.True(t, fresh == string(guide), "README.md is stale: run go generate ./circuits")
	have, err := os.ReadFile("circuit.schema.json")
	require.NoError(t, err)
	assert.True(t, bytes.Equal(have, schema), "circuit.schema.json is stale: run go generate ./circuits")
	assert.True(t, json.Valid(schema))
	have, err = os.ReadFile("case.schema.json")
	require.NoError(t, err)
	assert.True(t, bytes.Equal(have, caseSchema), "case.schema.json is stale: run go generate ./circuits")
}

// example cuts an example out of the guide.
func example(t *testing.T, what string) string {
	t.Helper()
	guide, err := os.ReadFile("README.md")
	require.NoError(t, err)
	_, rest, ok := strings.Cut(string(guide), "<!-- example "+what+" -->\n```toml\n")
	require.True(t, ok)
	text, _, ok := strings.Cut(rest, "```")
	require.True(t, ok)
	return text
}

func TestExamplesOfTheGuide(t *testing.T) {
	c, err := circuit.Read("README.md", []byte(example(t, "circuit")))
	require.NoError(t, err)
	assert.Empty(t, circuit.Check(c))
	assert.Equal(t, example(t, "circuit"), string(circuit.Write(c)))
	k, err := circuit.ReadCase("README.md", []byte(example(t, "case")))
	require.NoError(t, err)
	gritter, err := circuits.Load(k.Circuit)
	require.NoError(t, err)
	assert.Empty(t, circuit.CheckCase(k, gritter))
	assert.Len(t, k.Findings, 3)
	assert.Len(t, k.Repairs, 1)
	assert.Equal(t, example(t, "case"), string(circuit.WriteCase(k)))
}

// Every word of the format's lists stands in the guide.
func TestTheGuideTellsEverything(t *testing.T) {
	guide, err := os.ReadFile("README.md")
	require.NoError(t, err)
	for _, list := range [][]string{circuit.Places, circuit.Jurisdictions, circuit.Classes} {
		for _, word := range list {
			assert.Contains(t, string(guide), "`"+word+"`")
		}
	}
}
