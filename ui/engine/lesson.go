package engine

import (
	"context"
	"slices"

	"airpath/circuit"
	"airpath/circuit/airflow/procedure"
	"airpath/trace"
	"airpath/trace/drill"
	"airpath/ui/model"
)

// lesson is an engine for whoever works on an exercise: it knows the procedures that are allowed, at the minutes that they cost
// there. Without hints it gives no suspects: all that it says of findings is which published limits they meet.
type lesson struct {
	real    model.Engine
	allowed []*procedure.Procedure
	hints   bool
}

// Lesson wraps an engine for an exercise on its vehicle.
func Lesson(real model.Engine, e *drill.Exercise) model.Engine {
	l := &lesson{real: real, hints: e.Hints}
	for _, p := range real.Procedures() {
		if a := e.Allows(p.ID); a != nil {
			q := *p // its readings are shared
			q.SetUp, q.Minutes = a.SetUp, a.Minutes
			l.allowed = append(l.allowed, &q)
		}
	}
	return l
}

// Procedures implements model.Engine.
func (l *lesson) Procedures() []*procedure.Procedure { return l.allowed }

// Ask implements model.Engine.
func (l *lesson) Ask(ctx context.Context, cs *circuit.Case, u model.Units, progress func(done, total int)) (*model.Answer, error) {
	if !l.hints {
		return &model.Answer{Limits: limits(trace.CheckLimits(l.allowed, cs))}, nil
	}
	a, err := l.real.Ask(ctx, cs, u, progress)
	if err != nil {
		return nil, err
	}
	hinted := *a
	hinted.Next = nil
	for _, n := range a.Next {
		if p := named(l.allowed, n.Procedure.ID); p != nil {
			n.Procedure, n.Minutes = p, p.SetUp+p.Minutes
			hinted.Next = append(hinted.Next, n)
		}
	}
	return &hinted, nil
}

// Curves implements model.Engine.
func (l *lesson) Curves(ctx context.Context, cs *circuit.Case, s *model.Suspect, p *procedure.Procedure) (*model.Plot, error) {
	return l.real.Curves(ctx, cs, s, named(l.real.Procedures(), p.ID))
}

func named(all []*procedure.Procedure, id string) *procedure.Procedure {
	if i := slices.IndexFunc(all, func(p *procedure.Procedure) bool { return p.ID == id }); i >= 0 {
		return all[i]
	}
	return nil
}
