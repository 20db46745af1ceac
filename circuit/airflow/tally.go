package airflow

// A tally is the integral of one flow: what has left at a place, what a pump has delivered (x = m·R·T0 units). It goes
// through the method's own stages, as one more state on which nothing depends; so the mass in the rooms and the mass in the
// tallies together change by rounding only.
type tally struct {
	live      int32    // which live element
	index     [5]int32 // what its flow depends on: a, three influences, and the far side of a pump or the warmth of a
	place     int32    // where the air is heard, -1 for a pump
	pump      int32    // which pump delivers it, or -1
	first     float64  // flow at the beginning of the step
	quiet     bool     // and then nothing to expect of it by its slopes
	k         [4]float64
	sum, next float64
}

// tally takes every tally through one stage; s.b holds the stage's pressure increments.
func (s *solver) tally(stage int, h float64) {
	k := s.b
	for i := range s.tallies {
		t := &s.tallies[i]
		if t.quiet && (stage < 2 || s.flow[t.live] == 0 && t.k[2] == 0) {
			t.k[stage] = 0
			if stage == 3 {
				t.next = t.sum
			}
			continue
		}
		d := &s.slope[t.live]
		v := d[0]*k[t.index[0]] + d[1]*k[t.index[1]] + d[2]*k[t.index[2]] + d[3]*k[t.index[3]] + d[4]*k[t.index[4]]
		switch stage {
		case 0:
			v += t.first
			if s.moves {
				v += 0.5 * h * s.shift[t.live]
			}
		case 1:
			v += t.first + 4/h*t.k[0]
			if s.moves {
				v += 1.5 * h * s.shift[t.live]
			}
		case 2:
			v += s.flow[t.live] + (t.k[0]-t.k[1])/h
		case 3:
			v += s.flow[t.live] + (t.k[0]-t.k[1]-8.0/3*t.k[2])/h
		}
		t.k[stage] = h / 2 * v
		if stage == 3 {
			t.next = t.sum + 2*t.k[0] + t.k[2] + t.k[3]
		}
	}
}
