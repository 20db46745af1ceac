package drill

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"
)

// kinds of files, by the key that leads them.
var kinds = map[string]string{
	"airpath_exercise": "an exercise",
	"airpath_key":      "an instructor's key",
	"airpath_work":     "a trainee's work",
}

// Kind tells by which key a file is led: "airpath_exercise", "airpath_key" or "airpath_work"; "" for another file.
func Kind(text []byte) string {
	d := json.NewDecoder(bytes.NewReader(text))
	for i := range 2 {
		t, err := d.Token()
		if err != nil {
			return ""
		}
		if word, ok := t.(string); i == 1 && ok {
			if _, known := kinds[word]; known {
				return word
			}
		}
	}
	return ""
}

// read a file strictly into v: of the kind wanted, of this version, without an unknown key, with nothing after it.
func read(name string, text []byte, want string, v any) error {
	if kind := Kind(text); kind != "" && kind != want {
		return fmt.Errorf("%s: this is %s, and %s is wanted", name, kinds[kind], kinds[want])
	}
	d := json.NewDecoder(bytes.NewReader(text))
	d.DisallowUnknownFields()
	if err := d.Decode(v); err != nil {
		return fmt.Errorf("%s: %w", at(name, text, d, err), plainly(err, want))
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return fmt.Errorf("%s: something follows the end; a file holds %s and nothing else", position(name, text, d.InputOffset()), kinds[want])
	}
	var lead map[string]json.RawMessage
	if err := json.Unmarshal(text, &lead); err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	raw, ok := lead[want]
	if !ok {
		return fmt.Errorf("%s: no %q leads the file, so this is not %s", name, want, kinds[want])
	}
	var is int
	if err := json.Unmarshal(raw, &is); err != nil || is != version {
		return fmt.Errorf("%s: %s is %s; this program reads version %d", name, want, raw, version)
	}
	return nil
}

// at is where an error of the decoder is.
func at(name string, text []byte, d *json.Decoder, err error) string {
	var syntax *json.SyntaxError
	var kind *json.UnmarshalTypeError
	switch {
	case errors.As(err, &syntax):
		return position(name, text, max(0, syntax.Offset-1)) // it counts the character that is wrong
	case errors.As(err, &kind):
		return position(name, text, kind.Offset)
	}
	offset := d.InputOffset()
	if _, key, found := strings.Cut(err.Error(), "unknown field "); found { // the decoder has read on by the time it says so
		if i := bytes.LastIndex(text[:min(int(offset), len(text))], []byte(key)); i >= 0 {
			offset = int64(i)
		}
	}
	return position(name, text, offset)
}

func position(name string, text []byte, offset int64) string {
	before := text[:min(int(offset), len(text))]
	line := bytes.Count(before, []byte{'\n'}) + 1
	column := len(before) - bytes.LastIndexByte(before, '\n')
	return fmt.Sprintf("%s:%d:%d", name, line, column)
}

// plainly puts an error of the decoder in a user's words.
func plainly(err error, want string) error {
	var kind *json.UnmarshalTypeError
	switch {
	case errors.Is(err, io.EOF), errors.Is(err, io.ErrUnexpectedEOF):
		return fmt.Errorf("the file ends too early for %s", kinds[want])
	case errors.As(err, &kind):
		return fmt.Errorf("%q is a %s here; want a %s", kind.Field, kind.Value, kind.Type)
	}
	return errors.New(strings.TrimPrefix(strings.Replace(err.Error(), "unknown field", "unknown key", 1), "json: "))
}
