package engine

import (
	"context"
	"fmt"
	"strings"
	"sync"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuit/airflow/procedure"
	"airpath/trace"
	"airpath/ui/model"
)

// Engine is the real tracer on one vehicle.
type Engine struct {
	network *airflow.Network
	tracer  *trace.Tracer

	mu   sync.Mutex
	fits []trace.LogFit // of the newest answer
}

// New compiles a vehicle. It is quick: the faults are tried out when the first question is asked.
func New(c *circuit.Circuit) (model.Engine, error) {
	n, err := airflow.Compile(c)
	if err != nil {
		return nil, fmt.Errorf("this vehicle can't be simulated: %w", err)
	}
	t, err := trace.New(n, trace.Options{Cache: trace.CacheDir()})
	if err != nil {
		return nil, fmt.Errorf("this vehicle can't be traced: %w", err)
	}
	return &Engine{network: n, tracer: t}, nil
}

// Procedures implements model.Engine.
func (e *Engine) Procedures() []*procedure.Procedure { return e.tracer.Procedures() }

// Ask implements model.Engine.
func (e *Engine) Ask(ctx context.Context, cs *circuit.Case, u model.Units, progress func(done, total int)) (*model.Answer, error) {
	return e.AskInParts(ctx, cs, u, nil, progress)
}

// AskInParts implements model.EarlyEngine.
func (e *Engine) AskInParts(ctx context.Context, cs *circuit.Case, u model.Units, first func(*model.Answer), progress func(done, total int)) (*model.Answer, error) {
	e.tracer.SpeakIn(string(u))
	now := present(cs)
	told := func(v *trace.Verdict) *model.Answer {
		e.mu.Lock()
		e.fits = v.Fits
		e.mu.Unlock()
		a := answer(v)
		e.checkEarlier(cs, now, a.Limits)
		return a
	}
	var early func(*trace.Verdict)
	if first != nil {
		early = func(v *trace.Verdict) {
			a := told(v)
			a.Early, a.Rough = true, v.Rough
			first(a)
		}
	}
	v, err := e.tracer.TraceInParts(ctx, now, early, progress)
	if err != nil {
		return nil, err
	}
	return told(v), nil
}

// answer puts a verdict into the window's terms.
func answer(v *trace.Verdict) *model.Answer {
	a := &model.Answer{Stop: v.Stop, NoFault: v.NoFault, Else: v.SomethingElse, Unknown: v.Unknown(), Disagree: v.Disagree}
	at := map[string]int{}
	for i, s := range v.Suspects {
		at[key(s.Fault)] = i
		a.Suspects = append(a.Suspects, model.Suspect{
			Key: key(s.Fault), Target: s.Fault.Target, Mode: s.Fault.Mode, Title: s.Title, Probability: s.Probability,
			Low: s.Severity.Low, Mid: s.Severity.Mid, High: s.Severity.High, Dimension: s.Severity.Dimension, Means: s.Severity.Means,
			Path: steps(s.Path), Because: withoutPath(s.Because, s.PathWords), Confirm: s.Confirm, Repair: s.Repair, RepairMinutes: s.RepairTime, Cautions: s.Cautions,
			For: s.ForFindings, Against: s.AgainstThose,
		})
	}
	for _, g := range v.Alike {
		group := model.Alike{Separable: g.Separable}
		for _, f := range g.Faults {
			if i, ok := at[key(f)]; ok {
				group.Suspects = append(group.Suspects, i)
			}
		}
		if len(group.Suspects) > 1 {
			a.Alike = append(a.Alike, group)
		}
	}
	for _, p := range v.Pairs {
		a.Pairs = append(a.Pairs, model.Pair{Keys: [2]string{key(p.Faults[0]), key(p.Faults[1])}, Titles: p.Titles, Targets: [2]string{p.Faults[0].Target, p.Faults[1].Target}, Probability: p.Probability})
	}
	for _, c := range v.Cleared {
		a.Cleared = append(a.Cleared, model.Cleared{Target: c.Fault.Target, Mode: c.Fault.Mode, Title: c.Title, Because: c.Because, Findings: c.By})
	}
	for _, n := range v.Next {
		a.Next = append(a.Next, model.Next{Procedure: n.Procedure, Minutes: n.Minutes, Bits: n.Bits, Because: n.Because})
	}
	for _, u := range v.Unexplained {
		a.Unexplained = append(a.Unexplained, model.Remark{Finding: u.Finding, Words: u.Because})
	}
	for _, u := range v.Ignored {
		a.Ignored = append(a.Ignored, model.Remark{Finding: u.Finding, Words: u.Because})
	}
	a.Limits = limits(v.Limits)
	return a
}

// limits by finding: one broken limit is enough, and is the one to show.
func limits(checks []trace.LimitCheck) map[string]model.Check {
	out := map[string]model.Check{}
	for _, l := range checks {
		if old, ok := out[l.Finding]; !ok || old.Met {
			out[l.Finding] = model.Check{Met: l.Pass, Limit: l.Limit}
		}
	}
	return out
}

// key tells faults apart, whatever their severity.
func key(f airflow.Fault) string { return f.Target + "/" + f.Mode }

func steps(path []trace.Step) []model.Step {
	var out []model.Step
	for _, s := range path {
		out = append(out, model.Step{Target: s.ID, Words: s.Words})
	}
	return out
}

// withoutPath leaves out the path in words: the window lists it step by step.
func withoutPath(because, path string) string {
	if path == "" {
		return because
	}
	head, tail, found := strings.Cut(because, path)
	if !found {
		return because
	}
	head = strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(head), "Path:"))
	return strings.TrimSpace(head + " " + strings.TrimLeft(tail, ". "))
}
