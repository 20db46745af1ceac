package main

import (
	"fmt"

	"airpath/trace"
)

// printComplaint tells what the driver's words were taken to mean, and how little that is worth.
func (p *program) printComplaint(c trace.Complaint) {
	for _, h := range c.Heard {
		fmt.Fprintf(p.out, "  taken as %q: %s\n", h.Meaning.Saying, wrap(h.Meaning.Means, "      ", textWidth))
	}
	if len(c.Heard) > 0 {
		fmt.Fprintf(p.out, "  %s\n", wrap(complaintWorth(), "  ", textWidth))
	}
	for _, u := range c.Unheard {
		fmt.Fprintf(p.out, "  not understood, and not used: %q; %s\n", u.Words, wrap(u.Suggestion, "      ", textWidth))
	}
}

// complaintWorth says openly what a complaint counts for.
func complaintWorth() string {
	return fmt.Sprintf("A complaint is weak evidence: it raises one fault over another %.0f times at most, and clears nothing by itself.", trace.MostComplaint())
}

// saidJSON is a complaint as it was taken, for reports.
type saidJSON struct {
	Words      string `json:"words"`
	Saying     string `json:"saying,omitempty"` // "" where it was not understood
	Means      string `json:"means,omitempty"`
	Suggestion string `json:"suggestion,omitempty"`
}

func complaintJSON(c trace.Complaint) []saidJSON {
	out := []saidJSON{}
	for _, h := range c.Heard {
		out = append(out, saidJSON{Words: h.Words, Saying: h.Meaning.Saying, Means: h.Meaning.Means})
	}
	for _, u := range c.Unheard {
		out = append(out, saidJSON{Words: u.Words, Suggestion: u.Suggestion})
	}
	return out
}
