package airflow

import (
	"airpath/circuit"
)

// laws says what each kind of component does to the air, keyed by the kind's name. A kind is added by adding a line here
// and its law in a file of its family.
var laws = map[string]Law{
	"compressor":             compressorLaw,
	"governor":               governorLaw,
	"air-dryer":              dryerLaw,
	"relief-valve":           reliefLaw,
	"three-compartment-tank": tankLaw,
	"check-valve":            checkLaw,
	"drain-valve":            drainLaw,
	"foot-valve":             footLaw,
	"relay-valve":            relayLaw,
	"quick-release-valve":    quickReleaseLaw,
	"double-check-valve":     doubleCheckLaw,
	"park-control":           parkLaw,
	"service-chamber":        serviceChamberLaw,
	"spring-brake-chamber":   springChamberLaw,
	"slack-adjuster":         slackLaw,
	"drum-brake":             drumBrakeLaw,
	"gauge":                  gaugeLaw,
	"pressure-switch":        pressureSwitchLaw,
	"stop-lamp-switch":       stopSwitchLaw,
	"lamp":                   lampLaw,
	"buzzer":                 buzzerLaw,
	"tee":                    teeLaw,
	"test-connection":        testConnectionLaw,

	"reservoir":                 reservoirLaw,
	"pressure-protection-valve": protectionLaw,
	"limiting-valve":            limitingLaw,
	"ratio-valve":               ratioLaw,
	"spring-brake-valve":        springValveLaw,
	"anti-lock-modulator":       modulatorLaw,
	"hand-control":              handLaw,
	"trailer-supply-control":    trailerSupplyLaw,
	"tractor-protection-valve":  tractorProtectionLaw,
	"gladhand":                  gladhandLaw,
	"coupling":                  couplingLaw,
	"trailer-spring-valve":      trailerSpringLaw,
	"relay-emergency-valve":     emergencyLaw,
	"levelling-valve":           levellingLaw,
	"bellows":                   bellowsLaw,
	"auxiliary-consumer":        consumerLaw,
	"plug":                      plugLaw,
}

// lineLaws says the same for each type of line.
var lineLaws = map[circuit.LineType]Law{
	circuit.Tube: tubeLaw,
	circuit.Hose: hoseLaw,
	circuit.Rod:  rodLaw,
	circuit.Wire: wireLaw,
}

// Critical pressure ratios of valves and of short orifices. Engineering judgement: ISO 6358 measurements of valves lie
// between 0.2 and 0.5, and a sharp hole comes near the ideal nozzle's 0.53.
const (
	valveCrit   = 0.35
	orificeCrit = 0.5
)

// Inner volumes of small parts. Engineering judgement: they only have to be small beside the lines that end in them.
const (
	smallRoom = 5e-6  // m³: a sensing port, a gauge
	valveRoom = 20e-6 // m³: a valve's inner space at one port
)

const psi = circuit.PSI

// between opens as the room's absolute pressure goes from shut to open; with shut above open it opens as the pressure falls.
func between(room string, shut, open float64) Opening {
	gain := 1 / (open - shut)
	return Opening{Base: -shut * gain, Terms: []Term{{Room: room, Gain: gain}}}
}

// above opens as the first room's pressure rises over the second's: begun at crack, wide open a span later.
func above(high, low string, crack, span float64) Opening {
	return Opening{Base: -crack / span, Terms: []Term{{Room: high, Gain: 1 / span}, {Room: low, Gain: -1 / span}}}
}

// worked is open with the control at 1.
func worked(control string) Opening {
	return Opening{Terms: []Term{{Control: control, Gain: 1}}}
}

// unworked is open with the control at 0.
func unworked(control string) Opening {
	return Opening{Base: 1, Terms: []Term{{Control: control, Gain: -1}}}
}

// The severities below say what mild (hardly noticed), typical (a driver or an inspector would notice) and severe mean.
// All are engineering judgement, set beside what they do to a two-axle truck's tanks: a sharp hole of 0.15 mm costs a 26 L
// reservoir about 1 psi a minute, 0.5 mm about 8, 2 mm more than an idling compressor makes, and 4 mm more than one at rated speed: a fitting torn off.

func holeOf(mild, typical, severe float64) Severity {
	return Severity{Means: "diameter of a sharp-edged hole that leaks as much", Dimension: circuit.Length, Mild: mild * 1e-3, Typical: typical * 1e-3, Severe: severe * 1e-3}
}

func shareOf(means string, mild, typical, severe float64) Severity {
	return Severity{Means: means, Dimension: circuit.Ratio, Mild: mild, Typical: typical, Severe: severe}
}

func psiOf(means string, mild, typical, severe float64) Severity {
	return Severity{Means: means, Dimension: circuit.PressureSpan, Mild: mild * psi, Typical: typical * psi, Severe: severe * psi}
}

func mmOf(means string, mild, typical, severe float64) Severity {
	return Severity{Means: means, Dimension: circuit.Length, Mild: mild * 1e-3, Typical: typical * 1e-3, Severe: severe * 1e-3}
}

// whole is the severity of a fault that is there or not: a broken wire, a burnt-out bulb.
func whole(means string) Severity {
	return Severity{Means: means, Dimension: circuit.Ratio, Mild: 1, Typical: 1, Severe: 1}
}

// leaking lets a room's air out to the atmosphere at the part.
func leaking(name, room string, s Severity) Mode {
	return Mode{Name: name, Severity: s, Apply: func(e *Edit, d float64) { e.Leak(room, d) }}
}

// passing lets air through a shut passage, as through a hole.
func passing(name, passage string, s Severity) Mode {
	return Mode{Name: name, Severity: s, Apply: func(e *Edit, d float64) { e.Hole(passage, d) }}
}

// choked takes away a share of what the passages let through; a share of 1 blocks them.
func choked(name string, s Severity, passages ...string) Mode {
	return Mode{Name: name, Severity: s, Apply: func(e *Edit, share float64) {
		for _, p := range passages {
			e.Scale(p, left(share))
		}
	}}
}

// iced is choked by frozen water.
func iced(name string, s Severity, passages ...string) Mode {
	m := choked(name, s, passages...)
	m.Ice = true
	return m
}

// left of a whole after a share has gone.
func left(share float64) float64 { return max(0, 1-share) }
