package ui

import (
	"encoding/json"
	"fmt"
	"image"
	"os"
	"path/filepath"
	"time"

	"gioui.org/io/input"
	"gioui.org/io/semantic"

	"airpath/ui/drilling"
	"airpath/ui/flow"
)

// A Description is what the window shows, in words and places: for whoever can't see it, and for tests that drive it from
// outside. The desktop has no way yet to hand this to a screen reader, so it goes into a file.
type Description struct {
	Vehicle  string                `json:"vehicle"`
	Case     string                `json:"case"`
	Working  bool                  `json:"working"`
	Findings []string              `json:"findings"`
	Suspects []DescribedSuspect    `json:"suspects"`
	Chosen   string                `json:"chosen"` // key of the suspect whose path is lit
	Path     []string              `json:"path"`
	Next     string                `json:"next"` // the test that is proposed
	Notice   string                `json:"notice"`
	Trouble  string                `json:"trouble"`
	Area     string                `json:"area"`           // "Trace", "Flow" or "Drill"
	Flow     *flow.Description     `json:"flow,omitempty"` // while Flow is shown
	Drill    *drilling.Description `json:"drill,omitempty"`
	Controls []Control             `json:"controls"`
	Parts    []Control             `json:"parts"` // components on the sheet
}

// DescribedSuspect is one suspect.
type DescribedSuspect struct {
	Fault       string  `json:"fault"`
	Title       string  `json:"title"`
	Probability float64 `json:"probability"`
}

// A Control is something with a label, and where it is in the window's pixels.
type Control struct {
	Role     string          `json:"role"`
	Label    string          `json:"label"`
	Note     string          `json:"note,omitempty"`
	Selected bool            `json:"selected,omitempty"`
	Off      bool            `json:"off,omitempty"`
	Place    image.Rectangle `json:"place"`
}

// A describer writes a Description after each frame that changed it.
type describer struct {
	path   string
	router input.Router // replays each frame to learn where its labels are; it gets no events
	last   string
}

func newDescriber(path string) *describer { return &describer{path: path} }

func (d *describer) frame(s *shell, gtx ctx) error {
	if d.path == "" {
		return nil
	}
	d.router.Frame(gtx.Ops)
	now := s.describe()
	now.Controls = controlsIn(&d.router)
	text, err := json.MarshalIndent(now, "", "\t")
	if err != nil || string(text) == d.last {
		return err
	}
	d.last = string(text)
	// written whole, so that a reader never sees half of it
	half := filepath.Join(filepath.Dir(d.path), fmt.Sprintf(".%s.%d", filepath.Base(d.path), time.Now().UnixNano()))
	if err := os.WriteFile(half, text, 0o644); err != nil {
		return fmt.Errorf("cannot describe the window: %w", err)
	}
	return os.Rename(half, d.path)
}

// describe says what the shell shows, all but the controls.
func (s *shell) describe() Description {
	d := Description{Notice: s.notice.words}
	if s.trouble != nil {
		d.Trouble = s.trouble.err.Error()
	}
	if s.session == nil {
		return d
	}
	d.Area = workAreas[s.shown].name
	m := s.session
	d.Vehicle, d.Case, d.Working = m.Circuit.Title, m.Case().Title, m.Working().Running
	for _, f := range m.Case().Findings {
		d.Findings = append(d.Findings, m.Say(f))
	}
	if a, _ := m.Answer(); a != nil && len(m.Case().Findings) > 0 {
		for _, x := range a.Suspects {
			d.Suspects = append(d.Suspects, DescribedSuspect{x.Key, x.Title, x.Probability})
		}
	}
	if x := m.Selected(); x != nil {
		d.Chosen = x.Key
		for _, step := range x.Path {
			d.Path = append(d.Path, step.Target)
		}
	}
	if best := m.Proposals(); len(best) > 0 {
		d.Next = best[0].Procedure.Title
	}
	p := s.pane()
	if p == nil {
		return d
	}
	on := m.Circuit
	switch s.shown {
	case flowArea:
		d.Flow = s.flowArea().Describe()
	case drillArea:
		d.Drill = s.drillArea().Describe()
		on = s.drillArea().Circuit()
	}
	if on == nil {
		return d
	}
	for _, c := range on.Components {
		d.Parts = append(d.Parts, Control{Role: "part", Label: c.ID, Note: c.Name, Place: p.WhereIs(c.ID).Add(image.Pt(0, s.top))})
	}
	return d
}

// controlsIn lists everything that has a label, in the order in which it was laid out.
func controlsIn(r *input.Router) []Control {
	var out []Control
	for _, n := range r.AppendSemantics(nil) {
		if n.Desc.Label == "" {
			continue
		}
		out = append(out, Control{Role: roles[n.Desc.Class], Label: n.Desc.Label, Note: n.Desc.Description,
			Selected: n.Desc.Selected, Off: n.Desc.Disabled, Place: n.Desc.Bounds})
	}
	return out
}

var roles = map[semantic.ClassOp]string{
	semantic.Unknown:     "region",
	semantic.Button:      "button",
	semantic.CheckBox:    "check box",
	semantic.Editor:      "field",
	semantic.RadioButton: "option",
	semantic.Switch:      "switch",
}
