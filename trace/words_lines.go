package trace

// Words for lines and what joins them.

var teeWords = []Words{leakWords(20, "a joint at it leaks", "Remake the joint or renew the tee.")}

var testConnectionWords = []Words{leakWords(10, "its valve leaks", "Renew the test connection, put its cap on.")}

var tubeWords = append(wayWords(30, 15),
	Words{
		Mode: "carboned", Prior: 200, Minutes: 90, Says: "carbon narrows it",
		Confirm: "Gauge at the compressor's outlet while loaded: far above the dryer's inlet. Look into it.",
		Repair:  "Renew it; find out why it carboned (heat, oil, a leaking discharge valve).", Cautions: []string{cautionHot, cautionBleed},
	},
	Words{
		Mode: "staying charged", Prior: 30, Minutes: 30, Says: "something in it keeps its air from coming back, so that it stays charged",
		Confirm: "At cut-in, undo it at the dryer: air comes out, and the purge valve shuts.",
		Repair:  "Blow it through or renew it; drain the tanks.", Cautions: []string{cautionBleed},
	},
)

var hoseWords = append(wayWords(60, 15),
	Words{
		Mode: "lining closing the way out", Prior: 15, Minutes: 40, Says: "its lining has come loose and closes the way out",
		Confirm: "The brake comes on slowly and goes off at once; blow through it both ways.",
		Repair:  "Renew the hose, and its twin.", Cautions: []string{cautionBleed},
	},
	Words{
		Mode: "lining closing the way back", Prior: 15, Minutes: 40, Says: "its lining has come loose and closes the way back",
		Confirm: "The brake comes on at once and goes off slowly; blow through it both ways.",
		Repair:  "Renew the hose, and its twin.", Cautions: []string{cautionBleed},
	},
)

var wireWords = []Words{
	{
		Mode: "open", Prior: 40, Minutes: 30, Says: "it is broken, or its plug has come off",
		Confirm: "Measure through it from plug to plug.",
		Repair:  "Mend the wire or the plug.",
	},
	{
		Mode: "shorted", Prior: 40, Minutes: 30, Says: "it touches ground",
		Confirm: "Unplug both ends and measure against the frame.",
		Repair:  "Mend the wire, and what has chafed it.",
	},
}

func leakWords(prior float64, says, repair string) Words {
	return Words{
		Mode: "leaking", Prior: prior, Minutes: 30, Says: says,
		Confirm: "Soap over it in a state in which it holds air, engine off.",
		Repair:  repair, Cautions: []string{cautionBleed},
	}
}

// wayWords are the ways in which any air line fails.
func wayWords(leak, narrow float64) []Words {
	return []Words{
		leakWords(leak, "it leaks, at a fitting or where it chafes", "Remake the fitting or renew the line; cure what it chafes on."),
		{
			Mode: "kinked", Prior: narrow, Minutes: 40, Says: "it is kinked or crushed",
			Confirm: "Follow it with eye and hand.",
			Repair:  "Renew it and lay it clear.", Cautions: []string{cautionBleed},
		},
		{
			Mode: "iced", Prior: narrow / 3, Minutes: 30, Says: "ice narrows it",
			Confirm: "Slow in frost, free once thawed; water at the drains upstream.",
			Repair:  "Thaw it with warm air, drain the tanks, see to the dryer.", Cautions: []string{"Thaw with warm air, never with a flame."},
		},
		{
			Mode: "blocked", Prior: narrow / 3, Minutes: 40, Says: "it is blocked",
			Confirm: "Undo both ends and blow it through.",
			Repair:  "Renew it.", Cautions: []string{cautionBleed},
		},
	}
}
