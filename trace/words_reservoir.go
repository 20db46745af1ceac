package trace

// Words for single vessels and for what keeps air back for the brakes.

var reservoirWords = []Words{
	{
		Mode: "leaking", Prior: 60, Minutes: 120, Says: "it leaks, at its wall, a seam or a fitting",
		Confirm: "Soap over seams, drain boss and fittings, engine off, fully charged.",
		Repair:  "Reseal the fitting; a leaking shell is exchanged, never welded.", Cautions: []string{cautionBleed},
	},
	{
		Mode: "full of water", Prior: 60, Minutes: 10, Says: "much of it is full of water",
		Confirm: "Open its drain and measure what comes out.",
		Repair:  "Drain it; then find out why the dryer lets water through.", Cautions: []string{"Drain air comes out with force and grit: face away."},
	},
}

var protectionWords = []Words{
	{
		Mode: "stuck open", Prior: 20, Minutes: 40, Says: "it stays open, so that what is behind it can take the brakes' air",
		Confirm: "Bleed what is behind it, engine off: the tank before it falls past the valve's closing pressure.",
		Repair:  "Renew it.", Cautions: []string{cautionBleed},
	},
	{
		Mode: "stuck shut", Prior: 30, Minutes: 40, Says: "it does not open, so that what is behind it gets no air",
		Confirm: "Tank full: gauge or undone line behind it.",
		Repair:  "Renew it.", Cautions: []string{cautionBleed},
	},
	{
		Mode: "threshold low", Prior: 15, Minutes: 40, Says: "it closes too late",
		Confirm: "Bleed what is behind it, engine off, and read where the fall of the tank before it stops.",
		Repair:  "Set or renew it.", Cautions: []string{cautionBleed},
	},
	{
		Mode: "threshold high", Prior: 20, Minutes: 40, Says: "it opens too late",
		Confirm: "Build up from empty and read at which tank pressure the side behind it begins to fill.",
		Repair:  "Set or renew it.", Cautions: []string{cautionBleed},
	},
	{
		Mode: "leaking", Prior: 30, Minutes: 40, Says: "it leaks to the outside",
		Confirm: "Soap over body and vent, engine off, fully charged.",
		Repair:  "Reseal or renew it.", Cautions: []string{cautionBleed},
	},
}

var plugWords = []Words{leakWords(5, "it leaks", "Take it out, seal its thread, set it again.")}
