package trace

import (
	"fmt"

	"airpath/circuit"
	"airpath/circuit/airflow"
)

// Words are what is said about one fault mode of a kind, and how common it is. What the mode does to the air is in
// package airflow, under the same name.
type Words struct {
	Mode string
	// Prior is how many such faults are expected among 10,000 vehicles that come in with an air complaint, for each part
	// of this kind. All are engineering judgement, set by comparing parts with one another, until a casebook teaches better.
	Prior    float64
	Says     string   // a clause about the part: "the purge valve is stuck open"
	Confirm  string   // how it is proven by hand, before a part is bought
	Repair   string   // what is done about it
	Minutes  float64  // of that repair, once the part is at hand; engineering judgement
	Cautions []string // beyond the general ones
}

// wordsOf is the table, keyed by kind; a kind is added by adding a line here and its words in the file of its family.
var wordsOf = map[string][]Words{
	"compressor":             compressorWords,
	"governor":               governorWords,
	"air-dryer":              dryerWords,
	"relief-valve":           reliefWords,
	"three-compartment-tank": tankWords,
	"check-valve":            checkWords,
	"drain-valve":            drainWords,
	"foot-valve":             footWords,
	"relay-valve":            relayWords,
	"quick-release-valve":    quickReleaseWords,
	"double-check-valve":     doubleCheckWords,
	"park-control":           parkWords,
	"service-chamber":        serviceChamberWords,
	"spring-brake-chamber":   springChamberWords,
	"slack-adjuster":         slackWords,
	"drum-brake":             drumBrakeWords,
	"gauge":                  gaugeWords,
	"pressure-switch":        pressureSwitchWords,
	"stop-lamp-switch":       stopSwitchWords,
	"lamp":                   lampWords,
	"buzzer":                 buzzerWords,
	"tee":                    teeWords,
	"test-connection":        testConnectionWords,

	"reservoir":                 reservoirWords,
	"pressure-protection-valve": protectionWords,
	"limiting-valve":            limitingWords,
	"ratio-valve":               ratioWords,
	"spring-brake-valve":        springValveWords,
	"anti-lock-modulator":       modulatorWords,
	"hand-control":              handWords,
	"trailer-supply-control":    parkWords,
	"tractor-protection-valve":  tractorProtectionWords,
	"gladhand":                  gladhandWords,
	"coupling":                  couplingWords,
	"trailer-spring-valve":      trailerSpringWords,
	"relay-emergency-valve":     emergencyWords,
	"levelling-valve":           levellingWords,
	"bellows":                   bellowsWords,
	"auxiliary-consumer":        consumerWords,
	"plug":                      plugWords,
}

// lineWordsOf is the same for lines.
var lineWordsOf = map[circuit.LineType][]Words{
	circuit.Tube: tubeWords,
	circuit.Hose: hoseWords,
	circuit.Rod:  nil,
	circuit.Wire: wireWords,
}

// WordsFor finds what is said about the modes of a kind of component.
func WordsFor(kind string) []Words { return wordsOf[kind] }

// LineWordsFor finds what is said about the modes of a type of line.
func LineWordsFor(t circuit.LineType) []Words { return lineWordsOf[t] }

// Describe finds the words for a fault of a circuit.
func Describe(c *circuit.Circuit, f airflow.Fault) (Words, error) {
	words, what := []Words(nil), ""
	for _, part := range c.Components {
		if part.ID == f.Target {
			words, what = wordsOf[part.Kind.Name], part.Kind.Name
		}
	}
	for _, l := range c.Lines {
		if l.ID == f.Target {
			words, what = lineWordsOf[l.Type], string(l.Type)
		}
	}
	if what == "" {
		return Words{}, fmt.Errorf("no component or line %q in circuit %q", f.Target, c.Name)
	}
	for _, w := range words {
		if w.Mode == f.Mode {
			return w, nil
		}
	}
	return Words{}, fmt.Errorf("nothing is known about %q failing by %q (%s)", f.Target, f.Mode, what)
}

// nameOf is what a person calls a component or line.
func nameOf(c *circuit.Circuit, id string) string {
	for _, part := range c.Components {
		if part.ID == id {
			if part.Name != "" {
				return part.Name
			}
			return part.Kind.Title
		}
	}
	for _, l := range c.Lines {
		if l.ID == id && l.Name != "" {
			return l.Name
		}
	}
	return id
}

// placeOf is where a component sits; a line is said to be where it starts.
func placeOf(c *circuit.Circuit, id string) string {
	for _, part := range c.Components {
		if part.ID == id {
			return part.Place
		}
	}
	for _, l := range c.Lines {
		if l.ID == id {
			return placeOf(c, l.From.Component)
		}
	}
	return ""
}
