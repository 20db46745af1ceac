package trace

// Words for the parts that make, limit and dry the air.

const (
	cautionHot     = "The compressor, its head and the discharge line burn: let them cool."
	cautionBleed   = "Bleed the system down before a line or fitting is undone."
	cautionRunning = "Stay clear of belts, fan and pulleys while the engine runs."
)

var compressorWords = []Words{
	{
		Mode: "worn", Prior: 500, Minutes: 240,
		Says:    "rings, bore or valves are worn, so that it pumps too little",
		Confirm: "With intake, drive and everything after it found good, time its filling of a known reservoir through an undone line; look for oil at the drains and blow-by at the engine breather.",
		Repair:  "Exchange or overhaul the compressor; clean or renew the discharge line at the same time.", Cautions: []string{cautionHot, cautionBleed},
	},
	{
		Mode: "intake restricted", Prior: 150, Minutes: 20,
		Says:    "its intake filter or duct is choked",
		Confirm: "Take the filter or the intake hose off and time the build-up again, or read the vacuum in the duct at rated speed.",
		Repair:  "Renew the filter, clear the duct, renew a soft hose.", Cautions: []string{cautionRunning},
	},
	{
		Mode: "drive slipping", Prior: 100, Minutes: 60,
		Says:    "its drive slips, so that it turns too slowly under load",
		Confirm: "Mark pulley and belt, or measure its speed against the engine's with the tanks over 90 psi; look for glazing, dust and a loose tensioner.",
		Repair:  "Renew the belt and tensioner, or the coupling.", Cautions: []string{cautionRunning},
	},
	{
		Mode: "unloader stuck loaded", Prior: 60, Minutes: 90,
		Says:    "its unloader does not let go of the intake valves when air reaches it, so that it pumps on",
		Confirm: "With the unloader line charged, feel whether the discharge still pumps; read the unloader line with a gauge.",
		Repair:  "Renew the unloader kit.", Cautions: []string{cautionHot, cautionBleed},
	},
	{
		Mode: "unloader stuck unloaded", Prior: 100, Minutes: 90,
		Says:    "its unloader holds intake valves open without air on it, so that it pumps too little",
		Confirm: "With the unloader line undone and plugged, time the build-up again; no better, and the unloader pins stick.",
		Repair:  "Free the pins, renew the unloader kit.", Cautions: []string{cautionHot, cautionBleed},
	},
	{
		Mode: "discharge valve leaking back", Prior: 150, Minutes: 150,
		Says:    "its discharge valve lets air back into the cylinder",
		Confirm: "Engine off with the discharge line charged, undo the intake and listen for air coming back; feel for an unusually hot head.",
		Repair:  "Renew the valve plate or the head; clear carbon from the head and the discharge line.", Cautions: []string{cautionHot, cautionBleed},
	},
	{
		Mode: "unloader seal leaking", Prior: 120, Minutes: 90,
		Says:    "an unloader seal or the head gasket lets control air into the intake while it is unloaded",
		Confirm: "At cut-out with the engine off, listen at the intake: air is heard as long as the unloader line is charged.",
		Repair:  "Renew the unloader seals, or the head gasket.", Cautions: []string{cautionHot, cautionBleed},
	},
	{
		Mode: "passing oil", Prior: 150, Minutes: 240,
		Says:    "it carries oil over into the system",
		Confirm: "Hold a white card to the drains and the purge; a film is normal, drops are not. Look at oil drain-back, intake vacuum and discharge line first.",
		Repair:  "Find why (drain-back, high vacuum, heat), then exchange the compressor; clean dryer and tanks.", Cautions: []string{cautionHot},
	},
}

var governorWords = []Words{
	{
		Mode: "cut-out high", Prior: 60, Minutes: 20, Says: "it is set too high",
		Confirm: "Read cut-out and cut-in with a gauge of known error: both lie high by the same amount.",
		Repair:  "Set it by its screw to the vehicle maker's figure, or renew it.",
	},
	{
		Mode: "cut-out low", Prior: 100, Minutes: 20, Says: "it is set too low",
		Confirm: "Read cut-out and cut-in with a gauge of known error: both lie low by the same amount.",
		Repair:  "Set it by its screw to the vehicle maker's figure, or renew it.",
	},
	{
		Mode: "cut-in low", Prior: 80, Minutes: 30, Says: "it cuts in too late, far below cut-out",
		Confirm: "Bleed down slowly after cut-out and read where pumping begins, with a gauge of known error.",
		Repair:  "Renew the governor.",
	},
	{
		Mode: "span too small", Prior: 80, Minutes: 30, Says: "cut-in lies too close under cut-out, so that it cycles too often",
		Confirm: "Read both points with a gauge of known error; rule out a leak on the supply side, which also makes it cycle.",
		Repair:  "Renew the governor.",
	},
	{
		Mode: "stuck loaded", Prior: 60, Minutes: 30, Says: "its piston sticks, so that it does not cut out in time",
		Confirm: "Gauge on the unloader port: no air there while its sensing port is over cut-out. Stand by to stop the engine.",
		Repair:  "Renew the governor; find out what fouled it.",
	},
	{
		Mode: "stuck unloaded", Prior: 60, Minutes: 30, Says: "its piston sticks, so that it does not cut in in time",
		Confirm: "Gauge on the unloader port: it stays charged while its sensing port is under cut-in.",
		Repair:  "Renew the governor; find out what fouled it.",
	},
	{
		Mode: "inlet seat leaking", Prior: 80, Minutes: 30, Says: "its inlet seat lets air through while the compressor should pump",
		Confirm: "Below cut-out, undo the line at its unloader port: air there, or at its exhaust, accuses the seat.",
		Repair:  "Renew the governor.",
	},
	{
		Mode: "exhaust leaking", Prior: 80, Minutes: 30, Says: "its exhaust leaks after cut-out",
		Confirm: "Soap on its exhaust hole after cut-out, engine off.",
		Repair:  "Renew the governor.",
	},
	{
		Mode: "exhaust blocked", Prior: 40, Minutes: 20, Says: "its exhaust is blocked, so that the unloader line stays charged",
		Confirm: "At cut-in, undo the unloader line at the governor: pumping begins as the air comes out.",
		Repair:  "Clear the exhaust hole, renew the governor if its filter has come apart.",
	},
}

var dryerWords = []Words{
	{
		Mode: "cartridge plugged", Prior: 250, Minutes: 40, Says: "the cartridge is plugged",
		Confirm: "Gauges before and after the dryer while loaded: the difference stands over the cartridge. The relief before it may lift.",
		Repair:  "Renew the cartridge; look for oil from the compressor.", Cautions: []string{cautionBleed, "The dryer's cover may be under spring or air: undo it only with the system bled down."},
	},
	{
		Mode: "cartridge saturated", Prior: 200, Minutes: 40, Says: "the cartridge no longer takes water out",
		Confirm: "Water at the service tanks' drains day after day, while the supply drain yields little.",
		Repair:  "Renew the cartridge; check that it purges and how often the compressor is loaded.", Cautions: []string{cautionBleed},
	},
	{
		Mode: "purge valve stuck open", Prior: 150, Minutes: 45, Says: "the purge valve is stuck open",
		Confirm: "Loaded, undo the purge control line at the dryer: no air comes from the line, and the purge port blows on.",
		Repair:  "Clean or renew the purge valve; look for ice and for oil sludge.", Cautions: []string{"Purge air comes out with force, water and grit: face away."},
	},
	{
		Mode: "purge valve leaking", Prior: 250, Minutes: 45, Says: "the purge valve's seat leaks",
		Confirm: "Loaded, feel and listen at the purge port: a steady breath there, with no air in the control line.",
		Repair:  "Clean or renew the purge valve.", Cautions: []string{"Purge air comes out with force, water and grit: face away."},
	},
	{
		Mode: "purge valve stuck shut", Prior: 60, Minutes: 45, Says: "the purge valve is stuck shut",
		Confirm: "No blast at cut-out although the purge control line is charged.",
		Repair:  "Clean or renew the purge valve.", Cautions: []string{"Purge air comes out with force, water and grit: face away."},
	},
	{
		Mode: "purge outlet iced", Prior: 40, Minutes: 30, Says: "ice closes the purge outlet",
		Confirm: "No blast at cut-out in frost, and a blast once it has thawed.",
		Repair:  "Thaw it with warm air; then see to the heater and the cartridge.", Cautions: []string{"Thaw with warm air, never with a flame."},
	},
	{
		Mode: "outlet check leaking back", Prior: 200, Minutes: 45, Says: "the outlet check lets the supply reservoir blow back",
		Confirm: "After cut-out, engine off: the purge port blows on and the supply reservoir falls until about cut-in, then both stop.",
		Repair:  "Renew the outlet check; look for desiccant under its seat.", Cautions: []string{cautionBleed},
	},
	{
		Mode: "purge control leaking", Prior: 80, Minutes: 45, Says: "the purge valve's control side leaks",
		Confirm: "After cut-out, engine off, soap at the control port and at the vent of the purge piston.",
		Repair:  "Renew the purge valve's piston seals.", Cautions: []string{cautionBleed},
	},
	{
		Mode: "heater dead", Prior: 60, Minutes: 30, Says: "its heater is dead",
		Confirm: "In the cold with the key on, feel for warmth at the purge valve, or measure its current.",
		Repair:  "Renew heater or thermostat, or mend its wiring.",
	},
}

var reliefWords = []Words{
	{
		Mode: "opens early", Prior: 30, Minutes: 30, Says: "it lifts below its setting",
		Confirm: "Watch a gauge beside it as pressure rises: it blows before its stamped pressure.",
		Repair:  "Renew it with one of the same setting; never plug it.",
	},
	{
		Mode: "leaking", Prior: 50, Minutes: 30, Says: "its seat leaks",
		Confirm: "Soap over its outlet with pressure below its setting.",
		Repair:  "Lift it once to blow the seat clean, else renew it; never plug it.",
	},
}
