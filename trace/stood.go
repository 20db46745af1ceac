package trace

import (
	"sync"

	"airpath/circuit/airflow/procedure"
)

// mostStood vehicles are kept as they stood when procedures began: those of a closer look, which go through one procedure more with each finding.
const mostStood = 512

// stood is how vehicles stood when procedures began, those that were simulated last.
type stood struct {
	mu   sync.Mutex
	kept map[int]standing
	last int
}

type standing struct {
	*procedure.Kept
	when int // the number of those that had been kept before
}

// take what is known of a vehicle; nil where nothing is.
func (s *stood) take(vehicle int) *procedure.Kept {
	s.mu.Lock()
	defer s.mu.Unlock()
	k := s.kept[vehicle].Kept
	delete(s.kept, vehicle)
	return k
}

// keep how a vehicle stood.
func (s *stood) keep(vehicle int, k *procedure.Kept) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.kept == nil {
		s.kept = map[int]standing{}
	}
	if len(s.kept) >= mostStood {
		oldest, when := -1, s.last
		for v, k := range s.kept {
			if k.when < when {
				oldest, when = v, k.when
			}
		}
		delete(s.kept, oldest)
	}
	s.kept[vehicle] = standing{k, s.last}
	s.last++
}

// letGo of all: the numbers of the vehicles go to others.
func (s *stood) letGo() {
	s.mu.Lock()
	defer s.mu.Unlock()
	clear(s.kept)
}
