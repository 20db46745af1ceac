package explain

// What sends the air to the brakes and lets it go again.
var controlWords = map[string]Words{
	"foot-valve": {
		{
			{all(worked("pedal"), forth("primary inlet")), "The pedal is down, so the primary inlet is open: {11} from the reservoir flow on until the delivery, now {21}, is what the pedal asks for."},
			{all(worked("pedal"), air("21")), "The pedal is held: the primary delivers {21}, which is what the pedal asks for, so its inlet and its exhaust are both shut."},
			{all(worked("pedal"), not(air("11"))), "The pedal is down, but there is no primary air to deliver."},
			{forth("primary exhaust"), "The pedal is rising or up: the primary delivery, now {21}, goes out at the exhaust."},
			{not(worked("pedal")), "The pedal is up: its inlets are shut, with {11} and {12} waiting before them, and both deliveries stand open to the exhaust."},
			{always, "The pedal is only touched: not enough yet for the primary to deliver."},
		},
		{
			{all(worked("pedal"), forth("secondary inlet")), "The secondary follows the primary: {12} from its reservoir flow on to a delivery of {22}."},
			{all(worked("pedal"), air("22")), "The secondary delivers {22}, close to the primary, which works it."},
			{all(worked("pedal"), not(air("12"))), "The secondary has no air to deliver."},
			{forth("secondary exhaust"), "The secondary's {22} goes out as well."},
		},
	},
	"relay-valve": {{
		{forth("inlet seat"), "It delivers: the control, {4}, is ahead of what the brakes have, {2}, so the inlet stands open and reservoir air, {1}, goes straight to the chambers."},
		{all(forth("exhaust seat"), air("2")), "It releases: control has fallen to {4}, so the exhaust is open and the chambers' {2} go out right here."},
		{all(air("4"), air("2")), "It holds: the delivery, {2}, is as high as the control, {4}, so inlet and exhaust are both shut."},
		{air("4"), "Control air, {4}, is on it, but not enough to move it yet, or there is nothing to deliver: {1} at its supply."},
		{always, "It rests: no control air, so the inlet holds back {1} and the chambers stand open to its exhaust."},
	}},
	"quick-release-valve": {{
		{forth("inlet"), "It passes air on: {1} comes in, {2} stands at the brakes, and its exhaust is shut."},
		{all(forth("exhaust"), air("2")), "It releases: its supply has fallen to {1}, so what the brakes hold, {2}, goes out right here."},
		{air("2"), "It holds: {1} before it and {2} behind it, its exhaust shut."},
		{always, "It rests: no air comes, and what is behind it stands open to its exhaust."},
	}},
	"double-check-valve": {{
		{all(air("11"), air("12"), higher("11", "12")), "Its shuttle lies over the second inlet: {11} at the first is more than {12} at the second, and feeds the outlet."},
		{all(air("11"), air("12"), higher("12", "11")), "Its shuttle lies over the first inlet: {12} at the second is more than {11} at the first, and feeds the outlet."},
		{all(air("11"), air("12")), "Both inlets have the same, {11}, and the outlet has {2}."},
		{air("11"), "The first inlet feeds the outlet with {11}; the shuttle keeps it from getting out at the second, which is empty."},
		{air("12"), "The second inlet feeds the outlet with {12}; the shuttle keeps it from getting out at the first, which is empty."},
		{air("2"), "Both inlets are empty, and {2} is on its way back."},
		{always, "No air comes to either inlet."},
	}},
	"park-control": {{
		{all(popped("knob"), not(worked("knob"))), "Its knob has popped out by itself, because its supply fell below {set:pops_at}: the springs are set. It stays in only when there is more air than that."},
		{forth("inlet"), "The knob is in: {1} goes on to hold the springs off; {2} have got there."},
		{all(worked("knob"), air("2")), "The knob is in: {2} hold the springs off."},
		{worked("knob"), "The knob is in, but there is no air to hold the springs off with."},
		{all(forth("exhaust"), air("2")), "The knob is out: the hold-off air, now {2}, goes out at its exhaust, and the springs come on."},
		{always, "The knob is out: {1} wait before it, the springs have no air and are set."},
	}},
	"hand-control": {{
		{forth("inlet"), "The lever asks for more than is delivered: {1} flow on, {2} have got there."},
		{all(forth("exhaust"), air("2")), "The lever is going back: the delivery, {2}, goes out at its exhaust."},
		{all(worked("lever"), air("2")), "The lever is held: it delivers {2}."},
		{worked("lever"), "The lever is moved, but nothing is delivered: {1} at its supply."},
		{always, "The lever is back: its inlet holds {1}, its delivery is open to the exhaust."},
	}},
	"limiting-valve": {{
		{forth("inlet"), "It passes air on, {flow:inlet}: {2} behind it is under its limit of {set:limit}."},
		{back("return"), "Air goes back the way it came."},
		{forth("return"), "Air goes back the way it came: {2} behind it, {1} before it."},
		{all(air("2"), higher("1", "2")), "It limits: {1} come in, and it lets no more than {2} through."},
		{air("2"), "It holds {2}; its limit of {set:limit} is not reached."},
		{always, "No air comes to it."},
	}},
	"ratio-valve": {{
		{forth("inlet"), "It passes a share on: {1} come in, {2} have got through."},
		{forth("exhaust"), "It lets air out at its own exhaust: its supply has fallen, and {2} is more than its share."},
		{air("2"), "It holds {2} of the {1} that come in."},
		{always, "No air comes to it."},
	}},
	"spring-brake-valve": {{
		{all(forth("exhaust"), air("42")), "It lets hold-off air out: the front is worked with {42} and the rear has only {41}, so the springs, now at {2}, help to brake in place of the rear."},
		{forth("exhaust"), "It lets hold-off air out: {2} is more than is asked for."},
		{forth("inlet"), "It fills the spring sides: {1} come from the park control, {2} have got there."},
		{forth("return"), "Hold-off air goes back through it to the park control, which is out: {2}."},
		{air("2"), "It holds the springs off with {2}, limited to {set:hold_off}."},
		{always, "The park control gives it no air: the springs are set."},
	}},
	"anti-lock-modulator": {{
		{worked("dump"), "The control unit dumps: the chamber's air, {2}, goes out at its exhaust."},
		{worked("hold"), "The control unit holds: the way in is shut, the chamber keeps {2}."},
		{flows("inlet"), "It is open both ways, as always when no wheel locks: {flow:inlet} pass, {2} at the chamber."},
		{always, "It is open both ways, as always when no wheel locks: {2} at the chamber."},
	}},
}
