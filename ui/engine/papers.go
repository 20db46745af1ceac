package engine

import (
	"context"

	"airpath/circuit"
	"airpath/circuit/airflow/procedure"
	"airpath/trace/chart"
	"airpath/trace/record"
	"airpath/ui/model"
)

// chartQuestions is how many boxes of a chart may ask something.
const chartQuestions = 40

// Record implements model.Scribe.
func (e *Engine) Record(ctx context.Context, cs *circuit.Case, u model.Units, program string, progress func(done, total int)) ([]byte, error) {
	e.tracer.SpeakIn(string(u))
	stages, err := record.Stages(ctx, e.tracer, cs, progress)
	if err != nil {
		return nil, err
	}
	d, err := record.New(record.Input{Case: cs, Circuit: e.network.Circuit(), Procedures: e.tracer.Procedures(), Stages: stages, Unit: string(u), Program: program})
	if err != nil {
		return nil, err
	}
	return d.PDF(record.A4)
}

// Chart implements model.Scribe.
func (e *Engine) Chart(ctx context.Context, cs *circuit.Case, u model.Units, progress func(done, total int)) ([]byte, error) {
	if err := e.tracer.Prepare(ctx, progress); err != nil {
		return nil, err
	}
	tree, err := chart.Grow(ctx, e.tracer, e.network.Circuit(), cs, chart.Options{MostNodes: chartQuestions, Unit: string(u)}, progress)
	if err != nil {
		return nil, err
	}
	return tree.Pages().PDF()
}

// Outcomes implements model.Forker.
func (e *Engine) Outcomes(ctx context.Context, cs *circuit.Case, u model.Units, p *procedure.Procedure) ([]model.Outcome, error) {
	e.tracer.SpeakIn(string(u))
	ask, err := e.tracer.AskAbout(ctx, present(cs), p)
	if err != nil || ask == nil {
		return nil, err
	}
	var out []model.Outcome
	for _, a := range ask.Answers {
		out = append(out, model.Outcome{Words: a.Words, Chance: a.Chance, Findings: a.Findings})
	}
	return out, nil
}

// present is the case as far as it is about the vehicle as it is now: after a repair only what was found since counts, and the
// complaint, which was about the vehicle before. Where nothing was found since, the case is what it was.
func present(cs *circuit.Case) *circuit.Case {
	n := len(cs.Repairs)
	if n == 0 || len(cs.AtStage(n)) == 0 {
		return cs
	}
	now := *cs
	now.Complaint, now.Findings, now.Repairs = "", nil, nil
	for _, f := range cs.AtStage(n) {
		f.After = ""
		now.Findings = append(now.Findings, f)
	}
	return &now
}

// checkEarlier holds what was found before the newest repair against its limits; the tracer is asked about the rest.
func (e *Engine) checkEarlier(cs, now *circuit.Case, into map[string]model.Check) {
	if now == cs {
		return
	}
	for _, f := range cs.Findings {
		if cs.Stage(f) == len(cs.Repairs) {
			continue
		}
		_, r, ev, err := procedure.BindUnder(cs.Jurisdiction, e.tracer.Procedures(), f)
		if err != nil || ev.Kind != circuit.Number && ev.Kind != circuit.Range {
			continue
		}
		for _, l := range r.LimitsIn(cs.Jurisdiction) {
			met := l.Meets(ev.Low) && l.Meets(ev.High)
			if old, ok := into[f.ID]; !ok || old.Met {
				into[f.ID] = model.Check{Met: met, Limit: l}
			}
		}
	}
}
