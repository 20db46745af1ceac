package circuit

// Kinds that only join lines, or give a gauge a place to be screwed on.
var plumbingKinds = []*Kind{
	{
		Name: "tee", Title: "tee",
		About: "Joins three lines.",
		Ports: []PortSpec{
			{Name: "a", Medium: Air, Room: "body", About: "first branch"}, {Name: "b", Medium: Air, Room: "body", About: "second branch"}, {Name: "c", Medium: Air, Room: "body", About: "third branch"},
		},
		Rooms: []RoomSpec{{Name: "body", About: "tee"}},
		Params: []ParamSpec{
			{Name: "volume", Dimension: Volume, Default: "10 mL", Min: "2 mL", Max: "500 mL", About: "inside", Source: "engineering judgement"},
		},
	},
	{
		Name: "test-connection", Title: "test connection",
		About: "A capped nipple where a service gauge can be screwed on without undoing a line.",
		Ports: []PortSpec{airPort("1", "the place to be measured")},
		Rooms: valveRooms(airPort("1", "the place to be measured")),
	},
}
