package circuit

// Kinds that keep the air and keep it from going back.
var storageKinds = []*Kind{
	{
		Name: "three-compartment-tank", Title: "three-compartment tank",
		About: "One shell with two inner walls: a supply (wet) compartment, which takes the dryer's air, and the primary and secondary service compartments, each fed through a check valve. The compartments stand in a row: supply, primary, secondary.",
		Ports: []PortSpec{
			{Name: "11", Medium: Air, Room: "supply", About: "supply: from the dryer"},
			{Name: "12", Medium: Air, Room: "primary", About: "primary: from its check valve"},
			{Name: "13", Medium: Air, Room: "secondary", About: "secondary: from its check valve"},
			{Name: "21", Medium: Air, Room: "supply", About: "supply: to the primary check valve"},
			{Name: "22", Medium: Air, Room: "supply", About: "supply: to the secondary check valve"},
			sparePort("23", "supply", "supply: to the governor"),
			sparePort("24", "supply", "supply: safety valve"),
			sparePort("25", "primary", "primary: to the foot valve"),
			sparePort("26", "primary", "primary: to the relay"),
			sparePort("27", "primary", "primary: to the park control"),
			sparePort("28", "primary", "primary: to the gauge and switch"),
			sparePort("29", "secondary", "secondary: to the foot valve"),
			sparePort("210", "secondary", "secondary: to the park control"),
			sparePort("211", "secondary", "secondary: to the gauge and switch"),
			sparePort("212", "supply", "supply: test connection"),
			{Name: "31", Medium: Air, Room: "supply", About: "supply: drain"},
			{Name: "32", Medium: Air, Room: "primary", About: "primary: drain"},
			{Name: "33", Medium: Air, Room: "secondary", About: "secondary: drain"},
		},
		Rooms: []RoomSpec{
			{Name: "supply", About: "supply compartment", Reservoir: true, Volume: "supply_volume"},
			{Name: "primary", About: "primary compartment", Reservoir: true, Volume: "primary_volume"},
			{Name: "secondary", About: "secondary compartment", Reservoir: true, Volume: "secondary_volume"},
		},
		Params: []ParamSpec{
			{Name: "supply_volume", Dimension: Volume, Min: "2 L", Max: "200 L", About: "supply compartment"},
			{Name: "primary_volume", Dimension: Volume, Min: "2 L", Max: "200 L", About: "primary compartment"},
			{Name: "secondary_volume", Dimension: Volume, Min: "2 L", Max: "200 L", About: "secondary compartment"},
			{Name: "wall_heat", Dimension: HeatConductance, Default: "8 W/K", Min: "0.1 W/K", Max: "100 W/K", About: "from the air to the wall, for 24.5 L; taken in proportion to volume", Source: "engineering judgement; unknown in the field, so a tracer must allow for it"},
		},
		Passages: []PassageSpec{
			{Name: "supply-primary wall", From: "supply", To: "primary", Worn: true, About: "inner wall between supply and primary"},
			{Name: "primary-secondary wall", From: "primary", To: "secondary", Worn: true, About: "inner wall between primary and secondary"},
		},
	},
	{
		Name: "check-valve", Title: "check valve",
		About: "Lets air through one way only, so that a reservoir keeps its air when the place that feeds it loses pressure.",
		Ports: []PortSpec{airPort("1", "in"), airPort("2", "out")},
		Rooms: valveRooms(airPort("1", "in"), airPort("2", "out")),
		Params: []ParamSpec{
			{Name: "conductance", Dimension: Conductance, Default: "10 L/(s.bar)", Min: "0.001 L/(s.bar)", Max: "200 L/(s.bar)", About: "open", Source: "engineering judgement"},
			{Name: "crack", Dimension: PressureSpan, Default: "1 psi", Min: "0 psi", Max: "20 psi", About: "to open it", Source: "engineering judgement"},
		},
		Passages: []PassageSpec{{Name: "seat", From: "1", To: "2", OneWay: true, About: "the checked way"}},
	},
	{
		Name: "drain-valve", Title: "drain valve",
		About: "A hand cock at the lowest point of a reservoir, to let water out.",
		Ports: []PortSpec{airPort("1", "reservoir"), ventPort("3", "outlet")},
		Rooms: valveRooms(airPort("1", "reservoir")),
		Params: []ParamSpec{
			{Name: "conductance", Dimension: Conductance, Default: "3 L/(s.bar)", Min: "0.001 L/(s.bar)", Max: "200 L/(s.bar)", About: "fully open", Source: "engineering judgement"},
		},
		Passages: []PassageSpec{{Name: "cock", From: "1", To: Atmosphere, Control: "cock", About: "opened by hand"}},
		Controls: []ControlSpec{{Name: "cock", Rest: 0, Max: 1, About: "0 shut, 1 open", Gradual: true}},
	},
}
