package airflow

// The wiring is a small graph of parts joined by wires. A lamp or buzzer is on while the key is on and some way along
// unbroken wires leads from it to a closed contact, or to a wire that is shorted to ground. It is worked out when asked
// for: latches change seldom.

type contact struct {
	owner, latch int32
	when         bool // closed while the latch has this value
	held, hold   bool
}

type sink struct {
	owner int32
	dead  bool
}

type wire struct {
	owner         int32
	a, b          int32 // owners of the parts at its ends
	open, shorted bool
}

// lit says whether the sink of an owner has current.
func (p *plan) lit(owner int32, key bool, latches []bool) bool {
	i := 0
	for i < len(p.sinks) && p.sinks[i].owner != owner {
		i++
	}
	if i == len(p.sinks) || p.sinks[i].dead || !key {
		return false
	}
	reached := map[int32]bool{owner: true}
	for grown := true; grown; {
		grown = false
		for _, w := range p.wires {
			if w.open {
				continue
			}
			if w.shorted && (reached[w.a] || reached[w.b]) {
				return true
			}
			if reached[w.a] != reached[w.b] {
				reached[w.a], reached[w.b] = true, true
				grown = true
			}
		}
	}
	for _, c := range p.contacts {
		closed := latches[c.latch] == c.when
		if c.held {
			closed = c.hold
		}
		if closed && reached[c.owner] {
			return true
		}
	}
	return false
}
