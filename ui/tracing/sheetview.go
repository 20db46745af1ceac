package tracing

import (
	"slices"
	"strings"

	"airpath/circuit"
	"airpath/circuit/airflow/procedure"
	"airpath/circuit/symbol"
	"airpath/trace/record"
	"airpath/ui/canvas"
	"airpath/ui/model"
)

// sheetView is the vehicle's sheet with what is known marked on it.
type sheetView struct {
	canvas canvas.Sheet
	scene  canvas.Scene
	made   sceneKey
}

// sceneKey is what the marks follow from; they are made anew when it changes.
type sceneKey struct {
	revision int
	answer   *model.Answer
	choice   *model.Suspect
	spot     string
	hoses    bool // a workshop's are on the vehicle
	opinion  int  // of the person, in an exercise
}

func (v *sheetView) focus(gtx ctx) { v.canvas.Focus(gtx) }

// show brings a part into sight.
func (v *sheetView) show(target string) { v.canvas.Show(target) }

// showPath brings a whole path into sight.
func (v *sheetView) showPath(x *model.Suspect) {
	ids := []string{x.Target}
	for _, s := range x.Path {
		ids = append(ids, s.Target)
	}
	v.canvas.Show(ids...)
}

func (v *sheetView) layout(gtx ctx, a *Area) dims {
	th, size := a.set.Theme, gtx.Constraints.Max
	v.prepare(a)
	for _, picked := range v.canvas.Update(gtx, &v.scene) {
		if picked == "" {
			a.spot = nil
			continue
		}
		if a.spot != nil && a.spot.place == picked {
			a.spot = nil
			continue
		}
		a.openSpot(picked)
	}
	v.canvas.Layout(gtx, th, &v.scene)
	if a.spot != nil {
		a.spot.at = v.canvas.Where(a.spot.target)
		a.spot.layout(gtx, a)
	}
	return dims{Size: size}
}

// prepare makes the marks anew where something has changed.
func (v *sheetView) prepare(a *Area) {
	s := a.session
	answer, _ := s.Answer()
	key := sceneKey{revision: s.Revision(), answer: answer, choice: s.Selected()}
	if a.spot != nil {
		key.spot = a.spot.target
	}
	if a.doing != nil {
		key.hoses = fromOutside(a.doing.procedure)
	}
	if a.lesson != nil {
		key.opinion = a.lesson.Opinion()
	}
	v.scene.Circuit = s.Circuit
	v.scene.Unit = string(a.set.units())
	v.scene.TextScale = float64(a.set.Prefs.TextScale)
	if key == v.made {
		return
	}
	v.made = key
	v.scene.Revision++
	if !a.hinted() {
		answer = nil
	}
	v.scene.Marks = marksOf(s, answer, key.spot)
	if key.hoses {
		v.scene.Marks.State = hoses(s.Circuit)
	}
	if a.lesson != nil {
		a.lesson.Marks(&v.scene.Marks)
	}
}

// fromOutside tells whether a test works the vehicle with a workshop's air.
func fromOutside(p *procedure.Procedure) bool {
	return slices.ContainsFunc(p.Tools, func(tool string) bool { return strings.HasPrefix(tool, "workshop air") })
}

// hoses are on every face that takes a workshop's air, as long as a test is carried out with it.
func hoses(c *circuit.Circuit) map[string]symbol.State {
	out := map[string]symbol.State{}
	for _, part := range c.Components {
		for _, w := range part.Kind.Passages {
			if w.From == circuit.Atmosphere && w.Coupling {
				out[part.ID] = symbol.State{Hose: true, Control: 1}
			}
		}
	}
	return out
}

// marksOf puts what is known and believed on the sheet.
func marksOf(s *model.Session, answer *model.Answer, selected string) symbol.Marks {
	m := symbol.Marks{Suspect: map[string]float64{}, Cleared: map[string]bool{}, Selected: selected, Pins: pinsOf(s)}
	if answer == nil || len(s.Case().Findings) == 0 {
		return m // nothing is marked yet: what is believed before any finding is not shown
	}
	for _, x := range answer.Cleared {
		m.Cleared[x.Target] = true
	}
	for _, x := range answer.Suspects {
		delete(m.Cleared, x.Target)
		if x.Probability >= leastShow {
			m.Suspect[x.Target] += x.Probability
		}
	}
	if x := s.Selected(); x != nil {
		for _, step := range x.Path {
			m.Path = append(m.Path, step.Target)
		}
	}
	return m
}

// pinsOf are the findings that belong to a place.
func pinsOf(s *model.Session) []symbol.Pin {
	answer, _ := s.Answer()
	var pins []symbol.Pin
	for _, f := range s.Case().Findings {
		p, r := s.Reading(f)
		if p == nil {
			continue
		}
		place := model.GaugeOf(p, r)
		if place == "" {
			continue
		}
		pin := symbol.Pin{Place: place, Kind: record.PinKind(r, f), Text: model.SayResult(f.Result)}
		if r.Form == procedure.YesNo {
			pin.Text = ""
		}
		if answer != nil {
			if check, ok := answer.Limits[f.ID]; ok {
				pin.Bad = !check.Met
			}
		}
		pin.Bad = pin.Bad || pin.Kind == symbol.HissPin || pin.Kind == symbol.BubblePin
		pins = append(pins, pin)
	}
	return pins
}
