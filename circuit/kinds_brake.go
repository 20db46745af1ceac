package circuit

// chamberParams are the numbers that a service side has, in every chamber. Rated volume, area and stroke by type are in
// 49 CFR 571.121 Table V (see circuit/limit).
func chamberParams() []ParamSpec {
	return []ParamSpec{
		{Name: "area", Dimension: Area, Min: "4 in2", Max: "40 in2", About: "effective diaphragm area; its number in square inches is the type"},
		{Name: "rated_volume", Dimension: Volume, Min: "100 mL", Max: "4 L", About: "at full stroke, the void before it included"},
		{Name: "full_stroke", Dimension: Length, Min: "30 mm", Max: "100 mm", About: "to the stop"},
		{Name: "starts_at", Dimension: PressureSpan, Default: "4 psi", Min: "1 psi", Max: "15 psi", Below: "contact_at", About: "to overcome the return spring", Source: "engineering judgement"},
		{Name: "contact_at", Dimension: PressureSpan, Default: "9 psi", Min: "2 psi", Max: "30 psi", About: "the shoes touch", Source: "engineering judgement"},
		{Name: "stretch", Dimension: Length, Default: "9 mm", Min: "1 mm", Max: "30 mm", About: "stroke from contact to 100 psi: stretch of shoes, cam and brackets", Source: "engineering judgement"},
	}
}

// Kinds at the wheels.
var brakeKinds = []*Kind{
	{
		Name: "service-chamber", Title: "service brake chamber",
		About:  "Air on its diaphragm pushes the rod, which turns the slack adjuster and cam. It holds air only while the pedal is down.",
		Ports:  []PortSpec{{Name: "1", Medium: Air, Room: "service", About: "service air"}, {Name: "rod", Medium: Motion, About: "push-rod"}},
		Rooms:  []RoomSpec{{Name: "service", About: "service side"}},
		Params: chamberParams(),
		Passages: []PassageSpec{
			{Name: "diaphragm", From: "service", To: Atmosphere, Worn: true, About: "through the diaphragm, out at the vent hole by the rod"},
		},
	},
	{
		Name: "spring-brake-chamber", Title: "spring brake chamber",
		About: "A service chamber with a strong spring behind it. Air on the spring side holds the spring off; without that air the spring pushes the rod and the brake is on.",
		Ports: []PortSpec{
			{Name: "11", Medium: Air, Room: "service", About: "service air"},
			{Name: "12", Medium: Air, Room: "spring", About: "hold-off air"},
			{Name: "rod", Medium: Motion, About: "push-rod"},
		},
		Rooms: []RoomSpec{{Name: "service", About: "service side"}, {Name: "spring", About: "spring side"}},
		Params: append(chamberParams(),
			ParamSpec{Name: "spring_area", Dimension: Area, Default: "30 in2", Min: "6 in2", Max: "40 in2", About: "area that the hold-off air works on", Source: "engineering judgement"},
			ParamSpec{Name: "spring_dead_volume", Dimension: Volume, Default: "0.35 L", Min: "50 mL", Max: "2 L", About: "spring side with the spring fully set", Source: "engineering judgement"},
			ParamSpec{Name: "spring_swept_volume", Dimension: Volume, Default: "1.1 L", Min: "50 mL", Max: "3 L", About: "added from fully set to fully held off", Source: "engineering judgement"},
			ParamSpec{Name: "lifts_at", Dimension: PressureSpan, Default: "36 psi", Min: "15 psi", Max: "60 psi", Below: "held_off_at", About: "hold-off pressure at which the spring begins to give way", Source: "engineering judgement"},
			ParamSpec{Name: "held_off_at", Dimension: PressureSpan, Default: "60 psi", Min: "30 psi", Max: "70 psi", About: "hold-off pressure at which the spring is fully off", Source: "from memory, near 60 psi; 49 CFR 571.121 S5.8.3 wants no drag at 70 psi"},
			ParamSpec{Name: "spring_force", Dimension: Force, Default: "1800 lbf", Min: "500 lbf", Max: "3500 lbf", About: "with the rod back", Source: "from memory"},
		),
		Passages: []PassageSpec{
			{Name: "inner seal", From: "spring", To: "service", Worn: true, About: "past the seal between the two sides"},
			{Name: "hold-off seal", From: "spring", To: Atmosphere, Worn: true, About: "hold-off diaphragm or piston seal, out at the spring housing's vent"},
			{Name: "diaphragm", From: "service", To: Atmosphere, Worn: true, About: "through the service diaphragm, out at the vent hole by the rod"},
		},
	},
	{
		Name: "slack-adjuster", Title: "slack adjuster",
		About: "The lever between push-rod and cam. It takes up lining wear, so that the rod's stroke stays short.",
		Ports: []PortSpec{{Name: "rod", Medium: Motion, About: "push-rod"}, {Name: "cam", Medium: Motion, Optional: true, About: "camshaft, to the drum brake"}},
		Params: []ParamSpec{
			{Name: "arm", Dimension: Length, Default: "5.5 in", Min: "4 in", Max: "8 in", About: "from clevis to cam centre", Source: "from memory: 5 to 6.5 in"},
			{Name: "clearance_stroke", Dimension: Length, Default: "28 mm", Min: "5 mm", Max: "80 mm", About: "rod travel until the shoes touch", Source: "engineering judgement"},
			{Name: "square_at", Dimension: Length, Default: "38 mm", Min: "0 mm", Max: "100 mm", About: "rod travel at which rod and arm stand at a right angle", Source: "engineering judgement: the stroke of an applied brake"},
		},
	},
	{
		Name: "drum-brake", Title: "drum brake",
		About: "Turned by the slack adjuster, its S-shaped cam spreads two shoes against the inside of the drum. The drum takes up the heat.",
		Ports: []PortSpec{{Name: "cam", Medium: Motion, About: "camshaft, from the slack adjuster"}},
		Params: []ParamSpec{
			{Name: "cam_radius", Dimension: Length, Default: "0.5 in", Min: "8 mm", Max: "40 mm", About: "by which the cam lifts each shoe for each radian: the radius of the circle that its curve is rolled off from", Source: "accident reconstruction worksheet after SAE 910126"},
			{Name: "efficiency", Dimension: Ratio, Default: "60 %", Min: "20 %", Max: "95 %", About: "of cam, bushings and rollers", Source: "accident reconstruction worksheet after SAE 910126"},
			{Name: "friction", Dimension: Ratio, Default: "0.4", Min: "0.1", Max: "0.8", About: "friction of lining on drum, cold", Source: "accident reconstruction worksheet after SAE 910126"},
			{Name: "drum_radius", Dimension: Length, Default: "8.25 in", Min: "4 in", Max: "12 in", About: "inner radius of the drum", Source: "accident reconstruction worksheet after SAE 910126"},
			{Name: "lining", Dimension: Length, Default: "19 mm", Min: "6 mm", Max: "35 mm", About: "thickness of a new lining", Source: "common practice"},
			{Name: "drum_mass", Dimension: Mass, Default: "70 kg", Min: "5 kg", Max: "300 kg", About: "cast iron that takes up the heat: the drum, and what of shoes and hub warms with it", Source: "engineering judgement; from memory, the grade severity rating formula comes to 78 kg"},
			{Name: "cooling", Dimension: HeatConductance, Default: "20 W/K", Min: "1 W/K", Max: "200 W/K", About: "heat that the drum gives off to the air at a road speed of 10 m/s", Source: "from memory: the grade severity rating formula, shared out over ten brakes"},
			{Name: "fade_from", Dimension: Temperature, Default: "250 C", Min: "50 C", Max: "600 C", About: "drum temperature above which the lining's friction falls", Source: "engineering judgement"},
			{Name: "fade", Dimension: Ratio, Default: "12 %", Min: "0 %", Max: "60 %", About: "share of its friction that the lining loses for each 100 degrees above", Source: "engineering judgement"},
		},
	},
}
