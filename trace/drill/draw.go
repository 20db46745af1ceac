package drill

import (
	"context"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/trace"
)

// A Driver is who brings the hidden vehicle in, and knows what is to be said of it.
type Driver interface {
	Guide
	DriverSays(shown []trace.Shown, faults []airflow.Fault) *trace.Meaning
}

// A Wish is what kind of exercise is to be drawn. Of the setting, faults and complaint are drawn, and the title where it is
// empty; the rest holds as it stands.
type Wish struct {
	Setting
	Level string // one of Levels
	Parts int    // how many are at fault: 1 or 2
}

// mostDraws bounds how many hidden vehicles are tried for one wish.
const mostDraws = 40

// Draw an exercise at random. Faults are drawn as often as they are met, their severity evenly along its range; the complaint
// is what most drivers would say of what the vehicle then shows, and a vehicle that nobody would complain of is drawn again.
// It goes on until the level is the one wished for, and gives up after a bounded number of vehicles. The same wish draws the
// same exercise. progress, where given, hears the number of the draw and how far it is.
func Draw(ctx context.Context, n *airflow.Network, d Driver, w Wish, progress func(draw, done, total int)) (*Exercise, *Key, error) {
	if err := w.check(); err != nil {
		return nil, nil, err
	}
	if progress == nil {
		progress = func(int, int, int) {}
	}
	urn, err := newUrn(n)
	if err != nil {
		return nil, nil, err
	}
	rng := rand.New(rand.NewPCG(w.Seed, 0x6472696c6c)) // of the faults alone: the vehicle's scatter follows from the seed too
	good, err := inGoodOrder(ctx, n, w.Setting, func(done, total int) { progress(0, done, total) })
	if err != nil {
		return nil, nil, err
	}
	var met []string
	for draw := range mostDraws {
		s := w.Setting
		s.Faults = urn.draw(rng, w.Parts)
		s.Seed = w.Seed + uint64(draw) // each is another vehicle of the same make
		h, err := s.hide(n)
		if err != nil {
			return nil, nil, err
		}
		if err := h.simulate(ctx, func(done, total int) { progress(draw+1, done, total+1) }); err != nil {
			return nil, nil, err
		}
		says := d.DriverSays(h.shown(good), s.Faults)
		if says == nil {
			continue
		}
		s.Complaint = says.Saying
		if s.Title == "" {
			s.Title = fmt.Sprintf("%s: %s", n.Circuit().Name, says.Saying)
		}
		e := h.exercise(s)
		k, err := keyTo(ctx, d, e, s)
		if err != nil {
			return nil, nil, err
		}
		if k.Difficulty.Level == w.Level {
			return e, k, nil
		}
		met = append(met, k.Difficulty.Level)
	}
	return nil, nil, fmt.Errorf("no %s exercise with %d at fault among %d vehicles, of which %d would be complained of (%s); take another seed, level or vehicle, or allow more procedures",
		w.Level, w.Parts, mostDraws, len(met), tally(met))
}

func (w *Wish) check() error {
	switch {
	case !slices.Contains(Levels, w.Level):
		return fmt.Errorf("no level %q; %s", w.Level, circuit.Suggest(w.Level, Levels))
	case w.Parts < 1 || w.Parts > 2:
		return fmt.Errorf("%d parts at fault; 1 or 2 can be drawn", w.Parts)
	case w.Circuit == "":
		return fmt.Errorf("an exercise names its circuit")
	}
	return nil
}

// tally of the levels that were met, in their order.
func tally(met []string) string {
	var out []string
	for _, l := range Levels {
		n := 0
		for _, m := range met {
			if m == l {
				n++
			}
		}
		if n > 0 {
			out = append(out, fmt.Sprintf("%d %s", n, l))
		}
	}
	if out == nil {
		return "no level"
	}
	return strings.Join(out, ", ")
}

// inGoodOrder is what the allowed procedures come to on the vehicle of the file.
func inGoodOrder(ctx context.Context, n *airflow.Network, s Setting, progress func(done, total int)) (*hidden, error) {
	h, err := s.hide(n)
	if err != nil {
		return nil, err
	}
	h.faults, h.scatter = nil, airflow.Scatter{}
	return h, h.simulate(ctx, progress)
}

// shown by the hidden vehicle, beside one in good order.
func (h *hidden) shown(good *hidden) []trace.Shown {
	var out []trace.Shown
	for k, p := range h.allowed {
		if h.outcomes[k].Undone != "" || good.outcomes[k].Undone != "" {
			continue
		}
		for r := range p.Readings {
			out = append(out, trace.Shown{Procedure: p, Reading: r, Value: h.outcomes[k].Values[r], Healthy: good.outcomes[k].Values[r]})
		}
	}
	return out
}

// An urn holds the faults of a vehicle, each as often as it is met.
type urn struct {
	faults []airflow.Fault
	modes  []airflow.Mode
	upTo   []float64 // priors, added up
}

func newUrn(n *airflow.Network) (*urn, error) {
	u, sum := &urn{}, 0.0
	for _, f := range airflow.Catalogue(n.Circuit()) {
		changes, err := n.Changes(f)
		if err != nil {
			return nil, err
		}
		if len(changes) == 0 {
			continue // it moves no air, so that no procedure could show it
		}
		words, err := trace.Describe(n.Circuit(), f)
		if err != nil {
			return nil, err
		}
		mode, err := airflow.ModeOf(n.Circuit(), f)
		if err != nil {
			return nil, err
		}
		sum += words.Prior
		u.faults, u.modes, u.upTo = append(u.faults, f), append(u.modes, mode), append(u.upTo, sum)
	}
	if sum <= 0 {
		return nil, fmt.Errorf("circuit %q has no fault that could be hidden in it", n.Circuit().Name)
	}
	return u, nil
}

// draw faults of different parts.
func (u *urn) draw(rng *rand.Rand, parts int) []airflow.Fault {
	var out []airflow.Fault
	for tries := 0; len(out) < parts && tries < 1000; tries++ {
		x := rng.Float64() * u.upTo[len(u.upTo)-1]
		i, _ := slices.BinarySearch(u.upTo, x)
		i = min(i, len(u.faults)-1)
		f, s := u.faults[i], u.modes[i].Severity
		f.Severity = s.Mild + (s.Severe-s.Mild)*rng.Float64()
		if !slices.ContainsFunc(out, func(g airflow.Fault) bool { return g.Target == f.Target }) {
			out = append(out, f)
		}
	}
	return out
}
