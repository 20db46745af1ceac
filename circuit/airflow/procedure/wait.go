package procedure

// wait lets time go by.
type wait struct {
	seconds float64
	why     string // "for the air in the reservoirs to cool"
}

func (a wait) words(phrase) string {
	text := "Wait " + duration(a.seconds)
	if a.why != "" {
		text += " " + a.why
	}
	return text + "."
}

func (a wait) run(x *execution) error {
	t := x.stem()
	if t == nil || len(t.cuts) == 0 {
		return x.run.Advance(a.seconds)
	}
	now := t.from
	if x.waiting != nil {
		now, x.waiting = x.waiting.since, nil
	}
	for i := len(t.cuts) - 1; i >= 0 && t.cuts[i] > now; i-- {
		if _, ok := x.take(at(t.did, t.cuts[i])); ok {
			now = t.cuts[i]
		}
	}
	for _, cut := range t.cuts {
		if cut <= now {
			continue
		}
		if err := x.run.Advance(cut - now); err != nil {
			return err
		}
		now = cut
		x.leave(at(t.did, cut), moment{})
		if cut < t.to {
			x.chart(a, &awaiting{since: now})
		}
	}
	return x.run.Advance(t.to - now)
}

func (wait) dangers() []danger { return nil }
