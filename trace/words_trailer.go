package trace

// Words for what a trailer is worked and fed through.

const cautionRoll = "Chock tractor and trailer: uncoupled or without air either may roll."

var handWords = []Words{
	{
		Mode: "inlet seat leaking", Prior: 40, Minutes: 45, Says: "its inlet seat leaks",
		Confirm: "Lever back: air at its exhaust.",
		Repair:  "Renew the valve.", Cautions: []string{cautionBleed},
	},
	{
		Mode: "exhaust seat leaking", Prior: 40, Minutes: 45, Says: "its exhaust seat leaks",
		Confirm: "Lever at its end: air at its exhaust, none with the lever back.",
		Repair:  "Renew the valve.", Cautions: []string{cautionBleed},
	},
	{
		Mode: "delivering low", Prior: 20, Minutes: 45, Says: "it delivers less than the lever asks for",
		Confirm: "Gauge on its delivery with the lever at its end.",
		Repair:  "Renew the valve.", Cautions: []string{cautionBleed},
	},
	{
		Mode: "not returning", Prior: 30, Minutes: 30, Says: "its lever does not come back fully, and a little air stays on the brakes",
		Confirm: "Gauge on its delivery with the lever let go: it does not fall to zero; push the lever back by hand and it does.",
		Repair:  "Free the lever, or renew the valve.",
	},
	{
		Mode: "exhaust blocked", Prior: 15, Minutes: 20, Says: "its exhaust is blocked, so that its brakes release slowly",
		Confirm: "Let the lever go and time the release.",
		Repair:  "Clear the exhaust.",
	},
}

var tractorProtectionWords = []Words{
	{
		Mode: "not shutting", Prior: 30, Minutes: 60, Says: "it does not shut the service way when the trailer supply is gone",
		Confirm: "Trailer uncoupled, supply knob out, pedal down: air at the control gladhand.",
		Repair:  "Renew it.", Cautions: []string{cautionRoll, cautionBleed},
	},
	{
		Mode: "stuck shut", Prior: 20, Minutes: 60, Says: "it does not let service air through to the trailer",
		Confirm: "Supply knob in, pedal down: gauge at the control gladhand shows little or nothing.",
		Repair:  "Renew it.", Cautions: []string{cautionRoll, cautionBleed},
	},
	{
		Mode: "shutting early", Prior: 15, Minutes: 60, Says: "it shuts while there is still enough trailer supply",
		Confirm: "Hold a light pedal, let the supply down slowly and read where the trailer's control pressure goes.",
		Repair:  "Renew it.", Cautions: []string{cautionRoll},
	},
	{
		Mode: "exhaust leaking", Prior: 30, Minutes: 60, Says: "it leaks at its exhaust with service air on it",
		Confirm: "Supply knob in, pedal down: soap over its exhaust.",
		Repair:  "Renew it.", Cautions: []string{cautionBleed},
	},
	{
		Mode: "supply side leaking", Prior: 20, Minutes: 60, Says: "it leaks to the outside on the supply side",
		Confirm: "Supply knob in: soap over body and ports; none with the knob out.",
		Repair:  "Reseal or renew it.", Cautions: []string{cautionBleed},
	},
	{
		Mode: "service side leaking", Prior: 20, Minutes: 60, Says: "it leaks to the outside on the service side",
		Confirm: "Supply knob in, pedal down: soap over body and ports.",
		Repair:  "Reseal or renew it.", Cautions: []string{cautionBleed},
	},
	{
		Mode: "supply way restricted", Prior: 15, Minutes: 60, Says: "its supply way is clogged, so that the trailer charges slowly",
		Confirm: "Undo the supply gladhand and push the knob in for a moment: a weak stream.",
		Repair:  "Clear or renew it.", Cautions: []string{cautionRoll, cautionBleed},
	},
}

var gladhandWords = []Words{
	{
		Mode: "seal leaking", Prior: 60, Minutes: 10, Says: "its seal leaks",
		Confirm: "Shut off or on its dummy with air on it: soap round the face.",
		Repair:  "Renew the seal, clean the face.",
	},
	{
		Mode: "cock left shut", Prior: 20, Minutes: 2, Says: "its shut-off cock has been left shut",
		Confirm: "Look at the cock's handle.",
		Repair:  "Open it.",
	},
}

var couplingWords = []Words{
	{
		Mode: "supply seal leaking", Prior: 120, Minutes: 10, Says: "the seal of the supply gladhands leaks",
		Confirm: "Trailer supply in: soap round the supply joint.",
		Repair:  "Renew the seal, clean both faces.", Cautions: []string{cautionRoll},
	},
	{
		Mode: "control seal leaking", Prior: 80, Minutes: 10, Says: "the seal of the control gladhands leaks",
		Confirm: "Trailer supply in, pedal down: soap round the control joint; none with the pedal up.",
		Repair:  "Renew the seal, clean both faces.", Cautions: []string{cautionRoll},
	},
	{
		Mode: "supply cock left shut", Prior: 30, Minutes: 2, Says: "a shut-off cock in the supply line has been left shut",
		Confirm: "Look at both cocks; the trailer does not charge.",
		Repair:  "Open it.", Cautions: []string{cautionRoll},
	},
	{
		Mode: "control cock left shut", Prior: 30, Minutes: 2, Says: "a shut-off cock in the control line has been left shut",
		Confirm: "Look at both cocks; the trailer does not answer to the pedal.",
		Repair:  "Open it.",
	},
	{
		Mode: "control left undone", Prior: 30, Minutes: 2, Says: "the control hose has been left undone",
		Confirm: "Look; pedal down, it blows behind the cab.",
		Repair:  "Couple it.",
	},
	{
		Mode: "crossed", Prior: 40, Minutes: 5, Says: "the hoses are joined crosswise, supply to control",
		Confirm: "Follow both hoses; supply knob in: the trailer's reservoir does not fill and its brakes stay on.",
		Repair:  "Couple them the right way round.", Cautions: []string{cautionRoll},
	},
}

var trailerSpringWords = []Words{
	{
		Mode: "leaking back to the supply line", Prior: 50, Minutes: 60, Says: "it lets the trailer reservoir's air back into the supply line",
		Confirm: "Trailer charged, then uncoupled: air keeps coming out of the trailer's supply gladhand.",
		Repair:  "Renew it.", Cautions: []string{cautionRoll, cautionSpring, cautionBleed},
	},
	{
		Mode: "protection stuck open", Prior: 15, Minutes: 60, Says: "its protection stays open, so that a lost reservoir takes the supply line with it",
		Confirm: "Trailer reservoir drain open, supply knob in: the supply line does not hold, and the springs set.",
		Repair:  "Renew it.", Cautions: []string{cautionRoll, cautionSpring},
	},
	{
		Mode: "protection stuck shut", Prior: 20, Minutes: 60, Says: "its protection does not open, so that the trailer's reservoir does not fill",
		Confirm: "Supply knob in for some minutes: gauge or drain at the trailer's reservoir.",
		Repair:  "Renew it.", Cautions: []string{cautionRoll, cautionBleed},
	},
	{
		Mode: "protection opening late", Prior: 15, Minutes: 60, Says: "its protection opens too late, so that the trailer's reservoir stays low",
		Confirm: "Build up slowly and read at which supply pressure the reservoir begins to fill.",
		Repair:  "Set or renew it.", Cautions: []string{cautionRoll},
	},
	{
		Mode: "hold-off restricted", Prior: 15, Minutes: 60, Says: "its way to the springs is clogged, so that they release slowly",
		Confirm: "Supply knob in: time the rods going back.",
		Repair:  "Renew it.", Cautions: []string{cautionRoll, cautionSpring, cautionBleed},
	},
	{
		Mode: "exhaust leaking", Prior: 40, Minutes: 60, Says: "it leaks at its exhaust while the springs are held off",
		Confirm: "Supply knob in: soap over its exhaust; none with the knob out.",
		Repair:  "Renew it.", Cautions: []string{cautionRoll, cautionBleed},
	},
	{
		Mode: "exhaust blocked", Prior: 15, Minutes: 20, Says: "its exhaust is blocked, so that the springs set slowly",
		Confirm: "Pull the supply knob and time the rods coming out.",
		Repair:  "Clear it.", Cautions: []string{cautionRoll, cautionSpring},
	},
}

var emergencyWords = append(relayLike(),
	Words{
		Mode: "leaking back to the supply line", Prior: 50, Minutes: 60, Says: "it lets the trailer reservoir's air back into the supply line",
		Confirm: "Trailer charged, then uncoupled: air keeps coming out of the trailer's supply gladhand.",
		Repair:  "Renew it.", Cautions: []string{cautionRoll, cautionBleed},
	},
	Words{
		Mode: "emergency early", Prior: 15, Minutes: 60, Says: "it puts the brakes on while there is still enough supply",
		Confirm: "Let the supply line down slowly and read where the rods come out.",
		Repair:  "Renew it.", Cautions: []string{cautionRoll},
	},
	Words{
		Mode: "no emergency action", Prior: 15, Minutes: 60, Says: "it does not put the brakes on when the supply is lost",
		Confirm: "Trailer charged, supply knob out: the rods do not come out.",
		Repair:  "Renew it.", Cautions: []string{cautionRoll, cautionBleed},
	},
)

// relayLike are the words of a relay, for a valve that is one among other things.
func relayLike() []Words {
	words := make([]Words, len(relayWords))
	copy(words, relayWords)
	for i := range words {
		words[i].Prior /= 2
	}
	return words
}
