package flow

import (
	"gioui.org/layout"

	"airpath/ui/theme"
	"airpath/ui/widgets"
)

// panel is the column beside the sheet: what a part is and does, walks, faults, water.
type panel struct {
	pages  widgets.Choice
	page   int
	part   string // component or line that is looked at
	scroll widgets.Scroll
	rows   []layout.Widget
}

// Pages of the panel.
const (
	partPage = iota
	walkPage
	faultPage
	waterPage
)

var pageNames = []string{"Part", "Walks", "Faults", "Water"}

func (p *panel) init(a *Area) {}

func (p *panel) attach(a *Area) {}

func (p *panel) update(gtx ctx, a *Area) {
	if i, ok := p.pages.Update(gtx); ok {
		p.page = i
	}
}

// pick looks at a part or line; at the one that is looked at already, or at nothing, no longer.
func (p *panel) pick(a *Area, id string) {
	if id == p.part {
		id = ""
	}
	p.part = id
}

func (p *panel) lit(a *Area) []string { return nil }

func (p *panel) escape(a *Area) { p.part = "" }

func (p *panel) layout(gtx ctx, a *Area) dims {
	th, size := a.set.Theme, gtx.Constraints.Max
	defer ground(gtx, th).Pop()
	layout.UniformInset(theme.Step).Layout(gtx, func(gtx ctx) dims {
		return p.pages.Layout(gtx, th, "show", pageNames, p.page)
	})
	return dims{Size: size}
}
