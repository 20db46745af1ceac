package symbol

import (
	"bytes"
	"fmt"
	"image"
	"image/draw"
	"image/png"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"airpath/circuit"
	"airpath/circuits"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// poppler runs one of its tools (an independent reader of PDF) on a file and returns what it printed.
func poppler(t *testing.T, pdf []byte, tool string, args ...string) (out []byte, folder string) {
	t.Helper()
	path, err := exec.LookPath(tool)
	if err != nil {
		t.Skipf("%s is not installed, so no reader but our own eyes checks the PDF; Debian has it in poppler-utils", tool)
	}
	folder = t.TempDir()
	file := filepath.Join(folder, "x.pdf")
	require.NoError(t, os.WriteFile(file, pdf, 0o644))
	cmd := exec.Command(path, append(args[:len(args):len(args)], file)...)
	if tool != "pdfinfo" && tool != "pdffonts" {
		cmd.Args = append(cmd.Args, map[string]string{"pdftotext": "-", "pdftoppm": filepath.Join(folder, "page")}[tool])
	}
	var complaints bytes.Buffer
	cmd.Stderr = &complaints
	out, err = cmd.Output()
	require.NoError(t, err, complaints.String())
	assert.Empty(t, complaints.String(), "the file is sound")
	return out, folder
}

func markedPDF(t testing.TB, c *circuit.Circuit) []byte {
	out, err := PDF(c, Look{Palette: Light, Scale: 8}, marksForTests())
	require.NoError(t, err)
	return out
}

func TestPDFIsTheSameEachTime(t *testing.T) {
	c := gritter(t)
	first := markedPDF(t, c)
	time.Sleep(1100 * time.Millisecond) // dates in the format count seconds
	require.True(t, bytes.Equal(first, markedPDF(t, c)))
}

func TestPDFIsOneSearchablePageInItsOwnTypeface(t *testing.T) {
	c := gritter(t)
	pdf := markedPDF(t, c)
	info, _ := poppler(t, pdf, "pdfinfo")
	assert.Regexp(t, `Title: +`+c.Title, string(info))
	assert.Regexp(t, `Pages: +1\n`, string(info))
	assert.Regexp(t, `Page size: +1006\.\d+ x 850\.\d+ pts`, string(info), "355 mm by 300 mm, as in SVG")
	assert.NotRegexp(t, `JavaScript: +yes|Encrypted: +yes`, string(info))
	fonts, _ := poppler(t, pdf, "pdffonts")
	lines := strings.Split(strings.TrimSpace(string(fonts)), "\n")[2:]
	require.Len(t, lines, 2, "two weights")
	for _, l := range lines {
		assert.Regexp(t, `(?i)plexsansB? +CID TrueType +Identity-H +yes +(no|yes) +yes`, l, "embedded, and with the meaning of its glyphs")
	}
	assert.Less(t, len(pdf), 80_000, "only those letters that are used are in it; the typeface alone has 400 kB")
	text, _ := poppler(t, pdf, "pdftotext", "-raw")
	words := strings.Join(strings.Fields(string(text)), " ")
	for _, comp := range c.Components {
		d, _ := Of(comp.Kind.Name)
		if !d.Minor && comp.ID != "tank" { // whose compartments are named instead
			assert.Contains(t, words, comp.Name)
		}
	}
}

// popplerPage draws the first page, so many dots to a millimetre.
func popplerPage(t *testing.T, pdf []byte, perMM float64) *image.RGBA {
	t.Helper()
	_, folder := poppler(t, pdf, "pdftoppm", "-png", "-l", "1", "-r", fmt.Sprint(perMM*25.4))
	pages, err := filepath.Glob(filepath.Join(folder, "page*.png"))
	require.NoError(t, err)
	require.NotEmpty(t, pages)
	f, err := os.Open(pages[0])
	require.NoError(t, err)
	defer f.Close()
	img, err := png.Decode(f)
	require.NoError(t, err)
	out := image.NewRGBA(img.Bounds())
	draw.Draw(out, out.Bounds(), img, image.Point{}, draw.Src)
	return out
}

// differences compares two pictures in blocks of 8 × 8 pixels, so that how a reader softens edges does not count, and
// returns the share of blocks that are apart by more than an eighth of the way from black to white.
func differences(a, b *image.RGBA) float64 {
	const block = 8
	bounds := a.Bounds().Intersect(b.Bounds())
	off, all := 0, 0
	for y := bounds.Min.Y; y+block <= bounds.Max.Y; y += block {
		for x := bounds.Min.X; x+block <= bounds.Max.X; x += block {
			var sum [3]int
			for dy := range block {
				i, j := a.PixOffset(x, y+dy), b.PixOffset(x, y+dy)
				for p := 0; p < 4*block; p += 4 {
					for k := range sum {
						sum[k] += int(a.Pix[i+p+k]) - int(b.Pix[j+p+k])
					}
				}
			}
			all++
			for _, s := range sum {
				if math.Abs(float64(s))/(block*block*0xff) > 1.0/8 {
					off++
					break
				}
			}
		}
	}
	return float64(off) / float64(all)
}

// pictureOf draws a sheet with two dots where the look has one.
func pictureOf(c *circuit.Circuit, look Look, marks Marks) *image.RGBA {
	sh := NewSheet(c)
	b := sh.Bounds()
	scale := 2 * look.Scale
	img := image.NewRGBA(image.Rect(0, 0, int(math.Round(b.Width()*scale)), int(math.Round(b.Height()*scale))))
	fillImage(img, look.Palette.Paper)
	sh.Draw(NewRaster(img, scale, b.Min), look, marks)
	return img
}

// The page that another program makes of the PDF is the picture that we draw ourselves.
func TestPDFLooksLikeThePicture(t *testing.T) {
	for _, tt := range []struct {
		circuit string
		palette *Palette
		marks   Marks
	}{{"bench_board", Light, Marks{}}, {"coach", Light, Marks{}}, {"gritter", Light, marksForTests()}, {"gritter", Dark, marksForTests()}} {
		t.Run(tt.circuit+" "+tt.palette.Name, func(t *testing.T) {
			c, err := circuits.Load(tt.circuit)
			require.NoError(t, err)
			look := Look{Palette: tt.palette, Scale: 8}
			pdf, err := PDF(c, look, tt.marks)
			require.NoError(t, err)
			page := popplerPage(t, pdf, 2*look.Scale/svgStep)
			ours := pictureOf(c, look, tt.marks)
			assert.InDelta(t, ours.Bounds().Dx(), page.Bounds().Dx(), 1)
			assert.InDelta(t, ours.Bounds().Dy(), page.Bounds().Dy(), 1)
			assert.Less(t, differences(ours, page), sameEnough)
		})
	}
}

// sameEnough is the share of blocks that may differ: a fifth of what one missing name comes to on the gritter's sheet.
const sameEnough = 0.0001

// A picture that lacks one name would not pass for the same.
func TestDifferencesAreSeen(t *testing.T) {
	c := gritter(t)
	look := Look{Palette: Light, Scale: 8}
	whole := pictureOf(c, look, Marks{})
	assert.Zero(t, differences(whole, whole))
	c.Component("rear_relay").Name = ""
	assert.Greater(t, differences(whole, pictureOf(c, look, Marks{})), 3*sameEnough, "a name")
}

func TestPDFPagesBookmarksAndLinks(t *testing.T) {
	d := NewPDF("Två sidor", time.Date(2026, 1, 14, 0, 0, 0, 0, time.UTC))
	for i, text := range []string{"first page: 60 °C … “quoted”", "second page"} {
		d.Page(210, 297)
		s := d.Surface(Point{}, Point{}, 1)
		s.Text(Point{X: 20, Y: 30}, text, Font{Size: 5, Color: Light.Ink})
		s.Poly([]Point{{X: 20, Y: 40}, {X: 60, Y: 40}, {X: 60, Y: 60}}, true, Style{Fill: Light.Ink, Stroke: Light.Faint, Width: 1, Dash: []float64{2, 1}})
		d.Bookmark(text, i, 20)
	}
	d.Anchor("second", 20)
	d.Link(Box{Point{X: 20, Y: 20}, Point{X: 60, Y: 40}}, "second")
	pdf, err := d.Bytes()
	require.NoError(t, err)
	info, _ := poppler(t, pdf, "pdfinfo")
	assert.Regexp(t, `Title: +Två sidor`, string(info))
	assert.Regexp(t, `CreationDate: +Wed Jan 14 00:00:00 2026`, string(info))
	assert.Regexp(t, `Pages: +2\n`, string(info))
	assert.Regexp(t, `Page size: +595\.\d+ x 841\.\d+ pts \(A4\)`, string(info))
	text, _ := poppler(t, pdf, "pdftotext")
	assert.Contains(t, string(text), "first page: 60 °C … “quoted”")
	assert.Equal(t, 1, bytes.Count(pdf, []byte("/Subtype /Link")))
	assert.Contains(t, string(pdf), "/Outlines")

	d = NewPDF("x", time.Time{})
	d.Page(10, 10)
	d.Link(Box{Max: Point{X: 1, Y: 1}}, "nowhere")
	_, err = d.Bytes()
	assert.EqualError(t, err, `pdf: a link leads to "nowhere", which no anchor names`)

	d = NewPDF("x", time.Time{})
	_, err = d.Bytes()
	assert.EqualError(t, err, "pdf: the document has no page")
}

// What is written of each symbol, uncompressed, as a golden file: a change of the surface shows there.
func TestPDFOfASymbolHasNotChanged(t *testing.T) {
	k, err := circuit.KindNamed("relay-valve")
	require.NoError(t, err)
	d := NewPDF(k.Title, time.Time{})
	d.pdf.SetCompression(false)
	look := Look{Palette: Light, Scale: 12, Detail: Full}
	box := drawPoses(&Recorder{}, k, look, Point{}).Grow(1)
	d.Page(box.Width()*svgStep, box.Height()*svgStep)
	drawPoses(d.Surface(Point{}, box.Min, svgStep), k, look, Point{})
	pdf, err := d.Bytes()
	require.NoError(t, err)
	_, rest, ok := bytes.Cut(pdf, []byte("stream\n"))
	require.True(t, ok)
	content, _, ok := bytes.Cut(rest, []byte("\nendstream"))
	require.True(t, ok)
	golden(t, "symbol-relay-valve.pdf.txt", bytes.ReplaceAll(content, []byte{0}, nil)) // digits as text, not UTF-16
}
