package ui

import (
	"context"
	"os"
	"path/filepath"
	"slices"

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

	close, keep, record, chart                   widgets.Button
	vehicle, mileage, ambient, technician, dated widgets.Field

	was    model.Particulars // as the panel was opened with
	cold   bool              // how cold it was is asked for first
	scroll widgets.Scroll
}

// showPapers opens the panel on the case as it is.
func (s *shell) showPapers() {
	if s.session == nil || !s.shows(traceArea) {
		return
	}
	p, cs := &s.papers, s.session.Case()
	p.open, p.ready, p.cold = true, false, false
	p.vehicle.SetText(cs.Vehicle)
	p.mileage.SetText(cs.Mileage)
	p.ambient.SetText(model.SayAmbient(cs.Ambient))
	p.technician.SetText(cs.Technician)
	if p.technician.Text() == "" {
		p.technician.SetText(s.prefs.Technician)
	}
	p.dated.SetText(cs.Date)
	if cs.Date == "" {
		p.dated.SetText(model.Today())
	}
	p.was = p.typed()
}

// typed is what the fields hold.
func (p *papersPanel) typed() model.Particulars {
	return model.Particulars{Vehicle: p.vehicle.Text(), Mileage: p.mileage.Text(), Ambient: p.ambient.Text(), Technician: p.technician.Text(), Date: p.dated.Text()}
}

func (p *papersPanel) fields() []*widgets.Field {
	return []*widgets.Field{&p.vehicle, &p.mileage, &p.ambient, &p.technician, &p.dated}
}

func (p *papersPanel) typing(gtx ctx) bool {
	return p.open && slices.ContainsFunc(p.fields(), func(f *widgets.Field) bool { return f.Focused(gtx) })
}

func (p *papersPanel) update(gtx ctx, s *shell) {
	if !p.open {
		return
	}
	if !p.ready {
		p.ready = true
		first := &p.vehicle
		if p.cold {
			first = &p.ambient
		}
		first.Focus(gtx)
	}
	kept := p.keep.Clicked(gtx)
	for _, f := range p.fields() {
		submitted, _ := f.Update(gtx)
		kept = kept || submitted && p.cold
	}
	if p.close.Clicked(gtx) {
		p.putAway(s)
		return
	}
	if kept {
		if err := p.accept(s); err != nil {
			s.notice = notice{words: err.Error()}
			return
		}
		p.open = false
		return
	}
	record, chart := p.record.Clicked(gtx), p.chart.Clicked(gtx)
	if !record && !chart {
		return
	}
	if err := p.enter(s, p.typed()); err != nil {
		s.notice = notice{words: err.Error()}
		return
	}
	p.open = false
	s.write(chart)
}

// enter what was typed.
func (p *papersPanel) enter(s *shell, typed model.Particulars) error {
	if err := s.session.SetParticulars(typed); err != nil {
		return err
	}
	if t := p.technician.Text(); t != s.prefs.Technician {
		s.prefs.Technician = t
		s.savePrefs()
	}
	return nil
}

// accept takes what was typed into the case without a paper. What only stood there as a proposal, the day and who signs, is for papers.
func (p *papersPanel) accept(s *shell) error {
	typed, had := p.typed(), s.session.Particulars()
	if typed.Date == p.was.Date {
		typed.Date = had.Date
	}
	if typed.Technician == p.was.Technician {
		typed.Technician = had.Technician
	}
	return p.enter(s, typed)
}

// putAway closes the panel. What was typed is kept; what can't be read is not, and is told.
func (p *papersPanel) putAway(s *shell) {
	p.open = false
	if err := p.accept(s); err != nil {
		s.notice = notice{words: "Not kept: " + err.Error()}
	}
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
	_, unread := s.prefs.Units.ReadAmbient(p.ambient.Text())
	field := func(f *widgets.Field, title, hint string) layout.Widget {
		bad := f == &p.ambient && unread != nil
		return func(gtx ctx) dims {
			return layout.Inset{Bottom: theme.Step}.Layout(gtx, func(gtx ctx) dims {
				return widgets.Column(gtx,
					layout.Rigid(widgets.Title(title).In(th)),
					layout.Rigid(func(gtx ctx) dims { return f.Layout(gtx, th, widgets.FieldLook{Label: title, Hint: hint, Bad: bad}) }))
			})
		}
	}
	title := "On paper"
	if p.cold {
		title = "About this case"
	}
	rows := []layout.Widget{
		func(gtx ctx) dims {
			return layout.Flex{Alignment: layout.Middle}.Layout(gtx,
				layout.Flexed(1, widgets.Text{Words: title, Size: theme.Large, Weight: theme.Strong}.In(th)),
				layout.Rigid(func(gtx ctx) dims {
					return p.close.Layout(gtx, th, widgets.ButtonLook{Icon: widgets.IconClose, Label: "Close the papers", Rank: widgets.Quiet})
				}))
		},
		field(&p.vehicle, "Which vehicle", "Fleet number or plate"),
		field(&p.mileage, "Mileage", "As read, with its unit"),
		field(&p.ambient, "How cold it was where the trouble showed", "-8 °C"),
		field(&p.technician, "Technician", "Who signs"),
		field(&p.dated, "Day", "2026-01-14"),
	}
	button := func(b *widgets.Button, look widgets.ButtonLook) layout.Widget {
		look.Wide = true
		return func(gtx ctx) dims {
			return layout.Inset{Top: theme.Step}.Layout(gtx, func(gtx ctx) dims { return b.Layout(gtx, th, look) })
		}
	}
	if p.cold {
		rows = append(rows, button(&p.keep, widgets.ButtonLook{Words: "Keep", Rank: widgets.Primary}))
		return p.scroll.Layout(gtx, th, rows)
	}
	rows = append(rows,
		widgets.Note(th, "What is left empty is left blank on paper, to be written in by hand. The record tells what was found and done; it does not certify the vehicle.").In(th),
		button(&p.record, widgets.ButtonLook{Words: "Write the work record", Rank: widgets.Primary, Off: s.errand != nil}),
		button(&p.chart, widgets.ButtonLook{Words: "Write a troubleshooting chart from here on", Off: s.errand != nil}))
	return p.scroll.Layout(gtx, th, rows)
}
