package effort

import "airpath/circuit/airflow"

// wears is what a fault does to a wheel beyond what the run's strokes show, keyed by the kind at fault and its mode. Modes that
// are not in it act by air and stroke alone.
var wears = map[string]map[string]func(w *Wheel, severity float64){
	"service-chamber":      chamberWears,
	"spring-brake-chamber": chamberWears,
	"slack-adjuster":       {"clevis seized": seized},
	"drum-brake": {
		"cam or bushings worn": func(w *Wheel, travel float64) { w.Efficiency *= max(0.3, 1-travel/playThatHalves/2) },
		"lining glazed":        func(w *Wheel, share float64) { w.Friction *= left(share) },
		"lining oiled":         func(w *Wheel, share float64) { w.Friction *= left(share) },
		"lining thin": func(w *Wheel, worn float64) {
			worn = min(worn, w.Lining)
			w.Lining -= worn
			w.Turned += tipOverMiddle * worn / w.CamRadius
		},
		"drum oversize": func(w *Wheel, diameter float64) {
			w.DrumRadius += diameter / 2
			w.Turned += tipOverMiddle * diameter / 2 / w.CamRadius
			w.DrumMass *= max(0.3, 1-drumPerMetre*diameter/2)
		},
		"seized": seized,
	},
}

var chamberWears = map[string]func(*Wheel, float64){
	"seized":             seized,
	"return spring weak": func(w *Wheel, dp float64) { w.contact = max(0, w.contact-dp) },
	"spring broken":      func(w *Wheel, share float64) { w.springForce *= left(share) },
}

const (
	playThatHalves = 30e-3 // m of rod travel lost in play at which half of the cam's efficiency is gone
	drumPerMetre   = 30    // share of a drum's mass for each metre off its wall: half of it is a wall of 17 mm
)

func seized(w *Wheel, share float64) { w.Passes *= left(share) }

func left(share float64) float64 { return max(0, 1-share) }

// wear puts a fault into the wheel that it sits at, if it sits at one.
func (v *Vehicle) wear(f airflow.Fault) {
	w, err := v.WheelAt(f.Target)
	if err != nil {
		return
	}
	if change := wears[v.Circuit.Component(f.Target).Kind.Name][f.Mode]; change != nil {
		change(w, f.Severity)
	}
}
