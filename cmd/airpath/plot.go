package main

import (
	"bytes"
	"fmt"
	"image/color"
	"math"

	"airpath/circuit"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgsvg"
)

// A curve is one gauge over time.
type curve struct {
	title   string // as a person says it
	gauge   int    // curves of the same gauge have the same colour
	healthy bool   // of the vehicle in good order, beside a faulty one: thin and dashed
	seconds []float64
	pascals []float64 // absolute
}

// Line colours of the set published by Okabe and Ito, which stay apart for people who see few colours.
var gaugeColors = []color.RGBA{
	{0, 114, 178, 255}, {213, 94, 0, 255}, {0, 158, 115, 255}, {204, 121, 167, 255}, {86, 180, 233, 255}, {230, 159, 0, 255},
}

const (
	plotWidth  = 20 * vg.Centimeter
	plotHeight = 12 * vg.Centimeter // without the legend
)

// plotSVG draws gauges over time, with a legend below.
func plotSVG(title string, curves []curve, unit pressureUnit) ([]byte, error) {
	p, legend := plot.New(), plot.NewLegend()
	p.Title.Text = title
	p.X.Label.Text = "time, s"
	p.Y.Label.Text = "gauge pressure, " + string(unit)
	p.Y.Min = 0
	for _, style := range []*text.Style{
		&p.Title.TextStyle, &p.X.Label.TextStyle, &p.Y.Label.TextStyle, &p.X.Tick.Label, &p.Y.Tick.Label, &legend.TextStyle,
	} {
		style.Font.Variant = "Sans"
	}
	legend.Left, legend.Top = true, true
	legend.Padding = vg.Points(2)
	p.Add(plotter.NewGrid())
	rows := 0
	for _, c := range curves {
		line, err := lineOf(c, unit)
		if err != nil {
			return nil, fmt.Errorf("plot of the %s: %w", c.title, err)
		}
		if line == nil {
			continue // a gauge that shows nothing in this procedure
		}
		p.Add(line)
		legend.Add(c.title, line)
		rows++
	}
	below := vg.Points(float64(15*rows + 8))
	canvas := vgsvg.New(plotWidth, plotHeight+below)
	whole := draw.New(canvas)
	p.Draw(draw.Crop(whole, 0, -vg.Points(10), below, 0))
	legend.Draw(draw.Crop(whole, vg.Centimeter, 0, 0, -plotHeight))
	var b bytes.Buffer
	if _, err := canvas.WriteTo(&b); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

// lineOf draws one curve; nil where it has no point.
func lineOf(c curve, unit pressureUnit) (*plotter.Line, error) {
	var points plotter.XYs
	for i, t := range c.seconds {
		if v, ok := circuit.In(c.pascals[i], circuit.Pressure, string(unit)); ok && !math.IsNaN(v) {
			points = append(points, plotter.XY{X: t, Y: v})
		}
	}
	if len(points) == 0 {
		return nil, nil
	}
	line, err := plotter.NewLine(points)
	if err != nil {
		return nil, err
	}
	line.Width, line.Color = vg.Points(1.8), gaugeColors[c.gauge%len(gaugeColors)]
	if c.healthy {
		line.Width, line.Dashes = vg.Points(1), []vg.Length{vg.Points(5), vg.Points(3)}
	}
	return line, nil
}
