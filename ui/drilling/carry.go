package drilling

import (
	"fmt"
	"slices"
	"strings"

	"gioui.org/layout"

	"airpath/circuit"
	"airpath/circuit/airflow/procedure"
	"airpath/trace/drill"
	"airpath/ui/model"
	"airpath/ui/theme"
	"airpath/ui/tracing"
	"airpath/ui/widgets"
)

// updateDoing handles the procedure that is open.
func (w *workFace) updateDoing(gtx ctx, ta *tracing.Area, p *procedure.Procedure) {
	if w.round != p.ID {
		w.round, w.chosen = p.ID, map[string]bool{}
	}
	for _, q := range procedure.Preparations() {
		if w.ticks.at(q.ID).Clicked(gtx) && !w.lesson.Prepared(q.ID) {
			w.drill.attempt(w.lesson.Prepare(q))
		}
	}
	places := w.lesson.Places(p)
	for _, place := range places {
		if w.places.at(place).Clicked(gtx) {
			w.chosen[place] = !w.chosen[place]
		}
	}
	if w.all.Clicked(gtx) {
		on := len(w.picked(places)) < len(places)
		for _, place := range places {
			w.chosen[place] = on
		}
	}
	if w.carry.Clicked(gtx) {
		picked := w.picked(places)
		if len(places) > 0 && len(picked) == 0 {
			w.drill.trouble = "Choose where to listen first."
			return
		}
		if len(picked) == len(places) {
			picked = nil // the whole round
		}
		if w.drill.attempt(w.lesson.Do(p, picked...)) {
			w.chosen = map[string]bool{}
		}
	}
}

// picked places, in the order of the round.
func (w *workFace) picked(places []string) []string {
	var out []string
	for _, place := range places {
		if w.chosen[place] {
			out = append(out, place)
		}
	}
	return out
}

// Before implements tracing.Lesson: what is to be seen to first, as a list to tick.
func (w *workFace) Before(ta *tracing.Area, p *procedure.Procedure) []layout.Widget {
	th := ta.Setting().Theme
	rows := []layout.Widget{tracing.Head(th, "What you see to first", nil)}
	if len(p.Cautions) > 0 {
		rows = append(rows, row(func(gtx ctx) dims { return widgets.Notice(gtx, th, widgets.Danger, strings.Join(p.Cautions, " ")) }))
	}
	for _, q := range procedure.Preparations() {
		rows = append(rows, w.tick(th, q))
	}
	return rows
}

func (w *workFace) tick(th *theme.Theme, q procedure.Preparation) layout.Widget {
	done := w.lesson.Prepared(q.ID)
	label := "See to: " + q.Words
	if done {
		label = "Seen to: " + q.Words
	}
	return row(func(gtx ctx) dims {
		return w.ticks.at(q.ID).Layout(gtx, th, label, done, func(gtx ctx) dims {
			fill, edge := th.Card, th.Edge
			if done {
				fill, edge = theme.Mix(th.Card, th.Met, 0.10), th.Met
			}
			return widgets.Card(gtx, th, fill, edge, func(gtx ctx) dims {
				gtx.Constraints.Min.X = gtx.Constraints.Max.X
				return layout.Flex{Alignment: layout.Middle}.Layout(gtx, layout.Rigid(func(gtx ctx) dims { return box(gtx, th, done) }), widgets.Space(theme.Step), layout.Flexed(1, widgets.Words(q.Words).In(th)))
			})
		})
	})
}

// box with or without a tick.
func box(gtx ctx, th *theme.Theme, ticked bool) dims {
	side := gtx.Dp(22)
	size := layout.Exact(gtx.Constraints.Constrain(gtx.Constraints.Max)).Max
	size.X, size.Y = side, side
	widgets.Box(gtx, size, th.Sunk, th.Edge, 1)
	if ticked {
		widgets.IconTick.Layout(gtx, th.Ink, 22)
	}
	return dims{Size: size}
}

// After implements tracing.Lesson: what it showed, or where to listen.
func (w *workFace) After(ta *tracing.Area, p *procedure.Procedure) []layout.Widget {
	th := ta.Setting().Theme
	shown := w.lesson.Shown(p)
	if why := w.lesson.Undone(p); why != "" && w.lesson.Done(p) > 0 {
		return []layout.Widget{tracing.Head(th, "What it showed", nil), row(func(gtx ctx) dims {
			return widgets.Notice(gtx, th, widgets.Trouble, "It can't be done on this vehicle: "+why)
		})}
	}
	places := w.lesson.Places(p)
	if len(places) == 0 {
		rows := []layout.Widget{tracing.Head(th, "What it showed", nil)}
		if len(shown) == 0 {
			rows = append(rows, note(th, "That is told when it has been carried out."))
		}
		for _, o := range shown {
			rows = append(rows, w.result(th, p, o))
		}
		return rows
	}
	rows := []layout.Widget{tracing.Head(th, "Where you go", func(gtx ctx) dims {
		label := "All places"
		if len(w.picked(places)) == len(places) {
			label = "None"
		}
		return w.all.Layout(gtx, th, widgets.ButtonLook{Words: label, Rank: widgets.Quiet, Small: true})
	})}
	for _, place := range places {
		rows = append(rows, w.placeRow(th, p, place, shown))
	}
	return rows
}

// placeRow of a round: chosen or not, and what was noticed there.
func (w *workFace) placeRow(th *theme.Theme, p *procedure.Procedure, place string, shown []drill.Observed) layout.Widget {
	name := upper(w.lesson.Session.PlaceName(place))
	var heard []string
	for _, o := range shown {
		if o.Place == place {
			heard = append(heard, w.sayResult(p, o))
		}
	}
	second := strings.Join(heard, ", ")
	if second == "" && w.chosen[place] {
		second = "you go there"
	}
	return press(th, w.places.at(place), "Go to: "+name, name, second, w.chosen[place])
}

// result of one reading.
func (w *workFace) result(th *theme.Theme, p *procedure.Procedure, o drill.Observed) layout.Widget {
	title := o.Reading
	if r := readingOf(p, o); r != nil {
		title = upper(r.Title)
		if o.Place != "" {
			if name := w.lesson.Session.PlaceName(o.Place); !strings.Contains(strings.ToLower(title), strings.ToLower(name)) {
				title += ", " + name
			}
		}
	}
	return line(widgets.Text{Words: title}.In(th), widgets.Text{Words: w.sayResult(p, o), Weight: theme.Strong, Lines: 1}.In(th))
}

func (w *workFace) sayResult(p *procedure.Procedure, o drill.Observed) string {
	res, err := circuit.ParseResult(o.Result)
	if err != nil {
		return o.Result
	}
	if r := readingOf(p, o); r != nil && r.Form == procedure.YesNo {
		answers := model.AnswersOf(r)
		switch res.Kind {
		case circuit.Yes:
			return answers[0]
		case circuit.No:
			return answers[1]
		}
	}
	return model.SayResult(res)
}

func readingOf(p *procedure.Procedure, o drill.Observed) *procedure.Reading {
	i := slices.IndexFunc(p.Readings, func(r procedure.Reading) bool { return r.ID == o.Reading && r.Place == o.Place })
	if i < 0 {
		return nil
	}
	return &p.Readings[i]
}

// Carry implements tracing.Lesson.
func (w *workFace) Carry(gtx layout.Context, ta *tracing.Area, p *procedure.Procedure) layout.Dimensions {
	th := ta.Setting().Theme
	places := w.lesson.Places(p)
	picked := w.picked(places)
	label := "Carry it out: " + model.Minutes(w.lesson.Cost(p))
	off := false
	switch {
	case len(places) > 0 && len(picked) == 0:
		label, off = "Carry it out at the places chosen", true
	case len(places) > 0:
		if len(picked) == len(places) {
			picked = nil
		}
		label = fmt.Sprintf("Carry it out at %s: %s", counted(len(w.picked(places)), "place"), model.Minutes(w.lesson.Cost(p, picked...)))
	case w.lesson.Done(p) > 0:
		label = "Carry it out once more: " + model.Minutes(w.lesson.Cost(p))
	}
	return w.carry.Layout(gtx, th, widgets.ButtonLook{Words: label, Rank: widgets.Primary, Wide: true, Off: off})
}

func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

func upper(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
