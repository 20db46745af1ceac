package model

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"github.com/adrg/xdg"

	"airpath/circuit"
)

// A Place is where the window keeps what must outlive it: preferences, and the case as it was last.
type Place struct {
	Config string // folder of preferences
	State  string // folder of the autosave
}

// UserPlace is where the system keeps such things.
func UserPlace() Place {
	return Place{Config: filepath.Join(xdg.ConfigHome, "airpath"), State: filepath.Join(xdg.StateHome, "airpath")}
}

// writeWhole replaces a file so that a kill at any moment leaves either the old text or the new, and makes its folder.
func writeWhole(path string, text []byte) error {
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		return fmt.Errorf("cannot make the folder for %s: %w", path, err)
	}
	return circuit.Save(path, text)
}

// Text of the case as a file, with a digest of the parts that its findings are about.
func (s *Session) Text() []byte {
	cs := *s.Case()
	cs.Digest = s.Circuit.Digest(cs.Targets()...)
	return circuit.WriteCase(&cs)
}

// Save writes the case to a file, which is its file from now on.
func (s *Session) Save(path string) error {
	if err := circuit.Save(path, s.Text()); err != nil {
		return err
	}
	s.Origin.Path = path
	s.savedWork = s.history.Now()
	return nil
}

// Preferences are what a person set once.
type Preferences struct {
	Units      Units   `json:"units"`
	Look       string  `json:"look"`   // name of the theme; "" for the light one
	Limits     string  `json:"limits"` // jurisdiction of new cases; "" for US
	TextScale  float32 `json:"text_scale"`
	Technician string  `json:"technician"` // who signs records, as entered last
	HintsSeen  bool    `json:"hints_seen"`
	Curves     bool    `json:"curves"` // the plot strip is drawn up
	Sound      bool    `json:"sound"`  // in Flow, air that blows is heard
}

// TextScales that the window steps through.
var TextScales = []float32{0.85, 1, 1.15, 1.3, 1.5}

// DefaultPreferences are those of a first start.
func DefaultPreferences() Preferences { return Preferences{Units: "psi", TextScale: 1} }

// LoadPreferences reads them. A missing file gives the defaults; a damaged one gives the defaults and an error to show.
func (p Place) LoadPreferences() (Preferences, error) {
	pref := DefaultPreferences()
	path := filepath.Join(p.Config, "preferences.json")
	text, err := os.ReadFile(path)
	if errors.Is(err, fs.ErrNotExist) {
		return pref, nil
	}
	if err == nil {
		err = json.Unmarshal(text, &pref)
	}
	if err != nil {
		return DefaultPreferences(), fmt.Errorf("preferences at %s cannot be read (%w); the usual ones are used", path, err)
	}
	if pref.Units != "psi" && pref.Units != "bar" && pref.Units != "kPa" {
		pref.Units = "psi"
	}
	if pref.Limits != "" && !slices.Contains(circuit.Jurisdictions, pref.Limits) {
		pref.Limits = ""
	}
	pref.TextScale = min(max(pref.TextScale, TextScales[0]), TextScales[len(TextScales)-1])
	return pref, nil
}

// SavePreferences keeps them for the next start.
func (p Place) SavePreferences(pref Preferences) error {
	text, err := json.MarshalIndent(pref, "", "\t")
	if err != nil {
		return err
	}
	return writeWhole(filepath.Join(p.Config, "preferences.json"), append(text, '\n'))
}
