package circuit

// WriteCase gives the text of a case file. Reading it again gives the same case; comments are kept as [Write] keeps them.
func WriteCase(k *Case) []byte {
	m := newMatcher(k.source)
	sections := []*wanted{{was: m.head(), entries: []wantedEntry{
		key("airpath_case", numberOf(CaseVersion)), key("circuit", textOf(k.Circuit)), maybe("digest", textOf(k.Digest), k.Digest != ""), key("title", textOf(k.Title)),
		maybe("complaint", textOf(k.Complaint), k.Complaint != ""), maybe("jurisdiction", textOf(k.Jurisdiction), k.Jurisdiction != ""),
	}}}
	for i, f := range k.Findings {
		sections = append(sections, &wanted{name: "finding", array: true, was: m.byID("finding", f.ID), entries: f.entries(i + 1)})
	}
	for i, f := range k.Findings {
		m.renamed(sections[i+1], f.Source)
	}
	return render(k.source, sections, []string{"", "finding"})
}

func (f Finding) entries(number int) []wantedEntry {
	state := value{kind: tableValue}
	for _, w := range stateWords {
		if word := *w.of(&f.State); word != "" {
			state.fields = append(state.fields, &entry{key: w.key, value: textOf(word)})
		}
	}
	return []wantedEntry{
		maybe("id", textOf(f.ID), f.ID != defaultFindingID(number)), key("procedure", textOf(f.Procedure)), key("reading", textOf(f.Reading)),
		maybe("place", textOf(f.Place), f.Place != ""), maybe("state", state, len(state.fields) > 0), key("result", textOf(f.Result.Text)),
		maybe("instrument", textOf(f.Instrument), f.Instrument != ""), maybe("note", textOf(f.Note), f.Note != ""),
	}
}
