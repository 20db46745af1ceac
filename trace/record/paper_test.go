package record

import (
	"bytes"
	"flag"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"airpath/circuit/symbol"
	"airpath/circuits"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"
	"pgregory.net/rapid"
)

var update = flag.Bool("update", false, "write the golden pages anew; look at what changed before committing them")

// specimen is a document with one of everything, of texts that nothing else in the house can change.
func specimen(t testing.TB, rows int) *Document {
	c, err := circuits.Load("bench_board")
	require.NoError(t, err)
	long := Table{Columns: []Column{{"No.", 7}, {"Test and reading", 47}, {"Result", 16}, {"Limit and its source", 30}}}
	for i := range rows {
		n := fmt.Sprintf("f%d", i+1)
		long.Rows = append(long.Rows, Row{cell(n), {{Lead: "Time to fill"}, {Words: "From 85 to 100 psi on the slower needle"}, {Words: "Read by: stopwatch", Faint: true}}, strong("70 s"), {
			{Lead: "outside", Words: "at most 45.0 s; an invented rule, section 4", Flag: true}, {Lead: "within", Words: "at most 90.0 s; another, section 5"},
		}})
	}
	return &Document{
		Title: "Work record", Subject: "Board 3, slow to fill", Running: "Board 3 · 2026-01-14", Day: time.Date(2026, 1, 14, 0, 0, 0, 0, time.UTC),
		Facts: []Fact{{"Vehicle", "board no. 3"}, {"Technician", ""}, {"Mileage", "none"}, {"Date", "2026-01-14"}},
		Parts: []Part{
			{Title: "In short", Blocks: []Block{Frame{Facts{{"Fault", "The drain is open; probability 93 %."}, {"Repair", ""}}}}},
			{Title: "What was found", Blocks: []Block{
				Text{Lead: "Complaint", Words: "“It takes for ever”, said the apprentice who had been told to fill it, and went to fetch his sandwiches while it filled and filled."}, long,
			}},
			{Title: "The sheet", Blocks: []Block{Drawing{Circuit: c, Marks: symbol.Marks{Suspect: map[string]float64{c.Components[0].ID: 0.93}}, Caption: "Heavy outline: may be at fault."}}},
			{Title: "Cautions", Blocks: []Block{List{Items: []Text{{Words: "Chock the wheels."}, {Lead: "Board", Words: "it is screwed to the wall."}}}, List{Numbered: true, Items: []Text{{Words: "First."}, {Words: "Then."}}}}},
			{Title: "Signatures", Blocks: []Block{Signatures{Roles: []string{"Work done by", "Checked by"}}}},
			{Title: "Notes", Blocks: []Block{Text{Blank: true}, Text{Words: "Small print.", Faint: true}}},
		},
	}
}

// recorded are the texts and shapes that lie on pages, in mm; what a drawing draws is left out.
func recorded(pages []*page) [][]symbol.Recorded {
	out := make([][]symbol.Recorded, len(pages))
	for i, p := range pages {
		var r symbol.Recorder
		for _, it := range p.items {
			it(func(at, from symbol.Point, step float64) symbol.Surface {
				if step == 1 && at == from {
					return &r
				}
				return &symbol.Recorder{}
			})
		}
		out[i] = r.Marks
	}
	return out
}

func TestNothingLeavesThePage(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		words := rapid.StringOfN(rapid.RuneFrom([]rune("abc deW. %12→“\n")), 0, 400, -1)
		text := func(name string) Text {
			return Text{Lead: words.Draw(t, name+" lead"), Words: words.Draw(t, name), Faint: rapid.Bool().Draw(t, "faint"), Flag: rapid.Bool().Draw(t, "flag"), Blank: rapid.Bool().Draw(t, "blank")}
		}
		d := &Document{Title: "Work record", Subject: words.Draw(t, "subject"), Running: words.Draw(t, "running"), Facts: []Fact{{"Vehicle", words.Draw(t, "vehicle")}}}
		for range rapid.IntRange(0, 4).Draw(t, "parts") {
			table := Table{Columns: []Column{{"No.", 10}, {"Reading", 60}, {"Probability", 5}}}
			for range rapid.IntRange(0, 30).Draw(t, "rows") {
				table.Rows = append(table.Rows, Row{cell(words.Draw(t, "cell")), Cell{text("paragraph"), text("paragraph")}, cell("9 %")})
			}
			d.Parts = append(d.Parts, Part{Title: "Part", Blocks: []Block{text("text"), table, List{Numbered: true, Items: []Text{text("item")}}, Facts{{words.Draw(t, "name"), words.Draw(t, "fact")}}}})
		}
		paper := rapid.SampledFrom(Papers()).Draw(t, "paper")
		pages := d.lay(paper)
		for i, marks := range recorded(pages) {
			require.NotEmpty(t, marks, "page %d has nothing on it", i+1)
			for _, m := range marks {
				b := m.Bounds()
				if m.Text != "" && m.Font.Size > 3 && m.Font.Size != bodyType {
					continue // a title of the program's own
				}
				require.True(t, b.Min.X >= marginLeft-listIndent && b.Max.X <= paper.Width-marginRight+0.5 && b.Min.Y >= marginTop-1 && b.Max.Y <= paper.Height-marginBottom+1,
					"page %d: %q at %v", i+1, m.Text, b)
			}
		}
	})
}

// Every word of the document stands on some page, once for each time that it is written.
func TestEveryWordIsOnAPage(t *testing.T) {
	d := specimen(t, 40)
	var words []string
	for _, page := range recorded(d.lay(A4)) {
		for _, m := range page {
			words = append(words, m.Text)
		}
	}
	all := strings.Join(strings.Fields(strings.Join(words, " ")), " ")
	for i := range 40 {
		assert.Contains(t, all, fmt.Sprintf(" f%d Time to fill", i+1))
	}
	assert.Equal(t, 40, strings.Count(all, "outside"))
	assert.Contains(t, all, "It takes for ever”, said the apprentice who had been told to fill it")
	for _, p := range d.Parts {
		assert.Contains(t, all, p.Title)
	}
	heads := strings.Count(all, "Limit and its source")
	assert.Greater(t, heads, 2, "a table's head is on each of its pages")
}

// A heading is never the last thing on a page.
func TestHeadingsStayWithWhatTheyHead(t *testing.T) {
	for rows := range 30 {
		for i, page := range recorded(specimen(t, rows).lay(A4)) {
			lowest, heading := 0.0, 0.0
			for _, m := range page {
				lowest = max(lowest, m.Points[0].Y) // a rule to write on counts as well
				if m.Font.Size == headingType {
					heading = max(heading, m.Points[0].Y)
				}
			}
			assert.Less(t, heading, lowest, "page %d with %d rows", i+1, rows)
		}
	}
}

func TestGoldenPages(t *testing.T) {
	for i, img := range specimen(t, 9).Pictures(A4, 3.5) {
		path := filepath.Join("testdata", fmt.Sprintf("page-%d.png", i+1))
		if *update {
			var b bytes.Buffer
			require.NoError(t, (&png.Encoder{CompressionLevel: png.BestCompression}).Encode(&b, img))
			require.NoError(t, os.MkdirAll("testdata", 0o755))
			require.NoError(t, os.WriteFile(path, b.Bytes(), 0o644))
			continue
		}
		f, err := os.Open(path)
		require.NoError(t, err, "no golden page; go test ./trace/record -update writes it")
		want, err := png.Decode(f)
		require.NoError(t, err)
		require.NoError(t, f.Close())
		if i == 1 {
			continue // the sheet on it is for its own package to hold
		}
		assert.Less(t, unlike(img, want), 0.002, "%s is laid out differently; if that is meant, go test ./trace/record -update", path)
	}
}

// unlike is the share of pixels that are apart by more than a shade: soft edges differ between machines.
func unlike(a, b image.Image) float64 {
	if a.Bounds() != b.Bounds() {
		return 1
	}
	off := 0
	bounds := a.Bounds()
	for y := bounds.Min.Y; y < bounds.Max.Y; y++ {
		for x := bounds.Min.X; x < bounds.Max.X; x++ {
			p, q := color.GrayModel.Convert(a.At(x, y)).(color.Gray).Y, color.GrayModel.Convert(b.At(x, y)).(color.Gray).Y
			if max(p, q)-min(p, q) > 60 {
				off++
			}
		}
	}
	return float64(off) / float64(bounds.Dx()*bounds.Dy())
}

var font = regexp.MustCompile(`base64,[A-Za-z0-9+/=]+`)

func TestGoldenHTML(t *testing.T) {
	d := specimen(t, 2)
	d.Parts[2].Blocks = nil // the sheet is for its own package to hold
	got := font.ReplaceAll(d.HTML(), []byte("base64,..."))
	path := filepath.Join("testdata", "specimen.html")
	if *update {
		require.NoError(t, os.WriteFile(path, got, 0o644))
	}
	want, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, string(want), string(got), "if that is meant, go test ./trace/record -update")
}

// The file asks nothing of the network, every element that is opened is closed, and no text becomes markup.
func TestHTMLStandsByItself(t *testing.T) {
	d := specimen(t, 3)
	d.Subject = `<script>alert("x")</script> & "more"`
	d.Running = `"; } </style> \`
	d.Parts[1].Blocks = append(d.Parts[1].Blocks, Text{Lead: "<b>", Words: "<img src=http://example.org/x.png>"})
	text := d.HTML()
	assert.NotContains(t, string(text), "<script")
	assert.NotContains(t, string(text), "<img")
	assert.NotRegexp(t, `@import|url\((?:[^d]|d[^a])`, string(font.ReplaceAll(text, nil)))
	void := map[string]bool{"meta": true, "col": true, "br": true, "path": true, "rect": true}
	var open []string
	z := html.NewTokenizer(bytes.NewReader(text))
	svg := 0
	for {
		switch z.Next() {
		case html.ErrorToken:
			assert.Empty(t, open)
			assert.Equal(t, 1, svg)
			return
		case html.StartTagToken:
			name, more := z.TagName()
			for more {
				var attribute []byte
				attribute, _, more = z.TagAttr()
				assert.NotContains(t, []string{"src", "href", "xlink:href", "srcset", "action", "onload"}, string(attribute), "%s", name)
			}
			if string(name) == "svg" {
				svg++
			}
			if !void[string(name)] {
				open = append(open, string(name))
			}
		case html.EndTagToken:
			name, _ := z.TagName()
			require.NotEmpty(t, open)
			require.Equal(t, open[len(open)-1], string(name))
			open = open[:len(open)-1]
		}
	}
}

func TestPDFIsTheSameEachTimeAndWhatThePagesShow(t *testing.T) {
	d := specimen(t, 9)
	first, err := d.PDF(A4)
	require.NoError(t, err)
	again, err := specimen(t, 9).PDF(A4)
	require.NoError(t, err)
	assert.True(t, bytes.Equal(first, again))

	for _, tool := range []string{"pdftotext", "pdftoppm", "pdfinfo"} {
		if _, err := exec.LookPath(tool); err != nil {
			t.Skipf("%s is not installed, so no other reader checks the PDF; Debian has it in poppler-utils", tool)
		}
	}
	folder := t.TempDir()
	file := filepath.Join(folder, "x.pdf")
	require.NoError(t, os.WriteFile(file, first, 0o644))
	text, err := exec.Command("pdftotext", "-layout", file, "-").Output()
	require.NoError(t, err)
	for _, want := range []string{"Work record", "Board 3, slow to fill", "The drain is open; probability 93 %.", "f9", "Chock the wheels.", "1 of 3", "3 of 3", "Work done by: name"} {
		assert.Contains(t, string(text), want)
	}
	info, err := exec.Command("pdfinfo", file).Output()
	require.NoError(t, err)
	assert.Contains(t, string(info), "2026")
	require.NoError(t, exec.Command("pdftoppm", "-png", "-r", fmt.Sprint(3.5*25.4), file, filepath.Join(folder, "page")).Run())
	for i, ours := range d.Pictures(A4, 3.5) {
		f, err := os.Open(filepath.Join(folder, fmt.Sprintf("page-%d.png", i+1)))
		require.NoError(t, err)
		theirs, err := png.Decode(f)
		require.NoError(t, err)
		require.NoError(t, f.Close())
		assert.Less(t, coarselyUnlike(ours, theirs), 0.003, "page %d", i+1)
	}
}

// coarselyUnlike compares blocks of 6 × 6 pixels by their mean grey, so that how a reader softens edges does not count.
func coarselyUnlike(a, b image.Image) float64 {
	const block = 6
	bounds := a.Bounds().Intersect(b.Bounds())
	off, all := 0, 0
	for y := bounds.Min.Y; y+block <= bounds.Max.Y; y += block {
		for x := bounds.Min.X; x+block <= bounds.Max.X; x += block {
			sum := 0
			for dy := range block {
				for dx := range block {
					sum += int(color.GrayModel.Convert(a.At(x+dx, y+dy)).(color.Gray).Y) - int(color.GrayModel.Convert(b.At(x+dx, y+dy)).(color.Gray).Y)
				}
			}
			if all++; max(sum, -sum) > block*block*255/6 {
				off++
			}
		}
	}
	return float64(off) / float64(all)
}

func BenchmarkThirtyPages(b *testing.B) {
	d := specimen(b, 370)
	pages := len(d.lay(A4))
	if pages < 30 {
		b.Fatalf("only %d pages", pages)
	}
	b.ReportMetric(float64(pages), "pages")
	for b.Loop() {
		if _, err := d.PDF(A4); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkThirtyPagesHTML(b *testing.B) {
	d := specimen(b, 370)
	for b.Loop() {
		d.HTML()
	}
}

// What leads to the block after it never stands alone at the foot of a page.
func TestWhatLeadsStaysWithWhatItLeadsTo(t *testing.T) {
	for filler := range 60 {
		d := &Document{Title: "Work record", Parts: []Part{{Title: "Part", Blocks: []Block{
			List{Items: make([]Text, filler)}, Text{Words: "It is this:", leads: true}, Facts{{"Fault", "one"}, {"Probability", "93 %"}, {"Why", "because"}},
		}}}}
		for i, page := range recorded(d.lay(A4)) {
			all := ""
			for _, m := range page {
				all += m.Text + "\n"
			}
			assert.Equal(t, strings.Contains(all, "It is this:"), strings.Contains(all, "because"), "page %d with %d lines before", i+1, filler)
		}
	}
}
