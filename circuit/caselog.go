package circuit

import (
	"fmt"
	"strconv"
)

// A Log is a gauge log of one procedure: a file of time and pressures that lies beside the case.
type Log struct {
	ID        string   // unique in the case: "log1"
	File      string   // path of the CSV file, from where the case is
	Procedure string   // what was done while it was recorded: "leak-down-released"
	Start     Quantity // of the log's own time: when the first step of the procedure was begun; the first row where it has no text
	Columns   []string // the gauges of the pressure columns, in order, where the names in the file do not say; "-" for none
	Note      string
	Source    Position

	// Data is the file's text, once whoever opened the case has read it; it is not part of the case.
	Data []byte
}

func defaultLogID(number int) string { return "log" + strconv.Itoa(number) }

func readLog(problems *Problems, s *section, number int) Log {
	f := newFields(problems, label("log", s, number), s.at, s.entries)
	l := Log{ID: defaultLogID(number), Source: s.at}
	if id, e := f.text("id", false, "log1"); e != nil {
		l.ID = id
		if !validID(id) {
			problems.add(e.value.at, f.where, fmt.Sprintf("%q cannot be an id", id), idRule(id))
		}
	}
	l.File, _ = f.text("file", true, "leak.csv")
	l.Procedure, _ = f.text("procedure", true, "leak-down-released")
	l.Start, _ = f.quantity("start", Time, false, "0 s", "24 h")
	l.Columns = f.texts("columns", `["gauge_primary", "gauge_secondary"]`)
	l.Note, _ = f.text("note", false, "logged at 1 Hz")
	f.finish()
	return l
}

func (l Log) entries(number int) []wantedEntry {
	columns := listOf()
	for _, c := range l.Columns {
		columns.items = append(columns.items, textOf(c))
	}
	return []wantedEntry{
		maybe("id", textOf(l.ID), l.ID != defaultLogID(number)), key("file", textOf(l.File)), key("procedure", textOf(l.Procedure)),
		maybe("start", quantityOf(l.Start), l.Start.Text != ""), maybe("columns", columns, len(l.Columns) > 0),
		maybe("note", textOf(l.Note), l.Note != ""),
	}
}

// checkLogs holds the logs' ids against one another.
func (k *Case) checkLogs(problems *Problems) {
	first := map[string]Log{}
	for _, l := range k.Logs {
		if before, taken := first[l.ID]; taken {
			problems.add(l.Source, "", fmt.Sprintf("the log id %q is taken", l.ID), fmt.Sprintf("it is first used at line %d", before.Source.Line))
			continue
		}
		first[l.ID] = l
	}
}
