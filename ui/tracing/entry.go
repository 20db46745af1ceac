package tracing

import (
	"strings"
	"unicode"

	"gioui.org/layout"

	"airpath/circuit"
	"airpath/circuit/airflow/procedure"
	"airpath/circuit/limit"
	"airpath/ui/model"
	"airpath/ui/theme"
	"airpath/ui/widgets"
)

// An entry is where one reading is entered: a number with its unit, or one of a few answers.
type entry struct {
	procedure *procedure.Procedure
	reading   *procedure.Reading

	field  widgets.Field
	answer widgets.Choice
	other  widgets.Choice

	kind circuit.ResultKind // an answer that is no number; "" where the field counts
	soap bool               // a yes that bubbles showed
	held string             // id of the finding that it shows
	row  int                // in the list that it is in
	bad  string             // why what is typed can't be read
}

// otherKinds are the answers that a measured reading takes besides a number.
var otherKinds = []circuit.ResultKind{circuit.WithinLimits, circuit.Never}

func newEntry(s *model.Session, u model.Units, p *procedure.Procedure, r *procedure.Reading) *entry {
	e := &entry{procedure: p, reading: r}
	e.load(s, u)
	return e
}

// load shows what the case says of this reading.
func (e *entry) load(s *model.Session, u model.Units) {
	e.kind, e.held, e.bad, e.soap = "", "", "", false
	e.field.SetText("")
	f, ok := s.Finding(e.reading)
	if !ok {
		return
	}
	e.held = f.ID
	switch f.Result.Kind {
	case circuit.Number, circuit.Range:
		text := strings.Replace(f.Result.Text, "..", " to ", 1)
		e.field.SetText(strings.TrimSpace(strings.TrimSuffix(text, u.UnitOf(e.reading.Dimension))))
	default:
		e.kind, e.soap = f.Result.Kind, f.Instrument == soap
	}
}

func (e *entry) yesNo() bool { return e.reading.Form == procedure.YesNo }

// filled reports that something was entered.
func (e *entry) filled() bool {
	return e.kind != "" || !e.yesNo() && strings.TrimSpace(e.field.Text()) != ""
}

// finding is what was entered; the error says why it can't be read.
func (e *entry) finding(u model.Units) (circuit.Finding, error) {
	f := circuit.Finding{Procedure: e.procedure.ID, Reading: e.reading.ID, Place: e.reading.Place}
	if e.kind != "" {
		f.Result = circuit.Result{Kind: e.kind, Text: string(e.kind)}
		if e.soap {
			f.Instrument = soap
		}
		return f, nil
	}
	var err error
	f.Result, err = u.ReadResult(e.field.Text(), e.reading.Dimension)
	return f, err
}

// update reports that Return was pressed in the field or an answer was chosen.
func (e *entry) update(gtx ctx) (submitted, chosen bool) {
	if e.yesNo() {
		if i, ok := e.answer.Update(gtx); ok {
			a := e.answers()[i]
			if e.soap != a.soap {
				e.kind = "" // the same answer by another sense is no taking back
			}
			e.soap = a.soap
			e.toggle(a.kind)
			chosen = true
		}
		return false, chosen
	}
	submitted, changed := e.field.Update(gtx)
	if changed {
		e.kind, e.bad = "", ""
	}
	if i, ok := e.other.Update(gtx); ok {
		e.toggle(e.others()[i])
		if e.kind != "" {
			e.field.SetText("")
		}
		chosen = true
	}
	return submitted, chosen
}

func (e *entry) toggle(k circuit.ResultKind) {
	e.bad = ""
	if e.kind == k {
		k = ""
	}
	e.kind = k
}

// soap is the instrument that shows air by bubbles, as findings call it.
const soap = "soap"

// An answer is one that can be chosen.
type answer struct {
	words string
	kind  circuit.ResultKind
	soap  bool
}

// answers to a yes or no, in the order of their options. Where air is listened for, it may as well be seen in soap.
func (e *entry) answers() []answer {
	words := model.AnswersOf(e.reading)
	out := []answer{{words[0], circuit.Yes, false}, {words[1], circuit.No, false}, {words[2], circuit.NotSure, false}}
	if e.reading.Sense == procedure.Ear {
		out = append([]answer{out[0], {"Bubbles", circuit.Yes, true}}, out[1:]...)
	}
	return out
}

// others are the answers besides a number that make sense for this reading.
func (e *entry) others() []circuit.ResultKind {
	if len(e.reading.Limits) > 0 {
		return otherKinds
	}
	return otherKinds[1:]
}

// layout draws the control under the reading's title; short leaves out what is not needed on a small card.
func (e *entry) layout(gtx ctx, a *Area, title string, short bool) dims {
	th, u := a.set.Theme, a.set.units()
	rows := []layout.FlexChild{layout.Rigid(widgets.Text{Words: title}.In(th))}
	if !short {
		for _, l := range e.reading.LimitsIn(a.session.Jurisdiction()) {
			if words := u.SayLimit(l, e.reading.Dimension); words != "" {
				rows = append(rows, layout.Rigid(widgets.Note(th, sayKind(l)+words+" ("+l.Source+")").In(th)))
			}
		}
	}
	rows = append(rows, widgets.Space(theme.Half), layout.Rigid(func(gtx ctx) dims { return e.control(gtx, a, title) }))
	if e.bad != "" {
		rows = append(rows, layout.Rigid(widgets.Text{Words: e.bad, Size: theme.Small, Color: th.Broken}.In(th)))
	}
	return layout.Flex{Axis: layout.Vertical}.Layout(gtx, rows...)
}

func sayKind(l limit.Limit) string {
	if l.Usual {
		return "Usual: "
	}
	return "Limit: "
}

func (e *entry) control(gtx ctx, a *Area, title string) dims {
	th, u := a.set.Theme, a.set.units()
	if e.yesNo() {
		chosen := -1
		var words []string
		for i, x := range e.answers() {
			words = append(words, x.words)
			if e.kind == x.kind && e.soap == x.soap {
				chosen = i
			}
		}
		return e.answer.Layout(gtx, th, title, words, chosen)
	}
	chosen := -1
	var words []string
	for i, k := range e.others() {
		if e.kind == k {
			chosen = i
		}
		words = append(words, sayOther(k))
	}
	return layout.Flex{Alignment: layout.Middle}.Layout(gtx,
		layout.Flexed(1, func(gtx ctx) dims {
			unit := u.UnitOf(e.reading.Dimension)
			if strings.ContainsFunc(e.field.Text(), unicode.IsLetter) {
				unit = "" // it was typed with a unit of its own
			}
			return e.field.Layout(gtx, th, widgets.FieldLook{Label: title, Unit: unit, Bad: e.bad != "", Large: true})
		}),
		widgets.Space(theme.Step),
		layout.Rigid(func(gtx ctx) dims { return e.other.Layout(gtx, th, title, words, chosen) }))
}

func sayOther(k circuit.ResultKind) string {
	if k == circuit.Never {
		return "Never"
	}
	return "In limits"
}
