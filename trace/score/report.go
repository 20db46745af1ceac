package score

import (
	"math"
	"slices"
)

// A Report is what a score comes to: for each strategy the figures that a tracer is held to.
type Report struct {
	Circuit    string    `json:"circuit"`
	Vehicles   int       `json:"vehicles"` // played
	Wanted     int       `json:"wanted"`
	Seed       uint64    `json:"seed"`
	Faults     int       `json:"faults"`
	Mixed      bool      `json:"mixed"`
	Unmodelled float64   `json:"unmodelled"`
	Matched    bool      `json:"matched"`
	Mismatch   bool      `json:"mismatch"`
	Cut        bool      `json:"cut_short"`
	Seconds    float64   `json:"seconds"`
	Quiet      float64   `json:"quiet"`      // share of the faults drawn that were given up, since nobody would have noticed them
	Broken     int       `json:"broken_off"` // simulations of hidden vehicles that broke off and read as not done
	Strategies []Figures `json:"strategies"`
	Optimum    *Optimum  `json:"optimum,omitempty"` // worked out where the other strategies are played
}

// Figures of one strategy.
type Figures struct {
	Strategy string `json:"strategy"`
	Vehicles int    `json:"vehicles"`

	Cleared []int   `json:"cleared"`   // vehicles whose true fault was cleared at some step,
	Wronged []int   `json:"wronged"`   // or said not to have given what was found, though some finding would have been another without it
	First   float64 `json:"first"`     // share whose first named part was right, or in the group named,
	Low     float64 `json:"first_low"` // with the interval that holds 95 %
	High    float64 `json:"first_high"`
	Part    float64 `json:"part"`   // was the right one itself
	Mode    float64 `json:"mode"`   // with its mode
	Second  float64 `json:"second"` // of those with two faults whose first was mended: the other was named next
	Found   float64 `json:"found"`  // share of vehicles set in order within the budget

	GroupMedian float64 `json:"group_median"` // faults named together
	GroupTo1    float64 `json:"group_1"`      // share of vehicles isolated to 1, to at most 2, 3
	GroupTo2    float64 `json:"group_2"`
	GroupTo3    float64 `json:"group_3"`
	Exonerated  float64 `json:"innocents_cleared"`    // share of innocent faults that were cleared at the end: of having given what was found,
	LookedFor   float64 `json:"innocents_looked_for"` // and of being there besides

	Minutes       float64 `json:"minutes"`              // mean until the right part was named, wrong repairs included
	Ratio         float64 `json:"tracer_minutes_ratio"` // the tracer's mean minutes on the same vehicles over these
	MinutesMedian float64 `json:"minutes_median"`
	Total         float64 `json:"minutes_total"` // mean until the vehicle was in order
	Tests         float64 `json:"tests"`
	GoodParts     float64 `json:"good_parts"` // mean number fitted in vain

	Log         float64 `json:"log_score"` // mean of minus the natural logarithm of the probability of the truth at the first naming
	Brier       float64 `json:"brier"`
	Calibration float64 `json:"calibration_error"` // over all verdicts, of the leading suspect's probability in 10 bins
	AtNaming    float64 `json:"calibration_error_at_naming"`
	Bins        []Bin   `json:"bins"` // over all verdicts

	Shuffled  int `json:"shuffled"`  // cases put again with their findings shuffled,
	Disturbed int `json:"disturbed"` // and how many verdicts were others then
}

// A Bin of stated probabilities.
type Bin struct {
	From  float64 `json:"from"`
	To    float64 `json:"to"`
	Count int     `json:"count"`
	Said  float64 `json:"said"` // mean
	True  float64 `json:"true"` // share
}

// report of vehicles in their order.
func (w *world) report(records []*Record) *Report {
	o := w.options
	r := &Report{
		Circuit: w.circuit.Name, Vehicles: len(records), Wanted: o.Cases, Seed: o.Seed, Faults: o.Faults, Unmodelled: o.Unmodelled,
		Mixed: o.Mixed, Matched: o.Matched, Mismatch: o.Mismatch,
	}
	if o.Only > 0 {
		r.Wanted = 1
	}
	truths := 0
	for _, rec := range records {
		r.Broken += rec.Broken
		r.Quiet += float64(rec.Quiet)
		truths += len(rec.Truths)
	}
	if drawn := r.Quiet + float64(truths); drawn > 0 {
		r.Quiet /= drawn
	}
	for _, name := range []string{ByTracer, ByTextbook, ByChance, ByHalfSplit} {
		var games []*Game
		var vehicles []int
		var modelled []bool // there is a true fault in the catalogue
		for _, rec := range records {
			for i := range rec.Games {
				if rec.Games[i].Strategy == name {
					games, vehicles = append(games, &rec.Games[i]), append(vehicles, rec.Vehicle)
					modelled = append(modelled, len(rec.Truths) > 0)
				}
			}
		}
		if len(games) > 0 {
			f := figuresOf(name, games, vehicles, modelled)
			f.Ratio = ratio(records, name)
			r.Strategies = append(r.Strategies, f)
		}
	}
	return r
}

// figuresOf games. What hangs on a true fault that the catalogue knows (first part right, innocents cleared, groups) is counted
// over the vehicles that have one; over all where none has.
func figuresOf(name string, games []*Game, vehicles []int, modelled []bool) Figures {
	f := Figures{Strategy: name, Vehicles: len(games), Cleared: []int{}, Wronged: []int{}}
	any := slices.Contains(modelled, true)
	var counted, seconds float64
	var groups, minutes []float64
	var said, named []Saying
	for i, g := range games {
		if g.Cleared {
			f.Cleared = append(f.Cleared, vehicles[i])
		}
		if g.Wronged {
			f.Wronged = append(f.Wronged, vehicles[i])
		}
		said = append(said, g.Said...)
		f.Shuffled += g.Shuffled
		f.Disturbed += g.Disturbed
		if len(g.Said) > 0 && g.First != "" {
			named = append(named, g.naming())
		}
		f.Found += is(g.Ended == found) / float64(len(games))
		f.Minutes += g.Minutes / float64(len(games))
		f.Total += g.Total / float64(len(games))
		f.Tests += float64(g.Tests) / float64(len(games))
		f.GoodParts += float64(g.GoodParts) / float64(len(games))
		minutes = append(minutes, g.Minutes)
		if any && !modelled[i] {
			continue
		}
		counted++
		f.First += is(g.first())
		f.Part += is(g.RightPart)
		f.Mode += is(g.RightMode)
		f.Log += g.Log
		f.Brier += g.Brier
		if g.Innocents > 0 {
			f.Exonerated += float64(g.Exonerated+g.Acquitted) / float64(g.Innocents)
			f.LookedFor += float64(g.Exonerated) / float64(g.Innocents)
		}
		groups = append(groups, float64(g.Group))
		f.GroupTo1 += is(g.Group == 1)
		f.GroupTo2 += is(g.Group >= 1 && g.Group <= 2)
		f.GroupTo3 += is(g.Group >= 1 && g.Group <= 3)
		if g.Seconds {
			seconds++
			f.Second += is(g.Second)
		}
	}
	for _, x := range []*float64{&f.First, &f.Part, &f.Mode, &f.Log, &f.Brier, &f.Exonerated, &f.LookedFor, &f.GroupTo1, &f.GroupTo2, &f.GroupTo3} {
		*x /= counted
	}
	f.Low, f.High = interval(f.First, counted)
	if seconds > 0 {
		f.Second /= seconds
	}
	f.GroupMedian, f.MinutesMedian = median(groups), median(minutes)
	f.Bins, f.Calibration = calibrate(said)
	_, f.AtNaming = calibrate(named)
	return f
}

// ratio of the tracer's minutes to another strategy's, on the vehicles that both played.
func ratio(records []*Record, name string) float64 {
	var mine, its float64
	for _, rec := range records {
		for i := range rec.Games {
			if rec.Games[i].Strategy == name {
				mine, its = mine+rec.Games[0].Minutes, its+rec.Games[i].Minutes
			}
		}
	}
	if its == 0 {
		return 1
	}
	return mine / its
}

// interval that holds a share with 95 %, of so many counted (E. B. Wilson, Journal of the American Statistical Association 22,
// 1927, 209).
func interval(share, count float64) (low, high float64) {
	const z = 1.959964
	if count == 0 {
		return 0, 1
	}
	middle := share + z*z/(2*count)
	half := z * math.Sqrt(share*(1-share)/count+z*z/(4*count*count))
	return max(0, (middle-half)/(1+z*z/count)), min(1, (middle+half)/(1+z*z/count))
}

func is(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

// median of numbers, the mean of the two in the middle of an even count; NaN of none.
func median(x []float64) float64 {
	if len(x) == 0 {
		return math.NaN()
	}
	x = slices.Sorted(slices.Values(x))
	return (x[(len(x)-1)/2] + x[len(x)/2]) / 2
}

// calibrationBins is how many there are of equal width.
const calibrationBins = 10

// calibrate holds stated probabilities against what was true: the error is the mean distance of the two over the bins, each
// weighted by how much it holds.
func calibrate(said []Saying) (bins []Bin, off float64) {
	bins = make([]Bin, calibrationBins)
	for i := range bins {
		bins[i].From, bins[i].To = float64(i)/calibrationBins, float64(i+1)/calibrationBins
	}
	for _, s := range said {
		b := &bins[min(int(s.P*calibrationBins), calibrationBins-1)]
		b.Count++
		b.Said += s.P
		b.True += is(s.True)
	}
	for i := range bins {
		if b := &bins[i]; b.Count > 0 {
			b.Said /= float64(b.Count)
			b.True /= float64(b.Count)
			off += math.Abs(b.Said-b.True) * float64(b.Count) / float64(len(said))
		}
	}
	return bins, off
}
