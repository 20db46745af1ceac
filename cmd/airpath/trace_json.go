package main

import (
	"math"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/trace"
)

// The JSON form of a verdict. Its names are a promise to whoever reads it: extend, don't rename.

type jsonVerdict struct {
	Circuit       string        `json:"circuit"`
	Title         string        `json:"title"`
	Complaint     []saidJSON    `json:"complaint"`
	Suspects      []jsonSuspect `json:"suspects"`
	Cleared       []jsonCleared `json:"cleared"`
	Alike         [][]string    `json:"alike"`
	Inseparable   [][]string    `json:"inseparable"`
	Splits        []splitJSON   `json:"splits,omitempty"`
	Fits          []fitJSON     `json:"fits,omitempty"`
	Next          []jsonNext    `json:"next"`
	Limits        []jsonLimit   `json:"limits"`
	Unexplained   []jsonMention `json:"unexplained"`
	Ignored       []jsonMention `json:"ignored"`
	Disagree      []string      `json:"disagree"`
	TakesMore     string        `json:"takes_more"`
	NoFault       float64       `json:"no_fault"`
	SomethingElse float64       `json:"something_else"`
	Stop          string        `json:"stop"`
}

type jsonSuspect struct {
	Component   string       `json:"component"`
	Mode        string       `json:"mode"`
	Title       string       `json:"title"`
	Probability float64      `json:"probability"`
	Severity    jsonSeverity `json:"severity"`
	Path        []jsonStep   `json:"path"`
	Because     string       `json:"because"`
	Confirm     string       `json:"confirm"`
	Repair      string       `json:"repair"`
	Beside      bool         `json:"beside"` // did not give what was found, and may be there besides
}

type jsonSeverity struct {
	Low       *float64          `json:"low"`
	Mid       *float64          `json:"mid"`
	High      *float64          `json:"high"`
	Dimension circuit.Dimension `json:"dimension"`
	Means     string            `json:"means"`
}

type jsonStep struct {
	Part    string `json:"part"`
	Passage string `json:"passage"`
	Words   string `json:"words"`
}

type jsonCleared struct {
	Component string   `json:"component"`
	Mode      string   `json:"mode"`
	Because   string   `json:"because"`
	By        []string `json:"by"`
}

type jsonNext struct {
	Procedure string       `json:"procedure"`
	Title     string       `json:"title"`
	Minutes   float64      `json:"minutes"`
	Bits      float64      `json:"bits"`
	Because   string       `json:"because"`
	Readings  []jsonWanted `json:"readings"`
}

type jsonWanted struct {
	Reading string `json:"reading"`
	Place   string `json:"place"`
}

type jsonLimit struct {
	Finding      string   `json:"finding"`
	Reading      string   `json:"reading"`
	Value        *float64 `json:"value"`
	Text         string   `json:"text"`
	Limit        string   `json:"limit"`
	Source       string   `json:"source"`
	Jurisdiction string   `json:"jurisdiction"`
	Pass         bool     `json:"pass"`
}

type jsonMention struct {
	Finding string `json:"finding"`
	Because string `json:"because"`
}

// number is a value for JSON, which has no word for what is no number.
func number(v float64) *float64 {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return nil
	}
	return &v
}

// faultName writes a fault as component/mode, without its severity.
func faultName(f airflow.Fault) string { return f.Target + "/" + f.Mode }

func verdictJSON(t *traced) jsonVerdict {
	v := t.verdict
	out := jsonVerdict{
		Circuit: t.circuit.Name, Title: t.found.Title, Complaint: complaintJSON(v.Complaint),
		Suspects: []jsonSuspect{}, Cleared: []jsonCleared{}, Next: []jsonNext{}, Limits: []jsonLimit{},
		Unexplained: []jsonMention{}, Ignored: []jsonMention{}, Disagree: append([]string{}, v.Disagree...),
		TakesMore: v.TakesMore, NoFault: v.NoFault, SomethingElse: v.SomethingElse, Stop: v.Stop,
	}
	for _, s := range v.Suspects {
		j := jsonSuspect{
			Component: s.Fault.Target, Mode: s.Fault.Mode, Title: s.Title, Probability: s.Probability,
			Severity: jsonSeverity{number(s.Severity.Low), number(s.Severity.Mid), number(s.Severity.High), s.Severity.Dimension, s.Severity.Means},
			Path:     []jsonStep{}, Because: s.Because, Confirm: s.Confirm, Repair: s.Repair, Beside: s.Beside,
		}
		for _, step := range s.Path {
			j.Path = append(j.Path, jsonStep{step.ID, step.Passage, step.Words})
		}
		out.Suspects = append(out.Suspects, j)
	}
	for _, c := range v.Cleared {
		out.Cleared = append(out.Cleared, jsonCleared{c.Fault.Target, c.Fault.Mode, c.Because, append([]string{}, c.By...)})
	}
	out.Alike, out.Inseparable = groupsJSON(v.Alike), groupsJSON(v.Inseparable)
	out.Splits, out.Fits = splitsJSON(t.splits), fitsJSON(v.Fits)
	for _, n := range v.Next {
		out.Next = append(out.Next, jsonNext{n.Procedure.ID, n.Title, n.Minutes, n.Bits, n.Because, []jsonWanted{}})
		for _, r := range n.Readings {
			last := &out.Next[len(out.Next)-1]
			last.Readings = append(last.Readings, jsonWanted{r.ID, r.Place})
		}
	}
	for _, l := range v.Limits {
		out.Limits = append(out.Limits, jsonLimit{l.Finding, l.Reading, number(l.Value), l.Text, l.Limit.Wanted(), l.Limit.Source, l.Limit.Jurisdiction, l.Pass})
	}
	for _, u := range v.Unexplained {
		out.Unexplained = append(out.Unexplained, jsonMention{u.Finding, u.Because})
	}
	for _, i := range v.Ignored {
		out.Ignored = append(out.Ignored, jsonMention{i.Finding, i.Because})
	}
	return out
}

func groupsJSON(alike []trace.Alike) [][]string {
	out := [][]string{}
	for _, a := range alike {
		group := []string{}
		for _, f := range a.Faults {
			group = append(group, faultName(f))
		}
		out = append(out, group)
	}
	return out
}
