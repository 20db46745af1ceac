package walk

import (
	"bytes"
	"embed"
	"errors"
	"fmt"
	"slices"
	"sort"
	"strings"

	"github.com/pelletier/go-toml/v2"

	"airpath/circuit"
)

// A Walk as it is written.
type Walk struct {
	ID    string
	Title string
	About string
	Empty bool // it begins without air; otherwise charged, engine idling
	Steps []Step
}

// A Step of a walk.
type Step struct {
	Title  string
	Text   string   // what happens and why, in plain words
	Do     []string // deeds, see deed.go
	Look   []string // parts to be lit: kinds, or "reservoir 1", "gauge 2"
	Wait   float64  // s of the vehicle that go by before anything is expected
	Within float64  // s after which all of it must be so
	Pace   float64  // proposed for time to run at
	Expect []string // claims, see claim.go
}

// Largest is the size of a file that is read.
const Largest = 1 << 16

// Version leads every file: airpath_walk = 1.
const Version = 1

// written is the form of the file.
type written struct {
	Version int    `toml:"airpath_walk"`
	ID      string `toml:"id"`
	Title   string `toml:"title"`
	About   string `toml:"about"`
	Begin   string `toml:"begin"`
	Step    []struct {
		Title  string   `toml:"title"`
		Text   string   `toml:"text"`
		Do     []string `toml:"do"`
		Look   []string `toml:"look"`
		Wait   string   `toml:"wait"`
		Within string   `toml:"within"`
		Pace   float64  `toml:"pace"`
		Expect []string `toml:"expect"`
	} `toml:"step"`
}

// Read takes a walk's file apart. The error lists everything found, each with file, line and column.
func Read(file string, text []byte) (*Walk, error) {
	if len(text) > Largest {
		return nil, circuit.Problems{{Position: circuit.Position{File: file, Line: 1, Column: 1}, What: fmt.Sprintf("the file is too large: %d bytes", len(text)), Right: fmt.Sprintf("at most %d are read", Largest)}}
	}
	var w written
	d := toml.NewDecoder(bytes.NewReader(text)).DisallowUnknownFields()
	if err := d.Decode(&w); err != nil {
		return nil, problemsOf(file, err)
	}
	r := reader{file: file, text: string(text)}
	out := &Walk{ID: w.ID, Title: w.Title, About: w.About, Empty: w.Begin == "empty"}
	r.want(w.Version == Version, 0, "airpath_walk", "the file must begin with its version", fmt.Sprintf("airpath_walk = %d", Version))
	r.want(w.ID != "" && !strings.ContainsAny(w.ID, " \t/"), 0, "id", "a walk needs an id of one word", `id = "charging"`)
	r.want(w.Title != "", 0, "title", "a walk needs a title", `title = "Charging"`)
	r.want(w.Begin == "empty" || w.Begin == "charged", 0, "begin", "begin says how the vehicle is at first", `begin = "empty" or begin = "charged"`)
	r.want(len(w.Step) > 0, 0, "airpath_walk", "a walk needs at least one [[step]]", "")
	for i, s := range w.Step {
		n := i + 1
		step := Step{Title: s.Title, Text: s.Text, Do: s.Do, Look: s.Look, Pace: s.Pace, Expect: s.Expect}
		r.want(s.Title != "", n, "title", "a step needs a title", "")
		r.want(s.Text != "", n, "text", "a step needs a text", "")
		r.want(s.Pace >= 0 && s.Pace <= 60, n, "pace", "a pace is from 0.1 to 60", "pace = 10")
		step.Wait = r.seconds(n, "wait", s.Wait)
		step.Within = r.seconds(n, "within", s.Within)
		r.want(len(s.Expect) == 0 || step.Within >= step.Wait && step.Within > 0, n, "within", "what is expected needs a time in which it comes about", `within = "60 s"`)
		for _, text := range s.Do {
			r.check(n, text, func() error { _, err := parseDeed(text); return err })
		}
		for _, text := range s.Look {
			r.check(n, text, func() error { _, err := parseSubject(text); return err })
		}
		for _, text := range s.Expect {
			r.check(n, text, func() error { _, err := parseClaim(text); return err })
		}
		out.Steps = append(out.Steps, step)
	}
	if len(r.problems) > 0 {
		return nil, r.problems
	}
	return out, nil
}

// problemsOf what the TOML reader said.
func problemsOf(file string, err error) circuit.Problems {
	var out circuit.Problems
	var strict *toml.StrictMissingError
	var broken *toml.DecodeError
	switch {
	case errors.As(err, &strict):
		for i := range strict.Errors {
			line, column := strict.Errors[i].Position()
			out = append(out, circuit.Problem{Position: circuit.Position{File: file, Line: line, Column: column},
				What: fmt.Sprintf("no key %q here", strings.Join(strict.Errors[i].Key(), ".")), Right: "airpath_walk, id, title, about, begin; in a [[step]] title, text, do, look, wait, within, pace, expect"})
		}
	case errors.As(err, &broken):
		line, column := broken.Position()
		out = append(out, circuit.Problem{Position: circuit.Position{File: file, Line: line, Column: column}, What: broken.Error()})
	default:
		out = append(out, circuit.Problem{Position: circuit.Position{File: file, Line: 1, Column: 1}, What: err.Error()})
	}
	return out
}

// reader finds the places of what is wrong.
type reader struct {
	file     string
	text     string
	problems circuit.Problems
}

// section is where a step's text lies in the file; step 0 is the head.
func (r *reader) section(step int) (from, to int) {
	for n := 0; ; n++ {
		next := strings.Index(r.text[from+min(n, 1):], "[[step]]")
		if next < 0 {
			return from, len(r.text)
		}
		next += from + min(n, 1)
		if n == step {
			return from, next
		}
		from = next
	}
}

func (r *reader) at(step int, what string) circuit.Position {
	from, to := r.section(step)
	i := strings.Index(r.text[from:to], what)
	if i < 0 {
		i = 0
	}
	i += from
	line := 1 + strings.Count(r.text[:i], "\n")
	return circuit.Position{File: r.file, Line: line, Column: i - strings.LastIndexByte(r.text[:i], '\n')}
}

func (r *reader) want(ok bool, step int, key, what, right string) {
	if !ok {
		r.problems = append(r.problems, circuit.Problem{Position: r.at(step, key), What: what, Right: right})
	}
}

func (r *reader) check(step int, text string, parse func() error) {
	if err := parse(); err != nil {
		r.problems = append(r.problems, circuit.Problem{Position: r.at(step, text), What: err.Error()})
	}
}

func (r *reader) seconds(step int, key, text string) float64 {
	if text == "" {
		return 0
	}
	q, err := circuit.ParseQuantity(text, circuit.Time)
	if err != nil || !(q.SI >= 0 && q.SI <= 7200) {
		r.want(false, step, key, fmt.Sprintf("%q is no time from 0 to 2 h", text), key+` = "60 s"`)
		return 0
	}
	return q.SI
}

//go:embed walks/*.toml
var files embed.FS

// All walks that come with the program, in the order in which they are best taken.
func All() ([]*Walk, error) {
	entries, err := files.ReadDir("walks")
	if err != nil {
		return nil, err
	}
	names := make([]string, 0, len(entries))
	for _, e := range entries {
		names = append(names, e.Name())
	}
	sort.Strings(names)
	var out []*Walk
	for _, name := range names {
		text, err := files.ReadFile("walks/" + name)
		if err != nil {
			return nil, err
		}
		w, err := Read(name, text)
		if err != nil {
			return nil, err
		}
		if slices.ContainsFunc(out, func(o *Walk) bool { return o.ID == w.ID }) {
			return nil, fmt.Errorf("%s: there are two walks %q", name, w.ID)
		}
		out = append(out, w)
	}
	return out, nil
}
