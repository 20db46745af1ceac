package symbol

import (
	"bytes"
	"encoding/xml"
	"image"
	"image/png"
	"io"
	"math"
	"strings"
	"testing"

	"airpath/circuit/symbol/typeface"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestSVGIsWellFormedAndNamesEverything(t *testing.T) {
	c := gritter(t)
	c.Components[0].Name = `a <strange> & "quoted" name`
	text := SVG(c, Look{Palette: Light, Scale: 6}, marksForTests())
	ids := map[string]bool{}
	titles := map[string]bool{}
	d := xml.NewDecoder(bytes.NewReader(text))
	inTitle := false
	for {
		tok, err := d.Token()
		if err == io.EOF {
			break
		}
		require.NoError(t, err)
		switch e := tok.(type) {
		case xml.StartElement:
			inTitle = e.Name.Local == "title"
			for _, a := range e.Attr {
				if a.Name.Local == "data-id" {
					ids[a.Value] = true
				}
			}
		case xml.CharData:
			if inTitle {
				titles[string(e)] = true
			}
		case xml.EndElement:
			inTitle = false
		}
	}
	for _, comp := range c.Components {
		assert.True(t, ids[comp.ID], comp.ID)
		assert.True(t, titles[partTitle(comp)], comp.ID)
	}
	for _, l := range c.Lines {
		assert.True(t, ids[l.ID], l.ID)
	}
	assert.True(t, titles[c.Title])
	assert.Contains(t, string(text), `width="355mm" height="300mm"`, "142 by 120 steps of 2.5 mm")
}

// A sheet is drawn and asked from several goroutines at once: the window and an export.
func TestASheetMayBeShared(t *testing.T) {
	sh := NewSheet(gritter(t))
	want := NewSVG(sh.Bounds(), Light.Paper, "")
	sh.Draw(want, Look{Palette: Light, Scale: 7}, Marks{})
	done := make(chan []byte)
	for i := range 4 {
		go func() {
			sh.Draw(&Recorder{}, Look{Palette: Light, Scale: 5 + float64(i)}, Marks{})
			sh.Hit(Point{X: 50, Y: 50}, 1)
			s := NewSVG(sh.Bounds(), Light.Paper, "")
			sh.Draw(s, Look{Palette: Light, Scale: 7}, Marks{})
			done <- s.Bytes()
		}()
	}
	for range 4 {
		assert.Equal(t, want.Bytes(), <-done)
	}
}

func TestNumbersHaveFixedDecimals(t *testing.T) {
	for v, want := range map[float64]string{0: "0", 1: "1", 1.5: "1.5", 1.23456: "1.235", -0.0001: "0", -2.25: "-2.25", 100: "100"} {
		assert.Equal(t, want, decimal(v))
	}
}

func area(poly []Point) float64 {
	sum := 0.0
	for i, p := range poly {
		q := poly[(i+1)%len(poly)]
		sum += p.X*q.Y - q.X*p.Y
	}
	return sum / 2
}

// All pieces of a stroke turn the same way, so that they add up where they overlap.
func TestOutlinesTurnOneWay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 8).Draw(t, "n")
		points := make([]Point, n)
		for i := range points {
			points[i] = Point{X: rapid.Float64Range(-50, 50).Draw(t, "x"), Y: rapid.Float64Range(-50, 50).Draw(t, "y")}
		}
		var dash []float64
		if rapid.Bool().Draw(t, "dashed") {
			dash = []float64{rapid.Float64Range(0.5, 9).Draw(t, "on"), rapid.Float64Range(0.5, 9).Draw(t, "off")}
		}
		for _, piece := range Outline(points, rapid.Bool().Draw(t, "closed"), 2, dash) {
			if a := area(piece); a < -1e-9 {
				t.Fatalf("a piece turns the other way: area %v", a)
			}
		}
	})
}

// Legs along the grid meet in square corners and are painted once: their pieces add up to the area of the outline.
func TestRightAnglesArePaintedOnce(t *testing.T) {
	sum := func(points []Point, closed bool) (a float64) {
		for _, piece := range Outline(points, closed, 2, nil) {
			a += area(piece)
		}
		return a
	}
	assert.InDelta(t, 2*(10+8), sum([]Point{{X: 0, Y: 0}, {X: 10, Y: 0}, {X: 10, Y: 8}}, false), 1e-9, "an elbow: as long as its middle line, times its width")
	assert.InDelta(t, 12*10-8*6, sum(corners(Point{}, Point{X: 10, Y: 8}), true), 1e-9, "a frame: the outer less the inner rectangle")
}

func TestDashesCoverTheirShare(t *testing.T) {
	line := []Point{{X: 0, Y: 0}, {X: 12, Y: 0}, {X: 12, Y: 8}}
	sum := 0.0
	for _, d := range dashed(line, false, []float64{3, 2}) {
		for i := range len(d) - 1 {
			sum += math.Hypot(d[i+1].X-d[i].X, d[i+1].Y-d[i].Y)
		}
	}
	assert.InDelta(t, 12, sum, 1e-9, "20 long, 3 of every 5")
	assert.Equal(t, [][]Point{line}, dashed(line, false, []float64{0, 0}), "no dash at all is a full line")
}

func pixels(scale float64, draw func(Surface)) *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, 40, 40))
	fillImage(img, hex(0xffffff))
	draw(NewRaster(img, scale, Point{}))
	return img
}

func TestRasterFillsAndStrokes(t *testing.T) {
	black := hex(0)
	img := pixels(4, func(s Surface) {
		s.Poly(corners(Point{X: 1, Y: 1}, Point{X: 4, Y: 4}), true, Style{Fill: black})
		s.Poly([]Point{{X: 6, Y: 0}, {X: 6, Y: 10}}, false, Style{Stroke: hex(0xff0000), Width: 0.5})
		s.Poly([]Point{{X: -5, Y: 8}, {X: 2, Y: 8}}, false, Style{Stroke: black, Width: 1}) // partly off the image
		s.Poly([]Point{{X: 90, Y: 90}, {X: 99, Y: 99}}, false, Style{Stroke: black, Width: 1})
		s.Poly([]Point{{X: 1, Y: 1}}, true, Style{Fill: black})
	})
	assert.Equal(t, uint8(0), img.RGBAAt(8, 8).R, "inside the square")
	assert.Equal(t, uint8(255), img.RGBAAt(2, 8).R, "outside")
	assert.Equal(t, uint8(0), img.RGBAAt(24, 20).G, "on the line")
	assert.Equal(t, uint8(255), img.RGBAAt(26, 20).G, "beside it")
	assert.Equal(t, uint8(0), img.RGBAAt(3, 32).R, "the part of a line that is on the image")
}

func TestRasterWritesText(t *testing.T) {
	img := pixels(1, func(s Surface) { s.Text(Point{X: 20, Y: 30}, "H", Font{Size: 30, Color: hex(0), Anchor: Middle}) })
	dark, left, right := 0, 40, 0
	for y := range 40 {
		for x := range 40 {
			if img.RGBAAt(x, y).R < 128 {
				dark++
				left, right = min(left, x), max(right, x)
			}
		}
	}
	assert.Greater(t, dark, 60)
	assert.InDelta(t, 20, float64(left+right+1)/2, 1, "centred")
}

func TestPNGHasTheSizeAskedFor(t *testing.T) {
	text, err := PNG(gritter(t), 300, 200, Look{Palette: Dark}, Marks{})
	require.NoError(t, err)
	img, err := png.Decode(bytes.NewReader(text))
	require.NoError(t, err)
	assert.Equal(t, image.Rect(0, 0, 300, 200), img.Bounds())
	assert.Equal(t, Dark.Paper.R, uint8(func() uint32 { r, _, _, _ := img.At(0, 0).RGBA(); return r >> 8 }()))
}

// Figures are as wide as one another in both weights, so that live numbers stand still.
func TestFiguresAreTabular(t *testing.T) {
	for _, bold := range []bool{false, true} {
		for _, r := range "123456789" {
			assert.Equal(t, typeface.Width("0", bold), typeface.Width(string(r), bold))
		}
	}
	assert.Greater(t, typeface.Width("Airpath", true), typeface.Width("Airpath", false))
	assert.Positive(t, typeface.Width("\U0001F6DE", false), "what the typeface lacks has a width too")
}

func TestBrokenLinesKeepEveryWord(t *testing.T) {
	for _, name := range []string{"", "tank", "rear relay valve", "rear left spring brake chamber"} {
		for _, lines := range brokenLines(name) {
			assert.Equal(t, name, strings.Join(lines, " "))
		}
	}
	assert.Equal(t, []string{"rear right spring", "brake chamber"}, brokenLines("rear right spring brake chamber")[1])
}
