package tracing

// ShowTests opens the list of every test.
func (a *Area) ShowTests() { a.next.open = true }

// ShowVerdict brings what it can be into sight.
func (a *Area) ShowVerdict() { a.canBe.fresh = true }

// ShowOutcomes opens what each answer to the proposed test would leave.
func (a *Area) ShowOutcomes() { a.next.forked = true }

// ShowDoubt opens what would stand if the first finding were wrong.
func (a *Area) ShowDoubt() {
	for _, c := range a.session.Cards() {
		a.wrong.controls(c).what = true
		return
	}
}

// ShowRepair opens the form for the repair of the chosen suspect, or of the likeliest.
func (a *Area) ShowRepair() {
	x := a.session.Selected()
	if answer, _ := a.session.Answer(); x == nil && answer != nil && len(answer.Suspects) > 0 {
		x = &answer.Suspects[0]
	}
	if x != nil {
		a.mend(x)
	}
}

// ShowWhy explains what is believed of the part whose card is open.
func (a *Area) ShowWhy() {
	if a.spot != nil {
		a.spot.why = true
	}
}
