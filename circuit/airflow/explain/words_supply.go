package explain

// What makes, limits and dries the air.
var supplyWords = map[string]Words{
	"compressor": {{
		{not(turns), "It stands still: the engine is off."},
		{over("4", 20), "It runs but pumps nothing: {4} on its unloader holds the intake valves open, so the air goes in and out again."},
		{forth("pump"), "It pumps {flow:pump} against {head} in its head. The governor lets it: there is no air on its unloader."},
		{always, "It turns, but next to nothing passes it."},
	}},
	"governor": {{
		{all(open("inlet"), air("2")), "It has cut out: it senses {1}, and since the cut-out at {set:cut_out} it sends that air to the unloader and the purge valve. It lets go when the pressure has fallen to {set:cut_in}."},
		{open("inlet"), "It is cutting out: air is on its way to the unloader."},
		{atLeast("1", "cut_in"), "It lets the compressor pump: it senses {1}, and will cut out at {set:cut_out}. The unloader line is open to its exhaust."},
		{always, "It lets the compressor pump: {1} is below its cut-in at {set:cut_in}. The unloader line is open to its exhaust."},
	}},
	"air-dryer": {{
		{all(open("purge valve"), flows("purge valve")), "It purges: {4} on its control holds the purge valve open, and dry air from the purge volume blows back through the bed and out with the water."},
		{open("purge valve"), "The purge is over. Its purge valve stays open on {4} of control air until the governor cuts in; the outlet check keeps the reservoir's {2}."},
		{forth("cartridge"), "It dries: {flow:cartridge} pass its bed at {1} and go on to the supply reservoir through the outlet check."},
		{always, "It rests: nothing is pumped, the purge valve is shut, and the outlet check keeps {2} behind it."},
	}},
	"relief-valve": {{
		{open("seat"), "It blows: {1} is over the {set:opens} at which it lifts."},
		{always, "It is shut: {1} before it, and it lifts at {set:opens}."},
	}},
}
