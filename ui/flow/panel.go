package flow

import (
	"image"
	"time"

	"gioui.org/layout"

	"airpath/circuit/airflow/explain"
	"airpath/ui/theme"
	"airpath/ui/widgets"
)

// panel is the column beside the sheet: what a part is and does, walks, faults, water. Its words follow the vehicle a few
// times a second, and its rows are made anew only when they do.
type panel struct {
	pages  widgets.Choice
	page   int
	part   string // component or line that is looked at
	book   *explain.Book
	scroll [4]widgets.Scroll

	rows []layout.Widget
	key  rowsKey
	at   time.Time
	did  time.Time // when the last deed was seen
	news string

	about  partPart
	walks  walkPart
	faults faultPart
	water  waterPart
}

// rowsKey is what the rows follow from.
type rowsKey struct {
	page    int
	part    string
	seq     uint64
	did     uint64
	unit    string
	dark    bool
	version int // of what is chosen inside a page
	hints   bool
}

// Pages of the panel.
const (
	partPage = iota
	walkPage
	faultPage
	waterPage
)

var pageNames = []string{"Part", "Walks", "Faults", "Water"}

// How often words follow the vehicle while time runs. A deed is told of at once, and closely while it takes its course.
const (
	wordsEvery = 400 * time.Millisecond
	wordsSoon  = 100 * time.Millisecond
	course     = time.Second
)

// waits tells that the words stand as they are for now.
func (p *panel) waits(now time.Time) bool {
	every := wordsEvery
	if now.Sub(p.did) < course {
		every = wordsSoon
	}
	return now.Sub(p.at) < every && !now.Before(p.at)
}

func (p *panel) attach(a *Area) {
	p.book = explain.New(a.frame.Network)
	p.walks.attach(a)
	p.faults.attach(a)
}

func (p *panel) update(gtx ctx, a *Area) {
	if i, ok := p.pages.Update(gtx); ok {
		p.page = i
	}
	p.about.update(gtx, a)
	p.walks.update(gtx, a)
	p.faults.update(gtx, a)
	p.water.update(gtx, a)
}

// pick looks at a part or line; at the one that is looked at already, or at nothing, no longer.
func (p *panel) pick(a *Area, id string) {
	if id == p.part {
		id = ""
	}
	p.part = id
	if p.page == walkPage && p.walks.taken == nil || p.page == waterPage || id != "" && p.page == walkPage {
		p.page = partPage
	}
	p.faults.offer(a, id)
}

// lit is what is lit on the sheet: the way of the air into the line that is looked at, or what a walk shows.
func (p *panel) lit(a *Area) []string {
	switch {
	case p.page == partPage && len(p.about.reason.Path) > 0:
		return p.about.reason.Path
	case p.page == walkPage:
		return p.walks.lit()
	}
	return nil
}

func (p *panel) escape(a *Area) {
	switch {
	case p.part != "":
		p.part = ""
	case p.walks.taken != nil && p.page == walkPage:
		p.walks.leave(a)
	}
}

// refresh makes words and rows follow the vehicle.
func (p *panel) refresh(gtx ctx, a *Area) {
	f := a.frame
	key := rowsKey{p.page, p.part, f.Seq, f.Did, string(a.set.Prefs.Units), a.set.Theme.Dark, p.walks.version + p.faults.version, a.set.Prefs.HintsSeen}
	same := key
	same.seq = p.key.seq
	if key == p.key || same == p.key && f.Playing && p.waits(gtx.Now) {
		return
	}
	if key.did != p.key.did {
		p.did = gtx.Now
	}
	p.key, p.at = key, gtx.Now
	m := p.book.At(f.Now, string(a.set.Prefs.Units))
	p.news = m.News()
	p.rows = p.rows[:0]
	p.about.follow(m, p.part)
	switch p.page {
	case partPage:
		p.rows = p.about.rows(a, p.rows)
	case walkPage:
		p.rows = p.walks.rows(a, p.rows)
	case faultPage:
		p.rows = p.faults.rows(a, p.rows)
	case waterPage:
		p.rows = p.water.rows(a, p.rows)
	}
}

func (p *panel) layout(gtx ctx, a *Area) dims {
	th, size := a.set.Theme, gtx.Constraints.Max
	defer ground(gtx, th).Pop()
	widgets.Rect(gtx, th.Rule, image.Rect(0, 0, max(1, gtx.Dp(1)), size.Y))
	layout.Inset{Top: theme.Step, Left: theme.Gap, Right: theme.Half}.Layout(gtx, func(gtx ctx) dims {
		gtx.Constraints.Min = gtx.Constraints.Min.Mul(0)
		p.pages.Layout(gtx, th, "show", pageNames, p.page)
		top := gtx.Dp(theme.Touch) + gtx.Dp(theme.Step)
		at(gtx, pointY(top), func() {
			g := within(gtx, pointXY(gtx.Constraints.Max.X, gtx.Constraints.Max.Y-top))
			p.scroll[p.page].Layout(g, th, p.rows)
		})
		return dims{Size: gtx.Constraints.Max}
	})
	return dims{Size: size}
}
