package drilling

import (
	"fmt"
	"slices"
	"strings"

	"gioui.org/layout"

	"airpath/circuit/airflow"
	"airpath/trace/drill"
	"airpath/ui/model"
	"airpath/ui/theme"
	"airpath/ui/tracing"
	"airpath/ui/widgets"
)

// rows of the instructor's column, from what is hidden to the files.
func (f *makingFace) rows(a *Area) []layout.Widget {
	th := a.set.Theme
	rows := []layout.Widget{tracing.Head(th, "Make an exercise", func(gtx ctx) dims {
		return f.leave.Layout(gtx, th, widgets.ButtonLook{Words: "Back", Label: "Back to the exercises", Rank: widgets.Quiet, Small: true})
	})}
	rows = append(rows, f.partRows(th)...)
	rows = append(rows, f.hiddenRows(a)...)
	rows = append(rows, f.hardRows(th)...)
	rows = append(rows, f.drawRows(th)...)
	rows = append(rows, f.wordRows(th)...)
	rows = append(rows, f.testRows(th)...)
	return append(rows, f.saveRows(th)...)
}

// partRows are the ways in which the part that is looked at can fail.
func (f *makingFace) partRows(th *theme.Theme) []layout.Widget {
	if f.part == "" {
		return []layout.Widget{note(th, f.Circuit.Title+". Click a part or line on the sheet to hide a fault in it, or draw at random.")}
	}
	rows := []layout.Widget{row(widgets.Title(upper(model.NameOf(f.Circuit, f.part))).In(th))}
	modes := model.ModesOf(f.Circuit, f.part)
	if len(modes) == 0 {
		rows = append(rows, note(th, "Nothing that can fail is known of it."))
	}
	for _, m := range modes {
		chosen := slices.ContainsFunc(f.Plan().Faults, func(x airflow.Fault) bool { return x.Target == f.part && x.Mode == m })
		rows = append(rows, press(th, f.modes.at(m), "Hide: "+m, m, "", chosen))
	}
	return rows
}

func (f *makingFace) hiddenRows(a *Area) []layout.Widget {
	th := a.set.Theme
	rows := []layout.Widget{tracing.Head(th, "What is hidden", nil)}
	if len(f.Plan().Faults) == 0 {
		rows = append(rows, note(th, "Nothing yet."))
	}
	for _, x := range f.Plan().Faults {
		rows = append(rows, row(func(gtx ctx) dims {
			return widgets.Card(gtx, th, th.Card, th.Edge, func(gtx ctx) dims { return f.hidden(gtx, a, x) })
		}))
	}
	return rows
}

// hidden is one fault with its severity.
func (f *makingFace) hidden(gtx ctx, a *Area, x airflow.Fault) dims {
	th := a.set.Theme
	name := model.NameOf(f.Circuit, x.Target)
	rows := []layout.FlexChild{layout.Rigid(func(gtx ctx) dims {
		return layout.Flex{Alignment: layout.Middle}.Layout(gtx,
			layout.Flexed(1, widgets.Title(upper(name)+": "+x.Mode).In(th)),
			layout.Rigid(func(gtx ctx) dims {
				return f.remove(x.Target).Layout(gtx, th, widgets.ButtonLook{Icon: widgets.IconErase, Label: "No longer hide: " + name, Rank: widgets.Quiet})
			}))
	})}
	m, err := airflow.ModeOf(f.Circuit, x)
	if err == nil {
		s := m.Severity
		value := a.set.Prefs.Units.Format(x.Severity, s.Dimension)
		rows = append(rows, layout.Rigid(widgets.Note(th, s.Means+": "+value).In(th)))
		if s.Severe != s.Mild {
			span := s.Severe - s.Mild
			rows = append(rows, layout.Rigid(func(gtx ctx) dims {
				return f.slider(x.Target).Layout(gtx, th, widgets.SliderLook{Label: "Severity: " + name, Value: value, Share: (x.Severity - s.Mild) / span, Stops: []float64{(s.Typical - s.Mild) / span}})
			}))
		}
	}
	return widgets.Column(gtx, rows...)
}

func (f *makingFace) drawRows(th *theme.Theme) []layout.Widget {
	return []layout.Widget{
		tracing.Head(th, "Or draw at random", nil),
		row(func(gtx ctx) dims {
			return f.level.Layout(gtx, th, "level", drill.Levels, slices.Index(drill.Levels, f.wanted))
		}),
		line(func(gtx ctx) dims {
			return f.parts.Layout(gtx, th, "at fault", []string{"1 part", "2 parts"}, f.Plan().Parts-1)
		}, func(gtx ctx) dims {
			return f.draw.Layout(gtx, th, widgets.ButtonLook{Words: "Draw", Label: "Draw an exercise at random"})
		}),
	}
}

func (f *makingFace) wordRows(th *theme.Theme) []layout.Widget {
	return []layout.Widget{
		tracing.Head(th, "What the trainee is told", nil),
		field(th, &f.complaint, "Complaint", "what the driver says, such as: builds air slowly"),
		field(th, &f.title, "Title", "the complaint, if nothing else"),
		row(func(gtx ctx) dims {
			label := "Hints: none"
			if f.Plan().Hints {
				label = "Hints: the suspects are shown"
			}
			return f.hints.Layout(gtx, th, widgets.ButtonLook{Words: label, Label: label, Down: f.Plan().Hints})
		}),
		field(th, &f.notes, "Notes", "for yourself, in the key"),
	}
}

func (f *makingFace) testRows(th *theme.Theme) []layout.Widget {
	all := f.Instructor.Procedures()
	n := 0
	for _, p := range all {
		if f.Plan().Allows(p.ID) {
			n++
		}
	}
	label := "Change"
	if f.open {
		label = "Fold up"
	}
	rows := []layout.Widget{tracing.Head(th, fmt.Sprintf("Tests allowed: %d of %d", n, len(all)), func(gtx ctx) dims {
		return f.tests.Layout(gtx, th, widgets.ButtonLook{Words: label, Label: label + " the tests allowed", Rank: widgets.Quiet, Small: true})
	})}
	if !f.open {
		return rows
	}
	for _, p := range all {
		on := f.Plan().Allows(p.ID)
		word := "Allow: "
		if on {
			word = "Allowed: "
		}
		rows = append(rows, line(
			func(gtx ctx) dims {
				return f.allowed.at(p.ID).Layout(gtx, th, word+p.Title, on, func(gtx ctx) dims {
					gtx.Constraints.Min.X = gtx.Constraints.Max.X
					return layout.Flex{Alignment: layout.Middle}.Layout(gtx,
						layout.Rigid(func(gtx ctx) dims { return box(gtx, th, on) }), widgets.Space(theme.Step), layout.Flexed(1, widgets.Text{Words: p.Title, Lines: 2}.In(th)))
				})
			},
			func(gtx ctx) dims {
				gtx.Constraints.Max.X = gtx.Dp(110)
				return f.cost(p.ID).Layout(gtx, th, widgets.FieldLook{Label: "Minutes: " + p.Title, Hint: fmt.Sprintf("%.0f", p.SetUp+p.Minutes), Unit: "min"})
			}))
	}
	return rows
}

// hardRows say how hard it is, and by which way it is found, once that is worked out.
func (f *makingFace) hardRows(th *theme.Theme) []layout.Widget {
	made, current := f.Made()
	if made == nil || !current {
		return nil
	}
	rows := []layout.Widget{tracing.Head(th, "How hard it is", nil)}
	d := made.Key.Difficulty
	figure := func(name, value string) { rows = append(rows, figureRow(th, name, value)) }
	figure("Level", upper(d.Level))
	figure("Parts at fault", fmt.Sprint(d.Parts))
	figure("Tests on the best way", fmt.Sprint(d.Procedures))
	figure("Minutes of the best way, good parts fitted counted in", fmt.Sprintf("%.0f", made.Key.Cost))
	figure("Faults that no allowed test tells apart", fmt.Sprint(d.Group))
	figure("Most that a good part is suspected on the way", model.Percent(d.Misleading))
	rows = append(rows, row(widgets.Text{Words: "The best way", Size: theme.Small, Weight: theme.Strong}.In(th)))
	if len(made.Key.Best) == 0 {
		rows = append(rows, note(th, "No test is worth its minutes: it is mended at once."))
	}
	for i, t := range made.Key.Best {
		rows = append(rows, figureRow(th, fmt.Sprintf("%d.  %s", i+1, f.sayTaken(t)), fmt.Sprintf("%.0f min", t.Minutes)))
	}
	return rows
}

// foot is always in sight: the work that is to be done, is being done, or what came of it.
func (f *makingFace) foot(th *theme.Theme) []layout.Widget {
	working, stage := f.Working()
	if working.Running {
		return []layout.Widget{row(func(gtx ctx) dims { return progress(gtx, th, stage, working, &f.stop) })}
	}
	var rows []layout.Widget
	if err := f.Trouble(); err != nil {
		rows = append(rows, row(func(gtx ctx) dims { return widgets.Notice(gtx, th, widgets.Trouble, err.Error()) }))
	}
	if made, current := f.Made(); made != nil && current {
		d := made.Key.Difficulty
		words := fmt.Sprintf("%s: %s on the best way, %.0f min", upper(d.Level), counted(d.Procedures, "test"), made.Key.Cost)
		return append(rows, row(widgets.Text{Words: words, Weight: theme.Strong}.In(th)))
	}
	missing := f.Missing()
	if missing != "" {
		rows = append(rows, note(th, missing))
	}
	return append(rows, row(func(gtx ctx) dims {
		return f.work.Layout(gtx, th, widgets.ButtonLook{Words: "Work out how hard it is", Rank: widgets.Primary, Wide: true, Off: missing != ""})
	}))
}

func (f *makingFace) sayTaken(t drill.Taken) string {
	title := t.Procedure
	for _, p := range f.Instructor.Procedures() {
		if p.ID == t.Procedure {
			title = p.Title
		}
	}
	if len(t.Places) == 0 {
		return title
	}
	var names []string
	for _, p := range t.Places {
		names = append(names, model.NameOf(f.Circuit, model.ComponentOf(p)))
	}
	return title + " at the " + strings.Join(slices.Compact(names), ", ")
}

func (f *makingFace) saveRows(th *theme.Theme) []layout.Widget {
	_, current := f.Made()
	return []layout.Widget{
		tracing.Head(th, "Save", nil),
		line(func(gtx ctx) dims {
			return f.name.Layout(gtx, th, widgets.FieldLook{Label: "Name of the files", Hint: "such as monday"})
		}, func(gtx ctx) dims {
			return f.save.Layout(gtx, th, widgets.ButtonLook{Words: "Save both", Label: "Save exercise and key", Rank: widgets.Primary, Off: !current})
		}),
		note(th, "The exercise is for trainees; the key holds the answer and is yours."),
		func(gtx ctx) dims { return layout.Spacer{Height: theme.Gap}.Layout(gtx) },
	}
}

// figureRow is a name with its value.
func figureRow(th *theme.Theme, name, value string) layout.Widget {
	return line(widgets.Text{Words: name}.In(th), func(gtx ctx) dims {
		gtx.Constraints.Min.X = 0
		return widgets.Text{Words: value, Weight: theme.Strong, Lines: 1}.Layout(gtx, th)
	})
}

// progress of background work, with a way to stop it.
func progress(gtx ctx, th *theme.Theme, stage string, p model.Progress, stop *widgets.Button) dims {
	if stage == "" {
		stage = "Beginning"
	}
	share := 0.0
	if p.Total > 0 {
		share = float64(p.Done) / float64(p.Total)
		stage += fmt.Sprintf(": %d of %d", p.Done, p.Total)
	}
	return widgets.Card(gtx, th, th.Card, th.Rule, func(gtx ctx) dims {
		return layout.Flex{Alignment: layout.Middle}.Layout(gtx,
			layout.Flexed(1, func(gtx ctx) dims {
				return widgets.Column(gtx,
					layout.Rigid(widgets.Text{Words: stage, Size: theme.Small}.In(th)), widgets.Space(6),
					layout.Rigid(func(gtx ctx) dims { return widgets.Bar(gtx, th, share, th.Accent, 6) }))
			}),
			widgets.Space(theme.Step),
			layout.Rigid(func(gtx ctx) dims {
				return stop.Layout(gtx, th, widgets.ButtonLook{Words: "Cancel", Label: "Cancel this work"})
			}))
	})
}
