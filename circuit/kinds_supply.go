package circuit

// Kinds that make, limit and dry the air.
var supplyKinds = []*Kind{
	{
		Name: "compressor", Title: "compressor",
		About: "Draws air through its intake and pumps it into the discharge line. Air on its unloader holds the intake valves open, and it stops pumping.",
		Ports: []PortSpec{
			ventPort("0", "intake"),
			{Name: "2", Medium: Air, Room: "head", About: "discharge"},
			airPort("4", "unloader"),
		},
		Rooms: []RoomSpec{{Name: "intake", About: "intake duct"}, {Name: "head", About: "cylinder head"}, {Name: "4", About: "unloader"}},
		Params: []ParamSpec{
			{Name: "displacement", Dimension: Volume, Min: "20 mL", Max: "2 L", About: "swept volume per turn of the compressor"},
			{Name: "drive_ratio", Dimension: Ratio, Default: "1", Min: "0.2", Max: "3", About: "compressor turns per engine turn", Source: "engineering judgement"},
			{Name: "clearance", Dimension: Ratio, Default: "6 %", Min: "1 %", Max: "15 %", About: "clearance volume over swept volume", Source: "textbook: up to 5 %, plus passages"},
			{Name: "efficiency", Dimension: Ratio, Default: "90 %", Min: "30 %", Max: "100 %", About: "volumetric efficiency without clearance loss", Source: "handbook range 60 to 92 % overall"},
			{Name: "intake_conductance", Dimension: Conductance, Default: "12 L/(s.bar)", Min: "0.1 L/(s.bar)", Max: "200 L/(s.bar)", About: "filter and duct", Source: "engineering judgement"},
			{Name: "head_volume", Dimension: Volume, Default: "0.15 L", Min: "10 mL", Max: "2 L", About: "head and outlet passages", Source: "engineering judgement"},
			{Name: "unload_pressure", Dimension: Pressure, Default: "60 psi", Min: "20 psi", Max: "100 psi", About: "on the unloader, above which the intake valves are held open", Source: "engineering judgement"},
		},
		Passages: []PassageSpec{
			{Name: "intake filter", From: Atmosphere, To: "intake", About: "filter and intake duct"},
			{Name: "pump", From: "intake", To: "head", OneWay: true, Pilot: []string{"4"}, About: "piston and valves"},
			{Name: "discharge valve", From: "head", To: "intake", Worn: true, About: "back through a leaking discharge valve"},
			{Name: "unloader seal", From: "4", To: "intake", Worn: true, About: "unloader piston seal or head gasket"},
		},
	},
	{
		Name: "governor", Title: "governor",
		About: "Senses the supply reservoir. At cut-out it sends that air to the unloader and the dryer's purge valve; at cut-in it lets it go.",
		Ports: []PortSpec{airPort("1", "sensing, from the reservoir"), airPort("2", "to the unloader and purge valve"), ventPort("3", "exhaust")},
		Rooms: valveRooms(airPort("1", "sensing"), airPort("2", "unloader line")),
		Params: []ParamSpec{
			{Name: "cut_out", Dimension: Pressure, Default: "122 psi", Min: "80 psi", Max: "150 psi", About: "the compressor stops pumping", Source: "common practice: 120 to 125 psi"},
			{Name: "cut_in", Dimension: Pressure, Default: "103 psi", Min: "60 psi", Max: "140 psi", Below: "cut_out", About: "the compressor pumps again", Source: "49 CFR 571.121 S5.1.1.1: 100 psi or more for a truck"},
			{Name: "conductance", Dimension: Conductance, Default: "0.6 L/(s.bar)", Min: "0.001 L/(s.bar)", Max: "200 L/(s.bar)", About: "each way through the valve", Source: "engineering judgement"},
		},
		Passages: []PassageSpec{
			{Name: "inlet", From: "1", To: "2", Pilot: []string{"1"}, About: "open at and after cut-out, until cut-in"},
			{Name: "exhaust", From: "2", To: Atmosphere, Pilot: []string{"1"}, About: "open while the compressor pumps"},
		},
	},
	{
		Name: "air-dryer", Title: "air dryer",
		About: "Dries the air in a cartridge. When the governor cuts out it opens its purge valve, and the air kept in its purge volume blows back through the cartridge and out with the water.",
		Ports: []PortSpec{airPort("1", "from the compressor"), airPort("2", "to the supply reservoir"), ventPort("3", "purge"), airPort("4", "purge control, from the governor")},
		Rooms: []RoomSpec{{Name: "1", About: "wet side"}, {Name: "purge", About: "purge volume"}, {Name: "2", About: "outlet"}, {Name: "4", About: "purge control"}},
		Params: []ParamSpec{
			{Name: "purge_volume", Dimension: Volume, Default: "2.6 L", Min: "0.3 L", Max: "15 L", About: "dry air kept to regenerate", Source: "engineering judgement"},
			{Name: "sump_volume", Dimension: Volume, Default: "0.4 L", Min: "50 mL", Max: "3 L", About: "wet side", Source: "engineering judgement"},
			{Name: "cartridge_conductance", Dimension: Conductance, Default: "7 L/(s.bar)", Min: "0.01 L/(s.bar)", Max: "200 L/(s.bar)", About: "through the drying bed", Source: "engineering judgement"},
			{Name: "regeneration_conductance", Dimension: Conductance, Default: "0.25 L/(s.bar)", Min: "0.001 L/(s.bar)", Max: "200 L/(s.bar)", About: "orifice by which the purge volume blows back", Source: "engineering judgement"},
			{Name: "outlet_conductance", Dimension: Conductance, Default: "7 L/(s.bar)", Min: "0.001 L/(s.bar)", Max: "200 L/(s.bar)", About: "outlet check, open", Source: "engineering judgement"},
			{Name: "outlet_crack", Dimension: PressureSpan, Default: "1 psi", Min: "0 psi", Max: "10 psi", About: "to open the outlet check", Source: "engineering judgement"},
			{Name: "purge_conductance", Dimension: Conductance, Default: "20 L/(s.bar)", Min: "0.001 L/(s.bar)", Max: "200 L/(s.bar)", About: "purge valve, open", Source: "engineering judgement"},
			{Name: "purge_opens", Dimension: Pressure, Default: "50 psi", Min: "20 psi", Max: "100 psi", About: "on the control port, above which the purge valve opens", Source: "engineering judgement"},
		},
		Passages: []PassageSpec{
			{Name: "cartridge", From: "1", To: "purge", OneWay: true, About: "through the drying bed"},
			{Name: "regeneration orifice", From: "purge", To: "1", About: "back through the bed while purging"},
			{Name: "outlet check", From: "purge", To: "2", OneWay: true, About: "keeps the reservoir from blowing back"},
			{Name: "purge valve", From: "1", To: Atmosphere, Pilot: []string{"4"}, About: "open while the compressor is unloaded"},
		},
	},
	{
		Name: "relief-valve", Title: "relief valve",
		About: "Opens by itself when the pressure before it gets too high. On a reservoir it is called a safety valve.",
		Ports: []PortSpec{airPort("1", "the place that it guards"), ventPort("3", "outlet")},
		Rooms: valveRooms(airPort("1", "inlet")),
		Params: []ParamSpec{
			{Name: "opens", Dimension: Pressure, Default: "150 psi", Min: "60 psi", Max: "300 psi", About: "the valve lifts", Source: "model CDL manual 5.1.4: 150 psi on the supply tank"},
			{Name: "span", Dimension: PressureSpan, Default: "8 psi", Min: "1 psi", Max: "40 psi", About: "above the opening pressure, to be fully open", Source: "engineering judgement"},
			{Name: "conductance", Dimension: Conductance, Default: "10 L/(s.bar)", Min: "0.001 L/(s.bar)", Max: "200 L/(s.bar)", About: "fully open", Source: "engineering judgement"},
		},
		Passages: []PassageSpec{{Name: "seat", From: "1", To: Atmosphere, OneWay: true, Pilot: []string{"1"}, About: "opens at the set pressure"}},
	},
}
