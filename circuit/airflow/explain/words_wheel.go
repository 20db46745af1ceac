package explain

// What stands at the wheels.
var wheelWords = map[string]Words{
	"service-chamber": {{
		{all(air("service"), out), "The brake is on: {service} on the diaphragm have pushed the rod out by {stroke}."},
		{air("service"), "There is {service} on the diaphragm, but the rod has hardly moved."},
		{out, "The rod is still out by {stroke}, though the air has gone."},
		{always, "The brake is off: no air on the diaphragm, the return spring holds the rod back."},
	}},
	"spring-brake-chamber": {
		{
			{all(not(air("spring")), out), "The spring is set: no air holds it back, so it pushes the rod out by {stroke} and the wheel is held."},
			{not(atLeast("spring", "lifts_at")), "The spring is on: {spring} are not enough to begin to hold it back (that takes {set:lifts_at})."},
			{atLeast("spring", "held_off_at"), "The spring is held off by {spring} on its side."},
			{always, "The spring is partly held back: {spring}; it is fully off at {set:held_off_at}, so it still drags."},
		},
		{
			{all(air("service"), out), "Service air, {service}, pushes the rod too: {stroke} out."},
			{all(atLeast("spring", "held_off_at"), out), "The rod is {stroke} out."},
			{atLeast("spring", "held_off_at"), "No service air: the brake is off."},
		},
	},
	"slack-adjuster": {{
		{out, "The push-rod has swung it by {stroke}, and it turns the cam."},
		{always, "It is at rest."},
	}},
	"drum-brake": {{
		{out, "The cam is turned and spreads the shoes against the drum."},
		{always, "The shoes are clear of the drum."},
	}},
}
