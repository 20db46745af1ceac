package ui

import (
	"image"
	"slices"

	"gioui.org/io/event"
	"gioui.org/io/pointer"
	"gioui.org/layout"
	"gioui.org/op"
	"gioui.org/op/clip"
	"gioui.org/op/paint"

	"airpath/ui/drilling"
	"airpath/ui/flow"
	"airpath/ui/model"
	"airpath/ui/theme"
	"airpath/ui/tracing"
	"airpath/ui/widgets"
)

type (
	ctx  = layout.Context
	dims = layout.Dimensions
)

// A shell is everything in the window: the bar, a work area, and the panels over them. It knows no window, so that tests
// drive it without one.
type shell struct {
	opts  Options
	place model.Place
	prefs model.Preferences
	theme *theme.Theme
	wake  func()

	session *model.Session
	keeper  *model.Keeper
	chosen  bool // the suspect that the options ask for has been chosen

	keptRevision int        // of the session, that the keeper has
	failures     chan error // to keep the case
	area         *tracing.Area
	flow         *flow.Area     // nil until it is first shown for this vehicle
	drill        *drilling.Area // nil until it is first shown
	shown        int            // the work area, by its place in workAreas
	trouble      *trouble       // a file that can't be opened; nil when all is well
	notice       notice

	bar        topBar
	help       helpPanel
	opener     openPanel
	setter     settingsPanel
	papers     papersPanel
	errand     *errand // long work beside the window; nil when there is none
	stopErrand widgets.Button
	noteA      widgets.Button
	noteB      widgets.Button
	title      string // of the window
	keys       []event.Filter
	top        int // height of the bar and what is below it, in pixels
}

// newShell reads the preferences and opens what the options say. Wake asks for a new frame, from any goroutine.
func newShell(opts Options, wake func()) *shell {
	s := &shell{opts: opts, place: opts.place(), wake: wake, failures: make(chan error, 1), keys: shortcutFilters()}
	var err error
	if s.prefs, err = s.place.LoadPreferences(); err != nil {
		s.notice = notice{words: err.Error()}
	}
	if opts.Dark != nil {
		s.prefs.Look = theme.New(*opts.Dark, nil).Name
	}
	if opts.Curves {
		s.prefs.Curves = true
	}
	s.theme = theme.Named(s.prefs.Look, theme.NewShaper())
	s.shown = max(0, slices.IndexFunc(workAreas, func(a workArea) bool { return a.name == opts.Area }))
	s.start(opts.Path)
	return s
}

// savePrefs keeps the preferences and makes the theme follow them.
func (s *shell) savePrefs() {
	if th := theme.Named(s.prefs.Look, s.theme.Shaper); th.Name != s.theme.Name {
		s.theme = th
	}
	if s.session != nil {
		s.session.SpeakIn(s.prefs.Units)
	}
	if err := s.place.SavePreferences(s.prefs); err != nil {
		s.notice = notice{words: err.Error()}
	}
}

// Layout draws the whole window and handles what happened since the last frame.
func (s *shell) Layout(gtx ctx) dims {
	size := gtx.Constraints.Max
	scale := s.prefs.TextScale
	if scale > 0 {
		gtx.Metric.PxPerSp *= scale
	}
	if s.session != nil && s.session.Collect() && !s.chosen {
		s.chosen = s.area.Choose(s.opts.Suspect)
	}
	s.bar.update(gtx, s)
	s.updateNotice(gtx)
	s.help.update(gtx, s)
	s.opener.update(gtx, s)
	s.setter.update(gtx, s)
	s.papers.update(gtx, s)
	s.updateErrand(gtx)
	if s.trouble != nil {
		s.trouble.update(gtx, s)
	}
	paint.Fill(gtx.Ops, s.theme.Panel)

	work := gtx
	if s.panelOpen() {
		work = gtx.Disabled()
	}
	height := s.layoutTop(work, size)
	s.top = height
	main := image.Pt(size.X, max(0, size.Y-height))
	below := op.Offset(image.Pt(0, height)).Push(gtx.Ops)
	area := clip.Rect{Max: main}.Push(gtx.Ops)
	work.Constraints = layout.Exact(main)
	switch {
	case s.trouble != nil:
		s.trouble.layout(work, s)
	case s.session != nil:
		s.pane().Layout(work, tracing.Setting{Theme: s.theme, Prefs: &s.prefs, Saved: s.savePrefs})
	}
	area.Pop()
	below.Pop()
	if s.area != nil && s.area.AskedHowCold() {
		s.showPapers()
		s.papers.cold = true
	}

	if s.help.open {
		s.over(gtx, &s.help, s.help.layout)
	}
	if s.opener.open {
		s.over(gtx, &s.opener, s.opener.layout)
	}
	if s.setter.open {
		s.over(gtx, &s.setter, s.setter.layout)
	}
	if s.papers.open {
		s.over(gtx, &s.papers, s.papers.layout)
	}
	s.shortcuts(gtx)
	s.keep()
	return dims{Size: size}
}

// panelOpen says that a panel lies over everything.
func (s *shell) panelOpen() bool {
	return s.help.open || s.opener.open || s.setter.open || s.papers.open
}

// layoutTop draws the bar and, below it, what there is to say.
func (s *shell) layoutTop(gtx ctx, size image.Point) int {
	gtx.Constraints = layout.Constraints{Min: image.Pt(size.X, 0), Max: size}
	d := layout.Flex{Axis: layout.Vertical}.Layout(gtx,
		layout.Rigid(func(gtx ctx) dims { return s.bar.layout(gtx, s) }),
		layout.Rigid(func(gtx ctx) dims { return s.layoutNotice(gtx) }),
		layout.Rigid(func(gtx ctx) dims { return s.layoutErrand(gtx) }),
		layout.Rigid(func(gtx ctx) dims { return widgets.Rule(gtx, s.theme) }))
	return min(d.Size.Y, size.Y)
}

// over lays a panel over everything, with a veil that takes the pointer away from what is below.
func (s *shell) over(gtx ctx, tag any, panel func(ctx, *shell) dims) {
	size := gtx.Constraints.Max
	th := s.theme
	defer clip.Rect{Max: size}.Push(gtx.Ops).Pop()
	veil := th.Ink
	if th.Dark {
		veil = th.Sunk
	}
	veil.A = 0x70
	paint.Fill(gtx.Ops, veil)
	event.Op(gtx.Ops, tag)
	for {
		ev, ok := gtx.Event(pointer.Filter{Target: tag, Kinds: pointer.Press | pointer.Scroll, ScrollY: pointer.ScrollRange{Min: -1 << 20, Max: 1 << 20}})
		if !ok {
			break
		}
		_ = ev
	}
	margin := gtx.Dp(theme.Gap)
	width, height := min(gtx.Dp(620), size.X-2*margin), size.Y-2*margin
	if width <= 0 || height <= 0 {
		return
	}
	g := gtx
	g.Constraints = layout.Constraints{Min: image.Pt(width, 0), Max: image.Pt(width, height)}
	m := op.Record(gtx.Ops)
	d := layout.UniformInset(theme.Gap).Layout(g, func(gtx ctx) dims {
		gtx.Constraints.Min.Y = 0
		return panel(gtx, s)
	})
	call := m.Stop()
	defer op.Offset(image.Pt((size.X-width)/2, max(margin, (size.Y-d.Size.Y)/3))).Push(gtx.Ops).Pop()
	widgets.Box(gtx, image.Pt(width, d.Size.Y), th.Panel, th.Edge, 1)
	call.Add(gtx.Ops)
}

// close stops the background work and sees that everything is kept.
func (s *shell) close() {
	if s.drill != nil {
		s.drill.Close()
	}
	s.clear()
}

// clear the bench: its background work stops, and its case is kept.
func (s *shell) clear() {
	if s.session != nil {
		s.session.Close()
	}
	if s.keeper != nil {
		s.keeper.Close()
	}
	if s.flow != nil {
		s.flow.Close()
		s.flow = nil
	}
}
