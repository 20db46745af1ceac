package airflow

import (
	"fmt"
	"math"
)

// Detail says how much finer than usual a circuit is laid out. Names of parts, faults, controls, vents and all usual rooms stay
// what they are, so that a procedure can be carried out on the finer network as well: it stands for a vehicle that differs from
// its file in more than numbers. The zero Detail is the usual network.
type Detail struct {
	// LinePieces is how many pieces each air line is laid in, with a room between each two of them; 0 and 1 are one piece. What
	// a line conducts at small differences of pressure, and what it holds, does not hang on it. At most 16.
	LinePieces int
	// ChamberWall gives every room with a moving wall an energy equation, with this heat exchange with its wall, W/K at one
	// litre of mean volume, and as its surface for others; 0 leaves such rooms at the temperature of their surroundings. About
	// 2 W/K is plausible (engineering judgement: a tenth of a square metre, 10 to 30 W/(m²·K)).
	ChamberWall float64
}

const mostPieces = 16

func (d Detail) check() error {
	if d.LinePieces < 0 || d.LinePieces > mostPieces {
		return fmt.Errorf("a line can be laid in 1 to %d pieces, not in %d", mostPieces, d.LinePieces)
	}
	if !(d.ChamberWall >= 0) || math.IsInf(d.ChamberWall, 0) {
		return fmt.Errorf("a chamber can't exchange %g W/K with its wall", d.ChamberWall)
	}
	return nil
}

// pieces lays a line in several. By the rules for elements in series, Σ1/C³ and Σ(1 − b)/C² of the pieces are those of the
// whole (ISO 6358-3's series of like parts; the second is exact for small differences).
func (b *Builder) pieces(count int, volume, conductance, crit float64) {
	root := math.Cbrt(float64(count))
	conductance, crit = conductance*root, 1-(1-crit)/root
	ends := make([]int32, count+1)
	ends[0], ends[count] = b.room("from"), b.room("to")
	b.Volume("from", volume/2/float64(count))
	b.Volume("to", volume/2/float64(count))
	for i := 1; i < count; i++ {
		name := lineRoom(b.line.ID, i)
		ends[i] = int32(len(b.plan.rooms))
		b.plan.roomIndex[name] = ends[i]
		b.plan.rooms = append(b.plan.rooms, room{name: name, volume: volume / float64(count)})
	}
	for i := range count {
		b.element(Bore, ends[i], ends[i+1], conductance, crit, Open).piece = i
	}
}

// lineRoom is the name of the room behind a piece of a line.
func lineRoom(line string, piece int) string { return fmt.Sprintf("%s.piece %d", line, piece) }

// warmChambers gives the rooms with moving walls their energy equation, where the detail asks for it.
func (p *plan) warmChambers() {
	if p.detail.ChamberWall == 0 {
		return
	}
	for i := range p.rooms {
		r := &p.rooms[i]
		if n := len(r.piston.Volume); n > 0 && !r.thermal {
			mean := r.volume + (r.piston.Volume[0]+r.piston.Volume[n-1])/2
			r.thermal, r.heat = true, p.detail.ChamberWall*math.Pow(mean/1e-3, 2.0/3)
		}
	}
}

// swell is how much larger a room is at a pressure than with its wall drawn in, V/V0, and d(p·V)/dp over V, which is 1 while
// the wall stands.
func (r *room) swell(p float64) (swell, steep float64) {
	g, v := r.piston.Gauge, r.piston.Volume
	if len(g) == 0 {
		return 1, 1
	}
	gauge := p - atmosphere
	now := r.volume + r.piston.volume(gauge)
	for i := 1; i < len(g); i++ {
		if gauge >= g[i-1] && gauge < g[i] {
			return now / (r.volume + v[0]), 1 + p/now*(v[i]-v[i-1])/(g[i]-g[i-1])
		}
	}
	return now / (r.volume + v[0]), 1
}

// worked is (γ−1) times what the air has done to a thermal room's moving wall on the way up to a pressure: see piston.
func (r *room) worked(p float64) float64 {
	if len(r.piston.Gauge) == 0 {
		return 0
	}
	var m piston
	m.set(0, r)
	i := 0
	for i+1 < len(m.done) && p >= atmosphere+r.piston.Gauge[i+1] {
		i++
	}
	switch {
	case p < atmosphere+r.piston.Gauge[0]:
		return 0
	case i+1 == len(m.done):
		return m.done[i]
	}
	v := r.volume + r.piston.volume(p-atmosphere)
	return m.done[i] + m.b[i]*p + m.k[i]*p*p - p*v
}
