package trace

// Share lets several tracers of one vehicle work side by side on one table of signatures: each call of the function that it
// returns gives another one, which takes no turns with the others. What they say
// is the same as what the first would say. Prepare the first before.
func (t *Tracer) Share() func() *Tracer {
	t.turn.Lock()
	defer t.turn.Unlock()
	return func() *Tracer { return t.beside(t.table.apart()) }
}

// beside a tracer is another one, with a table of its own.
func (t *Tracer) beside(own *table) *Tracer {
	return &Tracer{
		network: t.network, circuit: t.circuit, procedures: t.procedures, list: t.list, cells: t.cells, table: own,
		nuisances: t.nuisances, space: t.space, showing: t.showing, mistaken: t.mistaken, atlas: t.atlas, unit: t.unit, moves: map[shiftsKey]*shifts{}, routes: map[rowOf][]*route{}, scenes: map[int][]*scene{},
	}
}
