package score

import (
	"context"
	"math"
	"slices"
	"strings"

	"airpath/circuit"
	"airpath/circuit/airflow/procedure"
)

// A vehicle comes in because somebody noticed something: a reading broke a published limit, air was heard that should not be
// heard, a lamp was lit or dark that should not be, or a needle was plainly elsewhere than usual. The driver or an inspector
// notices it in one of the checks from the seat and the rounds by ear that published inspections have; what shows in none of
// them, the workshop in any other procedure, at a service. All of it is decided by carrying the procedures out on the vehicle
// with its fault, and on the same vehicle without: what both show is no effect of the fault.

// What is plainly elsewhere where no limit is published. Engineering judgement.
const (
	plainLevel  = 10 * circuit.PSI
	plainFall   = 8 * circuit.PSI
	plainTimes  = 1.5 // a time that is that much longer or shorter,
	plainTime   = 5.0 // and by so many seconds
	plainErrors = 5.0 // anything else: by so many errors of a reading,
	plainShare  = 0.3 // and by such a share
	clearBy     = 3.0 // errors of one reading, by which a fault moves one that breaks a limit
	plainYes    = 0.7
	plainNo     = 0.15
)

// A symptom is a reading that somebody noticed.
type symptom struct{ procedure, reading int }

// noticing lists the procedures by which drivers and inspectors notice faults, and the rest, by which workshops do.
func (w *world) noticing() (out, rest []int) {
	for _, c := range publishedOrder {
		if p := w.index(c.procedure); p >= 0 && (len(c.after) == 0 || strings.HasPrefix(c.procedure, "listen-")) {
			out = append(out, p)
		}
	}
	for p, pr := range w.procedures {
		if !slices.Contains(out, p) && !pr.OneByOne() { // nobody brushes a vehicle on which nothing was noticed

			rest = append(rest, p)
		}
	}
	return out, rest
}

// notice what is wrong with a vehicle beside its healthy twin, in the first procedure of a random order in which something is;
// ok is false where nothing is.
func (h *hidden) notice(ctx context.Context, twin *hidden) (s symptom, ok bool, err error) {
	return h.noticeOr(ctx, twin, false)
}

// noticeOr the same, or, where nothing is, what somebody takes for wrong by mistake: a hiss where there is none, a figure that was misread by as much as
// figures are. People come in with such, and the tracer reckons with it; but not while there is something real to come in for.
func (h *hidden) noticeOr(ctx context.Context, twin *hidden, mistaken bool) (s symptom, ok bool, err error) {
	for _, some := range [][]int{h.w.notices, h.w.services} {
		if s, ok, err = h.noticeBy(ctx, twin, some, false); err != nil || ok {
			return s, ok, err
		}
	}
	if !mistaken {
		return s, false, nil
	}
	return h.noticeBy(ctx, twin, h.w.notices, true)
}

// noticeBy some procedures.
func (h *hidden) noticeBy(ctx context.Context, twin *hidden, some []int, mistaken bool) (s symptom, ok bool, err error) {
	d := h.w.dice(h.vehicle, forNotice, h.stage)
	for _, i := range d.Perm(len(some)) {
		p := some[i]
		mine, err := h.outcome(ctx, p)
		if err != nil {
			return s, false, err
		}
		if mine.Undone != "" {
			continue // it is noticed where the vehicle can't be brought into the starting state
		}
		its, err := twin.outcome(ctx, p)
		if err != nil {
			return s, false, err
		}
		var found []int
		for r := range h.w.procedures[p].Readings {
			if !mistaken && !shows(&h.w.procedures[p].Readings[r], mine.Values[r], its.Values[r]) {
				continue
			}
			// What was written down must say so too.
			result, written, err := h.read(ctx, p, r)
			if err != nil {
				return s, false, err
			}
			if written && h.abnormal(p, r, result, its.Values[r]) {
				found = append(found, r)
			}
		}
		if len(found) > 0 {
			return symptom{p, found[d.IntN(len(found))]}, true, nil
		}
	}
	return s, false, nil
}

// shows tells whether a reading shows a fault, by exact values on the vehicle with it and without.
func shows(r *procedure.Reading, with, without float64) bool {
	if r.Form == procedure.YesNo {
		a, b := r.Judge.Says(with), r.Judge.Says(without)
		return a >= plainYes && b <= plainNo || a <= plainNo && b >= plainYes
	}
	if math.IsNaN(with) || math.IsNaN(without) {
		return math.IsNaN(with) != math.IsNaN(without)
	}
	if math.Abs(with-without) < clearBy*r.Sigma {
		return false // a limit that is passed by a hair is passed by chance
	}
	broken, of := breaks(r, with)
	if was, _ := breaks(r, without); of > 0 {
		return broken > was
	}
	return plainly(r, with, without)
}

// breaks counts the published limits of the US, and what is published as usual, that a value lies outside of, and how many there are.
func breaks(r *procedure.Reading, value float64) (broken, of int) {
	limits := r.LimitsIn("US")
	for _, l := range r.Limits {
		if l.Usual && l.Jurisdiction == "US" && l.Low < l.High {
			limits = append(limits, l)
		}
	}
	for _, l := range limits {
		if !l.Meets(value) {
			broken++
		}
	}
	return broken, len(limits)
}

// plainly elsewhere.
func plainly(r *procedure.Reading, with, without float64) bool {
	apart := math.Abs(with - without)
	switch r.Dimension {
	case circuit.Pressure:
		return apart >= plainLevel
	case circuit.PressureSpan:
		return apart >= plainFall
	case circuit.Time:
		return apart >= plainTime && (with >= plainTimes*without || without >= plainTimes*with)
	}
	return apart >= plainErrors*r.Sigma && apart >= plainShare*math.Max(math.Abs(with), math.Abs(without))
}

// abnormal tells whether a result as it was written down would be called a fault by whoever knows what is usual.
func (h *hidden) abnormal(p, r int, result circuit.Result, usual float64) bool {
	reading := &h.w.procedures[p].Readings[r]
	switch result.Kind {
	case circuit.Yes:
		return reading.Judge.Says(usual) <= plainNo
	case circuit.No:
		return reading.Judge.Says(usual) >= plainYes
	case circuit.Never:
		return !math.IsNaN(usual)
	}
	value, _, err := result.Bounds(reading.Dimension)
	if err != nil {
		return false
	}
	if broken, of := breaks(reading, value); of > 0 {
		was, _ := breaks(reading, usual)
		return broken > was
	}
	return math.IsNaN(usual) || plainly(reading, value, usual)
}
