package explain

// What a trailer is worked and fed through.
var trailerWords = map[string]Words{
	"trailer-supply-control": {{
		{all(popped("knob"), not(worked("knob"))), "Its knob has popped out by itself, because its supply fell below {set:pops_at}: the trailer's supply line is let out and its brakes set."},
		{forth("inlet"), "The knob is in: it charges the trailer's supply line, which has {2} now."},
		{worked("knob"), "The knob is in: {2} stand in the trailer's supply line."},
		{all(forth("exhaust"), air("2")), "The knob is out: the trailer's supply line, still {2}, is let out here."},
		{always, "The knob is out: {1} wait before it, the trailer's supply line is empty."},
	}},
	"tractor-protection-valve": {
		{
			{all(air("1"), open("service way")), "The trailer is charged with {1}, so the service way is open."},
			{air("1"), "There is some supply air, {1}, but not enough yet to open the service way (it opens from {set:shuts_at} on)."},
			{always, "Without trailer supply it keeps the service way shut, so that no service air can be lost by the trailer's line."},
		},
		{
			{all(open("service way"), air("4")), "Service air goes through to the trailer: {22}."},
			{all(open("exhaust"), air("22")), "The trailer's service line is let out here: {22}."},
		},
	},
	"gladhand": {{
		{all(worked("shop_air"), forth("shop air")), "A workshop's hose is on it and gives {flow:shop air}: {1} are behind it."},
		{worked("shop_air"), "A workshop's hose is on it, and no air goes through it: {1} are behind it already."},
		{worked("shut"), "Its cock is shut, or it hangs on a dummy or on a shut hose: {1} behind it stay there."},
		{flows("face"), "Its face is open and blows: {flow:face}."},
		{always, "Its face stands open to the air; no air comes."},
	}},
	"coupling": {{
		{not(worked("coupled")), "It is uncoupled: all four faces are open."},
		{air("11"), "Coupled: {11} of supply air and {12} of control air go across to the trailer."},
		{always, "Coupled, but the trailer's supply line is empty."},
	}},
	"trailer-spring-valve": {
		{
			{forth("hold-off way"), "Supply air, {1}, fills the spring sides first: {22} have got there."},
			{all(forth("exhaust"), air("22")), "The supply, {1}, is lost: it lets the hold-off air, {22}, out and the trailer's springs set."},
			{air("22"), "It holds the trailer's springs off with {22}."},
			{always, "The spring sides have no air: the trailer's springs are set."},
		},
		{
			{forth("reservoir check"), "There is enough supply, so it fills the trailer's reservoir too: {21}."},
			{all(air("21"), higher("21", "1")), "Its check keeps the reservoir's {21} on the trailer."},
			{open("protection"), "The way to the reservoir is open: {21} there."},
			{always, "The way to the reservoir is shut until the supply line has {set:closes}."},
		},
	},
	"relay-emergency-valve": {
		{
			{all(forth("inlet seat"), not(air("1"))), "Emergency: the supply line is lost, so it puts the brakes on with the reservoir's {tank}."},
			{forth("inlet seat"), "It delivers: {4} of control is more than the brakes have, {2}."},
			{all(forth("exhaust seat"), air("2")), "It releases: the brakes' {2} go out at its exhaust."},
			{all(air("2"), not(air("4"))), "It keeps the brakes on with {2}: the supply line has only {1}, as after an emergency."},
			{air("2"), "It holds {2} at the brakes, under {4} of control."},
			{always, "It rests: no control air, the brakes are open to its exhaust."},
		},
		{
			{forth("reservoir check"), "It fills the reservoir from the supply line: {tank}."},
			{all(air("tank"), higher("tank", "1")), "Its check keeps {tank} in the reservoir."},
		},
	},
}
