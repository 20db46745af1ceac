package record

import (
	"context"

	"airpath/circuit"
	"airpath/circuit/airflow/procedure"
	"airpath/circuit/symbol"
	"airpath/trace"
)

// LeastShown is the probability under which a suspect is neither printed nor outlined.
const LeastShown = 0.005

// Marks puts a case and what it comes to on the sheet, with the path of the first suspect lit.
func Marks(k *circuit.Case, procedures []*procedure.Procedure, v *trace.Verdict) symbol.Marks {
	m := symbol.Marks{Suspect: map[string]float64{}, Cleared: map[string]bool{}, Pins: pinsOf(k, procedures, v)}
	for _, c := range v.Cleared {
		m.Cleared[c.Fault.Target] = true
	}
	for _, s := range v.Suspects {
		delete(m.Cleared, s.Fault.Target) // one way to fail is left
		if s.Probability >= LeastShown {
			m.Suspect[s.Fault.Target] += s.Probability
		}
	}
	if len(v.Suspects) > 0 {
		for _, step := range v.Suspects[0].Path {
			m.Path = append(m.Path, step.ID)
		}
	}
	return m
}

// pinsOf pins each finding where it was made; findings about the vehicle as a whole have no place.
func pinsOf(k *circuit.Case, procedures []*procedure.Procedure, v *trace.Verdict) []symbol.Pin {
	broken := map[string]bool{}
	for _, l := range v.Limits {
		broken[l.Finding] = broken[l.Finding] || !l.Pass
	}
	var pins []symbol.Pin
	for _, f := range k.Findings {
		_, r, _, err := procedure.BindUnder(k.Jurisdiction, procedures, f)
		if err != nil {
			continue // the tracer has said so already
		}
		place := r.Place
		if place == "" {
			place = r.Gauge
		}
		if place == "" {
			continue
		}
		pin := symbol.Pin{Place: place, Kind: PinKind(r, f), Text: f.Result.Text, Bad: broken[f.ID]}
		if r.Form == procedure.YesNo {
			pin.Text = ""
		}
		pin.Bad = pin.Bad || pin.Kind == symbol.HissPin || pin.Kind == symbol.BubblePin
		pins = append(pins, pin)
	}
	return pins
}

// PinKind is the little picture of a finding.
func PinKind(r *procedure.Reading, f circuit.Finding) symbol.PinKind {
	yes := f.Result.Kind == circuit.Yes
	switch {
	case r.Leak() && yes && (f.Instrument == "soap" || r.Sense != procedure.Ear):
		return symbol.BubblePin
	case r.Leak() && yes:
		return symbol.HissPin
	case r.Leak():
		return symbol.QuietPin
	case r.Touched:
		return symbol.NotePin
	case r.Dimension == circuit.Temperature:
		return symbol.HotPin
	case r.Dimension == circuit.Volume:
		return symbol.WetPin
	case r.ID == "oil" && yes:
		return symbol.OilPin
	case (r.Dimension == circuit.Length || r.Dimension == circuit.LengthSpan) && (yes || r.Form == procedure.Measured):
		return symbol.StrokePin
	case r.Sense == procedure.Needle:
		return symbol.GaugePin
	case r.Sense == procedure.Watch:
		return symbol.TimePin
	case r.Sense == procedure.Eye && yes:
		return symbol.LampPin
	case r.Sense == procedure.Eye && r.Form == procedure.YesNo:
		return symbol.CheckPin
	}
	return symbol.NotePin
}

// Stages asks the tracer about the case as it stood before each repair, and as it stands.
func Stages(ctx context.Context, tracer *trace.Tracer, k *circuit.Case, progress func(done, total int)) ([]Stage, error) {
	procedures := tracer.Procedures()
	stages := make([]Stage, len(k.Repairs)+1)
	for i := range stages {
		if i > 0 && len(k.AtStage(i)) == 0 {
			continue // nothing new was found
		}
		then := k.Until(i)
		v, err := tracer.Trace(ctx, then, progress)
		if err != nil {
			return nil, err
		}
		marks := Marks(then, procedures, v)
		marks.Pins = pinsOf(&circuit.Case{Jurisdiction: k.Jurisdiction, Findings: k.AtStage(i)}, procedures, v)
		stages[i] = Stage{Verdict: v, Marks: marks}
	}
	return stages, nil
}
