package model

import (
	"strings"

	"airpath/trace"
)

// A Hearing is what a driver's words are taken to mean. They are weak evidence: a complaint alone never settles a case.
type Hearing struct {
	Heard   []Heard
	Unheard []string // what was not understood, with what would be
}

// Heard is one thing that was understood.
type Heard struct{ Words, Means string }

// Hear takes a complaint apart.
func Hear(text string) Hearing {
	var h Hearing
	c := trace.HearComplaint(text)
	for _, x := range c.Heard {
		h.Heard = append(h.Heard, Heard{x.Words, x.Meaning.Means})
	}
	for _, x := range c.Unheard {
		h.Unheard = append(h.Unheard, "“"+x.Words+"” is not understood; "+x.Suggestion)
	}
	return h
}

// Suggest lists sayings that what was typed may become: those that hold every word typed, and where none does, all. Words behind
// the last comma count, for a driver says several things.
func Suggest(typed string, most int) []string {
	last := typed[strings.LastIndexByte(typed, ',')+1:]
	words := strings.Fields(strings.ToLower(last))
	var out []string
	for _, saying := range trace.Sayings() {
		all := true
		for _, w := range words {
			all = all && strings.Contains(strings.ToLower(saying), w)
		}
		if all && len(out) < most && !strings.EqualFold(strings.TrimSpace(last), saying) {
			out = append(out, saying)
		}
	}
	return out
}

// Complete puts a saying in the place of the words behind the last comma.
func Complete(typed, saying string) string {
	i := strings.LastIndexByte(typed, ',')
	if i < 0 {
		return saying
	}
	return typed[:i+1] + " " + saying
}
