package circuit

import "strings"

// CaseSchema is the JSON Schema (draft 7) of case files. It says what a file may hold; whether it fits a circuit only
// [CheckCase] can say, and which procedures and readings there are, those who know them.
func CaseSchema() []byte {
	id := object{"type": "string", "pattern": idPattern}
	text := object{"type": "string", "minLength": 1}
	free := func(about string) object { return object{"type": "string", "description": about} }
	day := object{"type": "string", "pattern": "^([0-9]{4}-[0-9]{2}-[0-9]{2})?$", "description": "year, month and day: 2026-01-14"}
	controls := object{}
	for _, w := range stateWords {
		controls[w.key] = object{"enum": w.words}
	}
	finding := object{
		"type": "object", "required": []string{"procedure", "reading", "result"}, "additionalProperties": false,
		"properties": object{
			"id":         id,
			"after":      object{"type": "string", "description": "id of the repair that it was taken after; none for the vehicle as it came in"},
			"procedure":  text,
			"reading":    text,
			"place":      object{"type": "string", "pattern": "^(" + strings.Trim(idPattern, "^$") + "(\\.[^.]+)?)?$", "description": "a component or line, or a port of one"},
			"state":      object{"type": "object", "properties": controls, "additionalProperties": false},
			"result":     object{"type": "string", "minLength": 1, "description": "a number with its unit, a range, or one of the words " + strings.Join(resultNames(), ", ")},
			"instrument": free("what it was read with"),
			"note":       object{"type": "string"},
		},
	}
	repair := object{
		"type": "object", "required": []string{"part", "done"}, "additionalProperties": false,
		"properties": object{
			"id":         id,
			"part":       object{"type": "string", "pattern": idPattern, "description": "the component or line that was mended or renewed"},
			"mode":       free("the fault that was mended, in the catalogue's words"),
			"done":       object{"type": "string", "minLength": 1, "description": "what was done"},
			"date":       day,
			"technician": free("who did it, where it is not the case's own"),
			"recheck":    object{"type": "array", "items": text, "description": "procedures to do again before the vehicle leaves"},
			"note":       object{"type": "string"},
		},
	}
	log := object{
		"type": "object", "required": []string{"file", "procedure"}, "additionalProperties": false,
		"properties": object{
			"id":        id,
			"file":      object{"type": "string", "minLength": 1, "description": "a CSV file of time and pressures, from where the case is"},
			"procedure": object{"type": "string", "minLength": 1, "description": "what was done while it was recorded"},
			"start":     free("when the first step was begun, in the log's own time, such as 12 s"),
			"columns":   object{"type": "array", "items": text, "description": "the gauges of the pressure columns, in order; - for none"},
			"note":      object{"type": "string"},
		},
	}
	return encodeSchema(object{
		"$schema":     "http://json-schema.org/draft-07/schema#",
		"title":       "Airpath case",
		"description": "What was found on one vehicle, what was done about it, and what was found then.",
		"type":        "object",
		"properties": object{
			"airpath_case": object{"const": CaseVersion, "description": "version of the format; the first key of the file"},
			"circuit":      object{"type": "string", "minLength": 1, "description": "a vehicle of the library, or the path of a circuit file"},
			"title":        text,
			"digest":       free("written by the program"),
			"vehicle":      free("which one it is: fleet number, plate"),
			"mileage":      free("as read, with its unit"),
			"technician":   free("who did the work"),
			"date":         day,
			"ambient":      free("how cold it was where the trouble showed, with its unit, such as -8 C"),
			"complaint":    free("in the words of whoever drives it"),
			"reported":     free("id of the finding that the vehicle came in for"),
			"jurisdiction": object{"enum": append([]string{""}, Jurisdictions...)},
			"finding":      object{"type": "array", "items": finding},
			"log":          object{"type": "array", "items": log, "description": "recorded curves"},
			"repair":       object{"type": "array", "items": repair, "description": "in the order of time"},
		},
		"required":             []string{"airpath_case", "circuit", "title"},
		"additionalProperties": false,
	})
}
