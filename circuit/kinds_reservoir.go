package circuit

// Kinds that keep air in a vessel of its own, and that keep it for those who need it most.
var reservoirKinds = []*Kind{
	{
		Name: "reservoir", Title: "reservoir",
		About: "One vessel with one volume: a supply (wet), primary or secondary reservoir, or a trailer's.",
		Ports: []PortSpec{
			{Name: "11", Medium: Air, Room: "air", About: "in"},
			sparePort("12", "air", "in, a second one"),
			{Name: "21", Medium: Air, Room: "air", About: "out"},
			sparePort("22", "air", "out"),
			sparePort("23", "air", "out"),
			sparePort("24", "air", "out"),
			sparePort("25", "air", "out"),
			sparePort("26", "air", "safety valve or test connection"),
			{Name: "31", Medium: Air, Room: "air", About: "drain"},
		},
		Rooms: []RoomSpec{{Name: "air", About: "reservoir", Reservoir: true, Volume: "volume"}},
		Params: []ParamSpec{
			{Name: "volume", Dimension: Volume, Min: "2 L", Max: "200 L", About: "inside, without water"},
			{Name: "wall_heat", Dimension: HeatConductance, Default: "8 W/K", Min: "0.1 W/K", Max: "100 W/K", About: "from the air to the wall, for 24.5 L; taken in proportion to volume", Source: "engineering judgement; unknown in the field, so a tracer must allow for it"},
		},
	},
	{
		Name: "pressure-protection-valve", Title: "pressure protection valve",
		About: "Lets air on to doors, suspension, auxiliaries or a trailer only while there is enough for the brakes. When what is behind it bursts, the brakes keep the air up to its closing pressure.",
		Ports: []PortSpec{airPort("1", "from the reservoir"), airPort("2", "to what it feeds")},
		Rooms: valveRooms(airPort("1", "supply"), airPort("2", "delivery")),
		Params: []ParamSpec{
			{Name: "conductance", Dimension: Conductance, Default: "6 L/(s.bar)", Min: "0.05 L/(s.bar)", Max: "100 L/(s.bar)", About: "fully open", Source: "engineering judgement"},
			{Name: "closes", Dimension: Pressure, Default: "75 psi", Min: "30 psi", Max: "130 psi", Below: "opens", About: "shut at and below this pressure before it", Source: "engineering judgement: over the 60 psi of the warning, 49 CFR 571.121 S5.1.5"},
			{Name: "opens", Dimension: Pressure, Default: "85 psi", Min: "35 psi", Max: "140 psi", About: "fully open at and above this pressure before it", Source: "engineering judgement"},
		},
		Passages: []PassageSpec{{Name: "valve", From: "1", To: "2", Pilot: []string{"1"}, About: "open while there is pressure enough before it; air may come back while it is open"}},
	},
}
