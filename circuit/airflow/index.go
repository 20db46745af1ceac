package airflow

// An Index finds the places of a Glance by name.
type Index struct {
	Room, Passage, Vent, Control, Latch, Gauge, Sink, Contact, Rod, Pump map[string]int
}

// Index of the network's lists. Who asks often keeps it.
func (n *Network) Index() *Index {
	of := func(names []string) map[string]int {
		m := make(map[string]int, len(names))
		for i, name := range names {
			m[name] = i
		}
		return m
	}
	return &Index{
		Room: of(n.Rooms()), Passage: of(n.Passages()), Vent: of(n.Vents()), Control: of(n.Controls()), Latch: of(n.Latches()),
		Gauge: of(n.Gauges()), Sink: of(n.Sinks()), Contact: of(n.Contacts()), Rod: of(n.Rods()), Pump: of(n.Pumps()),
	}
}
