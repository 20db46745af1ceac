package model

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestWhatATestTellsIsParted(t *testing.T) {
	head, sides := Next{Because: "splits 3 suspects 1 to 2 by the time: under 4 s: check valve (restricted); never: dryer (purge valve leaking) and 2 more"}.Told()
	assert.Equal(t, "splits 3 suspects 1 to 2 by the time", head)
	assert.Equal(t, []Side{{"under 4 s", "check valve (restricted)"}, {"never", "dryer (purge valve leaking) and 2 more"}}, sides)
	for _, whole := range []string{"makes the suspects more or less likely by the stroke, without parting them for certain", "odd: one; two: three", ""} {
		head, sides = Next{Because: whole}.Told()
		assert.Equal(t, whole, head)
		assert.Empty(t, sides)
	}
}
