package ui

import (
	"slices"

	"gioui.org/io/event"
	"gioui.org/io/key"
	"gioui.org/op"

	"airpath/ui/drilling"
	"airpath/ui/flow"
	"airpath/ui/model"
)

// A shortcut is a key for the whole window.
type shortcut struct {
	name  key.Name
	with  key.Modifiers
	plain bool // a bare key: not while text is being typed
	in    int  // the work area where it holds, one more than its number; 0 for all of them
	keys  string
	does  string
	run   func(*shell, ctx)
}

// shortcutTable lists them as the help panel shows them. Those without a name are handled by what has the keyboard.
var shortcutTable = []shortcut{
	{name: "Z", with: key.ModShortcut, keys: "Ctrl+Z", does: "Undo", run: func(s *shell, _ ctx) { s.undo() }},
	{name: "Z", with: key.ModShortcut | key.ModShift, keys: "Ctrl+Shift+Z, Ctrl+Y", does: "Redo", run: func(s *shell, _ ctx) { s.redo() }},
	{name: "Y", with: key.ModShortcut, run: func(s *shell, _ ctx) { s.redo() }},
	{name: "O", with: key.ModShortcut, keys: "Ctrl+O", does: "Open your vehicle or a case", run: func(s *shell, _ ctx) { s.opener.show() }},
	{name: "S", with: key.ModShortcut, keys: "Ctrl+S", does: "Save the case", run: func(s *shell, _ ctx) { s.save() }},
	{keys: "Tab, Shift+Tab", does: "Go from control to control"},
	{keys: "Return, Space", does: "Press what has the ring"},
	{name: "M", plain: true, keys: "M", does: "Go to the sheet", run: func(s *shell, gtx ctx) { s.onPane(func(p pane) { p.FocusSheet(gtx) }) }},
	{keys: "Arrows", does: "On the sheet: go from part to part; Return opens the part's card"},
	{keys: "Shift+arrows", does: "On the sheet: move it"},
	{name: "+", plain: true, keys: "+", does: "Zoom in", run: func(s *shell, _ ctx) { s.onPane(func(p pane) { p.Zoom(1.25) }) }},
	{name: "=", plain: true, run: func(s *shell, _ ctx) { s.onPane(func(p pane) { p.Zoom(1.25) }) }},
	{name: "-", plain: true, keys: "–", does: "Zoom out", run: func(s *shell, _ ctx) { s.onPane(func(p pane) { p.Zoom(1 / 1.25) }) }},
	{name: "0", plain: true, keys: "0", does: "Fit the whole sheet", run: func(s *shell, _ ctx) { s.onPane(pane.FitSheet) }},
	{name: "J", plain: true, in: traceKeys, keys: "J", does: "Next suspect: light its path", run: func(s *shell, _ ctx) { s.onArea(func() { s.area.NextSuspect(1) }) }},
	{name: "K", plain: true, in: traceKeys, keys: "K", does: "Suspect before", run: func(s *shell, _ ctx) { s.onArea(func() { s.area.NextSuspect(-1) }) }},
	{name: "N", plain: true, in: traceKeys, keys: "N", does: "Do the next test", run: func(s *shell, _ ctx) { s.onArea(func() { s.area.DoNext() }) }},
	{name: "P", plain: true, in: flowKeys, keys: "P", does: "Let time run, or stand", run: onFlow(func(a *flow.Area) { a.Play(!a.Playing()) })},
	{name: ".", plain: true, in: flowKeys, keys: ", and .", does: "A second back, a second on", run: onFlow(func(a *flow.Area) { a.Step(1) })},
	{name: ",", plain: true, in: flowKeys, run: onFlow(func(a *flow.Area) { a.Step(-1) })},
	{name: "[", plain: true, in: flowKeys, keys: "[ and ]", does: "Time slower, faster", run: onFlow(func(a *flow.Area) { a.Faster(-1) })},
	{name: "]", plain: true, in: flowKeys, run: onFlow(func(a *flow.Area) { a.Faster(1) })},
	{name: "E", plain: true, in: flowKeys, keys: "E", does: "Ignition: key, idle, rated speed, off", run: onFlow((*flow.Area).Ignite)},
	{name: "B", plain: true, in: flowKeys, keys: "B", does: "Brake: pedal down as far as it was last, or up", run: onFlow((*flow.Area).Press)},
	{name: "W", plain: true, in: flowKeys, keys: "W", does: "Guided walks: Tab to one, Return begins it", run: onFlow((*flow.Area).ShowWalks)},
	{name: "G", plain: true, in: flowKeys, keys: "G, N", does: "In a walk: do what the step says; next step", run: onFlow((*flow.Area).DoStep)},
	{name: "N", plain: true, in: flowKeys, run: onFlow(func(a *flow.Area) { a.NextStep(1) })},
	{name: "I", plain: true, in: flowKeys, keys: "I, F, H", does: "What is this; faults; weather and water", run: onFlow(func(a *flow.Area) { a.Show("Part") })},
	{name: "F", plain: true, in: flowKeys, run: onFlow(func(a *flow.Area) { a.Show("Faults") })},
	{name: "H", plain: true, in: flowKeys, run: onFlow(func(a *flow.Area) { a.Show("Water") })},
	{name: "N", plain: true, in: drillKeys, keys: "N", does: "Choose the next test of the exercise", run: onDrill((*drilling.Area).ChooseTest)},
	{name: "S", plain: true, in: flowKeys, keys: "S", does: "Sound of air on or off", run: func(s *shell, _ ctx) { s.prefs.Sound = !s.prefs.Sound; s.savePrefs() }},
	{keys: "1 to 9", in: flowKeys, does: "Work the first, second … control on the dash"},
	{name: "C", plain: true, keys: "C", does: "Curves up or away", run: func(s *shell, _ ctx) { s.prefs.Curves = !s.prefs.Curves; s.savePrefs() }},
	{name: "U", plain: true, keys: "U", does: "psi, bar, kPa", run: func(s *shell, _ ctx) { s.nextUnits() }},
	{name: "D", plain: true, keys: "D", does: "Light or dark colours", run: func(s *shell, _ ctx) { s.turnLook() }},
	{name: "+", with: key.ModShortcut, keys: "Ctrl+plus, Ctrl+minus", does: "Larger or smaller text", run: func(s *shell, _ ctx) { s.stepText(1) }},
	{name: "=", with: key.ModShortcut, run: func(s *shell, _ ctx) { s.stepText(1) }},
	{name: "-", with: key.ModShortcut, run: func(s *shell, _ ctx) { s.stepText(-1) }},
	{name: "P", with: key.ModShortcut, in: traceKeys, keys: "Ctrl+P", does: "On paper: the work record, a chart", run: func(s *shell, _ ctx) { s.showPapers() }},
	{name: "H", plain: true, in: traceKeys, keys: "H", does: "The whole path so far", run: func(s *shell, _ ctx) { s.onArea(s.area.ShowPath) }},
	{name: ",", with: key.ModShortcut, keys: "Ctrl+comma", does: "Settings: colours, text, units, limits", run: func(s *shell, _ ctx) { s.setter.open = true }},
	{name: key.NameEscape, keys: "Esc", does: "Close the card or panel on top", run: func(s *shell, gtx ctx) { s.escape(gtx) }},
	{name: "?", plain: true, keys: "?, F1", does: "This list", run: func(s *shell, _ ctx) { s.help.open = !s.help.open }},
	{name: key.NameF1, run: func(s *shell, _ ctx) { s.help.open = !s.help.open }},
}

// init adds a key for each work area, and the digits: in Flow each works one control on the dash.
func init() {
	for i, a := range workAreas {
		digit := '1' + rune(i)
		shortcutTable = append(shortcutTable, shortcut{
			name: key.Name(digit), with: key.ModShortcut, keys: "Ctrl+" + string(digit), does: a.name + ": " + a.does, run: func(s *shell, _ ctx) { s.showArea(i) },
		})
	}
	for n := 1; n <= 9; n++ {
		shortcutTable = append(shortcutTable, shortcut{name: key.Name('0' + rune(n)), plain: true, in: flowKeys, run: onFlow(func(a *flow.Area) { a.Work(n) })})
	}
}

func (s *shell) onArea(do func()) {
	if s.area != nil && s.trouble == nil {
		do()
	}
}

// shortcutFilters asks for every key of the table at once, so that keys are handled in the order in which they were
// pressed even where several come in one frame.
func shortcutFilters() []event.Filter {
	var out []event.Filter
	for _, c := range shortcutTable {
		if c.name != "" {
			out = append(out, c.filter())
		}
	}
	return out
}

func (c *shortcut) filter() key.Filter {
	f := key.Filter{Name: c.name, Required: c.with}
	if c.plain {
		f.Optional = key.ModShift // "+" and "?" need it on many keyboards
	}
	return f
}

func (c *shortcut) fits(e key.Event) bool {
	f := c.filter()
	return c.run != nil && e.Name == f.Name && e.Modifiers&f.Required == f.Required && e.Modifiers&^(f.Required|f.Optional) == 0
}

// shortcuts handles the window's keys. It comes after everything else was laid out: who asks first gets a key, and a field
// being typed in must keep its own undo. Bare keys are asked for even while someone is typing, and dropped then: a key that
// nobody asked for in one frame is lost to the next.
func (s *shell) shortcuts(gtx ctx) {
	for {
		ev, ok := gtx.Event(s.keys...)
		if !ok {
			return
		}
		e, isKey := ev.(key.Event)
		if !isKey || e.State != key.Press {
			continue
		}
		i := slices.IndexFunc(shortcutTable, func(c shortcut) bool { return c.fits(e) && s.holds(c.in) })
		if i < 0 {
			continue
		}
		c := &shortcutTable[i]
		typing := s.opener.typing(gtx) || s.papers.typing(gtx)
		s.onPane(func(p pane) { typing = typing || p.Typing(gtx) })
		if c.plain && (typing || s.panelOpen() && c.name != "?") {
			continue
		}
		c.run(s, gtx)
		gtx.Execute(op.InvalidateCmd{}) // all of this frame has been laid out already: what was done shows in the next
	}
}

// escape closes what is on top.
func (s *shell) escape(gtx ctx) {
	switch {
	case s.help.open:
		s.help.open = false
	case s.opener.open:
		s.opener.open = false
	case s.setter.open:
		s.setter.open = false
	case s.papers.open:
		s.papers.putAway(s)
	default:
		s.onPane(func(p pane) { p.Escape(gtx) })
	}
}

func (s *shell) undo() { s.onPane(pane.Undo) }

func (s *shell) redo() { s.onPane(pane.Redo) }

// nextUnits goes from psi to bar to kPa and around.
func (s *shell) nextUnits() {
	i := slices.Index(model.AllUnits, s.prefs.Units)
	s.prefs.Units = model.AllUnits[(i+1)%len(model.AllUnits)]
	s.savePrefs()
}
