package chart

import (
	"fmt"

	"airpath/circuit/airflow/procedure"
)

// The pages around the tree are prose in columns: what the chart is and what to mind, repairs, limits, how each test is done.

// proseColumns of a page and what lies between them.
const (
	proseColumns = 3
	proseGap     = 8.0
	proseWidth   = (pageWidth - 2*margin - (proseColumns-1)*proseGap) / proseColumns
)

// A prose page holds lines by column.
type prose struct {
	title   string
	columns [][]line
}

func heading(text string) line { return line{text: text, bold: true, color: ink, size: 3.2} }

// set text into lines with a hanging mark.
func set(text, hang string, indent float64, bold bool) []line {
	return fill(text, line{bold: bold, color: ink, size: typeSize, indent: indent, hang: hang}, proseWidth)
}

// cover says what the chart is about, what holds before any work, and what the marks mean.
func (c *Chart) cover() [][]line {
	about := []line{heading("What this is")}
	for _, p := range c.preface() {
		about = append(about, set(p, "", 0, false)...)
		about = append(about, line{})
	}
	var legend []line
	legend = append(legend, heading("How to read it"))
	for _, l := range [][2]string{
		{"12", "A bold number is a box. Begin at 1, do the test in the box, and take the box on its right whose grey head says what you got."},
		{"R3", "A repair: what to prove and mend, in the order given, told in full under Repairs."},
		{"L2", "A published limit of what is read there, told with its source under Limits."},
		{"%", "In a grey head: how often a vehicle with this complaint comes there. After a repair: how likely it is once there."},
	} {
		legend = append(legend, set(l[1], l[0], 8, false)...)
	}
	legend = append(legend, line{})
	legend = append(legend, set("Dark frame: a test. Green frame: confirm and repair. Brown frame: it goes on elsewhere, on another page or with a trace. Thin frame: an answer that is rare.", "", 0, false)...)
	cautions := []line{heading("Before any work")}
	for _, s := range procedure.Safety() {
		cautions = append(cautions, set(s, "•", 4, false)...)
	}
	cautions = append(cautions, line{})
	cautions = append(cautions, set(bounds, "", 0, true)...)
	limits := []line{heading("Limits")}
	for i, l := range c.Limits {
		limits = append(limits, set(fmt.Sprintf("%s: %s. %s (%s)", l.Reading, l.Wanted, l.Source, l.Jurisdiction), fmt.Sprintf("L%d", i+1), 8, false)...)
	}
	if len(c.Limits) == 0 {
		limits = append(limits, set("Nothing that this chart reads is bounded by a published limit.", "", 0, false)...)
	}
	return [][]line{append(about, legend...), cautions, limits}
}

// repairLines tell every repair.
func (c *Chart) repairLines() [][]line {
	var out [][]line
	for i, r := range c.Repairs {
		lines := set(fmt.Sprintf("%s (about %.0f min)", r.Title, r.Minutes), fmt.Sprintf("R%d", i+1), 9, true)
		lines = append(lines, set("Confirm: "+r.Confirm, "", 9, false)...)
		lines = append(lines, set("Repair: "+r.Repair, "", 9, false)...)
		for _, s := range r.Cautions {
			lines = append(lines, set(s, "!", 9, false)...)
		}
		out = append(out, append(lines, line{}))
	}
	return out
}

// placeLines list where to go for each box that asks it.
func (c *Chart) placeLines() [][]line {
	var out [][]line
	for _, n := range c.Nodes {
		if n.Ask == nil || len(n.Ask.Readings) < 2 {
			continue
		}
		lines := set(n.Ask.Procedure.Title, fmt.Sprint(n.Number), 9, true)
		for _, r := range n.Ask.Readings {
			_, place := foundAt(r.Title)
			lines = append(lines, set(place, "•", 9, false)...)
		}
		out = append(out, append(lines, line{}))
	}
	return out
}

// testLines tell how every test is done.
func (c *Chart) testLines() [][]line {
	var out [][]line
	for _, p := range c.Tests {
		head := []line{heading(p.Title)}
		head = append(head, fill(p.ID, line{color: faint, size: smallSize}, proseWidth)...)
		if p.Start != nil {
			head = append(head, set("Begin from this state: "+p.Start.Title+".", "", 0, false)...)
			out = append(out, head)
			for i, s := range p.Start.All() {
				out = append(out, set(s.Words(c.Unit), fmt.Sprintf("%c", 'a'+i%26), 6, false))
			}
			head = set("Then", "", 0, true)
		}
		out = append(out, head)
		for i, s := range p.Steps {
			text := s.Words(c.Unit)
			if s.Note != "" && !endsWith(text, s.Note) {
				text += " " + s.Note
			}
			out = append(out, set(text, fmt.Sprint(i+1), 6, false))
		}
		out = append(out, []line{{}})
	}
	return out
}

func endsWith(text, end string) bool {
	return len(text) >= len(end) && text[len(text)-len(end):] == end
}

// flow sets paragraphs into columns of pages; a paragraph stays together where a column has room for it.
func flow(title string, paragraphs [][]line) []*prose {
	const most = 49 // lines: what lies between the edges, by the height of a line
	var out []*prose
	room := func() *[]line {
		if len(out) == 0 || len(out[len(out)-1].columns) == proseColumns && len(out[len(out)-1].columns[proseColumns-1]) >= most {
			out = append(out, &prose{title: title, columns: [][]line{nil}})
		}
		p := out[len(out)-1]
		if len(p.columns[len(p.columns)-1]) >= most {
			p.columns = append(p.columns, nil)
		}
		return &p.columns[len(p.columns)-1]
	}
	for _, lines := range paragraphs {
		column := room()
		if len(*column)+len(lines) > most && len(lines) <= most/2 {
			for len(*column) < most {
				*column = append(*column, line{})
			}
		}
		for _, l := range lines {
			column = room()
			*column = append(*column, l)
		}
	}
	return out
}
