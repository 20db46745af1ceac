package drilling

// A Description is what the area shows, in words: for tests that drive the window from outside, and for whoever can't see it.
type Description struct {
	Face     string   `json:"face"` // "start", "work", "making" or "marks"
	Title    string   `json:"title"`
	Minutes  float64  `json:"minutes"`
	Findings []string `json:"findings"`
	Good     []string `json:"good"`
	Doubtful []string `json:"doubtful"`
	Named    []string `json:"named"`
	HandedIn bool     `json:"handed_in"`
	Hidden   []string `json:"hidden"` // while an exercise is made
	Level    string   `json:"level"`  // of the exercise made, once it is worked out
	Working  bool     `json:"working"`
	Marked   []string `json:"marked"` // trainees
	Scores   []int    `json:"scores"`
	Said     string   `json:"said"`
	Trouble  string   `json:"trouble"`
}

// Describe says what is shown now.
func (a *Area) Describe() *Description {
	d := &Description{Face: faceNames[a.face], Said: a.said, Trouble: a.trouble}
	d.Title, _ = a.Titles()
	switch a.face {
	case atWork:
		a.work.describe(d)
	case atMaking:
		for _, f := range a.making.Plan().Faults {
			d.Hidden = append(d.Hidden, f.String())
		}
		if made, current := a.making.Made(); current {
			d.Level = made.Key.Difficulty.Level
		}
		p, _ := a.making.Working()
		d.Working = p.Running
		if err := a.making.Trouble(); err != nil {
			d.Trouble = err.Error()
		}
	case atMarks:
		if m := a.marks.marking; m != nil {
			p, _ := m.Working()
			d.Working = p.Running || m.Waiting() > 0
			for _, x := range m.Marks {
				d.Marked, d.Scores = append(d.Marked, x.Trainee), append(d.Scores, int(x.Score+0.5))
			}
			if err := m.Trouble(); err != nil {
				d.Trouble = err.Error()
			}
		}
	}
	return d
}

func (w *workFace) describe(d *Description) {
	l := w.lesson
	d.Minutes, d.HandedIn = l.Minutes(), l.HandedIn()
	d.Working = l.Session.Working().Running
	for _, f := range l.Session.Case().Findings {
		d.Findings = append(d.Findings, l.Session.Say(f))
	}
	for _, part := range l.Opinions() {
		good, doubtful := l.Opinion(part)
		if good {
			d.Good = append(d.Good, part)
		}
		if doubtful {
			d.Doubtful = append(d.Doubtful, part)
		}
	}
	for _, n := range l.Answer() {
		d.Named = append(d.Named, n.Part+"/"+n.Mode)
	}
}
