package moisture

import (
	"math"

	"airpath/circuit"
	"airpath/circuit/airflow"
)

// depression is how far below its inlet temperature a good cartridge brings the dew point under pressure, K (common practice: 17
// to 25 K below the air around it).
const depression = 25.0

// A cartridge is what a dryer can do with water, its faults included.
type cartridge struct {
	fitted bool
	takes  float64 // share of what a good one takes
	blows  float64 // share of what has dropped in its sump that a purge blows out, and of regeneration
	heated bool
	purge  float64 // m³ kept to regenerate
}

// dryerWears is what faults do to it, keyed by kind and mode.
var dryerWears = map[string]map[string]func(c *cartridge, severity float64){
	"air-dryer": {
		"cartridge saturated":    func(c *cartridge, share float64) { c.takes *= max(0, 1-share) },
		"purge valve stuck shut": func(c *cartridge, share float64) { c.blows *= openLeft(share) },
		"purge outlet iced":      func(c *cartridge, share float64) { c.blows *= openLeft(share) },
		"heater dead":            func(c *cartridge, _ float64) { c.heated = false },
	},
}

// openLeft: a purge goes through a hundredth of the valve almost as well as through all of it, only slower.
func openLeft(shut float64) float64 { return math.Min(1, 100*max(0, 1-shut)) }

func cartridgeOf(c *circuit.Circuit, faults []airflow.Fault) cartridge {
	var k cartridge
	for _, d := range dryers(c) {
		k = cartridge{fitted: true, takes: 1, blows: 1, heated: true, purge: d.Value("purge_volume")}
		for _, f := range faults {
			if f.Target != d.ID {
				continue
			}
			if math.IsNaN(f.Severity) {
				if m, err := airflow.ModeOf(c, f); err == nil {
					f.Severity = m.Severity.Typical
				}
			}
			if change := dryerWears[d.Kind.Name][f.Mode]; change != nil {
				change(&k, f.Severity)
			}
		}
		break
	}
	return k
}

// Regeneration is the balance of one cycle of the dryer, from cut-in over cut-out to the end of its purge.
type Regeneration struct {
	Air     float64 // kg that passes the bed while pumping
	Load    float64 // kg of water that a good bed would take from it
	Purge   float64 // kg of dry air that blows back through the bed
	Carries float64 // kg of water that it can carry off, saturated at the bed's temperature and the pressure outside
	Balance float64 // Carries over Load; below 1 the bed fills up until it takes no more than it is rid of. Inf without load
}

// regenerate works the balance out: what the purge volume holds at the pressure of cut-out, blown back at the pressure outside.
// To dry the bed the purge needs about the share Patm/p of the air that was dried (textbook of heatless dryers), which is what
// comes out for saturated air in and out at one temperature.
func (k cartridge) regenerate(air, wet, dry, bed, pressure float64) Regeneration {
	g := Regeneration{Air: air, Load: air * max(0, wet-dry), Balance: math.Inf(1)}
	g.Purge = k.blows * k.purge * max(0, pressure-circuit.AtmospherePressure) / (airflow.GasConstant * bed)
	if g.Purge > 0 {
		g.Carries = g.Purge * max(0, Most(bed, circuit.AtmospherePressure)-dry)
	}
	if g.Load > 0 {
		g.Balance = g.Carries / g.Load
	}
	return g
}
