package airflow

import (
	"testing"

	"github.com/stretchr/testify/require"

	"airpath/circuit"
)

// A board is a bare network of rooms and elements, laid down without any component: what a closed form is about.
type board struct{ p *plan }

func newBoard() *board {
	p := newPlan(&circuit.Circuit{Name: "board"})
	p.addControl(Engine, "", -1, 0, 1e3)
	p.addControl(Key, "", -1, 0, 1)
	p.addOwner("board")
	return &board{p}
}

// room of a fixed volume (m³).
func (d *board) room(name string, volume float64) int32 {
	i := int32(len(d.p.rooms))
	d.p.roomIndex[name] = i
	d.p.rooms = append(d.p.rooms, room{name: name, volume: volume})
	return i
}

// source is a room so large that its pressure stays.
func (d *board) source(name string) int32 { return d.room(name, 1e6) }

// thermal gives a room an energy equation.
func (d *board) thermal(room int32, hA float64) {
	d.p.rooms[room].thermal, d.p.rooms[room].heat = true, hA
}

// pass adds an element with C in dm³/(s·bar), under a name of its own.
func (d *board) pass(name string, from, to int32, c, crit float64, o opening) *element {
	place := int32(-1)
	if from < 0 || to < 0 {
		place = d.p.place(name)
	}
	k := d.p.passage(name, "board", name)
	d.p.passages[k].elements = append(d.p.passages[k].elements, int32(len(d.p.elements)))
	d.p.elements = append(d.p.elements, element{
		passage: k, from: from, to: to, place: place, c: c * 1e-8, crit: crit, forth: 1, back: 1, opening: o,
	})
	return &d.p.elements[len(d.p.elements)-1]
}

// control adds a control from 0 to 1.
func (d *board) control(name string) int32 {
	d.p.addControl(name, "", -1, 0, 1)
	return d.p.controlIndex[name]
}

func (d *board) latch(name string, room int32, rise, fall float64) int32 {
	i := int32(len(d.p.latches))
	d.p.latchIndex[name] = i
	d.p.latches = append(d.p.latches, latch{name: name, room: room, aide: room, rise: rise, fall: fall})
	return i
}

var open = opening{base: 1, low: 0, high: 1}

// worked by a control, from shut at 0 to open at 1.
func worksWith(control int32) opening {
	return opening{low: 0, high: 1, terms: []term{{controlTerm, control, 1}}}
}

// start compiles the board and fills the rooms to psi on the gauge.
func (d *board) start(t testing.TB, o Options, filled map[string]float64) *Run {
	t.Helper()
	r, err := newNetwork(d.p).Start(nil, Scatter{})
	require.NoError(t, err)
	r.Tune(o)
	for _, name := range r.Network().Rooms() {
		if v, ok := filled[name]; ok {
			require.NoError(t, r.Fill(name, atPSI(v)))
		}
	}
	return r
}

// atPSI turns psi on the gauge into Pa absolute, and toPSI turns it back.
func atPSI(psig float64) float64 { return circuit.AtmospherePressure + psig*circuit.PSI }
func toPSI(p float64) float64    { return (p - circuit.AtmospherePressure) / circuit.PSI }

func until(t testing.TB, r *Run, limit float64, e Event) float64 {
	t.Helper()
	fired, err := r.Until(limit, e)
	require.NoError(t, err)
	require.True(t, fired, "%+v within %g s", e, limit)
	return r.Time()
}
