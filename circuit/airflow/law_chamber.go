package airflow

import (
	"airpath/circuit"
)

// fullService is the pressure that a chamber's stretch is stated for.
const fullService = 100 * psi

// A thrust is what decides how far a chamber's rod comes out at a pressure: the return spring gives way at starts, the shoes
// touch at contact after the slack adjuster's clearance, and from there shoes, cam and brackets give by the stretch up to
// fullService; at full stroke the plate meets the housing. Quasi-static: the rod's inertia would add 10 to 20 ms.
type thrust struct {
	area, rated, full        float64 // m², m³, m
	starts, contact          float64 // Pa above the atmosphere
	clearance, stretch       float64 // m
	moves                    float64 // share of its stroke that the rod makes: 1, less where it is seized
	lifts, heldOff           float64 // spring brakes: hold-off pressure at which the spring begins to give way, and is off
	springArea, dead, swept  float64 // spring side
	springForce, cagedTravel float64 // shares of the healthy spring's force, and of its travel that a caging bolt keeps back
}

// thrustOf reads a chamber and the slack adjuster across its rod.
func thrustOf(c, slack *circuit.Component) thrust {
	t := thrust{
		area: c.Value("area"), rated: c.Value("rated_volume"), full: c.Value("full_stroke"),
		starts: c.Value("starts_at"), contact: c.Value("contact_at"), stretch: c.Value("stretch"),
		clearance: 0.45 * c.Value("full_stroke"), moves: 1,
	}
	if slack != nil && slack.Kind.Name == "slack-adjuster" {
		t.clearance = slack.Value("clearance_stroke")
	}
	if c.Kind.Name == "spring-brake-chamber" {
		t.lifts, t.heldOff = c.Value("lifts_at"), c.Value("held_off_at")
		t.springArea, t.dead, t.swept = c.Value("spring_area"), c.Value("spring_dead_volume"), c.Value("spring_swept_volume")
		t.springForce = 1
	}
	return t
}

// chamberThrust is the thrust of one chamber in one run, so that several faults at one wheel add up.
type chamberThrust struct {
	owner int32
	thrust
}

// void is the volume before the diaphragm with the rod back. The rated volume includes it.
func (t thrust) void() float64 { return max(t.rated-t.area*t.full, 0.02*t.rated) }

// curve is the stroke by gauge pressure: three or four points.
func (t thrust) curve() (gauge, stroke []float64) {
	starts := max(t.starts, 0.2*psi)
	contact := max(t.contact, starts+0.5*psi)
	clearance := max(t.clearance, 0)
	perPa := t.stretch / (fullService - t.contact)
	if clearance >= t.full { // the plate meets the housing before the shoes meet the drum
		return []float64{starts, starts + (contact-starts)*t.full/clearance}, []float64{0, t.moves * t.full}
	}
	return []float64{starts, contact, contact + (t.full-clearance)/perPa}, []float64{0, t.moves * clearance, t.moves * t.full}
}

// service is the moving wall of the service side.
func (t thrust) service() Piston {
	gauge, stroke := t.curve()
	p := Piston{Gauge: gauge, Volume: make([]float64, len(stroke)), Area: t.area}
	for i := range stroke {
		p.Volume[i] = t.area * stroke[i]
	}
	return p
}

// spring is the moving wall of the spring side: the hold-off air pushes the spring back between the two pressures.
func (t thrust) spring() Piston {
	lifts := max(t.springForce*t.lifts, 0.5*psi)
	return Piston{
		Gauge:  []float64{lifts, max(t.springForce*t.heldOff, lifts+0.5*psi)},
		Volume: []float64{t.cagedTravel * t.swept, t.swept},
	}
}

// parked is the rod's stroke under the spring by hold-off pressure: as far as service air of the same force would push it.
func (t thrust) parked() (gauge, stroke []float64) {
	p := t.spring()
	push := t.springForce * t.lifts * t.springArea / t.area
	out := Curve(t.curve()).at(push)
	return p.Gauge, []float64{left(t.cagedTravel) * out, 0}
}

// buildService lays down what every chamber has.
func buildService(b *Builder) thrust {
	slack, _ := b.Across("rod")
	t := thrustOf(b.Component(), slack)
	b.Volume("service", t.void())
	b.Piston("service", t.service())
	b.Rod("service", Curve(t.curve()))
	b.plan.thrusts = append(b.plan.thrusts, chamberThrust{b.owner, t})
	return t
}

// setThrust changes the mechanics of the chamber under edit.
func setThrust(e *Edit, change func(*thrust)) {
	for i := range e.plan.thrusts {
		if e.plan.thrusts[i].owner != e.owner {
			continue
		}
		t := &e.plan.thrusts[i].thrust
		change(t)
		e.EditPiston("service", func(Piston) Piston { return t.service() })
		e.EditRod("service", Curve(t.curve()))
		if t.lifts > 0 {
			e.EditPiston("spring", func(Piston) Piston { return t.spring() })
			e.EditRod("spring", Curve(t.parked()))
		}
	}
}

// chamberModes are those of the service side, in every chamber.
func chamberModes() []Mode {
	return []Mode{
		passing("diaphragm leaking", "diaphragm", holeOf(0.15, 0.7, 3)),
		{Name: "stroke long", Severity: mmOf("rod travel too much before the shoes touch", 6, 20, 40),
			Apply: func(e *Edit, d float64) { setThrust(e, func(t *thrust) { t.clearance += d }) }},
		{Name: "seized", Severity: shareOf("share of its stroke that the rod does not make", 0.2, 0.8, 1),
			Apply: func(e *Edit, share float64) { setThrust(e, func(t *thrust) { t.moves *= left(share) }) }},
		{Name: "return spring weak", Severity: psiOf("by which the rod moves too early and comes back too late", 1, 2.5, 3.8),
			Apply: func(e *Edit, dp float64) {
				setThrust(e, func(t *thrust) { t.starts -= dp; t.contact -= dp })
			}},
	}
}

var serviceChamberLaw = Law{
	Build: func(b *Builder) { buildService(b) },
	Modes: chamberModes(),
}

// springChamberLaw: the two sides are taken as independent walls: the push-rod is out as far as the further of the two
// pushes it, and what the spring side's travel does to the service side's volume is left out.
var springChamberLaw = Law{
	Build: func(b *Builder) {
		t := buildService(b)
		b.Volume("spring", t.dead)
		b.Piston("spring", t.spring())
		b.Rod("spring", Curve(t.parked()))
	},
	Modes: append(chamberModes(),
		passing("inner seal leaking", "inner seal", holeOf(0.15, 0.6, 2)),
		passing("hold-off seal leaking", "hold-off seal", holeOf(0.15, 0.6, 2)),
		Mode{Name: "spring broken", Severity: shareOf("share of the spring's force lost", 0.15, 0.6, 1),
			Apply: func(e *Edit, share float64) {
				setThrust(e, func(t *thrust) { t.springForce *= left(share) })
			}},
		Mode{Name: "caging bolt left in", Severity: shareOf("share of the spring's travel that the bolt keeps back", 0.3, 1, 1),
			Apply: func(e *Edit, share float64) {
				setThrust(e, func(t *thrust) { t.cagedTravel = min(share, 1) })
			}},
	),
}

// slackLaw: a slack adjuster holds no air; it decides how far its chamber's rod must come out.
var slackLaw = Law{
	Build: func(*Builder) {},
	Modes: []Mode{
		{Name: "not adjusting", Severity: mmOf("rod travel too much before the shoes touch", 6, 20, 40),
			Apply: func(e *Edit, d float64) { atChamber(e, func(t *thrust) { t.clearance += d }) }},
		{Name: "over-adjusting", Severity: mmOf("rod travel too little before the shoes touch", 5, 15, 27),
			Apply: func(e *Edit, d float64) { atChamber(e, func(t *thrust) { t.clearance -= d }) }},
		{Name: "clevis seized", Severity: shareOf("share of its stroke that the rod does not make", 0.2, 0.8, 1),
			Apply: func(e *Edit, share float64) { atChamber(e, func(t *thrust) { t.moves *= left(share) }) }},
	},
}

// atChamber edits the chamber across a slack adjuster's rod; one with nothing on its rod has nothing to change.
func atChamber(e *Edit, change func(*thrust)) {
	chamber, ok := e.Across("rod")
	if !ok {
		return
	}
	if k := chamber.Component().Kind.Name; k == "service-chamber" || k == "spring-brake-chamber" {
		setThrust(chamber, change)
	}
}
