package circuit

// Kinds that only join lines.
var plumbingKinds = []*Kind{
	{
		Name: "tee", Title: "tee",
		About: "Joins three lines.",
		Ports: []PortSpec{
			{Name: "a", Medium: Air, Room: "body"}, {Name: "b", Medium: Air, Room: "body"}, {Name: "c", Medium: Air, Room: "body"},
		},
		Rooms: []RoomSpec{{"body", "tee"}},
		Params: []ParamSpec{
			{Name: "volume", Dimension: Volume, Default: "10 mL", Min: "2 mL", Max: "500 mL", About: "inside", Source: "engineering judgement"},
		},
	},
}
