package ui

import (
	"image"
	"slices"

	"gioui.org/layout"

	"airpath/ui/model"
	"airpath/ui/theme"
	"airpath/ui/widgets"
)

// topBar says what is on the bench and holds what belongs to the whole window.
type topBar struct {
	row []layout.FlexChild

	paper                                   widgets.Button
	open, save, undo, redo, look, set, help widgets.Button
	units                                   widgets.Choice
	areas                                   widgets.Choice
	undoing, redoing                        doing
}

// doing is a button's label with the deed that it would do, joined anew only where the deed is another.
type doing struct{ deed, words string }

func (d *doing) say(what, deed string) string {
	switch {
	case deed == "":
		return what
	case deed != d.deed:
		d.deed, d.words = deed, what+": "+deed
	}
	return d.words
}

func (b *topBar) update(gtx ctx, s *shell) {
	if b.open.Clicked(gtx) {
		s.opener.show()
	}
	if b.save.Clicked(gtx) {
		s.save()
	}
	if b.undo.Clicked(gtx) {
		s.undo()
	}
	if b.redo.Clicked(gtx) {
		s.redo()
	}
	if b.look.Clicked(gtx) {
		s.turnLook()
	}
	if b.help.Clicked(gtx) {
		s.help.open = true
	}
	if b.paper.Clicked(gtx) {
		s.showPapers()
	}
	if b.set.Clicked(gtx) {
		s.setter.open = true
	}
	if i, ok := b.areas.Update(gtx); ok {
		s.showArea(i)
	}
	if i, ok := b.units.Update(gtx); ok {
		s.prefs.Units = model.AllUnits[i]
		s.savePrefs()
	}
}

// turnLook goes from day to night or back.
func (s *shell) turnLook() {
	s.prefs.Look = theme.Opposite(s.theme.Name)
	s.savePrefs()
}

// stepText makes all text one step larger or smaller.
func (s *shell) stepText(by int) {
	best := 0
	for i, v := range model.TextScales {
		if abs(v-s.prefs.TextScale) < abs(model.TextScales[best]-s.prefs.TextScale) {
			best = i
		}
	}
	s.prefs.TextScale = model.TextScales[min(max(best+by, 0), len(model.TextScales)-1)]
	s.savePrefs()
}

func abs(v float32) float32 {
	if v < 0 {
		return -v
	}
	return v
}

func (b *topBar) layout(gtx ctx, s *shell) dims {
	th := s.theme
	wide, middling := gtx.Constraints.Max.X >= gtx.Dp(900), gtx.Constraints.Max.X >= gtx.Dp(760)
	title, second := s.titles()
	var undo, redo string
	s.onPane(func(p pane) { undo, redo = p.CanUndo() })
	button := func(b *widgets.Button, k widgets.ButtonLook) layout.FlexChild {
		k.Rank = widgets.Quiet
		return layout.Rigid(func(gtx ctx) dims { gtx.Constraints.Min = image.Point{}; return b.Layout(gtx, th, k) })
	}
	titles := layout.Flexed(1, func(gtx ctx) dims {
		return widgets.Column(gtx,
			layout.Rigid(widgets.Text{Words: title, Weight: theme.Strong, Lines: 1}.In(th)),
			layout.Rigid(widgets.Text{Words: second, Size: theme.Small, Color: th.Soft, Lines: 1}.In(th)))
	})
	// one list that is used again, of which a narrow window takes parts
	all := append(b.row[:0], titles, widgets.Space(theme.Step))
	if s.session != nil {
		all = append(all, layout.Rigid(func(gtx ctx) dims {
			return b.areas.Layout(gtx, th, "work area", areaNames, s.shown)
		}), widgets.Space(theme.Step))
	}
	open := widgets.ButtonLook{Icon: widgets.IconFolder, Label: "Open your vehicle or a case"}
	if wide {
		open.Words = "Your vehicle"
	}
	all = append(all, button(&b.open, open),
		button(&b.save, widgets.ButtonLook{Icon: widgets.IconSave, Label: "Save the case", Off: !s.shows(traceArea)}),
		button(&b.paper, widgets.ButtonLook{Icon: widgets.IconPaper, Label: "On paper: the work record, a chart", Off: !s.shows(traceArea)}),
		button(&b.undo, widgets.ButtonLook{Icon: widgets.IconUndo, Label: b.undoing.say("Undo", undo), Off: undo == ""}),
		button(&b.redo, widgets.ButtonLook{Icon: widgets.IconRedo, Label: b.redoing.say("Redo", redo), Off: redo == ""}))
	if middling {
		all = append(all, widgets.Space(theme.Step), layout.Rigid(func(gtx ctx) dims {
			return b.units.Layout(gtx, th, "pressure in", unitNames, slices.Index(model.AllUnits, s.prefs.Units))
		}), widgets.Space(theme.Step))
	}
	look := widgets.ButtonLook{Icon: widgets.IconNight, Label: "Dark colours"}
	if s.theme.Dark {
		look = widgets.ButtonLook{Icon: widgets.IconDay, Label: "Light colours"}
	}
	if middling {
		all = append(all, button(&b.look, look))
	}
	middle := len(all)
	all = append(all, button(&b.set, widgets.ButtonLook{Icon: widgets.IconSettings, Label: "Settings: colours, text, units, limits"}),
		button(&b.help, widgets.ButtonLook{Icon: widgets.IconHelp, Label: "Help and shortcuts"}))
	b.row = all
	return layout.Inset{Left: theme.Gap, Right: theme.Step, Top: 2, Bottom: 2}.Layout(gtx, func(gtx ctx) dims {
		flex := layout.Flex{Alignment: layout.Middle}
		if middling {
			return flex.Layout(gtx, all...)
		}
		// in two rows, so that nothing is out of reach
		return layout.Flex{Axis: layout.Vertical}.Layout(gtx,
			layout.Rigid(func(gtx ctx) dims { return flex.Layout(gtx, slices.Concat(all[:2], all[middle:])...) }),
			layout.Rigid(func(gtx ctx) dims { return flex.Layout(gtx, all[2:middle]...) }))
	})
}

var unitNames = func() (names []string) {
	for _, u := range model.AllUnits {
		names = append(names, string(u))
	}
	return names
}()

// titles are the vehicle, and what is going on with it.
func (s *shell) titles() (title, second string) {
	if s.session == nil {
		return "Airpath", "nothing is open"
	}
	if s.shows(drillArea) {
		return s.drillArea().Titles()
	}
	name := "new case, kept by itself"
	if s.session.Origin.Path != "" {
		name = base(s.session.Origin.Path)
		if s.session.Dirty() {
			name += ", changed"
		}
	}
	if deed := s.session.LastDeed(); deed != "" {
		name += " · " + deed
	}
	return s.session.Circuit.Title, name
}
