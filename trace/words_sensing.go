package trace

// Words for the parts that tell the driver.

var gaugeWords = []Words{
	{
		Mode: "sticking", Prior: 40, Minutes: 30, Says: "its needle sticks",
		Confirm: "A tested gauge beside it: tap the dial, and see whether it follows.",
		Repair:  "Renew the gauge.",
	},
	{
		Mode: "reading high", Prior: 30, Minutes: 30, Says: "it reads too high",
		Confirm: "A tested gauge beside it, over the whole range.",
		Repair:  "Renew the gauge.",
	},
	{
		Mode: "reading low", Prior: 30, Minutes: 30, Says: "it reads too low",
		Confirm: "A tested gauge beside it, over the whole range.",
		Repair:  "Renew the gauge.",
	},
}

var pressureSwitchWords = switchWords(60, 40, "warning")

var stopSwitchWords = switchWords(40, 60, "stop lamps")

// switchWords: how common a contact is stuck on or off, and what the switch works.
func switchWords(on, off float64, works string) []Words {
	return []Words{
		{
			Mode: "stuck on", Prior: on, Minutes: 20, Says: "its contact is stuck closed",
			Confirm: "Unplug it: the " + works + " must go out. Measure across it.",
			Repair:  "Renew the switch.",
		},
		{
			Mode: "stuck off", Prior: off, Minutes: 20, Says: "its contact does not close",
			Confirm: "Bridge its plug: the " + works + " must come on. Measure across it.",
			Repair:  "Renew the switch.",
		},
		{
			Mode: "threshold high", Prior: 30, Minutes: 20, Says: "it switches at too high a pressure",
			Confirm: "A tested gauge at its port, pressure lowered slowly: read where it switches.",
			Repair:  "Renew the switch.",
		},
		{
			Mode: "threshold low", Prior: 30, Minutes: 20, Says: "it switches at too low a pressure",
			Confirm: "A tested gauge at its port, pressure lowered slowly: read where it switches.",
			Repair:  "Renew the switch.",
		},
		{
			Mode: "port blocked", Prior: 20, Minutes: 20, Says: "its port is blocked, so that it does not feel the pressure change",
			Confirm: "Undo it with the line charged: no air comes, or only after a knock.",
			Repair:  "Clear the port, renew the switch.", Cautions: []string{cautionBleed},
		},
	}
}

var lampWords = []Words{{
	Mode: "dead", Prior: 60, Minutes: 10, Says: "it is burnt out or has lost its feed",
	Confirm: "Key on, its wire bridged to ground: it must light.",
	Repair:  "Renew the bulb, mend the feed.",
}}

var buzzerWords = []Words{{
	Mode: "dead", Prior: 40, Minutes: 15, Says: "it is dead or has lost its feed",
	Confirm: "Key on, its wire bridged to ground: it must sound.",
	Repair:  "Renew it, mend the feed.",
}}
