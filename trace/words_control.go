package trace

// Words for the valves that send air to the brakes.

var footWords = []Words{
	footLeak("primary inlet seat leaking", 60, "the primary inlet seat leaks", "Pedal up: air at its exhaust, which stops when the primary tank is bled."),
	footLeak("secondary inlet seat leaking", 60, "the secondary inlet seat leaks", "Pedal up: air at its exhaust, which stops when the secondary tank is bled."),
	footLeak("primary exhaust seat leaking", 60, "the primary exhaust seat leaks", "Pedal down: air at its exhaust, which stops when the primary tank is bled."),
	footLeak("secondary exhaust seat leaking", 60, "the secondary exhaust seat leaks", "Pedal down: air at its exhaust, which stops when the secondary tank is bled."),
	{
		Mode: "primary delivering low", Prior: 30, Minutes: 90, Says: "the primary circuit delivers less than the pedal asks for",
		Confirm: "Gauges on both deliveries: the primary lags as the pedal goes down, with the pedal's full travel proven.",
		Repair:  "Exchange or overhaul the foot valve.", Cautions: []string{cautionBleed},
	},
	{
		Mode: "secondary delivering low", Prior: 30, Minutes: 90, Says: "the secondary circuit delivers less than the primary",
		Confirm: "Gauges on both deliveries: more than a few psi between them on a steady pedal.",
		Repair:  "Exchange or overhaul the foot valve.", Cautions: []string{cautionBleed},
	},
	{
		Mode: "not returning", Prior: 40, Minutes: 60, Says: "it does not return fully, and holds a little air on the brakes",
		Confirm: "Gauge on a delivery with the pedal up: it does not fall to zero. Undo the linkage: if it falls then, the linkage binds.",
		Repair:  "Free and grease pedal pivot and plunger, or exchange the valve.",
	},
	{
		Mode: "exhaust blocked", Prior: 30, Minutes: 30, Says: "its exhaust is blocked, so that the brakes release slowly",
		Confirm: "Take the exhaust guard off and release: it is quick then.",
		Repair:  "Clear the exhaust, renew the guard.",
	},
	{
		Mode: "leaking between circuits", Prior: 20, Minutes: 90, Says: "air passes between its two circuits while the pedal is down",
		Confirm: "Bleed one circuit, keep the other charged, pedal down: the other's air comes out of the first.",
		Repair:  "Exchange the foot valve.", Cautions: []string{cautionBleed},
	},
	{
		Mode: "free play too large", Prior: 30, Minutes: 20, Says: "its pedal has too much free play",
		Confirm: "Measure pedal travel before the first air is delivered.",
		Repair:  "Set the linkage.",
	},
	{
		Mode: "free play too small", Prior: 20, Minutes: 20, Says: "its pedal has no free play, so that the valve never quite exhausts",
		Confirm: "Measure pedal travel before the first air; back the stop off and see whether the brakes let go.",
		Repair:  "Set the linkage.",
	},
	{
		Mode: "pedal binding", Prior: 20, Minutes: 30, Says: "its pedal or linkage stops short of full travel",
		Confirm: "Look under the mat and along the linkage at full pedal; gauge on a delivery at the floor.",
		Repair:  "Clear what is in the way, free and grease the linkage.",
	},
}

func footLeak(mode string, prior float64, says, confirm string) Words {
	return Words{Mode: mode, Prior: prior, Minutes: 90, Says: says, Confirm: confirm, Repair: "Exchange or overhaul the foot valve.", Cautions: []string{cautionBleed}}
}

var relayWords = []Words{
	{
		Mode: "inlet seat leaking", Prior: 90, Minutes: 60, Says: "its inlet seat leaks",
		Confirm: "Brakes released: air at its exhaust which goes on with the park set as well as released, and stops when its reservoir is bled.",
		Repair:  "Clean or renew the relay.", Cautions: []string{cautionBleed},
	},
	{
		Mode: "exhaust seat leaking", Prior: 80, Minutes: 60, Says: "its exhaust seat leaks",
		Confirm: "Pedal down: air at its exhaust; pedal up: none.",
		Repair:  "Clean or renew the relay.", Cautions: []string{cautionBleed},
	},
	{
		Mode: "stuck shut", Prior: 30, Minutes: 60, Says: "its inlet hardly opens, so that its brakes get little or late air",
		Confirm: "Gauges on control and delivery: the delivery lags far behind.",
		Repair:  "Renew the relay.", Cautions: []string{cautionBleed},
	},
	{
		Mode: "stuck applied", Prior: 20, Minutes: 60, Says: "it holds its brakes on without control air",
		Confirm: "Gauge on its delivery with the pedal up and the control line undone.",
		Repair:  "Renew the relay.", Cautions: []string{cautionBleed},
	},
	{
		Mode: "crack pressure high", Prior: 30, Minutes: 60, Says: "it begins to deliver too late",
		Confirm: "Gauges on control and delivery, pedal pressed slowly: read where the delivery begins.",
		Repair:  "Renew the relay.", Cautions: []string{cautionBleed},
	},
	{
		Mode: "control seal leaking", Prior: 30, Minutes: 60, Says: "its piston seal lets control air past",
		Confirm: "Hold a light steady pedal: air at its exhaust, or a control line that creeps.",
		Repair:  "Renew the relay.", Cautions: []string{cautionBleed},
	},
	{
		Mode: "control leaking", Prior: 30, Minutes: 40, Says: "it leaks to the outside at its control side",
		Confirm: "Pedal down, soap round the control port and the cover.",
		Repair:  "Reseal or renew the relay.", Cautions: []string{cautionBleed},
	},
	{
		Mode: "exhaust blocked", Prior: 30, Minutes: 30, Says: "its exhaust is blocked, so that its brakes release slowly",
		Confirm: "Look for mud or ice at the exhaust; time the release.",
		Repair:  "Clear the exhaust, renew its flap.",
	},
	{
		Mode: "iced", Prior: 15, Minutes: 30, Says: "ice in it slows its brakes on and off",
		Confirm: "Slow both ways in frost, quick once thawed; water at the drains upstream.",
		Repair:  "Thaw it with warm air, drain the tanks, see to the dryer.", Cautions: []string{"Thaw with warm air, never with a flame."},
	},
}

var quickReleaseWords = []Words{
	{
		Mode: "leaking", Prior: 50, Minutes: 30, Says: "it leaks at its exhaust while air is on it",
		Confirm: "Soap over its exhaust with air on it.",
		Repair:  "Renew it.", Cautions: []string{cautionBleed},
	},
	{
		Mode: "exhaust blocked", Prior: 20, Minutes: 20, Says: "its exhaust is blocked, so that its brakes release slowly",
		Confirm: "Look for mud or ice at the exhaust; time the release.",
		Repair:  "Clear it.",
	},
	{
		Mode: "sticking shut", Prior: 20, Minutes: 30, Says: "its diaphragm sticks, so that hardly any air gets to the brakes",
		Confirm: "Gauges before and after it: the one after lags.",
		Repair:  "Renew it.", Cautions: []string{cautionBleed},
	},
}

var doubleCheckWords = []Words{
	doubleCheckLeak("first seat leaking", "its shuttle leaks at the first inlet", "first"),
	doubleCheckLeak("second seat leaking", "its shuttle leaks at the second inlet", "second"),
	doubleCheckStuck("stuck on the first supply", "its shuttle sticks on the side of the second inlet, so that only the first feeds"),
	doubleCheckStuck("stuck on the second supply", "its shuttle sticks on the side of the first inlet, so that only the second feeds"),
}

func doubleCheckLeak(mode, says, inlet string) Words {
	return Words{
		Mode: mode, Prior: 30, Minutes: 40, Says: says,
		Confirm: "With the other side charged, undo the line at the " + inlet + " inlet: air comes back out of the valve.",
		Repair:  "Renew it.", Cautions: []string{cautionBleed},
	}
}

func doubleCheckStuck(mode, says string) Words {
	return Words{
		Mode: mode, Prior: 15, Minutes: 40, Says: says,
		Confirm: "Charge each inlet alone and read the outlet.",
		Repair:  "Renew it.", Cautions: []string{cautionBleed},
	}
}

var parkWords = []Words{
	{
		Mode: "inlet leaking", Prior: 40, Minutes: 40, Says: "its inlet seat leaks",
		Confirm: "Park set: air at its exhaust.",
		Repair:  "Renew the valve.", Cautions: []string{cautionBleed},
	},
	{
		Mode: "exhaust leaking", Prior: 40, Minutes: 40, Says: "its exhaust seat leaks",
		Confirm: "Park released: air at its exhaust, none with the park set.",
		Repair:  "Renew the valve.", Cautions: []string{cautionBleed},
	},
	{
		Mode: "popping early", Prior: 30, Minutes: 40, Says: "the knob pops out while there is still enough air",
		Confirm: "Fan the pedal down and read the pressure at which it pops.",
		Repair:  "Renew the valve.", Cautions: []string{"The springs set as it pops: stay clear of the push-rods."},
	},
	{
		Mode: "not popping", Prior: 20, Minutes: 40, Says: "the knob stays in when the air is lost",
		Confirm: "Fan the pedal down and read the pressure at which it pops, if it does.",
		Repair:  "Renew the valve.", Cautions: []string{"The springs set as it pops: stay clear of the push-rods."},
	},
	{
		Mode: "exhaust blocked", Prior: 15, Minutes: 20, Says: "its exhaust is blocked, so that the springs set slowly",
		Confirm: "Pull the knob and time the springs.",
		Repair:  "Clear the exhaust.",
	},
}
