package explain

// What uses air for something else than braking.
var auxiliaryWords = map[string]Words{
	"levelling-valve": {{
		{forth("inlet"), "The body is low, so it fills the bellows: {2} there, {1} at its supply."},
		{forth("exhaust"), "The body is high, so it lets the bellows out: {2}."},
		{air("2"), "The body is level: it is shut, and keeps {2} in the bellows."},
		{always, "There is no air in the bellows, and none comes."},
	}},
	"bellows": {{
		{atLeast("1", "full_at"), "It stands at its full height on {1}."},
		{atLeast("1", "lifts_at"), "It lifts: {1} carry the load part of the way."},
		{air("1"), "It has {1}, too little to lift."},
		{always, "It is flat, on its bump stop."},
	}},
	"auxiliary-consumer": {{
		{all(worked("work"), flows("use")), "It is being worked and uses {flow:use}."},
		{worked("work"), "It is being worked, but no air comes."},
		{air("1"), "It rests, filled with {1}."},
		{always, "It has no air."},
	}},
}
