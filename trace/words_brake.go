package trace

import "slices"

// Words for the parts at the wheels.

const cautionSpring = "A spring brake chamber holds a compressed spring that can kill: never open one; cage it only as its maker says."

var serviceChamberWords = chamberWords(nil)

var springChamberWords = append(chamberWords([]string{cautionSpring}),
	Words{
		Mode: "inner seal leaking", Prior: 60, Minutes: 60, Says: "the seal between its spring side and its service side leaks",
		Confirm: "Park released, pedal up: undo its service hose: air comes out of the chamber, and stops when the park is set.",
		Repair:  "Exchange the chamber.", Cautions: []string{cautionSpring, cautionBleed},
	},
	Words{
		Mode: "hold-off seal leaking", Prior: 80, Minutes: 60, Says: "its hold-off diaphragm or piston seal leaks to the outside",
		Confirm: "Park released: soap at the vent of the spring housing.",
		Repair:  "Exchange the chamber.", Cautions: []string{cautionSpring, cautionBleed},
	},
	Words{
		Mode: "spring broken", Prior: 40, Minutes: 60, Says: "its spring is broken",
		Confirm: "Set the park: the rod comes out less than its twin's, or the wheel turns; listen for pieces.",
		Repair:  "Exchange the chamber.", Cautions: []string{cautionSpring},
	},
	Words{
		Mode: "caging bolt left in", Prior: 10, Minutes: 15, Says: "the caging bolt has been left in",
		Confirm: "Look at the back of the spring housing.",
		Repair:  "Chock the wheels, release the bolt as its maker says, and stow it.", Cautions: []string{cautionSpring},
	},
)

func chamberWords(more []string) []Words {
	return []Words{
		{
			Mode: "diaphragm leaking", Prior: 60, Minutes: 45, Says: "its service diaphragm leaks",
			Confirm: "Pedal down: soap or a hand at the vent hole beside the rod.",
			Repair:  "Renew the diaphragm, or exchange the chamber.", Cautions: slices.Clone(more),
		},
		{
			Mode: "stroke long", Prior: 30, Minutes: 30, Says: "its push-rod travels too far",
			Confirm: "Mark the rod, full application from 90 to 100 psi, engine off; compare with the limit for its size.",
			Repair:  "Find out why the slack adjuster does not keep up, then set it.", Cautions: slices.Clone(more),
		},
		{
			Mode: "seized", Prior: 20, Minutes: 60, Says: "its push-rod is seized and hardly moves",
			Confirm: "Watch the rod while a second person works the pedal.",
			Repair:  "Free the rod and what it works, or exchange the chamber.", Cautions: slices.Clone(more),
		},
		{
			Mode: "return spring weak", Prior: 15, Minutes: 45, Says: "its return spring is weak",
			Confirm: "The rod comes back late or not fully, with slack adjuster and cam free.",
			Repair:  "Exchange the chamber.", Cautions: slices.Clone(more),
		},
	}
}

var slackWords = []Words{
	{
		Mode: "not adjusting", Prior: 60, Minutes: 60, Says: "it does not take up wear, so that the stroke is long",
		Confirm: "Measure the stroke; work the brake some ten times from a backed-off setting and see whether it takes up.",
		Repair:  "Renew it, and set it; setting alone hides the cause.",
	},
	{
		Mode: "over-adjusting", Prior: 15, Minutes: 60, Says: "it takes up too much, so that the brake drags",
		Confirm: "Wheel off the ground and brakes released: it drags; the stroke is short.",
		Repair:  "Renew it, and set it.",
	},
	{
		Mode: "clevis seized", Prior: 20, Minutes: 30, Says: "its clevis is seized, so that the rod hardly moves",
		Confirm: "Take the pin out and see which of the two is stuck.",
		Repair:  "Free or renew clevis and pin, grease them.",
	},
}

const cautionDust = "Brake dust is harmful: no blowing out with air; wet it or draw it off, and wear a mask."

// Priors of brakes are small: they are counted among vehicles that come in with an air complaint, and most brake wear is none.
var drumBrakeWords = []Words{
	{
		Mode: "cam or bushings worn", Prior: 15, Minutes: 180, Says: "its camshaft or bushings are worn",
		Confirm: "Brakes released, lift the camshaft by hand or with a bar at both ends: it must not rise visibly; look at the flats on rollers and cam.",
		Repair:  "Renew bushings, seals, rollers and the camshaft where it is worn, on both sides of the axle.", Cautions: []string{cautionDust},
	},
	{
		Mode: "lining glazed", Prior: 12, Minutes: 150, Says: "its lining is glazed and grips too little",
		Confirm: "Compare wheel forces, or drum temperatures after a few stops: this one is weak and cool with the stroke in order. Look at the lining: hard and shiny.",
		Repair:  "Renew the linings of both sides of the axle; find out what let them get hot or idle.", Cautions: []string{cautionDust},
	},
	{
		Mode: "lining oiled", Prior: 12, Minutes: 180, Says: "its lining is wet with oil or grease and grips too little",
		Confirm: "Weak and cool with the stroke in order; oil at the back of the wheel, the hub seal or the camshaft.",
		Repair:  "Cure the leak first, then renew the linings of both sides of the axle and clean the drum.", Cautions: []string{cautionDust},
	},
	{
		Mode: "lining thin", Prior: 25, Minutes: 150, Says: "its lining is worn thin",
		Confirm: "Measure at the sight hole or with the drum off, at the thinnest place; compare with the limit.",
		Repair:  "Renew the linings of both sides of the axle.", Cautions: []string{cautionDust},
	},
	{
		Mode: "drum oversize", Prior: 8, Minutes: 150, Says: "its drum is worn or turned beyond its size",
		Confirm: "Measure the drum's inner diameter in two directions, in the worn track and beside it; compare with the size cast on it.",
		Repair:  "Renew the drum.", Cautions: []string{cautionDust},
	},
	{
		Mode: "seized", Prior: 18, Minutes: 180, Says: "its camshaft or shoes are seized, so that the rod hardly moves",
		Confirm: "Take the pin out of the clevis: the chamber's rod moves freely, the arm does not.",
		Repair:  "Free or renew camshaft, bushings and anchor pins, grease them.", Cautions: []string{cautionDust},
	},
}
