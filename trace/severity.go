package trace

import (
	"math"

	"airpath/circuit"
	"airpath/circuit/airflow"
)

// severitiesOf lists the severities of a mode that are simulated; in between, readings are interpolated. Five points: the mild
// one, the typical one in the middle, the severe one, and between them by the scale that suits the number. A fault that is
// there or not has one point.
func severitiesOf(s airflow.Severity) []float64 {
	if s.Mild == s.Severe {
		return []float64{s.Typical}
	}
	between := scaleOf(s)
	points := []float64{s.Mild, between(s.Mild, s.Typical, 0.5), s.Typical, between(s.Typical, s.Severe, 0.5), s.Severe}
	out := points[:1]
	for _, p := range points[1:] { // some modes are typically as bad as can be
		if p != out[len(out)-1] {
			out = append(out, p)
		}
	}
	return out
}

// toTheEnd are the shares of the way from the last severity but one to all there is at which is simulated as well: a way that is shut to
// a thousandth fills in hours what one that is shut to a hundredth fills in minutes, and one that is shut never does.
var toTheEnd = []float64{0.6, 0.88}

// knotsOf a mode are the severities that are simulated, each with its share of the whole scale.
func knotsOf(s airflow.Severity) (shares, severities []float64) {
	stages := severitiesOf(s)
	for i, x := range stages {
		if i == len(stages)-1 && endsInAll(s) {
			for _, t := range toTheEnd {
				shares = append(shares, (float64(i-1)+t)/float64(i))
				severities = append(severities, scaleOf(s)(stages[i-1], x, t))
			}
		}
		shares, severities = append(shares, float64(i)/float64(max(len(stages)-1, 1))), append(severities, x)
	}
	return shares, severities
}

// along the severities of a fault, at a share of the way from a simulated vehicle to the next.
func (t *Tracer) along(from int, way float64) (severity float64, byItself bool) {
	for i := range t.list {
		h := &t.list[i]
		if g := from - h.vehicle; len(h.points) > 0 && g >= 0 && g < len(h.points)-1 {
			return severityAt(h.severity, h.shares[g]+way*(h.shares[g+1]-h.shares[g])), endsInAll(h.severity) && g == len(h.points)-2
		}
	}
	return math.NaN(), true
}

// endsInAll tells whether a mode's scale ends where nothing is left of what it takes.
func endsInAll(s airflow.Severity) bool {
	return s.Dimension == circuit.Ratio && s.Severe == 1 && s.Typical >= 0.5 && s.Mild < 1
}

// scaleOf tells how to get from one severity to another: holes and pressures by ratio, shares of something lost by the
// ratio of what is left, other shares by ratio or evenly, whichever fits how mild and typical are set.
func scaleOf(s airflow.Severity) func(a, b, t float64) float64 {
	byRatio := func(a, b, t float64) float64 { return a * math.Pow(b/a, t) }
	byRest := func(a, b, t float64) float64 {
		left, end := 1-a, 1-b
		if end <= 0 { // all is lost in the end: go three quarters of the way at half
			return 1 - left*(1-t)*(1-t)
		}
		return 1 - left*math.Pow(end/left, t)
	}
	evenly := func(a, b, t float64) float64 { return a + (b-a)*t }
	switch {
	case s.Dimension != circuit.Ratio && s.Mild > 0:
		return byRatio
	case s.Dimension != circuit.Ratio:
		return evenly
	case s.Typical >= 0.5 && s.Severe <= 1 && s.Mild < 1:
		return byRest
	case s.Mild > 0 && s.Mild <= 0.05:
		return byRatio
	}
	return evenly
}

// severityAt is the severity at a share of the way along a mode's scale, 0 for the mildest and 1 for the worst.
func severityAt(s airflow.Severity, share float64) float64 {
	points := severitiesOf(s)
	if len(points) == 1 {
		return points[0]
	}
	at := share * float64(len(points)-1)
	i := min(int(at), len(points)-2)
	return scaleOf(s)(points[i], points[i+1], at-float64(i))
}
