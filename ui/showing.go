package ui

import (
	"fmt"
	"slices"
	"strings"
)

// Showing opens something in the window for a picture: "settings", "help", "open", "paper", "path", "tests", "outcomes",
// "verdict", "doubt", "repair", "test:ID", "part:PLACE" or "why:PLACE".
type Showing string

// simple are those that need no more than a word.
var simple = map[string]func(*shell){
	"settings": func(s *shell) { s.setter.open = true },
	"help":     func(s *shell) { s.help.open = true },
	"open":     func(s *shell) { s.opener.show() },
	"paper":    func(s *shell) { s.showPapers() },
	"path":     func(s *shell) { s.area.ShowPath() },
	"tests":    func(s *shell) { s.area.ShowTests() },
	"outcomes": func(s *shell) { s.area.ShowOutcomes() },
	"verdict":  func(s *shell) { s.area.ShowVerdict() },
	"doubt":    func(s *shell) { s.area.ShowDoubt() },
	"repair":   func(s *shell) { s.area.ShowRepair() },
}

// Check says what can't be understood.
func (w Showing) Check() error {
	if w == "" {
		return nil
	}
	if _, ok := simple[string(w)]; ok {
		return nil
	}
	kind, of, found := strings.Cut(string(w), ":")
	if found && of != "" && (kind == "test" || kind == "part" || kind == "why") {
		return nil
	}
	var words []string
	for name := range simple {
		words = append(words, name)
	}
	slices.Sort(words)
	return fmt.Errorf("nothing called %q to show: want %s, test:ID, part:PLACE or why:PLACE", string(w), strings.Join(words, ", "))
}

// show opens it.
func (s *shell) show(w Showing) {
	if s.session == nil {
		return
	}
	if do, ok := simple[string(w)]; ok {
		do(s)
		return
	}
	switch kind, of, _ := strings.Cut(string(w), ":"); kind {
	case "test":
		s.area.CarryOut(of)
	case "part":
		s.area.Open(of)
	case "why":
		s.area.Open(of)
		s.area.ShowWhy()
	}
}
