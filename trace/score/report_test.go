package score

import (
	"bytes"
	"encoding/json"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"airpath/circuit"
)

// Figures of three games made by hand, worked out by hand.
func TestFiguresOfRecordsMadeByHand(t *testing.T) {
	w := &world{circuit: &circuit.Circuit{Name: "hand"}, options: Options{Cases: 3, Faults: 1}}
	games := []Game{
		{Strategy: ByTracer, Ended: found, Minutes: 10, Total: 30, Tests: 1, RightPart: true, RightMode: true, RightGroup: true, Group: 1, Truth: 0.9, Log: -math.Log(0.9), Brier: 0.02, Innocents: 10, Exonerated: 9, First: "a/b", Said: []Saying{{P: 0.35, True: false}, {P: 0.9, True: true}}, Named: 1},
		{Strategy: ByTracer, Ended: found, Minutes: 20, Total: 60, Tests: 2, RightGroup: true, Group: 3, GoodParts: 1, Truth: 0.4, Log: -math.Log(0.4), Brier: 0.5, Innocents: 10, Exonerated: 5, First: "a/b", Said: []Saying{{P: 0.95, True: true}}},
		{Strategy: ByTracer, Ended: gaveUp, Minutes: 90, Total: 90, Tests: 6, Group: 2, GoodParts: 2, Cleared: true, Truth: 0, Log: 1, Brier: 1.9, Innocents: 10, Exonerated: 10, First: "c/d", Said: []Saying{{P: 0.97, True: false}}},
	}
	var records []*Record
	for i, g := range games {
		records = append(records, &Record{Vehicle: i + 1, Truths: []string{"a/b=1"}, Games: []Game{g}})
	}
	r := w.report(records)
	require.Len(t, r.Strategies, 1)
	f := r.Strategies[0]
	require.Equal(t, []int{3}, f.Cleared)
	require.InDelta(t, 2.0/3, f.First, 1e-12)
	require.InDelta(t, 1.0/3, f.Part, 1e-12)
	require.InDelta(t, 2.0/3, f.Found, 1e-12)
	require.Equal(t, 2.0, f.GroupMedian)
	require.InDelta(t, 1.0/3, f.GroupTo1, 1e-12)
	require.InDelta(t, 2.0/3, f.GroupTo2, 1e-12)
	require.InDelta(t, 1.0, f.GroupTo3, 1e-12)
	require.InDelta(t, 0.8, f.Exonerated, 1e-12)
	require.InDelta(t, 40, f.Minutes, 1e-12)
	require.Equal(t, 20.0, f.MinutesMedian)
	require.InDelta(t, 60, f.Total, 1e-12)
	require.InDelta(t, 3, f.Tests, 1e-12)
	require.InDelta(t, 1, f.GoodParts, 1e-12)
	require.InDelta(t, (-math.Log(0.9)-math.Log(0.4)+1)/3, f.Log, 1e-12)
	require.InDelta(t, (0.02+0.5+1.9)/3, f.Brier, 1e-12)
	// Bins: 0.35 alone and false; 0.9, 0.95 and 0.97 together with two true.
	require.InDelta(t, 0.25*0.35+0.75*math.Abs((0.9+0.95+0.97)/3-2.0/3), f.Calibration, 1e-12)
	require.InDelta(t, math.Abs((0.9+0.95+0.97)/3-2.0/3), f.AtNaming, 1e-12)
	require.Equal(t, 3, f.Bins[9].Count)

	var text, data bytes.Buffer
	r.Write(&text)
	require.Contains(t, text.String(), "66.67 %")
	require.NoError(t, r.WriteJSON(&data))
	require.True(t, json.Valid(data.Bytes()))
}

func TestVehiclesWithNothingInTheCatalogueCountForThemselves(t *testing.T) {
	w := &world{circuit: &circuit.Circuit{Name: "hand"}, options: Options{Cases: 2, Faults: 1}}
	r := w.report([]*Record{
		{Vehicle: 1, Truths: []string{"a/b=1"}, Games: []Game{{Strategy: ByTracer, RightPart: true, Minutes: 10, Innocents: 1, Exonerated: 1}}},
		{Vehicle: 2, Oddity: "a wrong part", Games: []Game{{Strategy: ByTracer, Minutes: 30}}},
	})
	require.Equal(t, 1.0, r.Strategies[0].First)
	require.Equal(t, 1.0, r.Strategies[0].Exonerated)
	require.Equal(t, 20.0, r.Strategies[0].Minutes)
}

func TestTheRatioIsOverVehiclesThatBothPlayed(t *testing.T) {
	w := &world{circuit: &circuit.Circuit{Name: "hand"}, options: Options{Cases: 2, Faults: 1}}
	r := w.report([]*Record{
		{Vehicle: 1, Truths: []string{"a/b=1"}, Games: []Game{{Strategy: ByTracer, Minutes: 10}, {Strategy: ByTextbook, Minutes: 40}}},
		{Vehicle: 2, Truths: []string{"a/b=1"}, Games: []Game{{Strategy: ByTracer, Minutes: 1000}}},
	})
	require.Len(t, r.Strategies, 2)
	require.Equal(t, 1.0, r.Strategies[0].Ratio)
	require.Equal(t, 0.25, r.Strategies[1].Ratio)
}

// 8 of 10: 0.4902 to 0.9433 (recomputed from Wilson's formula by hand).
func TestTheIntervalOfAShare(t *testing.T) {
	low, high := interval(0.8, 10)
	require.InDelta(t, 0.4902, low, 1e-4)
	require.InDelta(t, 0.9433, high, 1e-4)
	low, high = interval(1, 10000)
	require.Greater(t, low, 0.9996)
	require.InDelta(t, 1, high, 1e-12)
}

func TestMedian(t *testing.T) {
	require.Equal(t, 2.0, median([]float64{3, 1, 2}))
	require.Equal(t, 2.5, median([]float64{4, 3, 1, 2}))
	require.True(t, math.IsNaN(median(nil)))
}

func TestCalibrationOfTheCertain(t *testing.T) {
	bins, off := calibrate([]Saying{{P: 1, True: true}, {P: 1, True: true}, {P: 0, True: false}})
	require.Zero(t, off)
	require.Equal(t, 2, bins[9].Count)
}
