package ui

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"gioui.org/layout"

	"airpath/ui/model"
	"airpath/ui/theme"
	"airpath/ui/viewer"
	"airpath/ui/widgets"
)

// papersPanel is where a case becomes paper: the work record, with what it says of vehicle and technician, and the
// troubleshooting chart that goes on from the case.
type papersPanel struct {
	open  bool
	ready bool

	close, record, chart                widgets.Button
	vehicle, mileage, technician, dated widgets.Field
	scroll                              widgets.Scroll
}

// showPapers opens the panel on the case as it is.
func (s *shell) showPapers() {
	if s.session == nil || !s.shows(traceArea) {
		return
	}
	p, cs := &s.papers, s.session.Case()
	p.open, p.ready = true, false
	p.vehicle.SetText(cs.Vehicle)
	p.mileage.SetText(cs.Mileage)
	p.technician.SetText(cs.Technician)
	if p.technician.Text() == "" {
		p.technician.SetText(s.prefs.Technician)
	}
	p.dated.SetText(cs.Date)
	if cs.Date == "" {
		p.dated.SetText(model.Today())
	}
}

func (p *papersPanel) typing(gtx ctx) bool {
	return p.open && (p.vehicle.Focused(gtx) || p.mileage.Focused(gtx) || p.technician.Focused(gtx) || p.dated.Focused(gtx))
}

func (p *papersPanel) update(gtx ctx, s *shell) {
	if !p.open {
		return
	}
	if !p.ready {
		p.ready = true
		p.vehicle.Focus(gtx)
	}
	for _, f := range []*widgets.Field{&p.vehicle, &p.mileage, &p.technician, &p.dated} {
		f.Update(gtx)
	}
	if p.close.Clicked(gtx) {
		p.open = false
	}
	record, chart := p.record.Clicked(gtx), p.chart.Clicked(gtx)
	if !record && !chart {
		return
	}
	if d := p.dated.Text(); d != "" {
		if _, err := time.Parse("2006-01-02", d); err != nil {
			s.notice = notice{words: fmt.Sprintf("The day %q can't be read: write it as %s.", d, model.Today())}
			return
		}
	}
	s.session.SetParticulars(p.vehicle.Text(), p.mileage.Text(), p.technician.Text(), p.dated.Text())
	if t := p.technician.Text(); t != s.prefs.Technician {
		s.prefs.Technician = t
		s.savePrefs()
	}
	p.open = false
	s.write(chart)
}

// write makes one of the two papers beside the window and shows it in the system's own viewer.
func (s *shell) write(chart bool) {
	scribe, ok := s.session.Engine.(model.Scribe)
	if !ok {
		return
	}
	cs, u, program := s.session.Case(), s.prefs.Units, s.opts.Program
	name, title := "record", "Writing the work record"
	compose := func(ctx context.Context, progress func(done, total int)) ([]byte, error) {
		return scribe.Record(ctx, cs, u, program, progress)
	}
	if chart {
		name, title = "chart", "Growing the troubleshooting chart"
		compose = func(ctx context.Context, progress func(done, total int)) ([]byte, error) {
			return scribe.Chart(ctx, cs, u, progress)
		}
	}
	dir, stem := ".", s.session.Circuit.Name
	if path := s.session.Origin.Path; path != "" {
		dir, stem = filepath.Dir(path), trimExt(filepath.Base(path))
	}
	show := s.opts.Viewer
	if show == nil {
		show = viewer.Open
	}
	s.send(title, func(ctx context.Context, progress func(done, total int)) func(*shell) {
		var path string
		data, err := compose(ctx, progress)
		if err == nil && ctx.Err() == nil {
			if path, err = freePath(dir, stem+"-"+name, ".pdf"); err == nil {
				err = os.WriteFile(path, data, 0o644)
			}
		}
		if err != nil {
			return func(s *shell) { s.notice = notice{words: "It could not be written: " + err.Error()} }
		}
		words := "Written: " + path
		if err := show(ctx, path); err != nil {
			words += ". It can't be shown from here: " + err.Error()
		}
		return func(s *shell) { s.notice = notice{words: words} }
	})
}

func trimExt(name string) string { return name[:len(name)-len(filepath.Ext(name))] }

func (p *papersPanel) layout(gtx ctx, s *shell) dims {
	th := s.theme
	field := func(f *widgets.Field, title, hint string) layout.Widget {
		return func(gtx ctx) dims {
			return layout.Inset{Bottom: theme.Step}.Layout(gtx, func(gtx ctx) dims {
				return widgets.Column(gtx,
					layout.Rigid(widgets.Title(title).In(th)),
					layout.Rigid(func(gtx ctx) dims { return f.Layout(gtx, th, widgets.FieldLook{Label: title, Hint: hint}) }))
			})
		}
	}
	rows := []layout.Widget{
		func(gtx ctx) dims {
			return layout.Flex{Alignment: layout.Middle}.Layout(gtx,
				layout.Flexed(1, widgets.Text{Words: "On paper", Size: theme.Large, Weight: theme.Strong}.In(th)),
				layout.Rigid(func(gtx ctx) dims {
					return p.close.Layout(gtx, th, widgets.ButtonLook{Icon: widgets.IconClose, Label: "Close the papers", Rank: widgets.Quiet})
				}))
		},
		field(&p.vehicle, "Which vehicle", "Fleet number or plate"),
		field(&p.mileage, "Mileage", "As read, with its unit"),
		field(&p.technician, "Technician", "Who signs"),
		field(&p.dated, "Day", "2026-01-14"),
		widgets.Note(th, "What is left empty is left blank on paper, to be written in by hand. The record tells what was found and done; it does not certify the vehicle.").In(th),
		func(gtx ctx) dims {
			return layout.Inset{Top: theme.Step}.Layout(gtx, func(gtx ctx) dims {
				return p.record.Layout(gtx, th, widgets.ButtonLook{Words: "Write the work record", Rank: widgets.Primary, Wide: true, Off: s.errand != nil})
			})
		},
		func(gtx ctx) dims {
			return layout.Inset{Top: theme.Step}.Layout(gtx, func(gtx ctx) dims {
				return p.chart.Layout(gtx, th, widgets.ButtonLook{Words: "Write a troubleshooting chart from here on", Wide: true, Off: s.errand != nil})
			})
		},
	}
	return p.scroll.Layout(gtx, th, rows)
}
