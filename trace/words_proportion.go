package trace

// Words for the valves that change how much of the air gets to the brakes.

var limitingWords = []Words{
	{
		Mode: "limit low", Prior: 15, Minutes: 40, Says: "it stops passing air on too early",
		Confirm: "Gauges before and after it, pedal pressed slowly: read where the second one stays behind.",
		Repair:  "Renew it; set the new one to the vehicle's figure.", Cautions: []string{cautionBleed},
	},
	{
		Mode: "limit high", Prior: 15, Minutes: 40, Says: "it passes on more than its limit",
		Confirm: "Gauges before and after it at a full application.",
		Repair:  "Renew it; set the new one to the vehicle's figure.", Cautions: []string{cautionBleed},
	},
	{
		Mode: "seat leaking", Prior: 20, Minutes: 40, Says: "its seat leaks, so that the delivery creeps up past the limit",
		Confirm: "Hold a full application and watch a gauge behind it for a minute.",
		Repair:  "Renew it.", Cautions: []string{cautionBleed},
	},
	{
		Mode: "stuck shut", Prior: 15, Minutes: 40, Says: "it hardly lets anything through",
		Confirm: "Gauges before and after it: the second lags far behind even on a light application.",
		Repair:  "Renew it.", Cautions: []string{cautionBleed},
	},
	{
		Mode: "leaking", Prior: 20, Minutes: 40, Says: "it leaks to the outside",
		Confirm: "Pedal down, soap over body and ports.",
		Repair:  "Reseal or renew it.", Cautions: []string{cautionBleed},
	},
}

var ratioWords = []Words{
	{
		Mode: "delivering low", Prior: 15, Minutes: 40, Says: "it delivers a smaller share than it should",
		Confirm: "Gauges before and after it at two or three steady pedals; work out the share.",
		Repair:  "Renew it.", Cautions: []string{cautionBleed},
	},
	{
		Mode: "delivering high", Prior: 15, Minutes: 40, Says: "it delivers a larger share than it should",
		Confirm: "Gauges before and after it at two or three steady pedals; work out the share.",
		Repair:  "Renew it.", Cautions: []string{cautionBleed},
	},
	{
		Mode: "inlet seat leaking", Prior: 25, Minutes: 40, Says: "its inlet seat leaks",
		Confirm: "Steady half pedal: air at its exhaust, none with the pedal up.",
		Repair:  "Renew it.", Cautions: []string{cautionBleed},
	},
	{
		Mode: "exhaust seat leaking", Prior: 25, Minutes: 40, Says: "its exhaust seat leaks",
		Confirm: "Pedal down: air at its exhaust.",
		Repair:  "Renew it.", Cautions: []string{cautionBleed},
	},
	{
		Mode: "exhaust blocked", Prior: 15, Minutes: 20, Says: "its exhaust is blocked, so that its brakes release slowly",
		Confirm: "Look for mud or ice at the exhaust; time the release.",
		Repair:  "Clear it.",
	},
}

var springValveWords = []Words{
	{
		Mode: "inlet seat leaking", Prior: 20, Minutes: 60, Says: "its inlet seat leaks, so that the springs get more than its limited pressure",
		Confirm: "Gauge at the spring sides, park released: it creeps up to tank pressure.",
		Repair:  "Renew it.", Cautions: []string{cautionSpring, cautionBleed},
	},
	{
		Mode: "exhaust leaking", Prior: 30, Minutes: 60, Says: "it leaks at its exhaust while the springs are held off",
		Confirm: "Park released: soap over its exhaust; none with the park set.",
		Repair:  "Renew it.", Cautions: []string{cautionSpring, cautionBleed},
	},
	{
		Mode: "control seal leaking", Prior: 15, Minutes: 60, Says: "air passes between its two control sides",
		Confirm: "Bleed the primary tank, pedal down: front delivery air comes out at the foot valve's exhaust for the rear circuit.",
		Repair:  "Renew it.", Cautions: []string{cautionSpring, cautionBleed},
	},
	{
		Mode: "leaking", Prior: 20, Minutes: 60, Says: "it leaks to the outside on the side of the springs",
		Confirm: "Park released: soap over body and ports.",
		Repair:  "Reseal or renew it.", Cautions: []string{cautionSpring, cautionBleed},
	},
	{
		Mode: "hold-off low", Prior: 15, Minutes: 60, Says: "it gives the springs too little air, so that they may drag",
		Confirm: "Gauge at the spring sides, park released, tanks full.",
		Repair:  "Renew it.", Cautions: []string{cautionSpring, cautionBleed},
	},
	{
		Mode: "stuck", Prior: 15, Minutes: 60, Says: "it does not let hold-off air out when the rear circuit is lost",
		Confirm: "Bleed the primary tank, park released, pedal down: the rear rods do not come out.",
		Repair:  "Renew it.", Cautions: []string{cautionSpring, cautionBleed},
	},
	{
		Mode: "exhaust blocked", Prior: 10, Minutes: 20, Says: "its exhaust is blocked",
		Confirm: "Bleed the primary tank, park released, pedal down: the rear rods come out slowly; look at the exhaust.",
		Repair:  "Clear it.", Cautions: []string{cautionSpring},
	},
}

var modulatorWords = []Words{
	{
		Mode: "inlet seat leaking", Prior: 15, Minutes: 45, Says: "it does not hold the chamber's pressure when the control unit wants it held",
		Confirm: "Have the control unit hold while the pedal goes down: the rod still comes out.",
		Repair:  "Renew it.", Cautions: []string{cautionBleed},
	},
	{
		Mode: "exhaust seat leaking", Prior: 40, Minutes: 45, Says: "its exhaust seat leaks",
		Confirm: "Pedal down: air at its exhaust, none with the pedal up.",
		Repair:  "Renew it.", Cautions: []string{cautionBleed},
	},
	{
		Mode: "stuck shut", Prior: 20, Minutes: 45, Says: "it hardly lets anything through to its chamber",
		Confirm: "Gauges before and after it: its chamber lags behind the other side's.",
		Repair:  "Renew it.", Cautions: []string{cautionBleed},
	},
	{
		Mode: "stuck applied", Prior: 20, Minutes: 45, Says: "it hardly lets the chamber's air back, so that the brake goes off late",
		Confirm: "Release and watch the two rods of the axle; undo the hose at the chamber: it is quick then.",
		Repair:  "Renew it.", Cautions: []string{cautionBleed},
	},
	{
		Mode: "stuck dumping", Prior: 15, Minutes: 45, Says: "it stays open to the outside while the brake is on",
		Confirm: "Pedal down, ignition off: it blows at its exhaust.",
		Repair:  "Renew it; read out the control unit.", Cautions: []string{cautionBleed},
	},
	{
		Mode: "iced", Prior: 10, Minutes: 30, Says: "ice in it slows its brake on and off",
		Confirm: "Slow both ways in frost, quick once thawed; water at the drains upstream.",
		Repair:  "Thaw it with warm air, drain the tanks, see to the dryer.", Cautions: []string{"Thaw with warm air, never with a flame."},
	},
}
