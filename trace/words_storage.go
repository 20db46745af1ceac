package trace

// Words for the parts that keep the air.

var tankWords = []Words{
	tankLeak("supply", 60), tankLeak("primary", 60), tankLeak("secondary", 60),
	tankWall("wall between supply and primary leaking", "the inner wall between supply and primary lets air through"),
	tankWall("wall between primary and secondary leaking", "the inner wall between primary and secondary lets air through"),
	tankWater("supply", 100), tankWater("primary", 40), tankWater("secondary", 40),
}

func tankLeak(room string, prior float64) Words {
	return Words{
		Mode: room + " leaking", Prior: prior, Minutes: 180, Says: "the " + room + " compartment leaks, at its wall, a seam or a fitting",
		Confirm: "Soap over seams, drain boss and fittings of the " + room + " compartment, engine off, fully charged.",
		Repair:  "Reseal the fitting; a leaking shell is exchanged, never welded.", Cautions: []string{cautionBleed},
	}
}

func tankWall(mode, says string) Words {
	return Words{
		Mode: mode, Prior: 30, Minutes: 240, Says: says,
		Confirm: "Bleed one compartment, and plug the check valve's line between the two: if the other still falls with it, the air goes through the wall.",
		Repair:  "Exchange the tank.", Cautions: []string{cautionBleed},
	}
}

func tankWater(room string, prior float64) Words {
	return Words{
		Mode: room + " full of water", Prior: prior, Minutes: 10, Says: "much of the " + room + " compartment is full of water",
		Confirm: "Open its drain and measure what comes out.",
		Repair:  "Drain it; then find out why the dryer lets water through.", Cautions: []string{"Drain air comes out with force and grit: face away."},
	}
}

var checkWords = []Words{
	{
		Mode: "leaking back", Prior: 100, Minutes: 40, Says: "it lets air back",
		Confirm: "Bleed the side before it, undo the line there: air comes back out of the valve.",
		Repair:  "Renew the check valve; look for desiccant or scale under its seat.", Cautions: []string{cautionBleed},
	},
	{
		Mode: "stuck shut", Prior: 30, Minutes: 40, Says: "it is stuck shut, so that hardly any air gets past it",
		Confirm: "Gauges on both sides while charging: the side behind it does not fill.",
		Repair:  "Renew the check valve.", Cautions: []string{cautionBleed},
	},
	{
		Mode: "restricted", Prior: 30, Minutes: 40, Says: "it is clogged, so that the side behind it fills slowly",
		Confirm: "Gauges on both sides while charging: the side behind it lags.",
		Repair:  "Renew the check valve, clear the line.", Cautions: []string{cautionBleed},
	},
}

var drainWords = []Words{
	{
		Mode: "leaking", Prior: 80, Minutes: 15, Says: "its seat leaks",
		Confirm: "Soap, or a wet finger, at its outlet.",
		Repair:  "Work it to flush the seat, else renew it.",
	},
	{
		Mode: "left open", Prior: 30, Minutes: 2, Says: "it has been left open",
		Confirm: "Look at the handle, listen at the outlet.",
		Repair:  "Shut it.",
	},
}
