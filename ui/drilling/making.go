package drilling

import (
	"fmt"
	"image"
	"slices"
	"strconv"
	"strings"

	"gioui.org/layout"
	"gioui.org/op"
	"gioui.org/op/clip"
	"gioui.org/op/paint"

	"airpath/circuit/airflow"
	"airpath/circuit/airflow/procedure"
	"airpath/circuit/symbol"
	"airpath/trace/drill"
	"airpath/ui/canvas"
	"airpath/ui/model"
	"airpath/ui/theme"
	"airpath/ui/widgets"
)

// makingFace is the instructor's: the vehicle on its sheet, and beside it what is hidden, what is allowed, how hard that is.
type makingFace struct {
	*model.Making
	sheet  canvas.Sheet
	scene  canvas.Scene
	made   sceneOf
	part   string // looked at on the sheet
	scroll widgets.Scroll

	leave     widgets.Button
	modes     presses
	removes   map[string]*widgets.Button
	sliders   map[string]*widgets.Slider
	level     widgets.Choice
	wanted    string // level to draw; "" until one is chosen
	parts     widgets.Choice
	draw      widgets.Button
	complaint widgets.Field
	title     widgets.Field
	notes     widgets.Field
	hints     widgets.Button
	tests     widgets.Button
	open      bool // the list of tests is shown
	allowed   presses
	costs     map[string]*widgets.Field
	work      widgets.Button
	stop      widgets.Button
	name      widgets.Field
	save      widgets.Button
	loaded    *model.Plan // that the fields show
}

// sceneOf is what the marks on the sheet follow from.
type sceneOf struct {
	plan *model.Plan
	part string
}

func newMaking(m *model.Making) *makingFace {
	return &makingFace{
		Making: m, removes: map[string]*widgets.Button{}, sliders: map[string]*widgets.Slider{}, costs: map[string]*widgets.Field{},
		wanted: drill.Levels[1],
	}
}

func (f *makingFace) update(gtx ctx, a *Area) {
	f.load(gtx)
	if f.leave.Clicked(gtx) {
		a.to(atStart)
	}
	f.updateHidden(gtx)
	f.updateWords(gtx)
	f.updateTests(gtx, a)
	if f.work.Clicked(gtx) {
		f.Start()
	}
	if f.draw.Clicked(gtx) {
		f.startDrawing()
	}
	if f.stop.Clicked(gtx) {
		f.Stop()
	}
	submitted, _ := f.name.Update(gtx)
	if f.save.Clicked(gtx) || submitted {
		exercise, key, err := f.Save(f.name.Text())
		if a.attempt(err) {
			a.said = "Saved: " + exercise + " for the trainee, " + key + " for you"
		}
	}
}

// startDrawing another exercise at random: each time with another seed, so that pressing again draws anew.
func (f *makingFace) startDrawing() {
	f.Change("Drawn at random: "+f.wanted, func(p *model.Plan) {
		p.Level, p.Faults, p.Title = f.wanted, nil, ""
		p.Seed += 1000
	})
	f.Start()
}

// load shows the plan's words in the fields, where something else than typing changed them.
func (f *makingFace) load(gtx ctx) {
	if f.loaded == f.Plan() {
		return
	}
	f.loaded = f.Plan()
	show := func(field *widgets.Field, text string) {
		if field.Text() != text && !field.Focused(gtx) {
			field.SetText(text)
		}
	}
	show(&f.complaint, f.Plan().Complaint)
	show(&f.title, f.Plan().Title)
	show(&f.notes, f.Plan().Notes)
	for _, x := range f.Instructor.Procedures() {
		if m, ok := f.Plan().Minutes[x.ID]; ok {
			show(f.cost(x.ID), strconv.FormatFloat(m, 'g', 4, 64))
		} else {
			show(f.cost(x.ID), "")
		}
	}
}

func (f *makingFace) updateHidden(gtx ctx) {
	for _, x := range f.Plan().Faults {
		if f.remove(x.Target).Clicked(gtx) {
			f.Unhide(x.Target)
			return
		}
		m, err := airflow.ModeOf(f.Circuit, x)
		if err != nil || m.Severity.Severe == m.Severity.Mild {
			continue
		}
		span := m.Severity.Severe - m.Severity.Mild
		if share, ok := f.slider(x.Target).Update(gtx, (x.Severity-m.Severity.Mild)/span, 0.05); ok {
			f.SetSeverity(x.Target, m.Severity.Mild+span*share)
		}
	}
	if f.part != "" {
		for _, mode := range model.ModesOf(f.Circuit, f.part) {
			if f.modes.at(mode).Clicked(gtx) {
				x := airflow.Fault{Target: f.part, Mode: mode}
				if m, err := airflow.ModeOf(f.Circuit, x); err == nil {
					x.Severity = m.Severity.Typical
					f.Hide(x)
				}
			}
		}
	}
	if i, ok := f.level.Update(gtx); ok {
		f.wanted = drill.Levels[i]
	}
	if i, ok := f.parts.Update(gtx); ok {
		f.Change("Parts to draw", func(p *model.Plan) { p.Parts = i + 1 })
	}
}

func (f *makingFace) updateWords(gtx ctx) {
	take := func(field *widgets.Field, deed string, now func(*model.Plan) *string) {
		submitted, _ := field.Update(gtx)
		text := strings.TrimSpace(field.Text())
		if (submitted || !field.Focused(gtx)) && text != *now(f.Plan()) {
			f.Change(deed, func(p *model.Plan) { *now(p) = text })
			f.loaded = f.Plan()
		}
	}
	take(&f.complaint, "Complaint changed", func(p *model.Plan) *string { return &p.Complaint })
	take(&f.title, "Title changed", func(p *model.Plan) *string { return &p.Title })
	take(&f.notes, "Notes changed", func(p *model.Plan) *string { return &p.Notes })
	if f.hints.Clicked(gtx) {
		f.Change("Hints", func(p *model.Plan) { p.Hints = !p.Hints })
	}
}

func (f *makingFace) updateTests(gtx ctx, a *Area) {
	if f.tests.Clicked(gtx) {
		f.open = !f.open
	}
	if !f.open {
		return
	}
	for _, x := range f.Instructor.Procedures() {
		if f.allowed.at(x.ID).Clicked(gtx) {
			f.Allow(x, !f.Plan().Allows(x.ID))
		}
		c := f.cost(x.ID)
		submitted, _ := c.Update(gtx)
		if !submitted && c.Focused(gtx) {
			continue
		}
		text := strings.Replace(strings.TrimSpace(c.Text()), ",", ".", 1)
		now, minutes := f.Plan().Minutes[x.ID], 0.0
		if text != "" {
			var err error
			if minutes, err = strconv.ParseFloat(text, 64); err != nil {
				a.trouble = fmt.Sprintf("%q is no number of minutes for %s", text, x.Title)
				continue
			}
		}
		if minutes != now && a.attempt(f.SetCost(x, minutes)) {
			f.loaded = f.Plan()
		}
	}
}

func (f *makingFace) remove(target string) *widgets.Button {
	b, ok := f.removes[target]
	if !ok {
		b = &widgets.Button{}
		f.removes[target] = b
	}
	return b
}

func (f *makingFace) slider(target string) *widgets.Slider {
	s, ok := f.sliders[target]
	if !ok {
		s = &widgets.Slider{}
		f.sliders[target] = s
	}
	return s
}

func (f *makingFace) cost(id string) *widgets.Field {
	c, ok := f.costs[id]
	if !ok {
		c = &widgets.Field{}
		f.costs[id] = c
	}
	return c
}

func (f *makingFace) typing(gtx ctx) bool {
	for _, x := range []*widgets.Field{&f.complaint, &f.title, &f.notes, &f.name} {
		if x.Focused(gtx) {
			return true
		}
	}
	return slices.ContainsFunc(f.Instructor.Procedures(), func(p *procedure.Procedure) bool { return f.open && f.cost(p.ID).Focused(gtx) })
}

// layout puts the column beside the sheet, or below it where the window is narrow.
func (f *makingFace) layout(gtx ctx, a *Area) {
	th, size := a.set.Theme, gtx.Constraints.Max
	column := image.Rect(size.X-min(max(size.X*40/100, gtx.Dp(360)), gtx.Dp(600)), 0, size.X, size.Y)
	sheet := image.Rect(0, 0, column.Min.X, size.Y)
	if size.X < gtx.Dp(820) {
		sheet = image.Rect(0, 0, size.X, size.Y*4/10)
		column = image.Rect(0, sheet.Max.Y, size.X, size.Y)
	}
	part := func(r image.Rectangle, draw func(gtx ctx)) {
		defer op.Offset(r.Min).Push(gtx.Ops).Pop()
		defer clip.Rect{Max: r.Size()}.Push(gtx.Ops).Pop()
		g := gtx
		g.Constraints = layout.Exact(r.Size())
		draw(g)
	}
	part(sheet, func(gtx ctx) { f.layoutSheet(gtx, a) })
	part(column, func(gtx ctx) {
		paint.Fill(gtx.Ops, th.Panel)
		widgets.Fill(gtx, th.Rule, image.Pt(gtx.Dp(1), gtx.Constraints.Max.Y))
		layout.Flex{Axis: layout.Vertical}.Layout(gtx,
			layout.Flexed(1, func(gtx ctx) dims {
				return layout.Inset{Left: theme.Gap, Right: theme.Half}.Layout(gtx, func(gtx ctx) dims { return f.scroll.Layout(gtx, th, f.rows(a)) })
			}),
			layout.Rigid(func(gtx ctx) dims { return f.layoutFoot(gtx, th) }))
	})
}

func (f *makingFace) layoutFoot(gtx ctx, th *theme.Theme) dims {
	return layout.Background{}.Layout(gtx, func(gtx ctx) dims {
		widgets.Fill(gtx, theme.Mix(th.Panel, th.Accent, 0.06), gtx.Constraints.Min)
		widgets.Fill(gtx, th.Rule, image.Pt(gtx.Constraints.Min.X, gtx.Dp(1)))
		return dims{Size: gtx.Constraints.Min}
	}, func(gtx ctx) dims {
		gtx.Constraints.Min.X = gtx.Constraints.Max.X
		return layout.Inset{Left: theme.Gap, Right: theme.Gap, Top: theme.Half, Bottom: theme.Half}.Layout(gtx, func(gtx ctx) dims {
			var rows []layout.FlexChild
			for _, w := range f.foot(th) {
				rows = append(rows, layout.Rigid(w))
			}
			return widgets.Column(gtx, rows...)
		})
	})
}

func (f *makingFace) layoutSheet(gtx ctx, a *Area) {
	f.scene.Circuit, f.scene.Unit, f.scene.TextScale = f.Circuit, string(a.set.Prefs.Units), float64(a.set.Prefs.TextScale)
	if now := (sceneOf{f.Plan(), f.part}); now != f.made {
		f.made = now
		f.scene.Revision++
		f.scene.Marks = symbol.Marks{Selected: f.part}
		for _, x := range f.Plan().Faults {
			f.scene.Marks.Pins = append(f.scene.Marks.Pins, symbol.Pin{Place: x.Target, Kind: symbol.NotePin, Text: x.Mode, Bad: true})
		}
	}
	for _, picked := range f.sheet.Update(gtx, &f.scene) {
		f.part = model.ComponentOf(picked)
		f.scroll.To(0)
	}
	f.sheet.Layout(gtx, a.set.Theme, &f.scene)
}
