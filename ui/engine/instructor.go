package engine

import (
	"context"

	"airpath/trace/drill"
	"airpath/ui/model"
)

var _ model.Instructor = (*Engine)(nil)

// MakeExercise implements model.Instructor.
func (e *Engine) MakeExercise(ctx context.Context, s drill.Setting, progress func(done, total int)) (*drill.Exercise, *drill.Key, error) {
	return drill.New(ctx, e.network, e.tracer, s, progress)
}

// DrawExercise implements model.Instructor.
func (e *Engine) DrawExercise(ctx context.Context, w drill.Wish, progress func(draw, done, total int)) (*drill.Exercise, *drill.Key, error) {
	return drill.Draw(ctx, e.network, e.tracer, w, progress)
}

// MarkWork implements model.Instructor.
func (e *Engine) MarkWork(ctx context.Context, x *drill.Exercise, k *drill.Key, w *drill.Work, progress func(done, total int)) (*drill.Marks, error) {
	return drill.Mark(ctx, e.tracer, e.tracer.Procedures(), x, k, w, progress)
}
