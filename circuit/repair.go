package circuit

import (
	"fmt"
	"slices"
	"strconv"
	"time"
)

// A Repair is what was done to a part of the vehicle. The repairs of a case stand in the order of time; what was found
// after one says so ([Finding.After]), and is about the mended vehicle.
type Repair struct {
	ID         string   // unique among the case's repairs: "r1"
	Part       string   // id of the component or line that was mended or renewed
	Mode       string   // the fault that was mended, in the catalogue's words: "purge valve stuck open"; "" where none was proven
	Done       string   // what was done, in the person's words
	Date       string   // "2026-01-14"; ""
	Technician string   // "" means the case's own
	Recheck    []string // procedures that must be done again before the vehicle leaves; empty means those whose findings were abnormal
	Note       string
	Source     Position
}

// Stage counts the repairs that had been done when a finding was taken: 0 on the vehicle as it came in. A finding after an
// unknown repair, which the reader refuses, counts as taken before any.
func (k *Case) Stage(f Finding) int {
	return slices.IndexFunc(k.Repairs, func(r Repair) bool { return f.After != "" && r.ID == f.After }) + 1
}

// AtStage are the findings taken when that many repairs had been done, in the order of the case.
func (k *Case) AtStage(repairs int) []Finding {
	var out []Finding
	for _, f := range k.Findings {
		if k.Stage(f) == repairs {
			out = append(out, f)
		}
	}
	return out
}

// Until is the case as it stood when that many repairs had been done, and all findings up to the next were in: what the
// tracer was to judge from then.
func (k *Case) Until(repairs int) *Case {
	short := *k
	short.Repairs = k.Repairs[:min(repairs, len(k.Repairs))]
	short.Findings = nil
	for _, f := range k.Findings {
		if k.Stage(f) <= repairs {
			short.Findings = append(short.Findings, f)
		}
	}
	return &short
}

// defaultRepairID is the id of a repair that gives none.
func defaultRepairID(number int) string { return "r" + strconv.Itoa(number) }

func readRepair(problems *Problems, s *section, number int) Repair {
	f := newFields(problems, label("repair", s, number), s.at, s.entries)
	r := Repair{ID: defaultRepairID(number), Source: s.at}
	if id, e := f.text("id", false, "r1"); e != nil {
		r.ID = id
		if !validID(id) {
			problems.add(e.value.at, f.where, fmt.Sprintf("%q cannot be an id", id), idRule(id))
		}
	}
	part, e := f.text("part", true, "dryer")
	if e != nil && !validID(part) {
		problems.add(e.value.at, f.where, fmt.Sprintf("%q is not a part", part), `write the id of a component or line, such as "dryer"`)
	}
	r.Part = part
	r.Mode, _ = f.text("mode", false, "purge valve stuck open")
	r.Done, _ = f.text("done", true, "purge valve renewed")
	r.Date = readDate(f)
	r.Technician, _ = f.text("technician", false, "A. Berg")
	r.Recheck = f.texts("recheck", `["build-up-85-100"]`)
	r.Note, _ = f.text("note", false, "old part kept")
	f.finish()
	return r
}

// readDate reads a day. It stays text: a case is done on a day of the workshop's own calendar, in no time zone.
func readDate(f *fields) string {
	day, e := f.text("date", false, "2026-01-14")
	if e == nil || day == "" {
		return ""
	}
	if _, err := time.Parse(time.DateOnly, day); err != nil {
		f.problems.add(e.value.at, f.where, fmt.Sprintf("%q is no day", day), `write year, month and day, such as date = "2026-01-14"`)
		return ""
	}
	return day
}

// checkRepairs looks for what only the whole file can tell: ids used twice, findings after a repair that is not there.
func (k *Case) checkRepairs(problems *Problems) {
	first := map[string]Repair{}
	var ids []string
	for _, r := range k.Repairs {
		if before, taken := first[r.ID]; taken && r.ID != "" {
			problems.add(r.Source, "", fmt.Sprintf("the repair id %q is taken", r.ID), fmt.Sprintf("it is first used at line %d", before.Source.Line))
			continue
		}
		first[r.ID] = r
		ids = append(ids, r.ID)
	}
	for _, f := range k.Findings {
		if _, ok := first[f.After]; f.After == "" || ok {
			continue
		}
		right := "write the repair as [[repair]], or leave \"after\" out for a finding on the vehicle as it came in"
		if len(ids) > 0 {
			right = Suggest(f.After, ids)
		}
		problems.add(f.at(k, "after"), fmt.Sprintf("finding %q", f.ID), fmt.Sprintf("there is no repair %q", f.After), right)
	}
}

func (r Repair) entries(number int) []wantedEntry {
	recheck := listOf()
	for _, p := range r.Recheck {
		recheck.items = append(recheck.items, textOf(p))
	}
	return []wantedEntry{
		maybe("id", textOf(r.ID), r.ID != defaultRepairID(number)), key("part", textOf(r.Part)), maybe("mode", textOf(r.Mode), r.Mode != ""),
		key("done", textOf(r.Done)), maybe("date", textOf(r.Date), r.Date != ""), maybe("technician", textOf(r.Technician), r.Technician != ""),
		maybe("recheck", recheck, len(r.Recheck) > 0), maybe("note", textOf(r.Note), r.Note != ""),
	}
}

// checkRepairsFit says which repairs are about parts that a circuit lacks.
func checkRepairsFit(problems *Problems, k *Case, c *Circuit) {
	for _, r := range k.Repairs {
		if c.Component(r.Part) == nil && c.Line(r.Part) == nil {
			problems.add(sourceOf(k, r.Source, "part"), fmt.Sprintf("repair %q", r.ID),
				fmt.Sprintf("the circuit %q has no component or line %q", c.Name, r.Part), Suggest(r.Part, c.ids()))
		}
	}
}
