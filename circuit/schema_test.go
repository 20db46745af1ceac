package circuit

import (
	"encoding/json"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/pelletier/go-toml/v2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// conforms is as much of JSON Schema (draft 7) as our schema uses; an unknown keyword fails, so that none goes untested.
func conforms(schema object, v any) error {
	for _, keyword := range sortedKeys(schema) {
		if err := conformsTo(keyword, schema[keyword], schema, v); err != nil {
			return err
		}
	}
	return nil
}

func sortedKeys(o object) []string {
	var keys []string
	for k := range o {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}

func conformsTo(keyword string, want any, schema object, v any) error {
	fail := func() error { return fmt.Errorf("%v breaks %s %v", v, keyword, want) }
	asObject, isObject := v.(object)
	asList, isList := v.([]any)
	asText, isText := v.(string)
	asNumber, isNumber := v.(float64)
	switch keyword {
	case "$schema", "title", "description", "then":
	case "type":
		is := map[string]bool{"object": isObject, "array": isList, "string": isText, "number": isNumber}
		if !is[want.(string)] {
			return fail()
		}
	case "const":
		if v != want {
			return fail()
		}
	case "enum":
		if !slices.Contains(want.([]any), v) {
			return fail()
		}
	case "pattern":
		if isText && !regexp.MustCompile(want.(string)).MatchString(asText) {
			return fail()
		}
	case "minLength":
		if isText && len(asText) < int(want.(float64)) {
			return fail()
		}
	case "minimum":
		if isNumber && asNumber < want.(float64) {
			return fail()
		}
	case "maximum":
		if isNumber && asNumber > want.(float64) {
			return fail()
		}
	case "minItems":
		if isList && len(asList) < int(want.(float64)) {
			return fail()
		}
	case "maxItems":
		if isList && len(asList) > int(want.(float64)) {
			return fail()
		}
	case "items":
		for _, item := range asList {
			if err := conforms(want.(object), item); err != nil {
				return err
			}
		}
	case "required":
		for _, key := range want.([]any) {
			if _, ok := asObject[key.(string)]; isObject && !ok {
				return fail()
			}
		}
	case "properties":
		for _, key := range sortedKeys(want.(object)) {
			if p, ok := asObject[key]; ok {
				if err := conforms(want.(object)[key].(object), p); err != nil {
					return fmt.Errorf("%s: %w", key, err)
				}
			}
		}
	case "additionalProperties":
		for _, key := range sortedKeys(asObject) {
			if _, ok := schema["properties"].(object)[key]; !ok {
				return fmt.Errorf("unknown %q", key)
			}
		}
	case "not":
		if conforms(want.(object), v) == nil {
			return fail()
		}
	case "if":
		if conforms(want.(object), v) == nil {
			return conforms(schema["then"].(object), v)
		}
	case "oneOf":
		var fit int
		for _, s := range want.([]any) {
			if conforms(s.(object), v) == nil {
				fit++
			}
		}
		if fit != 1 {
			return fmt.Errorf("%v fits %d of %d", v, fit, len(want.([]any)))
		}
	default:
		return fmt.Errorf("the schema uses %q, which this test does not know", keyword)
	}
	return nil
}

func parsedSchema(t testing.TB) object {
	t.Helper()
	var schema object
	require.NoError(t, json.Unmarshal(Schema(), &schema))
	return schema
}

// asJSON is a TOML text as the values that JSON would have.
func asJSON(t require.TestingT, text []byte) any {
	var m object
	require.NoError(t, toml.Unmarshal(text, &m))
	j, err := json.Marshal(m)
	require.NoError(t, err)
	var v any
	require.NoError(t, json.Unmarshal(j, &v))
	return v
}

func TestCircuitsFitTheSchema(t *testing.T) {
	schema := parsedSchema(t)
	require.NoError(t, conforms(schema, asJSON(t, Write(readGritter(t)))))
	require.NoError(t, conforms(schema, asJSON(t, []byte(small))))
	rapid.Check(t, func(t *rapid.T) {
		text := Write(drawCircuit(t))
		require.NoError(t, conforms(schema, asJSON(t, text)), "%s", text)
	})
}

func TestTheSchemaRefusesWhatTheReaderRefuses(t *testing.T) {
	schema := parsedSchema(t)
	for _, swap := range [][2]string{
		{"airpath = 1", "airpath = 2"}, {`"truck"`, `"lorry"`}, {"[engine]\nidle = \"700 rpm\"\nrated = \"2000 rpm\"\n", ""}, {`"700 rpm"`, "700"}, {`"700 rpm"`, `"12 Hz"`},
		{"[60, 40]", "[60]"}, {"[60, 40]", "[60, 1]"}, {`kind = "governor"`, `kind = "governer"`}, {`id = "lamp"`, `id = "Lamp"`}, {`id = "lamp"`, `id = "atmosphere"`},
		{"displacement = \"200 mL\"\n", ""}, {`"200 mL"`, `"200 mm"`}, {`displacement = "200 mL"`, "displacement = \"200 mL\"\narea = \"30 in2\""}, {"at = [50, 20]\n", "at = [50, 20]\nturn = 4\n"},
		{`"tank.23"`, `"tank"`}, {"bore = \"6 mm\"\n", ""}, {"bore = \"6 mm\"\n", "bore = \"6 mm\"\nroute = [22, 45]\n"}, {`class = "truck"`, "class = \"truck\"\nnots = \"\""},
	} {
		require.Equal(t, 1, strings.Count(small, swap[0]), swap[0])
		text := strings.Replace(small, swap[0], swap[1], 1)
		_, err := Read("x.toml", []byte(text))
		assert.Error(t, err, swap[1])
		assert.Error(t, conforms(schema, asJSON(t, []byte(text))), swap[1])
	}
}

// A quantity that the reader takes fits the schema's pattern, and one with a unit of no dimension fits neither.
func TestQuantityPatterns(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.SampledFrom(Dimensions()).Draw(t, "dimension")
		text := rapid.OneOf(
			rapid.StringMatching(`\s{0,2}[+-]?[0-9]{0,3}\.?[0-9]{0,2}([eE][+-]?[0-9])?\s{0,2}(psi|bar|mm|in|L|%|rpm|s|min)?\s?`),
			rapid.Custom(func(t *rapid.T) string {
				return fmt.Sprintf("%d %s", rapid.IntRange(0, 9).Draw(t, "n"), rapid.SampledFrom(units[d]).Draw(t, "u").Name)
			}),
		).Draw(t, "text")
		fits := regexp.MustCompile(quantitySchema(d, "")["pattern"].(string)).MatchString(text)
		_, err := ParseQuantity(text, d)
		if err == nil {
			assert.True(t, fits, "%q is a %s", text, d)
		} else if fits {
			// The pattern knows no bounds: it may let through what is less than nothing.
			assert.True(t, strings.Contains(text, "-"), "%q is no %s: %v", text, d, err)
		}
	})
}
