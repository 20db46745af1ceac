package record

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"slices"

	"airpath/circuit"
	"airpath/circuit/airflow/procedure"
)

// short tells the whole in a few lines, for whoever reads nothing else.
func (b *builder) short() Part {
	var f Facts
	v := b.verdict(0)
	switch first, with, weight := leading(v); {
	case len(b.Case.AtStage(0)) == 0:
		f = append(f, Fact{"Fault", nothingFound})
	case v.NoFault >= named || first == nil || first.Probability < worthWords:
		f = append(f, Fact{"Fault", "none is named by the findings"})
	case weight >= named && len(with) == 0:
		f = append(f, Fact{"Fault", sentence(fmt.Sprintf("%s; probability %s", first.Title, percent(weight)))})
	case weight >= named:
		f = append(f, Fact{"Fault", sentence(fmt.Sprintf("%s, or %s not told apart from it; probability together %s", first.Title, several(len(with), "fault", "faults"), percent(weight)))})
	default:
		f = append(f, Fact{"Fault", sentence(fmt.Sprintf("not named yet; the likeliest is %s, probability %s", first.Title, percent(weight)))})
	}
	if len(b.Case.Repairs) == 0 {
		f = append(f, Fact{"Repair", "none noted yet"})
	}
	for i, r := range b.Case.Repairs {
		name := "Repair"
		if len(b.Case.Repairs) > 1 {
			name = fmt.Sprintf("Repair %d", i+1)
		}
		f = append(f, Fact{name, upperFirst(b.nameOf(r.Part)) + ": " + sentence(r.Done)}, Fact{"Check", b.checkInShort(i)})
	}
	return Part{Title: "In short", Blocks: []Block{Frame{f}}}
}

// checkInShort counts what was found after a repair, and what is still to do.
func (b *builder) checkInShort(i int) string {
	within, outside, other := 0, 0, 0
	for _, f := range b.Case.AtStage(i + 1) {
		held := false
		bad := false
		for _, l := range b.limits(f) {
			held = held || !l.Limit.Usual
			bad = bad || !l.Pass
		}
		switch {
		case bad:
			outside++
		case held:
			within++
		default:
			other++
		}
	}
	todo := 0
	for _, p := range b.recheck(i) {
		if !b.repeated(i, p) {
			todo++
		}
	}
	if within+outside+other == 0 && todo == 0 {
		return "Not done yet; no procedure is named to be done again."
	}
	if within+outside+other == 0 {
		return fmt.Sprintf("Not done yet; %s to be done again.", several(todo, "procedure is", "procedures are"))
	}
	s := fmt.Sprintf("Of %s, %d within every limit held against, %d outside one, %d without a limit.", several(within+outside+other, "reading", "readings"), within, outside, other)
	if todo > 0 {
		s += fmt.Sprintf(" Still to be done again: %s.", several(todo, "procedure", "procedures"))
	}
	return s
}

// cautions are the general ones, and those of the parts that were suspected or mended.
func (b *builder) cautions() Part {
	l := List{}
	for _, c := range procedure.Safety() {
		l.Items = append(l.Items, Text{Words: c})
	}
	part := Part{Title: "Cautions", Blocks: []Block{l}}
	var own List
	var said []string
	for _, s := range b.Stages {
		if s.Verdict == nil {
			continue
		}
		for _, x := range s.Verdict.Suspects {
			if x.Probability < 0.1 {
				continue
			}
			for _, c := range x.Cautions {
				if !slices.Contains(said, c) {
					said = append(said, c)
					own.Items = append(own.Items, Text{Lead: upperFirst(b.nameOf(x.Fault.Target)), Words: c})
				}
			}
		}
	}
	if len(own.Items) > 0 {
		part.Blocks = append(part.Blocks, Text{Lead: "For the parts suspected here"}, own)
	}
	return part
}

func (b *builder) signatures() Part {
	return Part{Title: "Signatures", Blocks: []Block{Signatures{Roles: []string{"Work done by", "Checked by", "Vehicle handed over to"}}}}
}

// about says how the record came to be, and what it is not.
func (b *builder) about() Part {
	return Part{Title: "About this record", Blocks: []Block{
		Facts{
			{"Made by", b.Program},
			{"Circuit", fmt.Sprintf("%s, digest %s", b.Circuit.Name, CircuitDigest(b.Circuit))},
			{"Limits", fmt.Sprintf("as published for %s; each with its source beside the reading", b.jurisdiction())},
			{"Probabilities", "are worked out from simulated vehicles and from how common each fault is thought to be; how common is engineering judgement"},
		},
		Text{Words: "Airpath does not certify a vehicle. Local regulations, the vehicle maker's data and a licensed technician decide."},
	}}
}

// CircuitDigest sums up a whole circuit in 16 hexadecimal digits: two records with the same digest are about circuits that
// are one to the air. It tells that a circuit was changed, and is no seal.
func CircuitDigest(c *circuit.Circuit) string {
	var ids []string
	for _, p := range c.Components {
		ids = append(ids, p.ID)
	}
	for _, l := range c.Lines {
		ids = append(ids, l.ID)
	}
	sum := sha256.Sum256([]byte(c.Digest(ids...)))
	return hex.EncodeToString(sum[:8])
}
