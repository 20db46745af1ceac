package explain

// What keeps the air, and keeps it from going back.
var storageWords = map[string]Words{
	"three-compartment-tank": {{
		{air("supply"), "The supply compartment holds {supply}, the primary {primary}, the secondary {secondary}. The walls between them are tight: each can be lost without the others."},
		{all(not(air("supply")), air("primary")), "The supply compartment is empty; the check valves keep {primary} in the primary and {secondary} in the secondary compartment."},
		{always, "Supply {supply}, primary {primary}, secondary {secondary}."},
	}},
	"reservoir": {{
		{air("air"), "It holds {air}."},
		{always, "It is empty."},
	}},
	"check-valve": {{
		{forth("seat"), "It is open: air goes through, {flow:seat}, because {1} before it is more than {2} behind it."},
		{higher("2", "1"), "It is shut, and keeps {2} behind it from going back to the {1} before it."},
		{always, "It is shut: the same pressure, {1}, stands on both sides."},
	}},
	"drain-valve": {{
		{all(open("cock"), flows("cock")), "It is open: {flow:cock} blow out with whatever water there is."},
		{open("cock"), "It is open, and nothing comes any more."},
		{always, "It is shut, with {1} on it."},
	}},
	"pressure-protection-valve": {{
		{forth("valve"), "It lets air on, {flow:valve}: {1} before it is enough for the brakes and for what it feeds."},
		{open("valve"), "It is open: {1} before it, {2} behind it. It shuts when the pressure before it falls to {set:closes}."},
		{always, "It is shut: with {1} before it there is too little to give any away. It opens from {set:closes} on. Behind it stand {2}."},
	}},
	"tee": {{
		{always, "It joins three lines at {body}."},
	}},
	"plug": {{
		{always, "It closes the end: {1} behind it go nowhere."},
	}},
	"test-connection": {{
		{always, "A gauge screwed on here would show {1}."},
	}},
}
