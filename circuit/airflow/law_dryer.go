package airflow

import (
	"math"
)

// The purge valve snaps open over this much control pressure, and the bed opens as a check does over this difference.
// Engineering judgement.
const (
	purgeSpan = 8 * psi
	bedSpan   = 0.5 * psi
)

// dryerLaw: the wet air passes the bed into the purge volume and on through the outlet check. The purge valve is worked by
// the pressure on port 4, not by the governor itself, so that a control line that stays charged keeps it open. Behind it the
// purge volume blows back through the regeneration orifice until it is empty.
var dryerLaw = Law{
	Build: func(b *Builder) {
		b.Volume("1", b.Value("sump_volume"))
		b.Volume("purge", b.Value("purge_volume"))
		b.Volume("2", valveRoom)
		b.Volume("4", valveRoom)
		b.Checked("cartridge", b.Value("cartridge_conductance"), valveCrit, 0, bedSpan)
		b.Passage("regeneration orifice", b.Value("regeneration_conductance"), orificeCrit, Open)
		b.Checked("outlet check", b.Value("outlet_conductance"), valveCrit, b.Value("outlet_crack"), checkSpan)
		opens := b.Value("purge_opens")
		b.Passage("purge valve", b.Value("purge_conductance"), orificeCrit, between("4", opens, opens+purgeSpan))
	},
	Modes: []Mode{
		{Name: "cartridge plugged", Severity: shareOf("share of the bed that is plugged", 0.8, 0.975, 0.9955),
			Apply: func(e *Edit, share float64) {
				e.Scale("cartridge", left(share))
				e.Scale("regeneration orifice", inSeries(e.Value("regeneration_conductance"), left(share)*e.Value("cartridge_conductance")))
			}},
		{Name: "cartridge saturated", Severity: shareOf("share of the water that passes", 0.2, 0.7, 1),
			// It changes no pressure: it shows in what the drains yield.
			Apply: func(*Edit, float64) {}},
		{Name: "purge valve stuck open", Severity: shareOf("share of the valve that stays open", 0.003, 0.2, 1),
			Apply: func(e *Edit, share float64) { e.AtLeast("purge valve", share) }},
		passing("purge valve leaking", "purge valve", holeOf(0.3, 1.5, 3)),
		{Name: "purge valve stuck shut", Severity: shareOf("share of the valve that stays shut", 0.9, 0.995, 1),
			Apply: func(e *Edit, share float64) { e.AtMost("purge valve", left(share)) }},
		iced("purge outlet iced", shareOf("share of the outlet that ice closes", 0.9, 0.98, 0.999), "purge valve"),
		passing("outlet check leaking back", "outlet check", holeOf(0.2, 0.7, 2.5)),
		leaking("purge control leaking", "4", holeOf(0.3, 1, 2.5)),
		{Name: "heater dead", Severity: whole("no heat at the purge valve"),
			// By itself it changes no pressure; in frost the purge outlet ices, which is a mode of its own.
			Apply: func(*Edit, float64) {}},
	},
}

// inSeries is what is left of an orifice's conductance with another one behind it, as a share (1/C³ = Σ 1/Ci³).
func inSeries(c, behind float64) float64 {
	if behind <= 0 {
		return 0
	}
	return math.Cbrt(1 / (1 + math.Pow(c/behind, 3)))
}
