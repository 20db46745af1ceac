package model

import (
	"slices"
	"strings"
)

// Select chooses a suspect by its key, so that its path is lit; an empty key chooses none.
func (s *Session) Select(key string) { s.choice = key }

// Selected is the chosen suspect, if it is still one.
func (s *Session) Selected() *Suspect {
	a, _ := s.Answer()
	if a == nil || s.choice == "" {
		return nil
	}
	i := slices.IndexFunc(a.Suspects, func(x Suspect) bool { return x.Key == s.choice })
	if i < 0 {
		return nil
	}
	return &a.Suspects[i]
}

// SelectNext moves the choice by one along the list, around its ends.
func (s *Session) SelectNext(by int) {
	a, _ := s.Answer()
	if a == nil || len(a.Suspects) == 0 {
		return
	}
	n := len(a.Suspects)
	i := slices.IndexFunc(a.Suspects, func(x Suspect) bool { return x.Key == s.choice })
	switch {
	case i < 0 && by < 0:
		i = n - 1
	case i < 0:
		i = 0
	default:
		i = ((i+by)%n + n) % n
	}
	s.choice = a.Suspects[i].Key
}

// ComponentOf is the part that a place belongs to: "dryer" of "dryer.3", itself of a line or a part.
func ComponentOf(place string) string {
	if i := strings.IndexByte(place, '.'); i >= 0 {
		return place[:i]
	}
	return place
}

// Standing is what is believed of one component or line.
type Standing struct {
	Probability float64   // of any fault in it
	Suspects    []Suspect // likeliest first
	Cleared     []Cleared
}

// Standing of one component or line by the newest answer.
func (s *Session) Standing(target string) Standing {
	var st Standing
	a, _ := s.Answer()
	if a == nil {
		return st
	}
	for _, x := range a.Suspects {
		if x.Target == target {
			st.Probability += x.Probability
			st.Suspects = append(st.Suspects, x)
		}
	}
	for _, x := range a.Cleared {
		if x.Target == target {
			st.Cleared = append(st.Cleared, x)
		}
	}
	return st
}
