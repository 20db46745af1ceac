package score

import "testing"

// The hidden vehicle alone: draw a fault, see whether anybody would notice it, say what was noticed. The tracer is told the truth.
func BenchmarkHiddenVehicle(b *testing.B) {
	for _, name := range []string{"gritter", "refuse_collector", "tractor_trailer"} {
		for _, faults := range []int{1, 2} {
			b.Run(name+map[int]string{1: "/one fault", 2: "/two faults"}[faults], func(b *testing.B) {
				w := worldOf(b, name, Options{Cases: 1, Seed: 1, Faults: faults})
				k := w.worker(func(s *subject) Reasoner { return told{w, s} })
				for i := 0; b.Loop(); i++ {
					if _, err := k.vehicle(b.Context(), i+1); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
	}
}
