package limit

import (
	"math"
	"strconv"

	"airpath/circuit"
)

// BodyOf tells a chamber's body from its area and full stroke (m², m): of the clamp types that 49 CFR 393.47(e) lists for the
// area, the one with the greatest limit that stays within 84 % of the full stroke, for the listed limits are about 80 % of
// their chambers' strokes. ok is false for an area that the table lacks.
func BodyOf(area, fullStroke float64) (body ChamberBody, kind string, ok bool) {
	number := area / (inch * inch)
	best := 0.0
	for _, s := range strokes {
		listed, err := strconv.Atoi(s.kind)
		if err != nil || s.body == Roto || math.Abs(number-float64(listed)) > 0.5 {
			continue
		}
		if limit := s.inches * inch; limit <= 0.84*fullStroke && limit > best {
			body, kind, ok, best = s.body, s.kind, true, limit
		}
	}
	return body, kind, ok
}

// StrokeOf is the greatest rod stroke for a chamber, m, and where that is written.
func StrokeOf(area, fullStroke float64) (metres float64, source string) {
	if body, kind, ok := BodyOf(area, fullStroke); ok {
		metres, _ = Stroke(body, kind)
		return metres, StrokeEdition + ": " + string(body) + " " + kind
	}
	return StrokeUnlisted(fullStroke), "49 CFR 393.47(e)(2): 80 % of the rated stroke"
}

// An OutOfService rule tells when a vehicle is put out of service by the number of its defective brakes.
type OutOfService struct {
	Edition string
	Source  string
	Known   Known
	Share   float64 // of all service brakes
	Whole   float64 // m over the stroke limit by which a brake counts as one defect
	Part    float64 // of a defect that a brake counts for which is over its limit by less; 0 where it counts for nothing
	PartAt  float64 // m over the limit from which it counts so
}

// OutOfServiceRules by edition, the newest first. Editions are given as far as they are known.
func OutOfServiceRules() []OutOfService {
	return []OutOfService{
		{
			Edition: "present wording", Source: "North American out-of-service criteria, Part II item 1", Known: Seen,
			Share: 0.20, Whole: 0.25 * inch,
		},
		{
			Edition: "older editions", Source: "North American out-of-service criteria, Part II item 1; two brakes over by 1/8 in counted as one, from memory", Known: Memory,
			Share: 0.20, Whole: 0.25 * inch, Part: 0.5, PartAt: 0.125 * inch,
		},
	}
}

// Defects counts the brakes of a vehicle that are over their stroke limits by over (m; negative within the limit).
func (r OutOfService) Defects(over []float64) float64 {
	n := 0.0
	for _, d := range over {
		switch {
		case d >= r.Whole-strokeRounding:
			n++
		case r.Part > 0 && d >= r.PartAt-strokeRounding:
			n += r.Part
		}
	}
	return n
}

// strokeRounding: a quarter inch over is one quarter inch over, whatever it was computed from.
const strokeRounding = 1e-6

// Stops tells whether so many defects among so many brakes put the vehicle out of service.
func (r OutOfService) Stops(defects float64, brakes int) bool {
	return brakes > 0 && defects >= float64(r.Needed(brakes))
}

// Needed is the least number of defective brakes that does.
func (r OutOfService) Needed(brakes int) int {
	return int(math.Ceil(r.Share*float64(brakes) - slack))
}

// A Bound is a limit on a part of the foundation brakes, or on what they do.
type Bound struct {
	What      string
	Source    string
	Known     Known
	Dimension circuit.Dimension
	Low, High float64 // SI, inclusive; infinite for no bound
}

// Meets tells whether a value lies within the bound.
func (b Bound) Meets(si float64) bool { return Limit{Low: b.Low, High: b.High}.Meets(si) }

// LiningLeast is the least thickness of a drum lining: on a steered axle that of a strip, on others a quarter inch.
func LiningLeast(steered bool) Bound {
	least := 0.25
	if steered {
		least = 3.0 / 16
	}
	return Bound{"least lining thickness", "49 CFR 393.47(d)", Seen, circuit.Length, least * inch, math.Inf(1)}
}

// CamTurnMost is the greatest turn of an S-cam, in rad.
func CamTurnMost() Bound {
	return Bound{"greatest turn of the cam", "Quebec, C-24.2 r. 32 s. 166(7)", Seen, circuit.Count, math.Inf(-1), 120 * math.Pi / 180}
}

// BrakeForceLeast is the least brake force of a vehicle in use over its gross weight.
func BrakeForceLeast() Bound {
	return Bound{"brake force over gross weight", "49 CFR 393.52(d)", Seen, circuit.Ratio, 0.435, math.Inf(1)}
}

// Parking brakes must do one of these (49 CFR 571.121 S5.6.1, S5.6.2).
const (
	ParkingPerAxle  = 0.28 // of each braked axle's rating in weight, axles other than steered front ones
	ParkingPerGross = 0.14 // of the gross weight, tractors with more than two axles
	ParkingGrade    = 0.20 // slope, rise over run, that holds the laden vehicle up and down
)

// ParkingGradeEurope is the slope that holds the laden vehicle up and down where UN R13 applies (Annex 4, 2.3.1, from memory).
const ParkingGradeEurope = 0.18

// TowedSource is where [TowedRetardation] stands.
const TowedSource = "49 CFR 571.121 S5.4.1, Table III"

// TowedRetardation is the least brake force over axle rating of a towed vehicle by chamber pressure above the atmosphere
// (49 CFR 571.121 S5.4.1, Table III); between the rows it is read off along a line.
func TowedRetardation(pressure float64) float64 {
	rows := []struct{ psi, share float64 }{{20, 0.05}, {30, 0.12}, {40, 0.18}, {50, 0.25}, {60, 0.31}, {70, 0.37}, {80, 0.41}}
	p := pressure / circuit.PSI
	if p < rows[0].psi-slack {
		return 0
	}
	for i := 1; i < len(rows); i++ {
		if a, b := rows[i-1], rows[i]; p <= b.psi {
			return a.share + (b.share-a.share)*max(0, p-a.psi)/(b.psi-a.psi)
		}
	}
	return rows[len(rows)-1].share
}

// StrokeLimit is the limit on the stroke of a chamber of an area and full stroke (m², m), fully applied.
func StrokeLimit(area, fullStroke float64) Limit {
	most, source := StrokeOf(area, fullStroke)
	return Limit{
		ID: "us-393-stroke", Quantity: PushRodStroke, Jurisdiction: "US", Source: source, Edition: StrokeEdition, Known: Seen, Dimension: circuit.Length,
		Low: math.Inf(-1), High: most, Note: "reservoirs at 80 to 90 psi, engine off, brakes fully applied (49 CFR 396 App. A 1.a(5))",
	}
}
