package circuit

import (
	"bytes"
	"encoding/json"
	"regexp"
	"strings"
)

// object is a JSON object; it is written with its keys sorted, so that the schema's text never changes by chance.
type object = map[string]any

// Schema is the JSON Schema (draft 7) of circuit files, made from the kinds. It says what a file may hold; whether its
// wiring makes sense only [Read] and [Check] can say.
func Schema() []byte {
	point := object{"type": "array", "items": object{"type": "number", "minimum": 0, "maximum": sheetMax}, "minItems": 2, "maxItems": 2}
	id := object{"type": "string", "pattern": idPattern, "not": object{"const": Atmosphere}}
	text := object{"type": "string", "minLength": 1}
	var components []any
	for _, k := range Kinds() {
		components = append(components, componentSchema(k, id, point))
	}
	schema := object{
		"$schema":     "http://json-schema.org/draft-07/schema#",
		"title":       "Airpath circuit",
		"description": "One vehicle's compressed-air system: components, and the lines between them.",
		"type":        "object",
		"properties": object{
			"airpath": object{"const": FormatVersion, "description": "version of the format; the first key of the file"},
			"name":    id,
			"title":   text,
			"class":   object{"enum": Classes},
			"notes":   object{"type": "string"},
			"include": object{"type": "array", "items": includeSchema(id, point)},
			"engine": object{
				"type": "object", "properties": object{"idle": quantitySchema(Speed, ""), "rated": quantitySchema(Speed, "")},
				"required": []string{"idle", "rated"}, "additionalProperties": false,
			},
			"vehicle": vehicleSchema(id, text),
			"sheet": object{
				"type": "object", "required": []string{"size"}, "additionalProperties": false,
				"properties": object{
					"size":  object{"type": "array", "items": object{"type": "number", "minimum": sheetMin, "maximum": sheetMax}, "minItems": 2, "maxItems": 2},
					"rails": point,
					"axle": object{"type": "array", "items": object{
						"type": "object", "required": []string{"name", "x", "y"}, "additionalProperties": false,
						"properties": object{"name": text, "x": object{"type": "number", "minimum": 0, "maximum": sheetMax}, "y": point},
					}},
				},
			},
			"component": object{"type": "array", "items": object{"oneOf": components}},
			"line":      object{"type": "array", "items": object{"oneOf": []any{lineSchema(Air, id, point), lineSchema(Motion, id, point), lineSchema(Current, id, point)}}},
		},
		"required":             []string{"airpath", "name", "title", "class", "sheet"},
		"additionalProperties": false,
		// A trailer has no engine of its own.
		"if":   object{"properties": object{"class": object{"enum": []string{"truck", "bus"}}}},
		"then": object{"required": []string{"engine"}},
	}
	return encodeSchema(schema)
}

func encodeSchema(schema object) []byte {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(schema); err != nil {
		panic("circuit: " + err.Error()) // nothing in it that JSON can't hold
	}
	return b.Bytes()
}

func includeSchema(id, point object) object {
	port := object{"type": "string", "pattern": portPattern}
	return object{
		"type": "object", "required": []string{"file", "prefix"}, "additionalProperties": false,
		"properties": object{
			"file":   object{"type": "string", "minLength": 1, "description": "a vehicle of the library by name, or a file by its path from this one's folder"},
			"prefix": id,
			"at":     point,
			"join": object{
				"type": "array", "description": "ports of parts that are left out, each with the port of this file that takes its line",
				"items": object{"type": "array", "items": port, "minItems": 2, "maxItems": 2},
			},
		},
	}
}

const idPattern = "^[a-z][a-z0-9_]{0,63}$"

const portPattern = "^[a-z][a-z0-9_]{0,63}\\.[a-z0-9]+$"

func componentSchema(k *Kind, id, point object) object {
	properties := object{
		"id": id, "kind": object{"const": k.Name}, "name": object{"type": "string", "minLength": 1}, "place": object{"enum": Places},
		"at": point, "turn": object{"enum": []int{0, 1, 2, 3}, "description": "clockwise quarter turns of the drawing"}, "note": object{"type": "string"},
	}
	required := []string{"id", "kind", "name", "place", "at"}
	for _, p := range k.Params {
		properties[p.Name] = quantitySchema(p.Dimension, p.Describe())
		if p.Default == "" {
			required = append(required, p.Name)
		}
	}
	return object{"title": k.Title, "description": k.About, "type": "object", "properties": properties, "required": required, "additionalProperties": false}
}

// Describe says in one line what a parameter is, its bounds, and its value where a file gives none.
func (p ParamSpec) Describe() string {
	s := p.About + ", from " + p.Min + " to " + p.Max
	if p.Below != "" {
		s += ", below " + p.Below
	}
	if p.Default != "" {
		s += "; " + p.Default + " where not given"
	}
	return s
}

func lineSchema(m Medium, id, point object) object {
	port := object{"type": "string", "pattern": portPattern}
	var types []string
	for _, t := range lineTypes {
		if t.Medium() == m {
			types = append(types, string(t))
		}
	}
	properties := object{
		"id": id, "name": object{"type": "string", "minLength": 1}, "type": object{"enum": types}, "from": port, "to": port,
		"route": object{"type": "array", "items": point, "description": "corners between the two ports, in order"},
	}
	required := []string{"id", "name", "type", "from", "to"}
	if m == Air {
		properties["length"] = quantitySchema(Length, "from "+lengthMin+" to "+lengthMax)
		properties["bore"] = quantitySchema(Length, "inner diameter, from "+boreMin+" to "+boreMax)
		required = append(required, "length", "bore")
	}
	return object{"type": "object", "properties": properties, "required": required, "additionalProperties": false}
}

func quantitySchema(d Dimension, about string) object {
	var names []string
	bare := false
	for _, u := range units[d] {
		if u.Name == "" {
			bare = true
		} else {
			names = append(names, regexp.QuoteMeta(u.Name))
		}
	}
	unit := "(" + strings.Join(names, "|") + ")"
	switch {
	case len(names) == 0:
		unit = ""
	case bare:
		unit += "?"
	}
	s := object{"type": "string", "pattern": `^\s*[+-]?([0-9]+\.?[0-9]*|\.[0-9]+)([eE][+-]?[0-9]+)?\s*` + unit + `\s*$`}
	if about != "" {
		s["description"] = about
	}
	return s
}
