package tracing

import (
	"fmt"
	"slices"
	"strings"

	"gioui.org/layout"

	"airpath/ui/model"
	"airpath/ui/theme"
	"airpath/ui/widgets"
)

// canBePart is the middle of the column: what it can be. Suspects by rank, groups that can't be told apart, what was
// cleared and by what.
type canBePart struct {
	suspects  map[string]*suspectControls
	stop      widgets.Button
	again     widgets.Button
	more      widgets.Button
	all       bool
	differ    widgets.Button
	differing bool // every place is told where paths and numbers differ
	cleared   widgets.Button
	open      bool
	reveal    bool // the chosen suspect is to be brought into sight
	fresh     bool // a test has been entered: what it comes to is to be brought into sight
	chosenAt  int  // its row, counted from the first of this part; -1 where it is not shown
}

type suspectControls struct {
	press   widgets.Press
	paired  widgets.Press // in the card of two faults at once
	curves  widgets.Button
	mend    widgets.Button
	sized   *model.Suspect // what size is of
	sizedIn model.Units
	size    string
}

// few is how many ranks are shown before asking for more; less than this share is left to the rest.
const (
	few       = 6
	leastShow = 0.01
)

func (c *canBePart) controls(key string) *suspectControls {
	if c.suspects == nil {
		c.suspects = map[string]*suspectControls{}
	}
	k, ok := c.suspects[key]
	if !ok {
		k = &suspectControls{}
		c.suspects[key] = k
	}
	return k
}

func (c *canBePart) update(gtx ctx, a *Area) {
	s := a.session
	if c.stop.Clicked(gtx) {
		s.StopWorking()
	}
	if c.again.Clicked(gtx) {
		s.AskAgain()
	}
	if c.more.Clicked(gtx) {
		c.all = !c.all
	}
	if c.differ.Clicked(gtx) {
		c.differing = !c.differing
	}
	if c.cleared.Clicked(gtx) {
		c.open = !c.open
	}
	answer, _ := s.Answer()
	if answer == nil {
		return
	}
	for i := range answer.Suspects {
		x := &answer.Suspects[i]
		k := c.controls(x.Key)
		if k.press.Clicked(gtx) || k.paired.Clicked(gtx) {
			a.choose(x)
		}
		if k.mend.Clicked(gtx) {
			a.mend(x)
		}
		if k.curves.Clicked(gtx) {
			a.set.Prefs.Curves = true
			a.set.Saved()
		}
	}
}

func (c *canBePart) rows(a *Area) []layout.Widget {
	th, s := a.set.Theme, a.session
	answer, current := s.Answer()
	work := s.Working()
	rows := []layout.Widget{head(th, "What it can be", nil)}
	rows = append(rows, c.state(a, work, answer, current)...)
	if answer == nil {
		return rows
	}
	if len(s.Case().Findings) == 0 {
		return append(rows, inset(widgets.Note(th, "Nothing is marked yet, so it can be anything. Mark what is wrong first, or begin with the test below.").In(th)))
	}
	if len(answer.Suspects) > 0 {
		rows = append(rows, a.hint(1, "Choose a suspect to light its path on the sheet.")...)
	}
	two := togetherOf(answer)
	if two.leads() {
		rows = append(rows, inset(func(gtx ctx) dims { return c.together(gtx, a, two) }))
	}
	ranks := answer.Ranks()
	shown := len(ranks)
	if !c.all {
		for shown = 0; shown < len(ranks) && shown < few && (ranks[shown].Probability >= leastShow || shown == 0); shown++ {
		}
	}
	c.chosenAt = -1
	seen := 0
	for _, r := range ranks[:shown] {
		show := c.visible(answer, r)
		seen += len(show)
		if i := slices.IndexFunc(show, func(i int) bool { return &answer.Suspects[i] == s.Selected() }); i >= 0 {
			c.chosenAt = len(rows) + i
			if len(show) > 1 {
				c.chosenAt++ // after the heading of the group
			}
		}
		rows = append(rows, c.rank(a, answer, r, show)...)
	}
	if rest := len(answer.Suspects) - seen; rest > 0 || c.all && len(answer.Suspects) > few {
		rows = append(rows, inset(func(gtx ctx) dims { return c.moreButton(gtx, a, rest) }))
	}
	if !two.leads() {
		rows = append(rows, pairRows(th, answer)...)
	}
	rows = append(rows, c.disagreements(a, answer)...)
	rows = append(rows, small(th, "Something else", answer.Else), small(th, "Nothing is wrong after all", answer.NoFault))
	rows = append(rows, c.clearedRows(a, answer)...)
	return rows
}

// small is a line for what is no part: a name and its share.
func small(th *theme.Theme, words string, share float64) layout.Widget {
	return func(gtx ctx) dims {
		return layout.Inset{Right: 18, Left: 10, Bottom: 4}.Layout(gtx, func(gtx ctx) dims {
			return layout.Flex{}.Layout(gtx,
				layout.Flexed(1, widgets.Note(th, words).In(th)),
				layout.Rigid(widgets.Text{Words: model.Percent(share), Size: theme.Small, Weight: theme.Strong, Color: th.Soft}.In(th)))
		})
	}
}

// state tells how the answer stands: being worked out, stopped, failed, or that nothing fits.
func (c *canBePart) state(a *Area, work model.Progress, answer *model.Answer, current bool) []layout.Widget {
	th := a.set.Theme
	var rows []layout.Widget
	rough := answer != nil && answer.Rough
	switch {
	case work.Running:
		rows = append(rows, inset(func(gtx ctx) dims { return c.working(gtx, a, work, answer) }))
	case work.Err != nil:
		words := "The findings could not be weighed: " + work.Err.Error() + "."
		if answer != nil {
			words += " What follows belongs to earlier findings."
		}
		rows = append(rows, inset(func(gtx ctx) dims { return widgets.Notice(gtx, th, widgets.Trouble, words) }),
			inset(func(gtx ctx) dims { return c.again.Layout(gtx, th, widgets.ButtonLook{Words: "Try again"}) }))
	case work.Stopped:
		words := "Stopped. Nothing has been weighed yet."
		switch {
		case work.Early && rough:
			words = "Stopped after a first look by mild, typical and severe faults; those in between have not been tried, nor what to do next worked out."
		case work.Early:
			words = "Stopped. The findings have been weighed; what to do next has not been worked out."
		case answer != nil:
			words = "Stopped. What follows belongs to earlier findings."
		}
		rows = append(rows, inset(func(gtx ctx) dims { return c.halted(gtx, th, words) }))
	}
	if answer == nil || !current || len(a.session.Case().Findings) == 0 {
		return rows
	}
	if len(answer.Unexplained) > 0 {
		words := []string{"Nothing listed explains this:"}
		for _, u := range answer.Unexplained {
			words = append(words, "·  "+u.Words)
		}
		words = append(words, "Read it once more, or look for a second fault.")
		rows = append(rows, inset(func(gtx ctx) dims { return widgets.Notice(gtx, th, widgets.Trouble, strings.Join(words, "\n")) }))
	}
	if len(answer.Suspects) == 0 && len(answer.Unexplained) == 0 {
		rows = append(rows, inset(func(gtx ctx) dims {
			return widgets.Notice(gtx, th, widgets.Trouble, "Every part is cleared by what was found. Either the vehicle is in order, or a reading is wrong: take the one that surprised you again.")
		}))
	}
	return rows
}

// disagreements between paths and numbers: the first, and the others on asking.
func (c *canBePart) disagreements(a *Area, answer *model.Answer) []layout.Widget {
	th := a.set.Theme
	list := answer.Disagree
	if len(list) > 1 && !c.differing {
		list = list[:1]
	}
	var rows []layout.Widget
	for _, d := range list {
		rows = append(rows, inset(func(gtx ctx) dims { return widgets.Notice(gtx, th, widgets.Hint, d) }))
	}
	if rest := len(answer.Disagree) - 1; rest > 0 {
		look := widgets.ButtonLook{Words: fmt.Sprintf("%d more where paths and numbers differ", rest), Icon: widgets.IconDown, Rank: widgets.Quiet}
		if c.differing {
			look = widgets.ButtonLook{Words: "Only the first of them", Icon: widgets.IconUp, Rank: widgets.Quiet}
		}
		rows = append(rows, inset(func(gtx ctx) dims { return c.differ.Layout(gtx, th, look) }))
	}
	return rows
}

// halted says that the weighing was cancelled, with the way to go on.
func (c *canBePart) halted(gtx ctx, th *theme.Theme, words string) dims {
	return widgets.Card(gtx, th, th.Card, th.Rule, func(gtx ctx) dims {
		return layout.Flex{Alignment: layout.Middle}.Layout(gtx,
			layout.Flexed(1, widgets.Text{Words: words, Size: theme.Small}.In(th)),
			widgets.Space(theme.Step),
			layout.Rigid(func(gtx ctx) dims { return c.again.Layout(gtx, th, widgets.ButtonLook{Words: "Go on weighing"}) }))
	})
}

func (c *canBePart) working(gtx ctx, a *Area, work model.Progress, answer *model.Answer) dims {
	th := a.set.Theme
	words := "Weighing the faults"
	share := 0.0
	if work.Total > 0 {
		words = "Trying each fault on this vehicle"
		switch {
		case work.Early && answer != nil && answer.Rough: // it may have been told of since the answer was taken in
			words = "A first look, by mild, typical and severe faults. Trying those in between"
		case work.Early:
			words = "Trying the suspects in every test, for what to do next"
		}
		words += fmt.Sprintf(": %d of %d", work.Done, work.Total)
		share = float64(work.Done) / float64(work.Total)
	}
	if answer != nil && !work.Early {
		words += ". What follows belongs to earlier findings."
	}
	return widgets.Card(gtx, th, th.Card, th.Rule, func(gtx ctx) dims {
		return layout.Flex{Alignment: layout.Middle}.Layout(gtx,
			layout.Flexed(1, func(gtx ctx) dims {
				return widgets.Column(gtx,
					layout.Rigid(widgets.Text{Words: words, Size: theme.Small}.In(th)),
					widgets.Space(6),
					layout.Rigid(func(gtx ctx) dims { return widgets.Bar(gtx, th, share, th.Accent, 6) }))
			}),
			widgets.Space(theme.Step),
			layout.Rigid(func(gtx ctx) dims {
				return c.stop.Layout(gtx, th, widgets.ButtonLook{Words: "Cancel", Label: "Cancel weighing"})
			}))
	})
}

// visible are the suspects of a row that are worth showing: all when asked for, else the likely ones, and always the only
// one of its row.
func (c *canBePart) visible(answer *model.Answer, r model.Rank) []int {
	if c.all || len(r.Suspects) == 1 {
		return r.Suspects
	}
	var out []int
	for _, i := range r.Suspects {
		if answer.Suspects[i].Probability >= leastShow {
			out = append(out, i)
		}
	}
	return out
}

func (c *canBePart) moreButton(gtx ctx, a *Area, rest int) dims {
	look := widgets.ButtonLook{Words: "Show fewer", Icon: widgets.IconUp, Rank: widgets.Quiet}
	if rest > 0 {
		look = widgets.ButtonLook{Words: fmt.Sprintf("Show %d that are less likely", rest), Icon: widgets.IconDown, Rank: widgets.Quiet}
	}
	return c.more.Layout(gtx, a.set.Theme, look)
}

// clearedRows lists what is ruled out, by the finding that did it.
func (c *canBePart) clearedRows(a *Area, answer *model.Answer) []layout.Widget {
	if len(answer.Cleared) == 0 {
		return nil
	}
	th := a.set.Theme
	look := widgets.ButtonLook{Words: fmt.Sprintf("%d faults cleared: see by what", len(answer.Cleared)), Icon: widgets.IconTick, Rank: widgets.Quiet}
	if c.open {
		look.Words = fmt.Sprintf("%d faults cleared", len(answer.Cleared))
	}
	rows := []layout.Widget{inset(func(gtx ctx) dims { return c.cleared.Layout(gtx, th, look) })}
	if !c.open {
		return rows
	}
	for _, g := range answer.ClearedGroups() {
		rows = append(rows, inset(func(gtx ctx) dims {
			names := make([]string, len(g.Faults))
			for i, f := range g.Faults {
				names[i] = a.session.PlaceName(f.Target) + ": " + f.Mode
			}
			return widgets.Column(gtx,
				layout.Rigid(widgets.Text{Words: upper(g.Because), Size: theme.Small, Weight: theme.Strong}.In(th)),
				layout.Rigid(widgets.Text{Words: strings.Join(names, " · "), Size: theme.Small, Color: th.Cleared}.In(th)))
		}))
	}
	return rows
}
