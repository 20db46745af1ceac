package model

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

func TestHistoryTakesBackAndDoesAgain(t *testing.T) {
	h := NewHistory(0)
	_, ok := h.Undo()
	assert.False(t, ok)
	h.Do("one", 1)
	h.Do("two", 2)
	deed, ok := h.Undo()
	assert.True(t, ok)
	assert.Equal(t, "two", deed)
	assert.Equal(t, 1, h.Now())
	deed, _ = h.CanRedo()
	assert.Equal(t, "two", deed)
	h.Do("three", 3)
	_, ok = h.Redo()
	assert.False(t, ok, "a new deed drops what was undone")
	assert.Equal(t, 3, h.Now())
}

// A history is a list with a cursor; drive it at random against that list.
func TestHistoryAgainstAList(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h, list, at := NewHistory(0), []int{0}, 0
		for i := range rapid.IntRange(0, 60).Draw(t, "steps") {
			switch rapid.IntRange(0, 2).Draw(t, "what") {
			case 0:
				h.Do("d", i+1)
				list = append(list[:at+1], i+1)
				at = len(list) - 1
			case 1:
				if _, ok := h.Undo(); ok != (at > 0) {
					t.Fatalf("undo %v at %d", ok, at)
				} else if ok {
					at--
				}
			case 2:
				if _, ok := h.Redo(); ok != (at < len(list)-1) {
					t.Fatalf("redo %v at %d", ok, at)
				} else if ok {
					at++
				}
			}
			if h.Now() != list[at] {
				t.Fatalf("at %d: %d, want %d", at, h.Now(), list[at])
			}
		}
	})
}

func TestHistoryIsBounded(t *testing.T) {
	h := NewHistory(0)
	for i := 1; i <= maxSteps+50; i++ {
		h.Do("d", i)
	}
	n := 0
	for {
		if _, ok := h.Undo(); !ok {
			break
		}
		n++
	}
	assert.Equal(t, maxSteps-1, n)
}
