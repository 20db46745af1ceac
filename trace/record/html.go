package record

import (
	"bytes"
	_ "embed"
	"fmt"
	"html"
	"strings"

	"airpath/circuit/symbol"
	"airpath/circuit/symbol/typeface"
)

//go:embed record.css
var stylesheet string

// HTML writes the document as one file for a browser: typeface, style and drawings are in it. It prints on the paper that
// the printer has.
func (d *Document) HTML() []byte {
	body := d.body()
	w := &markup{}
	w.line(`<!DOCTYPE html>`)
	w.line(`<html lang="en">`)
	w.line(`<head>`)
	w.line(`<meta charset="utf-8">`)
	w.line(`<meta name="viewport" content="width=device-width, initial-scale=1">`)
	w.line(`<title>%s</title>`, d.Title+": "+d.Subject)
	w.out.WriteString("<style>\n")
	w.out.WriteString(typeface.CSS(string(body)))
	w.out.WriteString(stylesheet)
	w.out.WriteString("@media print { @page { @bottom-left { content: " + cssText(d.Title+" · "+d.Running) + "; } } }\n")
	w.out.WriteString("</style>\n</head>\n<body>\n<main>\n")
	w.out.Write(body)
	w.out.WriteString("</main>\n</body>\n</html>\n")
	return w.out.Bytes()
}

// body is all that is seen.
func (d *Document) body() []byte {
	w := &markup{}
	w.line(`<header>`)
	w.line(`<h1>%s</h1>`, d.Title)
	w.line(`<p class="subject">%s</p>`, d.Subject)
	w.facts(Facts(d.Facts), "head")
	w.line(`</header>`)
	for _, p := range d.Parts {
		w.line(`<section>`)
		w.line(`<h2>%s</h2>`, p.Title)
		for _, b := range p.Blocks {
			w.block(b)
		}
		w.line(`</section>`)
	}
	return w.out.Bytes()
}

// markup writes blocks as elements.
type markup struct{ out bytes.Buffer }

// line writes one line of markup; its arguments are texts and are escaped.
func (w *markup) line(format string, texts ...string) {
	args := make([]any, len(texts))
	for i, t := range texts {
		args[i] = html.EscapeString(t)
	}
	fmt.Fprintf(&w.out, format+"\n", args...)
}

func (w *markup) block(b Block) {
	switch b := b.(type) {
	case Text:
		w.text("p", b)
	case Facts:
		w.facts(b, "")
	case List:
		tag := "ul"
		if b.Numbered {
			tag = "ol"
		}
		w.line("<" + tag + ">")
		for _, it := range b.Items {
			w.text("li", it)
		}
		w.line("</" + tag + ">")
	case Table:
		w.table(b)
	case Frame:
		w.line(`<div class="frame">`)
		for _, in := range b {
			w.block(in)
		}
		w.line(`</div>`)
	case Drawing:
		w.drawing(b)
	case Signatures:
		for _, role := range b.Roles {
			w.line(`<div class="sign"><span>%s: name</span><span>date</span><span>signature</span></div>`, role)
		}
	default:
		panic(fmt.Sprintf("record: no markup for a %T", b)) // the interface is closed
	}
}

func (w *markup) text(tag string, t Text) {
	class := ""
	if t.Faint {
		class = ` class="faint"`
	}
	w.out.WriteString("<" + tag + class + ">")
	if t.Blank {
		w.out.WriteString(`<span class="blank"></span>`)
	}
	if t.Lead != "" {
		mark := "<strong>"
		if t.Flag {
			mark = `<strong class="flag">`
		}
		w.out.WriteString(mark + html.EscapeString(t.Lead) + "</strong>")
		if t.Words != "" {
			w.out.WriteString(" ")
		}
	}
	w.out.WriteString(strings.ReplaceAll(html.EscapeString(strings.TrimSpace(t.Words)), "\n", "<br>"))
	w.out.WriteString("</" + tag + ">\n")
}

func (w *markup) facts(f Facts, class string) {
	if class != "" {
		class = ` class="` + class + `"`
	}
	w.line("<dl" + class + ">")
	for _, fact := range f {
		w.out.WriteString("<div><dt>" + html.EscapeString(fact.Name) + "</dt>")
		if fact.Text == "" {
			w.out.WriteString(`<dd><span class="blank"></span></dd>`)
		} else {
			w.out.WriteString("<dd>" + strings.ReplaceAll(html.EscapeString(fact.Text), "\n", "<br>") + "</dd>")
		}
		w.out.WriteString("</div>\n")
	}
	w.line("</dl>")
}

func (w *markup) table(t Table) {
	all := 0.0
	for _, c := range t.Columns {
		all += c.Share
	}
	w.line(`<table>`)
	w.out.WriteString("<colgroup>")
	for _, c := range t.Columns {
		fmt.Fprintf(&w.out, `<col style="width:%.1f%%">`, 100*c.Share/all)
	}
	w.out.WriteString("</colgroup>\n<thead><tr>")
	for _, c := range t.Columns {
		w.out.WriteString("<th>" + html.EscapeString(c.Title) + "</th>")
	}
	w.out.WriteString("</tr></thead>\n<tbody>\n")
	for _, row := range t.Rows {
		if len(row) > 0 && len(row[0]) == 0 {
			w.line(`<tr class="joined">`)
		} else {
			w.line(`<tr>`)
		}
		for _, c := range row {
			w.line(`<td>`)
			for _, p := range c {
				w.text("p", p)
			}
			w.line(`</td>`)
		}
		w.line(`</tr>`)
	}
	w.line("</tbody>")
	w.line("</table>")
}

// drawing puts the sheet in as SVG, whose names are text.
func (w *markup) drawing(d Drawing) {
	sheet := symbol.NewSheet(d.Circuit)
	s := symbol.NewSVG(sheet.Bounds(), symbol.Print.Paper, d.Circuit.Title)
	sheet.Draw(s, symbol.Look{Palette: symbol.Print, Scale: 6, Detail: symbol.Names, Unit: d.Unit}, d.Marks)
	w.line(`<figure>`)
	w.out.Write(s.Bytes())
	w.line(`<figcaption>%s</figcaption>`, d.Caption)
	w.line(`</figure>`)
}

// cssText is a text within a style sheet, that no text can end.
func cssText(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range s {
		if r == '"' || r == '\\' || r == '<' || r < 0x20 {
			fmt.Fprintf(&b, `\%x `, r)
		} else {
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}
