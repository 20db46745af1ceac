package limit

// StrokeEdition is the text that the stroke limits were read in. For clamp type 36 other public tables, and from memory
// the rule of 2012 (77 FR 46633), have 2 1/4 in; this text has 2 1/2 in.
const StrokeEdition = "49 CFR 393.47(e), amended through 86 FR 57076, 14 Oct 2021"

// ChamberBody is how a chamber is held together, which sets its stroke limit.
type ChamberBody string

const (
	Clamp       ChamberBody = "clamp"
	ClampLong   ChamberBody = "clamp, long stroke"
	ClampLonger ChamberBody = "clamp, 3 in rated stroke" // long stroke with a rated stroke of 3 in
	Bolt        ChamberBody = "bolt"
	Roto        ChamberBody = "rotochamber"
)

// strokes in inches by body and type: the greatest push-rod stroke, which itself still passes.
var strokes = []struct {
	body   ChamberBody
	kind   string
	inches float64
}{
	{Clamp, "6", 1.25}, {Clamp, "9", 1.375}, {Clamp, "12", 1.375}, {Clamp, "16", 1.75}, {Clamp, "20", 1.75}, {Clamp, "24", 1.75}, {Clamp, "30", 2}, {Clamp, "36", 2.5},
	{ClampLong, "12", 1.75}, {ClampLong, "16", 2}, {ClampLong, "20", 2}, {ClampLong, "24", 2}, {ClampLong, "30", 2.5},
	{ClampLonger, "20", 2.5}, {ClampLonger, "24", 2.5},
	{Roto, "9", 1.5}, {Roto, "12", 1.5}, {Roto, "16", 2}, {Roto, "20", 2}, {Roto, "24", 2}, {Roto, "30", 2.25}, {Roto, "36", 2.75}, {Roto, "50", 3},
	{Bolt, "A", 1.375}, {Bolt, "B", 1.75}, {Bolt, "C", 1.75}, {Bolt, "D", 1.25}, {Bolt, "E", 1.375}, {Bolt, "F", 2.25}, {Bolt, "G", 2},
}

// Stroke is the greatest push-rod stroke in m for a body and a type ("30", or a letter for bolt type), with the brakes
// fully applied from 80 to 90 psi, engine off (49 CFR 396 App. A 1.a(5)); ok is false where the table has none.
func Stroke(body ChamberBody, kind string) (metres float64, ok bool) {
	for _, s := range strokes {
		if s.body == body && s.kind == kind {
			return s.inches * inch, true
		}
	}
	return 0, false
}

// StrokeUnlisted is the limit for an actuator that the table lacks: 80 % of its marked rated stroke (393.47(e)(2)).
func StrokeUnlisted(ratedStroke float64) float64 { return 0.8 * ratedStroke }
