package ui

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"airpath/circuit/airflow"
	"airpath/ui/engine"
	"airpath/ui/flow"
)

// A Moment is what has been done to the vehicle in Flow when a picture is taken: words with commas between them. A number of
// seconds lets them go by ("12"); "control=value" moves a control ("foot_valve.pedal=0.6"; bare names move all of that
// name, "engine" is in turns a second); "fault:part/mode=severity" puts a fault in; "empty" begins without air; "play"
// leaves time running; "look:part" looks at a part or line, "page:Walks" turns to a page, "walk:2" begins the second walk.
type Moment string

// Check says what in the words can't be understood.
func (m Moment) Check() error {
	for _, word := range m.words() {
		if _, err := deedOf(word); err != nil {
			return err
		}
	}
	return nil
}

func (m Moment) words() []string {
	var out []string
	for _, w := range strings.Split(string(m), ",") {
		if w = strings.TrimSpace(w); w != "" {
			out = append(out, w)
		}
	}
	return out
}

// Deed carries it out. What the vehicle lacks shows as its trouble.
func (m Moment) Deed(w *engine.Worked) {
	for _, word := range m.words() {
		if do, err := deedOf(word); err == nil {
			do(w)
		}
	}
}

// Show does what is done to the window and not to the vehicle.
func (m Moment) Show(a *flow.Area) {
	for _, word := range m.words() {
		if id, ok := strings.CutPrefix(word, "look:"); ok {
			a.Look(id)
		}
		if page, ok := strings.CutPrefix(word, "page:"); ok {
			a.Show(page)
		}
		if text, ok := strings.CutPrefix(word, "walk:"); ok {
			if n, err := strconv.Atoi(text); err == nil {
				a.TakeWalk(n)
			}
		}
		switch word {
		case "do":
			a.DoStep()
		case "next":
			a.NextStep(1)
		}
	}
}

func deedOf(word string) (func(*engine.Worked), error) {
	for _, prefix := range []string{"look:", "page:", "walk:"} {
		if strings.HasPrefix(word, prefix) {
			return func(*engine.Worked) {}, nil
		}
	}
	if s, err := strconv.ParseFloat(word, 64); err == nil && s >= 0 && s <= 36000 {
		return func(w *engine.Worked) { w.Advance(s, time.Time{}) }, nil
	}
	switch word {
	case "empty":
		return func(w *engine.Worked) { w.Begin(false) }, nil
	case "play":
		return func(w *engine.Worked) { w.Play(true) }, nil
	case "do", "next":
		return func(*engine.Worked) {}, nil
	}
	if text, ok := strings.CutPrefix(word, "fault:"); ok {
		return func(w *engine.Worked) {
			if f, err := airflow.ParseFault(w.Circuit(), text); err == nil {
				w.SetFaults([]airflow.Fault{f}, text)
			}
		}, nil
	}
	if name, text, ok := strings.Cut(word, "="); ok {
		if v, err := strconv.ParseFloat(text, 64); err == nil {
			return func(w *engine.Worked) { w.Set(strings.TrimSpace(name), v, 0.1, time.Time{}, word) }, nil
		}
	}
	return nil, fmt.Errorf("moment %q: want seconds such as 12, control=value, fault:part/mode=severity, empty or play", word)
}
