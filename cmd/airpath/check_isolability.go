package main

import (
	"fmt"
	"slices"
	"strings"

	"airpath/circuit/airflow"
	"airpath/trace"
)

// mostAlike is the size of a group that a workshop can still work through by hand.
const mostAlike = 3

// The JSON form of what a vehicle's procedures can show and tell apart.
type isolabilityJSON struct {
	File         string             `json:"file"`
	Circuit      string             `json:"circuit"`
	Faults       int                `json:"faults"`
	Detectable   int                `json:"detectable"`
	Sizes        []sizeJSON         `json:"sizes"`
	Groups       []groupJSON        `json:"groups"`
	Undetectable []undetectableJSON `json:"undetectable"`
	Structure    structureJSON      `json:"structure"`
	Pass         bool               `json:"pass"`
}

type sizeJSON struct {
	Size   int `json:"size"`
	Faults int `json:"faults"` // in groups of this size
}

type groupJSON struct {
	Faults []string   `json:"faults"`
	Tap    *tapJSON   `json:"tap"`
	ByHand byHandJSON `json:"by_hand"`
}

type tapJSON struct {
	At      string     `json:"at"`
	Room    string     `json:"room,omitempty"`
	Minutes float64    `json:"minutes"`
	Reads   string     `json:"reads"`
	Parts   [][]string `json:"parts,omitempty"`
}

type byHandJSON struct {
	Part string `json:"part"`
	How  string `json:"how"`
}

type undetectableJSON struct {
	Component  string   `json:"component"`
	Mode       string   `json:"mode"`
	WithoutAir bool     `json:"without_air"`
	Tap        *tapJSON `json:"tap"`
	ByHand     string   `json:"by_hand"`
}

type structureJSON struct {
	Faults     int `json:"faults"`
	Detectable int `json:"detectable"`
	Groups     int `json:"groups"`
	Largest    int `json:"largest"`
}

// checkIsolability of each circuit: what its procedures can show, and what they can't tell apart.
func (p *program) checkIsolability(names []string, asJSON bool) error {
	var all []isolabilityJSON
	short := false
	for i, name := range names {
		n, err := p.loadNetwork(name)
		if err != nil {
			return err
		}
		tracer, err := trace.New(n, trace.Options{Cache: trace.CacheDir()})
		if err != nil {
			return err
		}
		bar := p.newProgress("simulating the faults of " + n.Circuit().Name)
		r, err := tracer.Isolability(p.ctx, bar.show)
		bar.clear()
		if err != nil {
			return err
		}
		report := isolabilityOf(name, n.Circuit().Name, r)
		short = short || !report.Pass
		all = append(all, report)
		if asJSON {
			continue
		}
		if i > 0 {
			fmt.Fprintln(p.out)
		}
		p.printIsolability(n.Circuit().Title, r)
	}
	if asJSON {
		if err := p.printJSON(struct {
			Files []isolabilityJSON `json:"files"`
		}{all}); err != nil {
			return err
		}
	}
	if short {
		return fallsShort()
	}
	return nil
}

func isolabilityOf(file, name string, r *trace.Isolability) isolabilityJSON {
	out := isolabilityJSON{
		File: file, Circuit: name, Faults: r.Faults, Detectable: r.Detectable, Sizes: []sizeJSON{}, Groups: []groupJSON{}, Undetectable: []undetectableJSON{},
		Structure: structureJSON{r.Structure.Faults, r.Structure.Detectable, r.Structure.Groups, r.Structure.Largest},
		Pass:      len(r.Undetectable) == 0,
	}
	for _, size := range sizesOf(r) {
		out.Sizes = append(out.Sizes, sizeJSON{size, r.Sizes[size]})
		out.Pass = out.Pass && size <= mostAlike
	}
	for _, g := range r.Groups {
		out.Groups = append(out.Groups, groupJSON{faultNames(g.Faults), tapOf(g.Tap, g.Faults), byHandJSON{g.LookAt, g.Look}})
	}
	for _, u := range r.Undetectable {
		out.Undetectable = append(out.Undetectable, undetectableJSON{u.Fault.Target, u.Fault.Mode, u.WithoutAir, tapOf(u.Tap, nil), u.Look})
	}
	return out
}

// tapOf writes a tap, with the parts by name where it splits a group.
func tapOf(t *trace.Tap, group []airflow.Fault) *tapJSON {
	if t == nil {
		return nil
	}
	out := &tapJSON{At: t.At, Room: t.Room, Minutes: t.Minutes, Reads: t.Reads}
	for _, part := range t.Parts {
		var faults []airflow.Fault
		for _, i := range part {
			if i < len(group) {
				faults = append(faults, group[i])
			}
		}
		if group != nil {
			out.Parts = append(out.Parts, faultNames(faults))
		}
	}
	return out
}

func faultNames(faults []airflow.Fault) []string {
	out := []string{}
	for _, f := range faults {
		out = append(out, faultName(f))
	}
	return out
}

func sizesOf(r *trace.Isolability) []int {
	var sizes []int
	for size := range r.Sizes {
		sizes = append(sizes, size)
	}
	slices.Sort(sizes)
	return sizes
}

func (p *program) printIsolability(title string, r *trace.Isolability) {
	fmt.Fprintf(p.out, "%s\n\n", title)
	fmt.Fprintf(p.out, "%d faults in the catalogue; %d of them show in some reading of some procedure at their typical severity, on a vehicle\nthat is as its file says.\n", r.Faults, r.Detectable)
	fmt.Fprintln(p.out, "A group is a set of faults each of which passes for every other, at one severity or another, in all readings.")
	var t table
	for _, size := range sizesOf(r) {
		n := r.Sizes[size]
		if size == 1 {
			t.row("  told apart from all others", fmt.Sprint(n))
			continue
		}
		t.row(fmt.Sprintf("  in groups of %d", size), fmt.Sprint(n))
	}
	t.row("  not shown by anything", fmt.Sprint(len(r.Undetectable)))
	t.print(p.out)
	s := r.Structure
	fmt.Fprintf(p.out, "%s\n", wrap(fmt.Sprintf("By structure alone, however exactly it were read: of %d faults that act on air or a gauge, %d show; they fall into %d groups, the largest of %d.",
		s.Faults, s.Detectable, s.Groups, s.Largest), "", textWidth))
	if len(r.Groups) > 0 {
		p.heading("what no procedure tells apart, and the cheapest thing that would")
	}
	for _, g := range r.Groups {
		fmt.Fprintf(p.out, "  %d  %s\n", len(g.Faults), wrap(strings.Join(faultNames(g.Faults), "; "), "     ", textWidth))
		if g.Tap != nil {
			text := fmt.Sprintf("%s, %.0f min (%s)", g.Tap.At, g.Tap.Minutes, g.Tap.Reads)
			fmt.Fprintf(p.out, "     add      %s\n", wrap(text, "              ", textWidth))
			fmt.Fprintf(p.out, "     splits   %s\n", wrap(partsInWords(g), "              ", textWidth))
		} else {
			fmt.Fprintf(p.out, "     by hand  %s\n", wrap(g.LookAt+": "+g.Look, "              ", textWidth))
		}
	}
	if len(r.Undetectable) == 0 {
		return
	}
	p.heading("what nothing shows")
	for _, u := range r.Undetectable {
		how := "by hand: " + u.Look
		if u.Tap != nil {
			how = fmt.Sprintf("add %s, %.0f min (%s)", u.Tap.At, u.Tap.Minutes, u.Tap.Reads)
		} else if u.WithoutAir {
			how = "moves no air and no needle; " + how
		}
		fmt.Fprintf(p.out, "  %s\n      %s\n", faultName(u.Fault), wrap(how, "      ", textWidth))
	}
}

// partsInWords names what a tap parts a group into.
func partsInWords(g trace.Inseparable) string {
	var sides []string
	for _, part := range g.Tap.Parts {
		var faults []airflow.Fault
		for _, i := range part {
			faults = append(faults, g.Faults[i])
		}
		sides = append(sides, strings.Join(faultNames(faults), ", "))
	}
	return strings.Join(sides, "  |  ")
}
