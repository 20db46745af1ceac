package flow

import (
	"fmt"
	"math"

	"gioui.org/layout"

	"airpath/circuit/airflow/explain"
	"airpath/ui/theme"
	"airpath/ui/widgets"
)

// partPart is the page "What is this?": what a part or line is and does, what happens in it now and why, what can be worked
// on it; of a line, why it is live.
type partPart struct {
	account explain.Account
	known   bool
	reason  explain.Reason
	why     bool

	close widgets.Button
	fault widgets.Button
	gotIt widgets.Button
	parts []widgets.Press // of the list of all parts
	ports []widgets.Press
	steps []widgets.Press

	listed []layout.Widget // the list, which stays as it is while the vehicle does
	hinted bool            // with the hints
	in     *theme.Theme
}

func (p *partPart) update(gtx ctx, a *Area) {
	if p.close.Clicked(gtx) {
		a.panel.part = ""
	}
	if p.gotIt.Clicked(gtx) {
		a.set.Prefs.HintsSeen = true
		a.set.Saved()
	}
	if p.fault.Clicked(gtx) {
		a.panel.page = faultPage
		a.panel.faults.offer(a, a.panel.part)
	}
	for i := range p.parts {
		if p.parts[i].Clicked(gtx) {
			a.look(a.circuit.Components[i].ID)
		}
	}
	for i := range p.ports {
		if p.ports[i].Clicked(gtx) && i < len(p.account.Ports) && p.account.Ports[i].Line != "" {
			a.look(p.account.Ports[i].Line)
		}
	}
	for i := range p.steps {
		if p.steps[i].Clicked(gtx) && i < len(p.reason.Steps) {
			a.look(p.reason.Steps[i].ID)
		}
	}
}

// look at a part, and bring it into sight.
func (a *Area) look(id string) {
	a.panel.part = ""
	a.panel.pick(a, id)
	a.sheet.Show(id)
}

// follow takes down what is to be said of a part now.
func (p *partPart) follow(m *explain.Moment, id string) {
	p.account, p.known = m.Of(id)
	p.reason, p.why = m.Why(id)
}

func (p *partPart) rows(a *Area, rows []layout.Widget) []layout.Widget {
	if !p.known {
		return p.list(a, rows)
	}
	x := p.account
	rows = append(rows, a.headed(upper(x.Title), &p.close, widgets.ButtonLook{Icon: widgets.IconClose, Label: "Look at nothing", Rank: widgets.Quiet}))
	where := x.Kind
	if x.Place != "" {
		where += ", " + x.Place
	}
	rows = append(rows, a.note(upper(where)))
	for _, s := range x.Now {
		rows = append(rows, a.row(widgets.Text{Words: s}, theme.Step))
	}
	if p.why {
		title := "Why is this line empty?"
		if p.reason.Live {
			title = "Why is this line live?"
		}
		rows = append(rows, a.title(title), a.words(p.reason.Words))
		for len(p.steps) < len(p.reason.Steps) {
			p.steps = append(p.steps, widgets.Press{})
		}
		for i, s := range p.reason.Steps {
			rows = append(rows, a.choose(&p.steps[i], fmt.Sprintf("Step %d: %s", i+1, s.Words), fmt.Sprintf("%d  %s", i+1, s.Words), "", "", false))
		}
		rows = append(rows, a.gap())
	}
	rows = append(rows, p.worked(a)...)
	rows = append(rows, a.note(x.Does))
	rows = p.portRows(a, rows)
	rows = append(rows, a.button(&p.fault, widgets.ButtonLook{Words: "Put a fault in", Label: "Put a fault into the " + x.Title, Small: true}, theme.Gap))
	return rows
}

func (a *Area) gap() layout.Widget { return layout.Spacer{Height: theme.Step}.Layout }

// worked are the controls of the part.
func (p *partPart) worked(a *Area) []layout.Widget {
	var rows []layout.Widget
	for _, c := range a.controls {
		if c.part.ID != p.account.ID {
			continue
		}
		zero, full := c.spec.Ends()
		if c.spec.Gradual {
			rows = append(rows, a.slide(&c.slider2, upper(c.spec.Name), c.says(c.share(a)), func() widgets.SliderLook {
				return widgets.SliderLook{Label: c.title + " " + c.spec.Name + " here", Value: c.says(c.share(a)), Share: c.share(a)}
			}))
			continue
		}
		words := full
		if c.share(a) > 0.5 {
			words = zero
		}
		rows = append(rows, a.button(&c.turnIt, widgets.ButtonLook{Words: "Turn to: " + words, Label: c.title + " " + c.spec.Name + " to: " + words}, theme.Step))
	}
	return rows
}

func (p *partPart) portRows(a *Area, rows []layout.Widget) []layout.Widget {
	if len(p.account.Ports) == 0 {
		return rows
	}
	rows = append(rows, a.title("Ports, by their digits after ISO 6786"))
	for len(p.ports) < len(p.account.Ports) {
		p.ports = append(p.ports, widgets.Press{})
	}
	for i, port := range p.account.Ports {
		value := ""
		if !math.IsNaN(port.Pressure) {
			value = sayPressure(port.Pressure, string(a.set.Prefs.Units))
		}
		to := port.To
		if to == "" {
			to = "open to the air"
		}
		rows = append(rows, a.choose(&p.ports[i], fmt.Sprintf("Port %s, %s: %s", port.Name, port.About, value), port.Name+"  "+port.About, value, to, false))
	}
	return append(rows, a.gap())
}

// list is what is shown while nothing is looked at: the first hints, and every part. It is made once.
func (p *partPart) list(a *Area, rows []layout.Widget) []layout.Widget {
	if hinted := !a.set.Prefs.HintsSeen; p.in != a.set.Theme || p.hinted != hinted {
		p.in, p.hinted, p.listed = a.set.Theme, hinted, p.everything(a)
	}
	return append(rows, p.listed...)
}

func (p *partPart) everything(a *Area) (rows []layout.Widget) {
	if !a.set.Prefs.HintsSeen {
		for i, words := range []string{
			"Let time run with the large button below the sheet, or the key P. Plus and minus make it faster or slower.",
			"Work the pedal and the knobs on the dash. Everything else is worked on the sheet: click a drain, a cock, a coupling.",
			"Click a part to be told what happens in it and why; click a line to see where its air comes from.",
		} {
			rows = append(rows, a.row(widgets.Text{Words: fmt.Sprintf("%d  %s", i+1, words)}, theme.Step))
		}
		rows = append(rows, a.button(&p.gotIt, widgets.ButtonLook{Words: "Got it", Label: "Got it: put the hints away", Small: true}, theme.Gap))
	}
	rows = append(rows, a.head("What is this?"), a.note("Click a part or a line on the sheet, or choose one here."))
	for len(p.parts) < len(a.circuit.Components) {
		p.parts = append(p.parts, widgets.Press{})
	}
	for i, c := range a.circuit.Components {
		rows = append(rows, a.choose(&p.parts[i], "Part: "+c.Name, upper(c.Name), "", c.Place, false))
	}
	return rows
}
