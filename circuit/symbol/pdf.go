package symbol

import (
	"bytes"
	"errors"
	"fmt"
	"time"

	"codeberg.org/go-pdf/fpdf"

	"airpath/circuit"
	"airpath/circuit/symbol/typeface"
)

// PDF draws a circuit as a PDF file of one page that is as large as the drawing: 2.5 mm to a grid step, as in SVG. Its
// text is text: it can be searched and copied, in the embedded typeface. A look's Scale says how large the type is beside
// the drawing; zero means one step of the grid to 8 dp.
func PDF(c *circuit.Circuit, look Look, marks Marks) ([]byte, error) {
	sh := NewSheet(c)
	if look.Palette == nil {
		look.Palette = Light
	}
	b := sh.Bounds()
	d := NewPDF(c.Title, time.Time{})
	d.Page(b.Width()*svgStep, b.Height()*svgStep)
	s := d.Surface(Point{}, b.Min, svgStep)
	s.Poly([]Point{b.Min, {X: b.Max.X, Y: b.Min.Y}, b.Max, {X: b.Min.X, Y: b.Max.Y}}, true, Style{Fill: look.Palette.Paper})
	sh.Draw(s, look, marks)
	return d.Bytes()
}

// pdfFamily is the typeface's name within a file, where a space would end it.
const pdfFamily = "IBMPlexSans"

// undated is the day that a document without one bears: the format's writer must name one, and the day of writing would
// make the same document another file each time.
var undated = time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)

// A PDFDocument is a PDF file being written, page after page. The same calls give the same bytes, whenever and wherever.
// What goes wrong is said by Bytes.
type PDFDocument struct {
	pdf     *fpdf.Fpdf
	now     pdfState
	weights map[bool]bool  // which weights of the typeface are in the file
	links   map[string]int // by the name of what they lead to
	placed  map[string]bool
}

// pdfState is what the page's own drawing state is known to be, so that only changes are written.
type pdfState struct {
	stroke, fill, text int // colours as 0xrrggbb, -1 not known
	alpha              int // 0 to 255, -1 not known
	width              float64
	dash               string
}

var unknownState = pdfState{stroke: -1, fill: -1, text: -1, alpha: -1, width: -1, dash: "?"}

// NewPDF begins a document. day is what it says of its own making; the zero time leaves it undated.
func NewPDF(title string, day time.Time) *PDFDocument {
	p := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: 210, Ht: 297}})
	if day.IsZero() {
		day = undated
	}
	p.SetCreationDate(day.UTC())
	p.SetModificationDate(day.UTC())
	p.SetCatalogSort(true)
	p.SetTitle(title, true)
	p.SetProducer("Airpath", true)
	p.SetLang("en")
	p.SetMargins(0, 0, 0)
	p.SetAutoPageBreak(false, 0)
	p.SetLineJoinStyle("round")
	p.SetLineCapStyle("butt")
	return &PDFDocument{pdf: p, weights: map[bool]bool{}, links: map[string]int{}, placed: map[string]bool{}}
}

// Page begins the next page, width × height in mm.
func (d *PDFDocument) Page(width, height float64) {
	d.pdf.AddPageFormat("P", fpdf.SizeType{Wd: width, Ht: height})
	d.now = unknownState
}

// Surface draws on the present page: the point from of the drawing comes to lie at the point at of the page, in mm from
// its upper left corner, and a grid step is so many mm long. With Surface(Point{}, Point{}, 1) everything is in mm.
func (d *PDFDocument) Surface(at, from Point, step float64) *PDFSurface {
	return &PDFSurface{doc: d, at: at, from: from, step: step}
}

// Bookmark puts a line into the document's outline that leads to a height of the present page, in mm from its top; level
// 0 is the highest.
func (d *PDFDocument) Bookmark(text string, level int, y float64) {
	d.useFont(false, 1) // so that the text is taken as Unicode
	d.pdf.Bookmark(text, level, y)
}

// Anchor names a height of the present page, in mm from its top, for Link to lead to.
func (d *PDFDocument) Anchor(name string, y float64) {
	d.pdf.SetLink(d.link(name), y, -1)
	d.placed[name] = true
}

// Link makes an area of the present page, in mm, lead to the anchor of that name, which may come before or after it.
func (d *PDFDocument) Link(area Box, name string) {
	d.pdf.Link(area.Min.X, area.Min.Y, area.Width(), area.Height(), d.link(name))
}

func (d *PDFDocument) link(name string) int {
	if _, ok := d.links[name]; !ok {
		d.links[name] = d.pdf.AddLink()
	}
	return d.links[name]
}

// Bytes ends the document and returns it.
func (d *PDFDocument) Bytes() ([]byte, error) {
	for name := range d.links {
		if !d.placed[name] {
			return nil, fmt.Errorf("pdf: a link leads to %q, which no anchor names", name)
		}
	}
	if d.pdf.PageCount() == 0 {
		return nil, errors.New("pdf: the document has no page")
	}
	var out bytes.Buffer
	if err := d.pdf.Output(&out); err != nil {
		return nil, fmt.Errorf("pdf: %w", err)
	}
	return out.Bytes(), nil
}

// useFont makes a weight current, its size in mm; the file takes the typeface in when it is first used.
func (d *PDFDocument) useFont(bold bool, size float64) {
	style, ttf := "", typeface.Regular
	if bold {
		style, ttf = "B", typeface.SemiBold
	}
	if !d.weights[bold] {
		d.weights[bold] = true
		d.pdf.AddUTF8FontFromBytes(pdfFamily, style, ttf)
	}
	d.pdf.SetFont(pdfFamily, style, size*d.pdf.GetConversionRatio())
}
