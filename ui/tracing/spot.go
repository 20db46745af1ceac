package tracing

import (
	"cmp"
	"image"
	"slices"
	"strings"

	"gioui.org/io/event"
	"gioui.org/io/key"
	"gioui.org/io/pointer"
	"gioui.org/layout"
	"gioui.org/op"
	"gioui.org/op/clip"

	"airpath/circuit/airflow/procedure"
	"airpath/ui/model"
	"airpath/ui/theme"
	"airpath/ui/widgets"
)

// A spot is the small card at a part of the sheet: what is believed of it, and what can be marked there.
type spot struct {
	place   string // as it was picked: "dryer.3"
	target  string // component or line
	entries []*entry
	fresh   bool // the keyboard goes to it in the next frame

	why      bool // what is believed of the part is explained
	asked    widgets.Button
	close    widgets.Button
	suspects map[string]*widgets.Press
	open     map[string]*widgets.Button // procedures, by id
	scroll   widgets.Scroll
	at       image.Rectangle // of the part, in the sheet's pixels
}

// openSpot opens the card of a place.
func (a *Area) openSpot(place string) {
	target := model.ComponentOf(place)
	s := &spot{place: place, target: target, fresh: true, suspects: map[string]*widgets.Press{}, open: map[string]*widgets.Button{}}
	for _, p := range a.session.Procedures() {
		if a.lesson != nil {
			break // what is read is the exercise's to say
		}
		for i := range p.Readings {
			if r := &p.Readings[i]; isAt(p, r, target) {
				s.entries = append(s.entries, newEntry(a.session, a.set.units(), p, r))
			}
		}
	}
	// what is read exactly where the person pointed comes first, and of that what takes no gauge to be fitted
	slices.SortStableFunc(s.entries, func(x, y *entry) int {
		return cmp.Or(rankAt(x.reading, place)-rankAt(y.reading, place), fitted(x.reading)-fitted(y.reading))
	})
	a.spot = s
}

func rankAt(r *procedure.Reading, place string) int {
	if r.Place == place || r.Place == "" {
		return 0
	}
	return 1
}

// fitted is 1 for what is read off a gauge that has to be brought: the dash gauges are read at their own place.
func fitted(r *procedure.Reading) int {
	if r.Sense == procedure.Needle && r.Gauge == "" {
		return 1
	}
	return 0
}

// isAt reports whether a reading is taken at a part. One without a place, such as a time on the slower needle, is taken at
// every gauge that its procedure reads.
func isAt(p *procedure.Procedure, r *procedure.Reading, target string) bool {
	if model.ComponentOf(r.Place) == target || r.Gauge == target {
		return true
	}
	if r.Place == "" && r.Gauge == "" {
		for i := range p.Readings {
			if p.Readings[i].Gauge == target {
				return true
			}
		}
	}
	for _, also := range r.Also {
		if model.ComponentOf(also) == target {
			return true
		}
	}
	return false
}

func (s *spot) update(gtx ctx, a *Area) {
	for {
		_, ok := gtx.Event(pointer.Filter{Target: s, Kinds: pointer.Press | pointer.Release | pointer.Scroll,
			ScrollY: pointer.ScrollRange{Min: -1 << 20, Max: 1 << 20}})
		if !ok {
			break
		}
	}
	if s.fresh {
		s.fresh = false
		gtx.Execute(key.FocusCmd{Tag: &s.close.Clickable})
	}
	if s.close.Clicked(gtx) {
		a.closeSpot(gtx)
		return
	}
	if s.asked.Clicked(gtx) {
		s.why = !s.why
	}
	for _, e := range s.entries {
		submitted, chosen := e.update(gtx)
		if submitted || chosen {
			s.mark(a, e)
		}
		if b := s.open[e.procedure.ID]; b != nil && b.Clicked(gtx) {
			a.carryOut(e.procedure.ID)
			return
		}
	}
	for _, x := range a.session.Standing(s.target).Suspects {
		if p := s.suspects[x.Key]; p != nil && p.Clicked(gtx) {
			a.choose(&x)
		}
	}
}

// closeSpot puts the card away and gives the keyboard back to the sheet.
func (a *Area) closeSpot(gtx ctx) {
	a.spot = nil
	a.sheet.focus(gtx)
}

// mark records one entry of the card at once, or clears it.
func (s *spot) mark(a *Area, e *entry) {
	if !e.filled() {
		if e.held != "" {
			a.session.Remove(e.held)
		}
		e.load(a.session, a.set.units())
		return
	}
	f, err := e.finding(a.set.units())
	if err == nil {
		err = a.session.Enter(f)
	}
	if err != nil {
		e.bad = err.Error()
		return
	}
	e.load(a.session, a.set.units())
}

const spotWidth = 340

// layout draws the card beside its part, wherever there is room in the sheet.
func (s *spot) layout(gtx ctx, a *Area) {
	th := a.set.Theme
	area := gtx.Constraints.Max
	margin := gtx.Dp(theme.Step)
	width := min(gtx.Dp(spotWidth), area.X-2*margin)
	height := min(gtx.Dp(460), area.Y-2*margin)
	if width < gtx.Dp(120) || height < gtx.Dp(80) {
		return
	}
	m := op.Record(gtx.Ops)
	g := gtx
	g.Constraints = layout.Constraints{Min: image.Pt(width, 0), Max: image.Pt(width, height)}
	d := s.card(g, a)
	call := m.Stop()
	where := beside(s.at, d.Size, area, margin)
	defer op.Offset(where).Push(gtx.Ops).Pop()
	defer clip.Rect{Max: d.Size}.Push(gtx.Ops).Pop()
	event.Op(gtx.Ops, s)
	widgets.Box(gtx, d.Size, th.Panel, th.Select, 2)
	call.Add(gtx.Ops)
}

// beside finds a place for a card next to a part: right of it, left of it, below, or wherever it fits.
func beside(part image.Rectangle, card, area image.Point, margin int) image.Point {
	y := min(max((part.Min.Y+part.Max.Y-card.Y)/2, margin), max(area.Y-card.Y-margin, margin))
	if x := part.Max.X + margin; x+card.X+margin <= area.X {
		return image.Pt(x, y)
	}
	if x := part.Min.X - margin - card.X; x >= margin {
		return image.Pt(x, y)
	}
	x := min(max((part.Min.X+part.Max.X-card.X)/2, margin), max(area.X-card.X-margin, margin))
	if y := part.Max.Y + margin; y+card.Y+margin <= area.Y {
		return image.Pt(x, y)
	}
	return image.Pt(x, max(margin, min(part.Min.Y-margin-card.Y, area.Y-card.Y-margin)))
}

func (s *spot) card(gtx ctx, a *Area) dims {
	th := a.set.Theme
	return layout.Inset{Left: 12, Right: 4, Top: 4, Bottom: theme.Step}.Layout(gtx, func(gtx ctx) dims {
		gtx.Constraints.Min.Y = 0
		return layout.Flex{Axis: layout.Vertical}.Layout(gtx,
			layout.Rigid(func(gtx ctx) dims {
				return layout.Flex{Alignment: layout.Middle}.Layout(gtx,
					layout.Flexed(1, func(gtx ctx) dims {
						return widgets.Column(gtx,
							layout.Rigid(widgets.Text{Words: upper(a.session.PlaceName(s.target)), Weight: theme.Strong, Lines: 2}.In(th)),
							layout.Rigid(widgets.Note(th, s.whatItIs(a)).In(th)))
					}),
					layout.Rigid(func(gtx ctx) dims {
						return s.close.Layout(gtx, th, widgets.ButtonLook{Icon: widgets.IconClose, Label: "Close the card", Rank: widgets.Quiet})
					}))
			}),
			layout.Rigid(func(gtx ctx) dims { return s.scroll.Layout(gtx, th, s.rows(a)) }))
	})
}

// whatItIs names the kind and where it sits.
func (s *spot) whatItIs(a *Area) string {
	for _, c := range a.session.Circuit.Components {
		if c.ID == s.target {
			if c.Kind.Title == c.Name {
				return c.Place
			}
			return c.Kind.Title + ", " + c.Place
		}
	}
	for _, l := range a.session.Circuit.Lines {
		if l.ID == s.target {
			return string(l.Type) + " from the " + a.session.PlaceName(l.From.Component) + " to the " + a.session.PlaceName(l.To.Component)
		}
	}
	return ""
}

func (s *spot) rows(a *Area) []layout.Widget {
	th := a.set.Theme
	var rows []layout.Widget
	if a.hinted() {
		rows = append(rows, s.standing(a)...)
	}
	if a.lesson != nil {
		return append(rows, a.lesson.PartRows(a, s.target)...)
	}
	last := ""
	for _, e := range s.entries {
		title := e.reading.Title
		if e.yesNo() {
			title = placed(a, e.reading)
		}
		if e.procedure.ID != last {
			last = e.procedure.ID
			rows = append(rows, s.group(a, e.procedure))
		}
		rows = append(rows, inset(func(gtx ctx) dims { return e.layout(gtx, a, upper(title), true) }))
	}
	if len(s.entries) == 0 {
		rows = append(rows, inset(widgets.Note(th, "Nothing is read here in any listed test.").In(th)))
	}
	return rows
}

// placed is what a yes or no is about.
func placed(a *Area, r *procedure.Reading) string {
	place := a.session.PlaceName(r.Place)
	if place == "" || strings.Contains(strings.ToLower(r.Title), strings.ToLower(place)) {
		return r.Title
	}
	return place
}

// group heads the readings of one procedure: in which state of the controls they are taken.
func (s *spot) group(a *Area, p *procedure.Procedure) layout.Widget {
	th := a.set.Theme
	b, ok := s.open[p.ID]
	if !ok {
		b = &widgets.Button{}
		s.open[p.ID] = b
	}
	return func(gtx ctx) dims {
		return layout.Inset{Top: 4, Right: theme.Step}.Layout(gtx, func(gtx ctx) dims {
			return layout.Flex{Alignment: layout.Middle}.Layout(gtx,
				layout.Flexed(1, func(gtx ctx) dims {
					return widgets.Column(gtx,
						layout.Rigid(widgets.Text{Words: p.Title, Size: theme.Small, Weight: theme.Strong, Lines: 2}.In(th)),
						layout.Rigid(widgets.Text{Words: model.SayState(p.State), Size: theme.Small, Color: th.Soft, Lines: 2}.In(th)))
				}),
				layout.Rigid(func(gtx ctx) dims {
					return b.Layout(gtx, th, widgets.ButtonLook{Words: "How", Label: "How to do it: " + p.Title, Rank: widgets.Quiet, Small: true})
				}))
		})
	}
}

func upper(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
