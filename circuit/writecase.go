package circuit

// WriteCase gives the text of a case file. Reading it again gives the same case; comments are kept as [Write] keeps them.
func WriteCase(k *Case) []byte {
	m := newMatcher(k.source)
	head := &wanted{was: m.head(), entries: []wantedEntry{
		key("airpath_case", numberOf(CaseVersion)), key("circuit", textOf(k.Circuit)), maybe("digest", textOf(k.Digest), k.Digest != ""), key("title", textOf(k.Title)),
		maybe("vehicle", textOf(k.Vehicle), k.Vehicle != ""), maybe("mileage", textOf(k.Mileage), k.Mileage != ""),
		maybe("technician", textOf(k.Technician), k.Technician != ""), maybe("date", textOf(k.Date), k.Date != ""),
		maybe("ambient", textOf(k.Ambient), k.Ambient != ""),
		maybe("complaint", textOf(k.Complaint), k.Complaint != ""), maybe("reported", textOf(k.Reported), k.Reported != ""), maybe("jurisdiction", textOf(k.Jurisdiction), k.Jurisdiction != ""),
	}}
	findings := make([]*wanted, len(k.Findings))
	for i, f := range k.Findings {
		findings[i] = &wanted{name: "finding", array: true, was: m.byID("finding", f.ID), entries: f.entries(i + 1)}
	}
	repairs := make([]*wanted, len(k.Repairs))
	for i, r := range k.Repairs {
		repairs[i] = &wanted{name: "repair", array: true, was: m.byID("repair", r.ID), entries: r.entries(i + 1)}
	}
	for i, f := range k.Findings {
		m.renamed(findings[i], f.Source)
	}
	for i, r := range k.Repairs {
		m.renamed(repairs[i], r.Source)
	}
	sections := k.inTime(head, findings, repairs)
	logs := make([]*wanted, len(k.Logs))
	for i, l := range k.Logs {
		logs[i] = &wanted{name: "log", array: true, was: m.byID("log", l.ID), entries: l.entries(i + 1)}
	}
	for i, l := range k.Logs {
		m.renamed(logs[i], l.Source)
	}
	return render(k.source, append(sections, logs...), []string{"", "finding", "repair", "log"})
}

// inTime puts a repair before the first finding taken after it, and after all before that, so that a new file tells what
// happened in its order.
func (k *Case) inTime(head *wanted, findings, repairs []*wanted) []*wanted {
	out := []*wanted{head}
	done := 0
	add := func(w *wanted) {
		w.follows = out[len(out)-1]
		out = append(out, w)
	}
	for i, f := range k.Findings {
		for ; done < k.Stage(f); done++ {
			add(repairs[done])
		}
		add(findings[i])
	}
	for ; done < len(repairs); done++ {
		add(repairs[done])
	}
	return out
}

func (f Finding) entries(number int) []wantedEntry {
	state := value{kind: tableValue}
	for _, w := range stateWords {
		if word := *w.of(&f.State); word != "" {
			state.fields = append(state.fields, &entry{key: w.key, value: textOf(word)})
		}
	}
	return []wantedEntry{
		maybe("id", textOf(f.ID), f.ID != defaultFindingID(number)), maybe("after", textOf(f.After), f.After != ""), key("procedure", textOf(f.Procedure)), key("reading", textOf(f.Reading)),
		maybe("place", textOf(f.Place), f.Place != ""), maybe("state", state, len(state.fields) > 0), key("result", textOf(f.Result.Text)),
		maybe("instrument", textOf(f.Instrument), f.Instrument != ""), maybe("note", textOf(f.Note), f.Note != ""),
	}
}
