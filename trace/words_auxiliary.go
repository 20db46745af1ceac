package trace

// Words for what uses air for something else than braking.

var levellingWords = []Words{
	{
		Mode: "inlet leaking", Prior: 30, Minutes: 60, Says: "its inlet leaks, so that the body creeps up and it blows off now and then",
		Confirm: "Engine off, height steady: air at its exhaust, which stops when its supply is shut off.",
		Repair:  "Renew it.", Cautions: []string{cautionBleed, cautionBody},
	},
	{
		Mode: "exhaust leaking", Prior: 40, Minutes: 60, Says: "its exhaust seat leaks, so that the bellows sink",
		Confirm: "Soap over its exhaust with the body at its height.",
		Repair:  "Renew it.", Cautions: []string{cautionBleed, cautionBody},
	},
	{
		Mode: "check leaking back", Prior: 20, Minutes: 60, Says: "its check lets the bellows' air back into the supply",
		Confirm: "Bleed its supply: the body sinks.",
		Repair:  "Renew it.", Cautions: []string{cautionBleed, cautionBody},
	},
	{
		Mode: "stuck shut", Prior: 20, Minutes: 60, Says: "it does not fill the bellows",
		Confirm: "Arm undone and lifted by hand, supply charged: no air goes to the bellows.",
		Repair:  "Renew it.", Cautions: []string{cautionBody},
	},
	{
		Mode: "set high", Prior: 20, Minutes: 30, Says: "its arm is set too high",
		Confirm: "Measure the ride height on level ground.",
		Repair:  "Set the linkage to the vehicle's figure.", Cautions: []string{cautionBody},
	},
	{
		Mode: "set low", Prior: 20, Minutes: 30, Says: "its arm is set too low",
		Confirm: "Measure the ride height on level ground.",
		Repair:  "Set the linkage to the vehicle's figure.", Cautions: []string{cautionBody},
	},
}

const cautionBody = "Prop the body on its frame before working under it: bellows can let go at once."

var bellowsWords = []Words{
	{
		Mode: "leaking", Prior: 60, Minutes: 90, Says: "it leaks, where it folds or at its plates",
		Confirm: "Soap over folds and plates with the body at its height.",
		Repair:  "Renew it.", Cautions: []string{cautionBleed, cautionBody},
	},
}

var consumerWords = []Words{
	{
		Mode: "leaking", Prior: 80, Minutes: 45, Says: "it leaks",
		Confirm: "Soap over it and its fittings, engine off; plug its line and see whether the loss stops.",
		Repair:  "Reseal or renew it.", Cautions: []string{cautionBleed},
	},
	{
		Mode: "sticking open", Prior: 30, Minutes: 45, Says: "its valve sticks open and uses air all the time",
		Confirm: "Listen at its outlet with nobody working it.",
		Repair:  "Free or renew its valve.", Cautions: []string{cautionBleed},
	},
}
