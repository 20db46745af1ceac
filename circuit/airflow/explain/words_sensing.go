package explain

// What tells the driver.
var sensingWords = map[string]Words{
	"gauge": {{
		{always, "Its needle shows {needle}."},
	}},
	"pressure-switch": {{
		{all(closed, air("1")), "Its contact is closed: {1} is low, so it switches the warning on. It opens again a little above {set:closes_below}."},
		{closed, "Its contact is closed: there is no air, so it switches the warning on."},
		{always, "Its contact is open: {1} is enough. It closes below {set:closes_below}."},
	}},
	"stop-lamp-switch": {{
		{closed, "Its contact is closed: {1} of service air are delivered, so the stop lamps are on."},
		{always, "Its contact is open: no service air."},
	}},
	"lamp": {{
		{lit, "It is lit: a switch that it is wired to is closed, and the key is on."},
		{always, "It is dark: no switch that it is wired to is closed, or the key is off."},
	}},
	"buzzer": {{
		{lit, "It sounds: a switch that it is wired to is closed, and the key is on."},
		{always, "It is silent."},
	}},
}
