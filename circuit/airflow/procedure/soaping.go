package procedure

import (
	"slices"

	"airpath/circuit"
)

// Rounds with soap go to the same places as a round by ear, in the same state: they find what no ear does, at some minutes for each
// place. Nobody brushes a whole vehicle: where a leak is known to be, a handful of places is.

const (
	soap  = "Mix soap and water thick enough to stand in bubbles. Brush it all round one place after the other, over the whole opening of an exhaust or vent, and watch each for ten seconds: bubbles that grow, or a film that lifts, are a leak. "
	wiped = "Keep soap off linings, drums and plugs of wires, and wipe it off afterwards: it holds water where that does harm, and freezes."
)

// readBubbles is a round with soap: what is seen is what a round by ear finds the air to do.
type readBubbles struct {
	readFlow
	hot bool // the compressor works meanwhile
}

func (a readBubbles) dangers() []danger {
	if a.hot {
		return append(a.readFlow.dangers(), discharge)
	}
	return a.readFlow.dangers()
}

// soaped makes the round with soap of a round by ear, which takes its readings in its last step.
func (v *vehicle) soaped(heard *Procedure, p Procedure) *Procedure {
	last := len(heard.Steps) - 1
	round := heard.Steps[last].Do.(readFlow)
	round.ids, round.text = []string{"bubbles"}, soap+wiped
	p.Start, p.State, p.twin = heard.Start, heard.State, heard
	p.Steps = append(slices.Clone(heard.Steps[:last]), Step{readBubbles{round, heard.State.Engine != "off"}, ""})
	p.Tools = slices.Clone(heard.Tools)
	p.Minutes, p.each = 1+v.round(round.places, brushing), brushing
	for _, place := range round.places {
		r := said("bubbles", "bubbles show at the "+v.nameOf(place), place, Eye, bySoap, SeenInSoap())
		r.Dimension, r.Access = circuit.Flow, v.access(place)
		p.Readings = append(p.Readings, r)
	}
	heard.soaped = v.procedure(p)
	return heard.soaped
}

// soaping are the rounds with soap that belong to the rounds by ear among some procedures. They come last in the list: nobody begins with one.
func (v *vehicle) soaping(all []*Procedure) []*Procedure {
	var out []*Procedure
	for _, h := range all {
		switch h.ID {
		case "listen-building":
			out = append(out, v.soaped(h, Procedure{
				ID: "soap-building", Title: "Soap while building",
				About: "Engine idling, compressor pumping: leaks of the discharge line, the dryer and the safety valves that hold air only now, and what passes the purge valve and the governor's exhaust.",
			}))
		case "listen-unloaded":
			out = append(out, v.soaped(h, Procedure{
				ID: "soap-unloaded", Title: "Soap after cut-out, engine idling",
				About: "Engine idling, compressor unloaded: leaks of the line from the governor to unloader and purge valve, which empties as soon as a leak has brought the supply down to cut-in, and what passes the governor's exhaust, the unloader's seal and the purge valve. Bring it to cut-out again for each place where it cuts in too soon.",
			}))
		case "listen-parked":
			out = append(out, v.soaped(h, Procedure{
				ID: "soap-parked", Title: "Soap, engine off, parked",
				About: "Reservoirs full, springs set, pedal up: which seam, joint, drain or stub a leak on the supply side is at, and which exhaust.",
			}))
		case "listen-released":
			out = append(out, v.soaped(h, Procedure{
				ID: "soap-released", Title: "Soap, engine off, park released",
				About: "As parked, with hold-off air in the spring brakes besides: which hose, housing or exhaust a leak of hold-off air is at.",
			}))
		case "listen-applied":
			out = append(out, v.soaped(h, Procedure{
				ID: "soap-applied", Title: "Soap, engine off, pedal down",
				About: "With service air in the chambers: which hose, diaphragm or exhaust a leak of service air is at.",
			}))
		case "listen-charged":
			out = append(out, v.soaped(h, Procedure{
				ID: "soap-charged", Title: "Soap, trailer charged and released",
				About: "Supply on, control open: at which place supply, hold-off or reservoir air leaks.",
			}))
		case "listen-service":
			out = append(out, v.soaped(h, Procedure{
				ID: "soap-service", Title: "Soap, trailer applied",
				About: "Air on both lines: at which place service air leaks.",
			}))
		}
	}
	return out
}
