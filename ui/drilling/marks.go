package drilling

import (
	"fmt"
	"strings"

	"gioui.org/layout"

	"airpath/trace/drill"
	"airpath/ui/model"
	"airpath/ui/theme"
	"airpath/ui/tracing"
	"airpath/ui/widgets"
)

// marksFace is where works are marked with the key, and looked through step by step.
type marksFace struct {
	marking  *model.Marking // nil until exercise and key are open
	exercise widgets.Field
	key      widgets.Field
	open     widgets.Button
	work     widgets.Field
	add      widgets.Button
	stop     widgets.Button
	rows_    presses // works, by trainee
	shown    string  // trainee whose review is shown
	class    widgets.Field
	save     widgets.Button
	leave    widgets.Button
	scroll   widgets.Scroll
}

func (f *marksFace) update(gtx ctx, a *Area) {
	if f.leave.Clicked(gtx) {
		a.to(atStart)
	}
	opened, changed := f.exercise.Update(gtx)
	if changed && f.key.Text() == "" && strings.HasSuffix(f.exercise.Text(), model.ExerciseEnding) {
		f.key.SetText(keyBeside(f.exercise.Text()))
	}
	again, _ := f.key.Update(gtx)
	if f.open.Clicked(gtx) || opened || again {
		f.openBoth(a, strings.TrimSpace(f.exercise.Text()), strings.TrimSpace(f.key.Text()))
	}
	added, _ := f.work.Update(gtx)
	if (f.add.Clicked(gtx) || added) && f.marking != nil && f.work.Text() != "" {
		if a.attempt(f.marking.Add(strings.TrimSpace(f.work.Text()))) {
			f.work.SetText("")
		}
	}
	saved, _ := f.class.Update(gtx)
	if (f.save.Clicked(gtx) || saved) && f.marking != nil {
		path := strings.TrimSpace(f.class.Text())
		if path == "" {
			path = "class.csv"
		}
		if a.attempt(f.marking.SaveClass(path)) {
			a.said = "Saved: " + path
		}
	}
	if f.marking == nil {
		return
	}
	if f.stop.Clicked(gtx) {
		f.marking.Stop()
	}
	for _, m := range f.marking.Marks {
		if f.rows_.at(m.Trainee).Clicked(gtx) {
			if f.shown == m.Trainee {
				f.shown = ""
			} else {
				f.shown = m.Trainee
			}
		}
	}
}

// openBoth opens an exercise with its key.
func (f *marksFace) openBoth(a *Area, exercise, key string) {
	if exercise == "" {
		a.trouble = "Say which exercise, by its path or by its name in the library."
		return
	}
	if key == "" {
		key = keyBeside(exercise)
	}
	o, err := a.open(exercise)
	if !a.attempt(err) {
		return
	}
	k, err := openKey(key)
	if !a.attempt(err) {
		return
	}
	i, ok := o.engine.(model.Instructor)
	if !ok {
		a.trouble = "This vehicle's engine marks no works."
		return
	}
	if f.marking != nil {
		f.marking.Stop()
	}
	m, err := model.NewMarking(o.circuit, i, o.exercise, k, a.shop.Wake)
	if a.attempt(err) {
		f.marking, f.shown = m, ""
	}
}

func (f *marksFace) typing(gtx ctx) bool {
	return f.exercise.Focused(gtx) || f.key.Focused(gtx) || f.work.Focused(gtx) || f.class.Focused(gtx)
}

func (f *marksFace) rows(a *Area) []layout.Widget {
	th := a.set.Theme
	button := func(b *widgets.Button, look widgets.ButtonLook) layout.Widget {
		return func(gtx ctx) dims { return b.Layout(gtx, th, look) }
	}
	rows := []layout.Widget{
		tracing.Head(th, "Mark works", button(&f.leave, widgets.ButtonLook{Words: "Back", Label: "Back to the exercises", Rank: widgets.Quiet, Small: true})),
		field(th, &f.exercise, "Exercise", "path of NAME"+model.ExerciseEnding+", or a name of the library"),
		line(func(gtx ctx) dims {
			return f.key.Layout(gtx, th, widgets.FieldLook{Label: "Key", Hint: "path of the key; empty for the one beside the exercise"})
		}, button(&f.open, widgets.ButtonLook{Words: "Open both", Label: "Open exercise and key"})),
	}
	m := f.marking
	if m == nil {
		return rows
	}
	rows = append(rows,
		tracing.Head(th, m.Exercise.Title, nil),
		note(th, f.answer()),
		line(func(gtx ctx) dims {
			return f.work.Layout(gtx, th, widgets.FieldLook{Label: "Trainee's work", Hint: "path of a work's file, NAME.work.json"})
		}, button(&f.add, widgets.ButtonLook{Words: "Mark it", Label: "Mark this work", Rank: widgets.Primary})))
	if working, stage := m.Working(); working.Running {
		rows = append(rows, row(func(gtx ctx) dims { return progress(gtx, th, stage, working, &f.stop) }))
	}
	if err := m.Trouble(); err != nil {
		rows = append(rows, row(func(gtx ctx) dims { return widgets.Notice(gtx, th, widgets.Trouble, err.Error()) }))
	}
	for _, x := range m.Marks {
		second := fmt.Sprintf("%d of %d parts right · %.0f min, the best way takes %.0f", x.Right, x.Parts, x.Minutes+x.Fitted+x.ToFinish, x.Best)
		if len(x.Unsafe) > 0 {
			second += fmt.Sprintf(" · UNSAFE in %s", counted(len(x.Unsafe), "step"))
		}
		rows = append(rows, press(th, f.rows_.at(x.Trainee), "Marks of "+x.Trainee, fmt.Sprintf("%s: %.0f of 100", x.Trainee, x.Score), second, x.Trainee == f.shown))
		if x.Trainee == f.shown {
			rows = append(rows, review(th, x)...)
		}
	}
	if len(m.Marks) > 0 {
		rows = append(rows, tracing.Head(th, "The class", nil), line(func(gtx ctx) dims {
			return f.class.Layout(gtx, th, widgets.FieldLook{Label: "File of the class's results", Hint: "class.csv"})
		}, button(&f.save, widgets.ButtonLook{Words: "Save as CSV", Label: "Save the class's results as CSV"})))
	}
	return append(rows, func(gtx ctx) dims { return layout.Spacer{Height: theme.Gap}.Layout(gtx) })
}

// answer of the key, in words.
func (f *marksFace) answer() string {
	var parts []string
	for _, h := range f.marking.Key.Faults {
		parts = append(parts, model.NameOf(f.marking.Circuit, h.Component)+": "+h.Mode)
	}
	text := "Hidden: " + strings.Join(parts, "; ") + ". Level: " + f.marking.Key.Difficulty.Level + "."
	if f.marking.Key.Notes != "" {
		text += " " + f.marking.Key.Notes
	}
	return text
}

// review of one work: the figures, then each step with what it told and what would have told more.
func review(th *theme.Theme, m *drill.Marks) []layout.Widget {
	var rows []layout.Widget
	figure := func(name, value string) { rows = append(rows, figureRow(th, name, value)) }
	figure("Named rightly, with the right fault", fmt.Sprintf("%d and %d of %d", m.Right, m.RightModes, m.Parts))
	figure("Minutes of tests", fmt.Sprintf("%.0f", m.Minutes))
	if m.Sure > 0 {
		figure("Of these to make sure, not counted", fmt.Sprintf("%.0f", m.Sure))
	}
	figure(fmt.Sprintf("Minutes for %s fitted or named", counted(m.GoodParts, "good part")), fmt.Sprintf("%.0f", m.Fitted))
	figure("Minutes that were still to go", fmt.Sprintf("%.0f", m.ToFinish))
	figure("Minutes lost against the best way", fmt.Sprintf("%.0f", m.Lost))
	figure("What the tests told, of what was to be had", fmt.Sprintf("%.1f of %.1f bits", m.Bits, m.BestBits))
	figure("Held to be good: borne out, wrongly, all", fmt.Sprintf("%d, %d, %d", m.BackedClears, m.WrongClears, m.Clears))
	figure("Parts that the findings cleared", fmt.Sprint(m.CouldClear))
	rows = append(rows, row(widgets.Text{Words: "Step by step", Weight: theme.Strong}.In(th)))
	for _, r := range m.Review {
		rows = append(rows, row(func(gtx ctx) dims { return remark(gtx, th, r) }))
	}
	return rows
}

func remark(gtx ctx, th *theme.Theme, r drill.Remark) dims {
	edge := th.Rule
	if r.Unsafe != "" {
		edge = th.Broken
	}
	return widgets.Labelled(gtx, fmt.Sprintf("Step %d: %s", r.Step, r.Did), strings.TrimSpace(r.Says+" "+r.After), func(gtx ctx) dims {
		return widgets.Card(gtx, th, th.Card, edge, func(gtx ctx) dims {
			gtx.Constraints.Min.X = gtx.Constraints.Max.X
			rows := []layout.FlexChild{layout.Rigid(func(gtx ctx) dims {
				children := []layout.FlexChild{layout.Flexed(1, widgets.Title(fmt.Sprintf("%d.  %s", r.Step, upper(r.Did))).In(th))}
				if r.Minutes > 0 {
					children = append(children, layout.Rigid(widgets.Text{Words: fmt.Sprintf("%.0f min", r.Minutes), Lines: 1}.In(th)))
				}
				return layout.Flex{Alignment: layout.Baseline}.Layout(gtx, children...)
			}), layout.Rigid(widgets.Text{Words: r.Says, Size: theme.Small}.In(th))}
			if r.After != "" {
				rows = append(rows, layout.Rigid(widgets.Text{Words: r.After, Size: theme.Small, Weight: theme.Strong}.In(th)))
			}
			if r.Unsafe != "" {
				rows = append(rows, widgets.Space(theme.Half), layout.Rigid(func(gtx ctx) dims { return widgets.Notice(gtx, th, widgets.Danger, "Unsafe. "+upper(r.Unsafe)+".") }))
			}
			return widgets.Column(gtx, rows...)
		})
	})
}
