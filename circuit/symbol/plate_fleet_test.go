package symbol

import "maps"

// The poses of the kinds that the larger vehicles bring.
func init() {
	maps.Copy(poses, map[string][]pose{
		"reservoir": {{"unknown", State{}}, {"charged", State{Pressure: rooms("air", 118.0)}}, {"low", State{Pressure: rooms("air", 30.0)}}},
		"pressure-protection-valve": {{"shut", State{}}, {"open", State{Open: opens("valve", 1.0), Pressure: rooms("1", 118.0, "2", 117.0)}},
			{"holding back", State{Pressure: rooms("1", 75.0, "2", 0.0)}}},
		"limiting-valve": {{"rest", State{}}, {"limiting", State{Open: opens("inlet", 0.0), Pressure: rooms("1", 90.0, "2", 60.0)}}},
		"ratio-valve": {{"rest", State{}}, {"applying", State{Open: opens("inlet", 1.0, "exhaust", 0.0), Pressure: rooms("1", 80.0, "2", 40.0)}},
			{"holding", State{Open: opens("exhaust", 0.0), Pressure: rooms("1", 80.0, "2", 48.0)}}},
		"spring-brake-valve": {{"rest", State{}}, {"held off", State{Open: opens("inlet", 0.0), Pressure: rooms("1", 118.0, "2", 95.0, "41", 0.0, "42", 0.0)}},
			{"modulating", State{Open: opens("inlet", 0.0, "exhaust", 1.0), Pressure: rooms("1", 118.0, "2", 60.0, "41", 0.0, "42", 50.0)}}},
		"anti-lock-modulator": {{"rest", State{}}, {"applied", State{Pressure: rooms("1", 80.0, "2", 80.0)}},
			{"dumping", State{Open: opens("inlet", 0.0, "exhaust", 1.0), Pressure: rooms("1", 80.0, "2", 30.0)}}},
		"hand-control": {{"back", State{}}, {"applying", State{Control: 0.8, Open: opens("inlet", 1.0, "exhaust", 0.0), Pressure: rooms("1", 118.0, "2", 60.0)}},
			{"holding", State{Control: 0.8, Open: opens("exhaust", 0.0), Pressure: rooms("1", 118.0, "2", 70.0)}}},
		"trailer-supply-control":   {{"out", State{}}, {"in", State{Control: 1, Open: opens("inlet", 1.0, "exhaust", 0.0), Pressure: rooms("1", 118.0, "2", 117.0)}}},
		"tractor-protection-valve": {{"shut", State{}}, {"open", State{Open: opens("service way", 1.0, "exhaust", 0.0), Pressure: rooms("1", 118.0, "21", 118.0, "4", 60.0, "22", 60.0)}}},
		"gladhand": {{"open", State{}}, {"shut off", State{Control: 1, Pressure: rooms("1", 118.0)}},
			{"fed", State{Control: 1, Hose: true, Pressure: rooms("1", 118.0)}}},
		"coupling": {{"coupled", State{}}, {"charged", State{Pressure: rooms("11", 118.0, "12", 0.0, "21", 118.0, "22", 0.0)}},
			{"undone", State{Open: opens("supply joint", 0.0, "control joint", 0.0, "supply face", 1.0, "control face", 1.0, "towed supply face", 1.0, "towed control face", 1.0)}},
			{"supply cock shut", State{Open: opens("supply joint", 0.0), Pressure: rooms("11", 118.0, "12", 0.0, "21", 0.0, "22", 0.0)}},
			{"crossed", State{Open: opens("supply joint", 0.0, "control joint", 0.0, "supply on control", 1.0, "control on supply", 1.0), Pressure: rooms("11", 118.0, "12", 0.0, "21", 0.0, "22", 118.0)}}},
		"trailer-spring-valve": {{"empty", State{}}, {"charging", State{Open: opens("protection", 1.0, "reservoir check", 1.0, "hold-off way", 1.0), Pressure: rooms("1", 100.0, "gate", 99.0, "21", 95.0, "22", 99.0)}},
			{"supply lost", State{Open: opens("exhaust", 1.0), Pressure: rooms("1", 0.0, "gate", 0.0, "21", 95.0, "22", 40.0)}}},
		"relay-emergency-valve": {{"empty", State{}}, {"charged", State{Open: opens("inlet seat", 0.0, "exhaust seat", 1.0, "reservoir check", 1.0), Pressure: rooms("1", 118.0, "tank", 117.0, "2", 0.0, "4", 0.0)}},
			{"emergency", State{Pressure: rooms("1", 0.0, "tank", 110.0, "2", 110.0, "4", 0.0)}}},
		"levelling-valve": {{"level", State{}}, {"filling", State{Open: opens("inlet", 1.0), Pressure: rooms("1", 110.0, "gate", 110.0, "2", 50.0)}},
			{"letting out", State{Open: opens("exhaust", 1.0), Pressure: rooms("1", 110.0, "gate", 110.0, "2", 65.0)}}},
		"bellows":            {{"flat", State{}}, {"up", State{Pressure: rooms("1", 55.0)}}},
		"auxiliary-consumer": {{"at rest", State{}}, {"working", State{Control: 1, Pressure: rooms("1", 90.0)}}},
		"plug":               {{"empty", State{}}, {"charged", State{Pressure: rooms("1", 118.0)}}},
	})
}
