package model

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"sync"

	"airpath/circuit"
	"airpath/circuit/airflow/procedure"
)

// asides are questions that are not about the case as it stands: what stood earlier, what would stand without one reading, what
// may come of a test. They are answered one at a time, while the case itself is not being weighed, and kept.
type asides struct {
	wake func()

	mu     sync.Mutex
	known  map[string]any
	want   []aside // newest last
	cancel context.CancelFunc
	fresh  bool
}

type aside struct {
	key string
	do  func(context.Context) (any, error)
}

// mostAsides bounds what is kept.
const mostAsides = 400

// ask is the answer to a question, or nil while it is being worked out. Busy tells that the case itself is being weighed.
func (a *asides) ask(key string, busy bool, do func(context.Context) (any, error)) any {
	a.mu.Lock()
	defer a.mu.Unlock()
	if v, ok := a.known[key]; ok {
		return v
	}
	queued := false
	for _, q := range a.want {
		queued = queued || q.key == key
	}
	if !queued {
		a.want = append(a.want, aside{key, do})
	}
	if !busy {
		a.next()
	}
	return nil
}

// next begins the oldest question; the caller holds the lock.
func (a *asides) next() {
	if a.cancel != nil || len(a.want) == 0 {
		return
	}
	q := a.want[0]
	a.want = a.want[1:]
	ctx, cancel := context.WithCancel(context.Background())
	a.cancel = cancel
	go func() {
		v, err := q.do(ctx)
		a.mu.Lock()
		defer a.mu.Unlock()
		a.cancel = nil
		if ctx.Err() == nil {
			if err != nil {
				v = err
			}
			if a.known == nil || len(a.known) > mostAsides {
				a.known = map[string]any{}
			}
			a.known[q.key], a.fresh = v, true
			a.next()
		}
		cancel()
		a.wake()
	}()
}

// drop forgets what is waiting, and breaks off what is being worked out: the case has changed.
func (a *asides) drop() {
	a.mu.Lock()
	defer a.mu.Unlock()
	a.want = nil
	if a.cancel != nil {
		a.cancel()
	}
}

// Asking tells whether a question beside the case is being worked out, or waits.
func (s *Session) Asking() bool {
	s.aside.mu.Lock()
	defer s.aside.mu.Unlock()
	return s.aside.cancel != nil || len(s.aside.want) > 0
}

func (a *asides) collect() bool {
	a.mu.Lock()
	defer a.mu.Unlock()
	f := a.fresh
	a.fresh = false
	return f
}

// Leaders is what a case comes to, in short.
type Leaders struct {
	First    []Suspect // the likeliest, three at most
	Standing int       // suspects of one in a hundred or more
	NoFault  float64
	Else     float64
	Failed   string // why it could not be worked out
}

func leadersOf(a *Answer) *Leaders {
	l := &Leaders{NoFault: a.NoFault, Else: a.Else}
	for i, x := range a.Suspects {
		if x.Probability >= 0.01 {
			l.Standing++
		}
		if i < 3 {
			l.First = append(l.First, x)
		}
	}
	return l
}

// Weigh says what another case on this vehicle comes to; nil while that is being worked out. The key tells cases apart; see KeyOf.
func (s *Session) Weigh(key string, cs *circuit.Case) *Leaders {
	engine, u := s.Engine, s.units
	v := s.aside.ask("weigh|"+string(u)+key, s.Working().Running, func(ctx context.Context) (any, error) {
		a, err := engine.Ask(ctx, cs, u, func(int, int) {})
		if err != nil {
			return nil, err
		}
		return leadersOf(a), nil
	})
	switch v := v.(type) {
	case *Leaders:
		return v
	case error:
		return &Leaders{Failed: v.Error()}
	}
	return nil
}

// KeyOf tells cases apart by what the tracer looks at.
func KeyOf(cs *circuit.Case) string {
	sum := sha256.Sum256(circuit.WriteCase(cs))
	return hex.EncodeToString(sum[:12])
}

// An Outcome is one thing that may come of a test.
type Outcome struct {
	Words    string
	Chance   float64
	Findings []circuit.Finding // what it would be in the case
	Case     *circuit.Case     // the case with them
	Key      string
}

// A Forker is an engine that can say what may come of a test.
type Forker interface {
	// Outcomes lists what may come of a test; none where it would tell nothing.
	Outcomes(ctx context.Context, cs *circuit.Case, u Units, p *procedure.Procedure) ([]Outcome, error)
}

// Outcomes of a test, the likeliest first; known is false while they are being worked out.
func (s *Session) Outcomes(p *procedure.Procedure) (out []Outcome, known bool) {
	f, ok := s.Engine.(Forker)
	if !ok {
		return nil, true
	}
	cs, u := s.Case(), s.units
	v := s.aside.ask("fork|"+string(u)+p.ID+"|"+s.key(), s.Working().Running, func(ctx context.Context) (any, error) {
		list, err := f.Outcomes(ctx, cs, u, p)
		return list, err
	})
	list, _ := v.([]Outcome)
	for i := range list { // here, and not in the background: the session belongs to the window
		if list[i].Case == nil {
			next := (&work{file: cs}).clone()
			for _, g := range list[i].Findings {
				s.enter(next.file, g)
			}
			list[i].Case, list[i].Key = next.file, KeyOf(next.file)
		}
	}
	return list, v != nil
}

// key of the case as it is now.
func (s *Session) key() string {
	if s.keyed != s.revision || s.keyText == "" {
		s.keyed, s.keyText = s.revision, KeyOf(s.Case())
	}
	return s.keyText
}

// Without says what the case would come to if some findings were wrong, and so did not count; nil while that is being worked out.
func (s *Session) Without(ids ...string) *Leaders {
	key := s.key()
	for _, id := range ids {
		key += "|" + id
	}
	cs, ok := s.less[key]
	if !ok {
		w := (&work{file: s.Case()}).clone()
		kept := w.file.Findings[:0]
		for _, f := range w.file.Findings {
			gone := false
			for _, id := range ids {
				gone = gone || f.ID == id
			}
			if !gone {
				kept = append(kept, f)
			}
		}
		w.file.Findings = kept
		cs = w.file
		if s.less == nil || len(s.less) > 100 {
			s.less = map[string]*circuit.Case{}
		}
		s.less[key] = cs
	}
	return s.Weigh(key+"|without", cs)
}
