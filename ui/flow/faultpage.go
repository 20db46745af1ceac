package flow

import (
	"fmt"
	"math"
	"slices"

	"gioui.org/layout"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/ui/engine"
	"airpath/ui/theme"
	"airpath/ui/widgets"
)

// faultPart is the page on which faults are put in: what the vehicle has, how bad each is, and what can be put in at the
// part that is looked at. Beside the vehicle with faults a healthy one is carried along; dials and curves show both.
type faultPart struct {
	all     []airflow.Fault // the catalogue
	offered []airflow.Fault // of the part that is looked at
	version int

	clear   widgets.Button
	sliders []widgets.Slider
	remove  []widgets.Button
	modes   []widgets.Press
	parts   []widgets.Press
	targets []string
}

func (p *faultPart) attach(a *Area) {
	p.all = airflow.Catalogue(a.circuit)
	for _, f := range p.all {
		if !slices.Contains(p.targets, f.Target) {
			p.targets = append(p.targets, f.Target)
		}
	}
	p.parts = make([]widgets.Press, len(p.targets))
	p.offer(a, a.panel.part)
}

// offer the modes of a part.
func (p *faultPart) offer(a *Area, id string) {
	p.offered = p.offered[:0]
	for _, f := range p.all {
		if f.Target == id {
			p.offered = append(p.offered, f)
		}
	}
	p.version++
}

func (p *faultPart) update(gtx ctx, a *Area) {
	if p.clear.Clicked(gtx) {
		a.SetFaults(nil, "all faults out")
	}
	faults := a.frame.Faults
	for i := range p.remove {
		if i < len(faults) && p.remove[i].Clicked(gtx) {
			a.SetFaults(slices.Delete(slices.Clone(faults), i, i+1), "fault out: "+p.name(a, faults[i]))
		}
	}
	for i := range p.sliders {
		if i >= len(faults) {
			break
		}
		scale, ok := severityOf(a.circuit, faults[i])
		if !ok {
			continue
		}
		if v, ok := p.sliders[i].Update(gtx, scale.share(faults[i].Severity), 0.1); ok {
			changed := slices.Clone(faults)
			changed[i].Severity = scale.at(v)
			a.SetFaults(changed, p.name(a, faults[i])+", another severity")
		}
	}
	for i := range p.modes {
		if i < len(p.offered) && p.modes[i].Clicked(gtx) {
			p.toggle(a, p.offered[i])
		}
	}
	for i := range p.parts {
		if p.parts[i].Clicked(gtx) {
			a.panel.part = ""
			a.look(p.targets[i])
			a.panel.page = faultPage
		}
	}
}

// toggle puts a fault in, or takes it out.
func (p *faultPart) toggle(a *Area, f airflow.Fault) {
	faults := slices.Clone(a.frame.Faults)
	if i := slices.IndexFunc(faults, func(g airflow.Fault) bool { return g.Target == f.Target && g.Mode == f.Mode }); i >= 0 {
		a.SetFaults(slices.Delete(faults, i, i+1), "fault out: "+p.name(a, f))
		return
	}
	a.SetFaults(append(faults, f), "fault in: "+p.name(a, f))
}

// SetFaults makes these the vehicle's faults.
func (a *Area) SetFaults(faults []airflow.Fault, words string) {
	a.do(func(w *engine.Worked) { w.SetFaults(faults, words) })
}

func (p *faultPart) name(a *Area, f airflow.Fault) string { return a.nameOf(f.Target) + ", " + f.Mode }

func (a *Area) nameOf(id string) string {
	if c := a.circuit.Component(id); c != nil {
		return c.Name
	}
	if l := a.circuit.Line(id); l != nil {
		if l.Name != "" {
			return l.Name
		}
		return "line from the " + a.nameOf(l.From.Component) + " to the " + a.nameOf(l.To.Component)
	}
	return id
}

// A scale runs from mild to severe: evenly in the logarithm where both have one.
type scale struct {
	mild, severe float64
	log          bool
	severity     airflow.Severity
}

func severityOf(c *circuit.Circuit, f airflow.Fault) (scale, bool) {
	mode, err := airflow.ModeOf(c, f)
	if err != nil || mode.Severity.Mild == mode.Severity.Severe {
		return scale{}, false
	}
	s := scale{mild: mode.Severity.Mild, severe: mode.Severity.Severe, severity: mode.Severity}
	s.log = s.mild > 0 && s.severe > 0 && mode.Severity.Dimension != circuit.Ratio || s.mild < 0 && s.severe < 0
	return s, true
}

func (s scale) at(share float64) float64 {
	if s.log {
		return s.mild * math.Pow(s.severe/s.mild, share)
	}
	return s.mild + share*(s.severe-s.mild)
}

func (s scale) share(v float64) float64 {
	if s.log && v/s.mild > 0 {
		return math.Log(v/s.mild) / math.Log(s.severe/s.mild)
	}
	return (v - s.mild) / (s.severe - s.mild)
}

func (p *faultPart) rows(a *Area, rows []layout.Widget) []layout.Widget {
	faults := a.frame.Faults
	u := a.set.Prefs.Units
	rows = append(rows, a.head("Put a fault in"))
	if len(faults) == 0 {
		rows = append(rows, a.note("The vehicle is healthy. Choose a part and what is wrong with it, and see what changes. A healthy vehicle is carried along beside it: its needles and curves are green."))
	}
	for len(p.sliders) < len(faults) {
		p.sliders, p.remove = append(p.sliders, widgets.Slider{}), append(p.remove, widgets.Button{})
	}
	for i, f := range faults {
		rows = append(rows, a.headedFault(p, i, upper(p.name(a, f))))
		s, ok := severityOf(a.circuit, f)
		if !ok {
			continue
		}
		rows = append(rows, a.slide(&p.sliders[i], upper(s.severity.Means), u.Format(f.Severity, s.severity.Dimension), func() widgets.SliderLook {
			return widgets.SliderLook{Label: "severity of " + p.name(a, f), Value: u.Format(f.Severity, s.severity.Dimension), Share: s.share(f.Severity), Step: 0.1}
		}))
	}
	if len(faults) > 0 {
		rows = p.differences(a, rows)
		rows = append(rows, a.button(&p.clear, widgets.ButtonLook{Words: "Take all out", Label: "Take all faults out", Small: true}, theme.Gap))
	}
	return p.choices(a, rows)
}

func (a *Area) headedFault(p *faultPart, i int, words string) layout.Widget {
	th := a.set.Theme
	return spaced(theme.Half, func(gtx ctx) dims {
		return layout.Flex{Alignment: layout.Middle}.Layout(gtx,
			layout.Flexed(1, func(gtx ctx) dims {
				return widgets.Text{Words: words, Weight: theme.Strong, Color: th.Suspect, Lines: 2}.Layout(gtx, th)
			}),
			layout.Rigid(func(gtx ctx) dims {
				gtx.Constraints.Min = gtx.Constraints.Min.Mul(0)
				return p.remove[i].Layout(gtx, th, widgets.ButtonLook{Icon: widgets.IconErase, Label: "Take out: " + words, Rank: widgets.Quiet})
			}))
	})
}

// differences are the needles, with and without the fault.
func (p *faultPart) differences(a *Area, rows []layout.Widget) []layout.Widget {
	if a.frame.Healthy == nil {
		return rows
	}
	unit := string(a.set.Prefs.Units)
	for _, d := range a.dash.dials {
		rows = append(rows, a.row(widgets.Text{Words: fmt.Sprintf("%s: %s; healthy %s", upper(d.part.Name), sayPressure(a.frame.Now.Needle[d.index], unit), sayPressure(a.frame.Healthy.Needle[d.index], unit)), Size: theme.Small}, theme.Half))
	}
	return rows
}

// choices are the modes of the part that is looked at, or the parts.
func (p *faultPart) choices(a *Area, rows []layout.Widget) []layout.Widget {
	if len(p.offered) == 0 {
		rows = append(rows, a.title("Choose a part or line, here or on the sheet"))
		for i, id := range p.targets {
			rows = append(rows, a.choose(&p.parts[i], "Faults of: "+a.nameOf(id), upper(a.nameOf(id)), "", "", false))
		}
		return rows
	}
	rows = append(rows, a.title(upper(a.nameOf(p.offered[0].Target))+": what is wrong with it?"))
	for len(p.modes) < len(p.offered) {
		p.modes = append(p.modes, widgets.Press{})
	}
	for i, f := range p.offered {
		in := slices.ContainsFunc(a.frame.Faults, func(g airflow.Fault) bool { return g.Target == f.Target && g.Mode == f.Mode })
		value := ""
		if in {
			value = "in"
		}
		rows = append(rows, a.choose(&p.modes[i], "Fault: "+f.Mode, upper(f.Mode), value, "", in))
	}
	return rows
}
