package symbol

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// marksForTests use everything that a sheet can show at once.
func marksForTests() Marks {
	return Marks{
		State: map[string]State{
			"compressor": {On: true}, "gauge_primary": {Needle: gaugePressure(118)}, "gauge_secondary": {Needle: gaugePressure(52)},
			"warning_lamp": {On: true}, "buzzer": {On: true}, "switch_secondary": {On: true}, "check_primary": {Open: opens("seat", 1.0)},
		},
		Pressure: map[string]float64{
			"tank.supply": gaugePressure(120), "tank.primary": gaugePressure(118), "tank.secondary": gaugePressure(52),
			"compressor.head": gaugePressure(125), "tee_discharge.body": gaugePressure(124), "dryer.1": gaugePressure(123), "dryer.purge": gaugePressure(121), "dryer.2": gaugePressure(120),
			"foot_valve.11": gaugePressure(118), "foot_valve.12": gaugePressure(52), "rear_relay.1": gaugePressure(118),
		},
		Suspect:  map[string]float64{"compressor": 0.43, "discharge_line": 0.22, "dryer": 0.18, "governor": 0.02, "secondary_to_foot": 0.004},
		Cleared:  map[string]bool{"front_left_chamber": true, "front_left_hose": true, "park_control": true, "tee_primary": true},
		Path:     []string{"compressor", "discharge_line", "tee_discharge", "dryer_inlet_line", "dryer", "supply_line", "tank"},
		Selected: "rear_relay", Hover: "relay_supply",
		Pins: []Pin{
			{Place: "gauge_primary", Kind: TimePin, Text: "70 s", Bad: true}, {Place: "dryer.3", Kind: QuietPin}, {Place: "governor", Kind: GaugePin, Text: "122 psi"},
			{Place: "warning_lamp", Kind: LampPin, Bad: true}, {Place: "rear_relay.3", Kind: HissPin, Bad: true}, {Place: "drain_supply", Kind: CheckPin}, {Place: "relay_supply", Kind: NotePin, Text: "rubbed"},
			{Place: "front_left_chamber", Kind: StrokePin, Text: "44 mm"}, {Place: "drain_primary", Kind: WetPin, Text: "0.2 L"}, {Place: "drain_secondary", Kind: OilPin, Bad: true}, {Place: "rear_left_drum", Kind: HotPin}, {Place: "tank", Kind: BubblePin, Bad: true},
		},
	}
}

func drawn(t *testing.T, layer Layer, marks Marks) []Recorded {
	var r Recorder
	NewSheet(gritter(t)).DrawLayer(&r, layer, Look{Palette: Light, Scale: 6}, marks)
	return r.Marks
}

func texts(marks []Recorded) []string {
	var out []string
	for _, m := range marks {
		if m.Text != "" {
			out = append(out, m.Text)
		}
	}
	return out
}

func TestSuspicionIsNumbersAndWeight(t *testing.T) {
	last := 0.0
	for _, p := range []float64{0.01, 0.1, 0.5, 0.97} {
		m := Marks{Suspect: map[string]float64{"dryer": p}}
		assert.Contains(t, texts(drawn(t, MarkLayer, m)), percent(p))
		width := 0.0
		for _, d := range drawn(t, SymbolLayer, m) {
			if d.Group == "dryer" && d.Style.Stroke == Light.Suspect {
				width = d.Style.Width
			}
		}
		assert.Greater(t, width, last, "the outline grows with probability")
		last = width
	}
	assert.Empty(t, texts(drawn(t, MarkLayer, Marks{Suspect: map[string]float64{"dryer": 0.3}, Cleared: map[string]bool{"dryer": true}})), "what is cleared is no suspect")
}

func TestPercentagesAreHonestAtTheEnds(t *testing.T) {
	for p, want := range map[float64]string{0: "0 %", 0.0004: "<1 %", 0.01: "1 %", 0.426: "43 %", 0.99: "99 %", 0.996: ">99 %", 1: "100 %"} {
		assert.Equal(t, want, percent(p))
	}
}

func TestThePathIsNumberedInOrder(t *testing.T) {
	m := Marks{Path: []string{"compressor", "discharge_line", "tee_discharge", "discharge_line", "dryer"}}
	assert.Equal(t, []string{"1", "2", "3", "4"}, texts(drawn(t, MarkLayer, m)), "each thing once")
	lit := false
	for _, d := range drawn(t, CasingLayer, m) {
		assert.Equal(t, "discharge_line", d.Group)
		lit = lit || d.Style.Stroke == Light.PathBand
	}
	assert.True(t, lit, "a band under the line")
}

func TestClearedPartsGoGrey(t *testing.T) {
	for _, d := range drawn(t, SymbolLayer, Marks{Cleared: map[string]bool{"governor": true}}) {
		if d.Group == "governor" {
			assert.NotEqual(t, Light.Ink, d.Style.Stroke)
			assert.NotEqual(t, Light.Ink, d.Style.Fill)
		}
	}
	assert.NotEmpty(t, drawn(t, MarkLayer, Marks{Cleared: map[string]bool{"governor": true}}), "and carry a tick")
	for _, d := range drawn(t, LineLayer, Marks{Cleared: map[string]bool{"relay_supply": true}}) {
		if d.Group == "relay_supply" {
			assert.Equal(t, Light.Cleared, d.Style.Stroke)
		}
	}
}

func TestLinesShowTheirPressure(t *testing.T) {
	width := func(p float64) (w float64) {
		m := Marks{Pressure: map[string]float64{"tank.primary": gaugePressure(p), "rear_relay.1": gaugePressure(p)}}
		for _, d := range drawn(t, LineLayer, m) {
			if d.Group == "relay_supply" {
				assert.Equal(t, Light.Pressure(gaugePressure(p)), d.Style.Stroke)
				w = d.Style.Width
			}
		}
		return w
	}
	assert.Less(t, width(0), width(60)+1e-9)
	assert.Less(t, width(0), width(120), "full lines are thicker")
}

func TestPressuresAreReadableInEveryUnit(t *testing.T) {
	for unit, want := range map[string]string{"": "118 psi", "psi": "118 psi", "bar": "8.1 bar", "kPa": "814 kPa"} {
		assert.Equal(t, want, Look{Unit: unit}.pressureText(gaugePressure(118)))
	}
	assert.Equal(t, "0 psi", Look{}.pressureText(gaugePressure(-0.2)), "no minus zero")
	assert.Equal(t, "0.0 bar", Look{Unit: "bar"}.pressureText(gaugePressure(-0.2)))
}

func TestDetailFollowsTheScale(t *testing.T) {
	sh := NewSheet(gritter(t))
	count := func(scale float64) int {
		var r Recorder
		sh.Draw(&r, Look{Palette: Light, Scale: scale}, Marks{})
		return len(texts(r.Marks))
	}
	bare, named, full := count(2), count(6), count(12)
	assert.Less(t, bare, named)
	assert.Less(t, named, full)
	assert.Equal(t, Bare, Look{Scale: 2}.detail())
	assert.Equal(t, Full, Look{Scale: 3, Detail: Full}.detail(), "what is asked for goes first")
}

// A line is named when it is chosen, pointed at or asked for.
func TestLinesAreNamedWhenAskedFor(t *testing.T) {
	for _, m := range []Marks{{Selected: "relay_supply"}, {Hover: "relay_supply"}, {Names: map[string]bool{"relay_supply": true}}} {
		assert.Contains(t, texts(drawn(t, MarkLayer, m)), "supply to the rear relay")
	}
	assert.Empty(t, texts(drawn(t, MarkLayer, Marks{})))
}

// A part that had no room for its name is named when it is chosen or pointed at, and its plate is all on the sheet; one that is named
// is not named twice.
func TestPartsWithoutANameAreNamedWhenAskedFor(t *testing.T) {
	for name, sh := range library(t) {
		look := windowLook(sh, 792)
		for _, p := range sh.parts {
			v := sh.viewOf(nil, look, Marks{})
			box, ok := sh.Nameplate(p.comp.ID, look, Marks{})
			assert.Equal(t, !v.named(sh.partAt[p.comp.ID]), ok, "%s: %s", name, p.comp.ID)
			if !ok {
				continue
			}
			assert.True(t, sh.bounds.Contains(box.Min) && sh.bounds.Contains(box.Max), "%s: the plate of %s runs off the sheet", name, p.comp.ID)
			var r Recorder
			sh.DrawLayer(&r, MarkLayer, look, Marks{Hover: p.comp.ID})
			assert.Contains(t, texts(r.Marks), partTitle(p.comp), name)
		}
	}
}

func TestPinsSayWhatWasFound(t *testing.T) {
	m := Marks{Pins: []Pin{{Place: "gauge_primary", Kind: TimePin, Text: "70 s", Bad: true}, {Place: "gauge_primary", Kind: GaugePin, Text: "118 psi"}}}
	marks := drawn(t, MarkLayer, m)
	assert.Equal(t, []string{"70 s", "118 psi"}, texts(marks))
	var flags []Box
	for _, d := range marks {
		if d.Closed && (d.Style.Fill == Light.Bad || d.Style.Fill == Light.Body) && len(d.Points) > 20 {
			flags = append(flags, boxAround(d.Points))
		}
	}
	require.Len(t, flags, 2)
	assert.False(t, flags[0].Overlaps(flags[1]), "two findings at one place stand beside one another")
}

func TestOnlyWhatIsInViewIsDrawn(t *testing.T) {
	sh := NewSheet(gritter(t))
	box, _ := sh.BoxOf("compressor")
	var all, some Recorder
	sh.Draw(&all, Look{Palette: Light, Scale: 20}, Marks{})
	sh.Draw(&some, Look{Palette: Light, Scale: 20, View: box}, Marks{})
	assert.Less(t, len(some.Marks), len(all.Marks)/4)
	seen := false
	for _, m := range some.Marks {
		seen = seen || m.Group == "compressor"
		assert.NotEqual(t, "rear_relay", m.Group)
	}
	assert.True(t, seen)
}

func TestSheetHasNotChanged(t *testing.T) {
	for _, pal := range []*Palette{Light, Dark} {
		t.Run(pal.Name, func(t *testing.T) {
			golden(t, "gritter-"+pal.Name+".svg", SVG(gritter(t), Look{Palette: pal, Scale: 5.7}, marksForTests()))
			goldenImage(t, "gritter-"+pal.Name+".png", Image(gritter(t), 656, 576, Look{Palette: pal}, marksForTests()))
		})
	}
	assert.True(t, strings.HasPrefix(string(SVG(gritter(t), Look{}, Marks{})), "<svg "), "a look may be left empty")
}
