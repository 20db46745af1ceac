package procedure

// A procedure leaves the vehicle in some state, and the next one may begin from there instead of from a vehicle that has just been
// driven in: who has listened with the park released can watch the needles next without charging again.

// A Leaving is how a vehicle has been left. The zero Leaving is that of one of which nothing is known.
type Leaving struct {
	start *Start
	past  bool       // it is no longer in that state, but what follows it can still be reached from here
	round *Procedure // the round by ear that was gone on and may be gone on with, or with soap in the same state; nil for none
}

// What a step makes of the state in which the vehicle stood, the least first.
const (
	leaves  = iota // as it is
	goesOn         // towards what comes after it
	uses           // some air
	changes        // into something else
)

func (s Step) makes() int {
	switch s.Do.(type) {
	case still, wait, waitOut, readFlow, readBubbles, readStop, readService, readBeside, readRise:
		return leaves
	case await, runEngine:
		return goesOn
	case pedal:
		return uses
	}
	return changes
}

// Leaves says how the procedure leaves the vehicle. Only what is plain from its steps counts: where nothing but time went by, a state
// that lasts is still there; waiting for a pressure or the engine's speed goes on from it; the pedal uses some of the air, so that it is
// charged again first; and after anything else the vehicle only stands there on its chocks. What a fault loses in the meantime is
// left out of account.
func (p *Procedure) Leaves() Leaving {
	l := p.leaves()
	if p.Round() && p.Start.Lasts {
		l.round = p.byEar()
	}
	return l
}

// byEar is the round by ear that goes to the same places in the same state.
func (p *Procedure) byEar() *Procedure {
	if p.twin != nil {
		return p.twin
	}
	return p
}

func (p *Procedure) leaves() Leaving {
	made := leaves
	for _, s := range p.Steps {
		made = max(made, s.makes())
	}
	switch {
	case p.Start == nil:
		return Leaving{}
	case made == changes:
		root := p.Start
		for root.From != nil {
			root = root.From
		}
		return Leaving{start: root, past: true}
	case made == leaves && p.Start.Lasts:
		return Leaving{start: p.Start}
	case made == uses || p.Start.Lasts:
		return Leaving{start: p.Start.From, past: true}
	}
	return Leaving{start: p.Start, past: true}
}

// SetUpAfter is the set-up of the procedure on a vehicle that has been left in some way, minutes.
func (p *Procedure) SetUpAfter(l Leaving) float64 {
	if p.Start == nil || l.start == nil {
		return p.SetUp
	}
	minutes := p.SetUp - p.Start.SetUp() // gauges, and the like
	if l.round != nil && l.round == p.byEar() {
		return minutes
	}
	for s := p.Start; s != nil; s = s.From {
		if s == l.start && !l.past {
			return minutes
		}
		minutes += s.Minutes
		if s.From != nil && l.start.follows(s.From) {
			return minutes
		}
	}
	return p.SetUp
}

// follows tells whether a state is another one, or is reached by way of it.
func (s *Start) follows(other *Start) bool {
	for ; s != nil; s = s.From {
		if s == other {
			return true
		}
	}
	return false
}
