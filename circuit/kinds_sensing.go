package circuit

// Kinds that tell the driver.
var sensingKinds = []*Kind{
	{
		Name: "gauge", Title: "dash gauge",
		About: "Shows one reservoir's pressure.",
		Ports: []PortSpec{airPort("1", "the reservoir that it shows")},
		Rooms: valveRooms(airPort("1", "sensing")),
		Params: []ParamSpec{
			{Name: "full_scale", Dimension: Pressure, Default: "150 psi", Min: "60 psi", Max: "400 psi", About: "end of the dial", Source: "engineering judgement"},
			{Name: "tolerance", Dimension: Ratio, Default: "7 %", Min: "0.5 %", Max: "20 %", About: "of compressor cut-out pressure", Source: "49 CFR 571.121 S5.1.4"},
		},
	},
	{
		Name: "pressure-switch", Title: "low pressure switch",
		About: "Closes its contact when the reservoir's pressure is low, and so lights the warning.",
		Ports: []PortSpec{airPort("1", "reservoir"), {Name: "e", Medium: Current, About: "contact"}},
		Rooms: valveRooms(airPort("1", "sensing")),
		Params: []ParamSpec{
			{Name: "closes_below", Dimension: Pressure, Default: "66 psi", Min: "20 psi", Max: "100 psi", About: "falling, the contact closes", Source: "49 CFR 571.121 S5.1.5: active below 60 psi, with a margin"},
			{Name: "hysteresis", Dimension: PressureSpan, Default: "4 psi", Min: "0 psi", Max: "20 psi", About: "above which, rising, it opens again", Source: "engineering judgement"},
		},
	},
	{
		Name: "stop-lamp-switch", Title: "stop lamp switch",
		About: "Closes its contact as soon as service air is delivered, and so lights the stop lamps.",
		Ports: []PortSpec{airPort("1", "service delivery"), {Name: "e", Medium: Current, About: "contact"}},
		Rooms: valveRooms(airPort("1", "sensing")),
		Params: []ParamSpec{
			{Name: "closes_above", Dimension: Pressure, Default: "4 psi", Min: "1 psi", Max: "10 psi", About: "rising, the contact closes", Source: "49 CFR 571.121 S5.1.7: at 6 psi or less"},
			{Name: "hysteresis", Dimension: PressureSpan, Default: "1 psi", Min: "0 psi", Max: "5 psi", About: "below which, falling, it opens again", Source: "engineering judgement"},
		},
	},
	{
		Name: "lamp", Title: "lamp",
		About: "Lights while a switch that it is wired to is closed and the key is on.",
		Ports: []PortSpec{{Name: "e1", Medium: Current, About: "from a switch"}, {Name: "e2", Medium: Current, Optional: true, About: "from another switch"}, {Name: "e3", Medium: Current, Optional: true, About: "on to the buzzer"}},
	},
	{
		Name: "buzzer", Title: "warning buzzer",
		About: "Sounds with the warning lamp.",
		Ports: []PortSpec{{Name: "e1", Medium: Current, About: "from the lamp"}},
	},
}
