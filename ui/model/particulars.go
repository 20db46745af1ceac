package model

import (
	"fmt"
	"regexp"
	"strings"
	"time"

	"airpath/circuit"
)

// Particulars say which vehicle a case is about, who works on it, when, and how cold it was. Each may be empty.
type Particulars struct {
	Vehicle, Mileage, Technician string

	Date    string // "2026-01-14"
	Ambient string // where the trouble showed, with its unit: "-8 C"
}

// Particulars as the case has them.
func (s *Session) Particulars() Particulars {
	cs := s.Case()
	return Particulars{Vehicle: cs.Vehicle, Mileage: cs.Mileage, Technician: cs.Technician, Date: cs.Date, Ambient: cs.Ambient}
}

var ambientText = regexp.MustCompile(`^([-+]?[0-9]+(?:[.,][0-9]+)?) *°? *([cCfFkK]?)$`)

// ReadAmbient understands how cold it was as people write it: "-8", "−8 °C", "18F". A bare number is in the unit that the window
// shows temperatures in. What it gives can be written into a case.
func (u Units) ReadAmbient(text string) (string, error) {
	if text = strings.TrimSpace(text); text == "" {
		return "", nil
	}
	m := ambientText.FindStringSubmatch(strings.Replace(text, "−", "-", 1))
	if m == nil {
		return text, fmt.Errorf("%q is no temperature: write it with its unit, such as %q", text, "-8 C")
	}
	unit := strings.ToUpper(m[2])
	if unit == "" {
		unit = u.UnitOf(circuit.Temperature)
	}
	text = strings.Replace(m[1], ",", ".", 1) + " " + unit
	_, err := circuit.ParseAmbient(text)
	return text, err
}

// SayAmbient puts a case's temperature into words; "" where nobody said.
func SayAmbient(text string) string {
	n := len(text) - 1
	if n > 0 && (text[n] == 'C' || text[n] == 'F') {
		text = strings.TrimSpace(text[:n]) + " °" + text[n:]
	}
	return strings.Replace(text, "-", "−", 1)
}

// SetParticulars says which vehicle it is, who works on it and how cold it was. What could not be read again in the case's file is
// refused, all of it together.
func (s *Session) SetParticulars(p Particulars) error {
	var err error
	if p.Ambient, err = s.units.ReadAmbient(p.Ambient); err != nil {
		return err
	}
	if p.Date != "" {
		if _, err := time.Parse(time.DateOnly, p.Date); err != nil {
			return fmt.Errorf("the day %q can't be read: write it as %s", p.Date, Today())
		}
	}
	was := s.Particulars()
	if p == was {
		return nil
	}
	deed := "Particulars changed"
	if only := p; only.Ambient != was.Ambient {
		if only.Ambient = was.Ambient; only == was {
			deed = "How cold it was: " + SayAmbient(p.Ambient)
			if p.Ambient == "" {
				deed = "How cold it was: not known"
			}
		}
	}
	s.change(deed, func(w *work) {
		f := w.file
		f.Vehicle, f.Mileage, f.Technician, f.Date, f.Ambient = p.Vehicle, p.Mileage, p.Technician, p.Date, p.Ambient
	})
	return nil
}
