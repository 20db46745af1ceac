package ui

import (
	"fmt"
	"slices"

	"gioui.org/io/key"
	"gioui.org/layout"

	"airpath/circuit"
	"airpath/ui/model"
	"airpath/ui/sound"
	"airpath/ui/theme"
	"airpath/ui/widgets"
)

// settingsPanel is what a person sets once: how it looks, how large, in which units, and whose limits hold.
type settingsPanel struct {
	open   bool
	ready  bool // the keyboard is in the panel
	close  widgets.Button
	look   widgets.Choice
	text   widgets.Choice
	units  widgets.Choice
	sound  widgets.Choice
	limits []widgets.Press
	scroll widgets.Scroll
}

// lookTitles are the looks in words, in the order of theme.Looks.
var lookTitles = []string{"Light", "Dark", "Strong light", "Strong dark"}

func (p *settingsPanel) update(gtx ctx, s *shell) {
	if p.open && !p.ready {
		gtx.Execute(key.FocusCmd{Tag: &p.close.Clickable})
	}
	p.ready = p.open
	if p.close.Clicked(gtx) {
		p.open = false
	}
	if i, ok := p.look.Update(gtx); ok {
		s.prefs.Look = theme.Looks()[i]
		s.savePrefs()
	}
	if i, ok := p.text.Update(gtx); ok {
		s.prefs.TextScale = model.TextScales[i]
		s.savePrefs()
	}
	if i, ok := p.units.Update(gtx); ok {
		s.prefs.Units = model.AllUnits[i]
		s.savePrefs()
	}
	if i, ok := p.sound.Update(gtx); ok {
		s.prefs.Sound = i == 1
		s.savePrefs()
	}
	p.limits = slices.Grow(p.limits, len(circuit.Jurisdictions))[:len(circuit.Jurisdictions)]
	for i, j := range circuit.Jurisdictions {
		if p.limits[i].Clicked(gtx) {
			s.prefs.Limits = j
			s.savePrefs()
			if s.session != nil {
				s.session.SetJurisdiction(j)
				s.area.Changed()
			}
		}
	}
}

func (p *settingsPanel) layout(gtx ctx, s *shell) dims {
	th := s.theme
	part := func(title, note string, w layout.Widget) layout.Widget {
		return func(gtx ctx) dims {
			return layout.Inset{Bottom: theme.Gap}.Layout(gtx, func(gtx ctx) dims {
				return widgets.Column(gtx,
					layout.Rigid(widgets.Title(title).In(th)),
					layout.Rigid(widgets.Note(th, note).In(th)),
					widgets.Space(theme.Half),
					layout.Rigid(w))
			})
		}
	}
	var sizes, units []string
	size := 0
	for i, v := range model.TextScales {
		sizes = append(sizes, fmt.Sprintf("%.0f %%", v*100))
		if abs(v-s.prefs.TextScale) < abs(model.TextScales[size]-s.prefs.TextScale) {
			size = i
		}
	}
	for _, u := range model.AllUnits {
		units = append(units, string(u))
	}
	rows := []layout.Widget{
		func(gtx ctx) dims {
			return layout.Flex{Alignment: layout.Middle}.Layout(gtx,
				layout.Flexed(1, widgets.Text{Words: "Settings", Size: theme.Large, Weight: theme.Strong}.In(th)),
				layout.Rigid(func(gtx ctx) dims {
					return p.close.Layout(gtx, th, widgets.ButtonLook{Icon: widgets.IconClose, Label: "Close the settings", Rank: widgets.Quiet})
				}))
		},
		part("Colours", "The strong ones are for tired eyes and bright sun: all text stands out at 7 to 1 or more.", func(gtx ctx) dims {
			return p.look.Layout(gtx, th, "colours", lookTitles, slices.Index(theme.Looks(), s.theme.Name))
		}),
		part("Text", "Ctrl+plus and Ctrl+minus do the same.", func(gtx ctx) dims { return p.text.Layout(gtx, th, "text size", sizes, size) }),
		part("Pressure in", "Fields take any unit when it is typed behind the number.", func(gtx ctx) dims {
			return p.units.Layout(gtx, th, "pressure shown in", units, slices.Index(model.AllUnits, s.prefs.Units))
		}),
		part("Sound of air", soundNote(s.prefs.Sound), func(gtx ctx) dims {
			return p.sound.Layout(gtx, th, "sound of air", []string{"Off", "On"}, map[bool]int{true: 1}[s.prefs.Sound])
		}),
		part("Whose limits hold", "For this case, and for new ones. Where a state or province has none of its own, its country's hold.", func(gtx ctx) dims { return p.jurisdictions(gtx, s) }),
	}
	return p.scroll.Layout(gtx, th, rows)
}

// soundNote says what is heard, or when it is wanted and can't be, why not.
func soundNote(wanted bool) string {
	if err := sound.Available(); wanted && err != nil {
		return "Nothing can be heard: " + err.Error() + "."
	}
	return "In Flow, purges, exhausts and leaks are heard while time runs. The key is S."
}

// jurisdictions are one below the other: their names are long.
func (p *settingsPanel) jurisdictions(gtx ctx, s *shell) dims {
	th := s.theme
	now := model.DefaultJurisdiction
	switch {
	case s.session != nil:
		now = s.session.Jurisdiction()
	case s.prefs.Limits != "":
		now = s.prefs.Limits
	}
	var rows []layout.FlexChild
	for i, j := range circuit.Jurisdictions {
		if i >= len(p.limits) {
			break // drawn before it was first updated
		}
		rows = append(rows, layout.Rigid(func(gtx ctx) dims {
			return p.limits[i].Layout(gtx, th, "Limits of "+j, j == now, func(gtx ctx) dims {
				fill, edge := th.Card, th.Rule
				if j == now {
					fill, edge = theme.Mix(th.Card, th.Select, 0.14), th.Select
				}
				return widgets.Card(gtx, th, fill, edge, func(gtx ctx) dims {
					gtx.Constraints.Min.X = gtx.Constraints.Max.X
					return layout.Flex{Alignment: layout.Middle}.Layout(gtx,
						layout.Flexed(1, widgets.Words(model.SayJurisdiction(j)).In(th)),
						layout.Rigid(func(gtx ctx) dims {
							if j != now {
								return dims{}
							}
							return widgets.IconTick.Layout(gtx, th.Ink, 20)
						}))
				})
			})
		}), widgets.Space(theme.Half))
	}
	return layout.Flex{Axis: layout.Vertical}.Layout(gtx, rows...)
}
