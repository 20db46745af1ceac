package trace

import (
	"context"
	"math"
	"slices"

	"airpath/circuit/airflow"
	"airpath/circuit/airflow/procedure"
	"airpath/trace/reason"
)

// A LogFit is one fault fitted to one recorded log: its size, and the curves to draw beside the recorded ones.
type LogFit struct {
	Log         string // id
	Procedure   string // title
	Fault       airflow.Fault
	Title       string
	Probability float64
	Severity    Severity // the middle, and the range that holds 90 %, other unknowns of the vehicle summed out
	Misfit      float64  // Pa, root mean square of what is left over
	Noise       float64  // Pa, 1 σ that a sample is taken to have; one reading in ten seconds counts as independent
	Seconds     []float64
	Gauges      []string
	Measured    [][]float64 // by gauge, Pa absolute; NaN where there is none
	Fitted      [][]float64 // by gauge
	Healthy     [][]float64 // what the vehicle in good order would show
}

// How many suspects are fitted to a log, and from which probability on.
const (
	mostFits = 4
	leastFit = 0.02
	fitSteps = 6

	plainlyWorse = 1.5 // times the misfit of the best: no fit to be shown
)

// A weighedLog is a log with its factor.
type weighedLog struct {
	*recorded
	factor reason.Factor
}

// weighRecorded works out the factors of all logs.
func (t *Tracer) weighRecorded(ctx context.Context, logs []*recorded) ([]weighedLog, error) {
	var out []weighedLog
	for _, r := range logs {
		if r.weighed == nil {
			f, err := t.logFactor(ctx, r)
			if err != nil {
				return nil, err
			}
			r.weighed = &weighedLog{r, f}
		}
		out = append(out, *r.weighed)
	}
	return out, nil
}

// besideLogs takes out the needle readings and times of procedures of which there is a log: they are read off the same curve.
func besideLogs(observations []observation, logs []*recorded, ignored []Ignored) ([]observation, []Ignored) {
	var out []observation
	for _, o := range observations {
		logged := slices.ContainsFunc(logs, func(r *recorded) bool { return r.procedure == o.procedure })
		if logged && (o.r.Sense == procedure.Needle || o.r.Sense == procedure.Watch) {
			ignored = append(ignored, Ignored{o.finding.ID, "the log of the same procedure tells it already, and counts once"})
			continue
		}
		out = append(out, o)
	}
	return out, ignored
}

// fitLogs fits the leading suspects to each log.
func (a *analysis) fitLogs(v *Verdict, logs []weighedLog) error {
	for _, r := range logs {
		count := 0
		var fits []LogFit
		for _, h := range a.standing() {
			p := a.posterior.Hypotheses[h]
			if p < leastFit || count == mostFits {
				break
			}
			if len(a.list[h].points) == 0 || a.stands(r.recorded, a.list[h].typical()) == 0 {
				continue // it leaves this log alone
			}
			fitted, err := a.fitOne(r, h)
			if err != nil {
				return err
			}
			if fitted == nil {
				continue
			}
			fitted.Probability = p
			fits = append(fits, *fitted)
			count++
		}
		best := math.Inf(1)
		for _, f := range fits {
			best = min(best, f.Misfit)
		}
		for _, f := range fits {
			if f.Misfit <= plainlyWorse*best { // else the severities that were simulated only seemed to fit
				v.Fits = append(v.Fits, f)
			}
		}
	}
	return nil
}

// fitOne fault: its size by Gauss and Newton, each step simulated anew, around the scatter of its own vehicle.
func (a *analysis) fitOne(r weighedLog, h int) (*LogFit, error) {
	list := &a.list[h]
	base := a.cells[likeliest(a.posterior, list)].from
	if err := a.playAround(r.recorded, base); err != nil || a.curve(r.recorded, base) == nil {
		return nil, err
	}
	f := newFit(r.measured, r.weight, a.freeAround(r.recorded, base))
	at := func(x float64) ([]float64, error) {
		fault := list.fault
		fault.Severity = severityAt(list.severity, x)
		o, err := a.simulate(a.ctx, &vehicle{faults: []airflow.Fault{fault}}, r.procedure)
		if err != nil {
			return nil, err
		}
		return r.curveOf(o), nil
	}
	c := a.likeliestCell(h)
	x, spread := (c.low+c.high)/2, 0.0
	var curve []float64
	if len(list.points) < 2 {
		var err error
		if curve, err = at(0.5); err != nil || curve == nil {
			return nil, a.ctx.Err()
		}
	} else {
		var err error
		if x, spread, curve, err = newton(f, at, x); err != nil || curve == nil {
			return nil, a.ctx.Err() // it can't be simulated there
		}
	}
	samples := 0.0
	for _, w := range r.weight {
		samples += w * r.noise * r.noise
	}
	spread *= math.Sqrt(max(1, f.misfit(curve)/max(samples, 1)))
	s := Severity{Means: list.severity.Means, Dimension: list.severity.Dimension}
	s.Mid = severityAt(list.severity, x)
	low, high := max(0, x-1.645*spread), min(1, x+1.645*spread)
	s.Low, s.High = severityAt(list.severity, low), severityAt(list.severity, high)
	if s.Low > s.High {
		s.Low, s.High = s.High, s.Low
	}
	fault := list.fault
	fault.Severity = s.Mid
	out := &LogFit{
		Log: r.log.ID, Procedure: a.procedures[r.procedure].Title, Fault: fault, Title: list.title(a.circuit), Severity: s, Noise: r.noise,
		Seconds: r.seconds, Gauges: r.names,
	}
	best := f.explained(curve)
	left, weight := 0.0, 0.0
	for i, w := range r.weight {
		left += w * (best[i] - r.measured[i]) * (best[i] - r.measured[i])
		weight += w
	}
	out.Misfit = math.Sqrt(left / max(weight, 1e-300))
	out.Measured, out.Fitted, out.Healthy = r.byGauge(r.shown()), r.byGauge(best), r.byGauge(a.curve(r.recorded, 0))
	return out, nil
}

// newton goes to the share of the severities' scale that fits best; spread is 1 σ of it.
func newton(f *fit, at func(x float64) ([]float64, error), x float64) (best, spread float64, curve []float64, err error) {
	const near = 0.02
	for range fitSteps {
		step := near
		if x+step > 1 {
			step = -near
		}
		here, err := at(x)
		if err != nil || here == nil {
			return x, 0, nil, err
		}
		beside, err := at(x + step)
		if err != nil || beside == nil {
			return x, 0, nil, err
		}
		_, c1, c2 := f.along(here, beside)
		curve, spread = here, 1
		if c2 <= 0 {
			return x, spread, curve, nil
		}
		spread = math.Abs(step) / math.Sqrt(c2)
		move := min(max(c1/c2*step, -0.25), 0.25)
		next := min(max(x+move, 0), 1)
		if math.Abs(next-x) < max(1e-4, spread/20) {
			return next, spread, curve, nil
		}
		x = next
	}
	return x, spread, curve, nil
}

// playAround plays a vehicle and those scattered around it.
func (t *Tracer) playAround(r *recorded, base int) error {
	first := t.table.around(base)
	vehicles := []int{base}
	for k := range 2 * len(spreads) {
		vehicles = append(vehicles, first+k)
	}
	return t.play(context.Background(), r, vehicles)
}

// shown is what was measured, NaN where nothing was.
func (r *recorded) shown() []float64 {
	out := slices.Clone(r.measured)
	for i, w := range r.weight {
		if w == 0 {
			out[i] = math.NaN()
		}
	}
	return out
}

func (r *recorded) byGauge(values []float64) [][]float64 {
	n := len(r.seconds)
	var out [][]float64
	for k := range r.gauges {
		out = append(out, values[k*n:(k+1)*n])
	}
	return out
}
