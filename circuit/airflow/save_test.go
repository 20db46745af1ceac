package airflow

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func savedTruck(t testing.TB) (*Run, []byte) {
	t.Helper()
	r, err := truckNetwork(t).Start([]Fault{{"tank", "primary leaking", 0.5e-3}}, Scatter{Pump: 0.02})
	require.NoError(t, err)
	chargeUp(t, r)
	setControl(t, r, "pedal", 0.7, 0.4)
	require.NoError(t, r.Advance(0.2)) // in the middle of a movement
	require.NoError(t, r.LineOff("front_left_hose", true))
	require.NoError(t, r.Plug("drain_supply.1", true))
	require.NoError(t, r.Advance(0.05))
	var text bytes.Buffer
	require.NoError(t, r.Save(&text))
	return r, text.Bytes()
}

// A run that was saved goes on in a network of another compilation as it does where it was saved, in every bit.
func TestSavedRunGoesOn(t *testing.T) {
	r, text := savedTruck(t)
	other, err := truckNetwork(t).Resume(bytes.NewReader(text))
	require.NoError(t, err)
	assert.Equal(t, state(r), state(other))
	for _, run := range []*Run{r, other} {
		require.NoError(t, run.Advance(3))
		setControl(t, run, "pedal", 0, 0.1)
		require.NoError(t, run.LineOff("front_left_hose", false))
		require.NoError(t, run.Advance(60))
	}
	assert.Equal(t, state(r), state(other))
	var again bytes.Buffer
	require.NoError(t, other.Save(&again))
	var same bytes.Buffer
	require.NoError(t, r.Save(&same))
	assert.Equal(t, same.String(), again.String())
}

func TestSavedRunIsChecked(t *testing.T) {
	_, text := savedTruck(t)
	n := truckNetwork(t)
	refused := func(text, words string) {
		t.Helper()
		_, err := n.Resume(strings.NewReader(text))
		assert.ErrorContains(t, err, words)
	}
	whole := string(text)
	refused("", "can't be read")
	refused(whole[:len(whole)/2], "can't be read")
	refused(strings.Replace(whole, SavedFormat, "airpath run 0", 1), "of another form")
	refused(strings.Replace(whole, `"latches": [`, `"latches": [true, `, 1), "latches has")
	refused(strings.Replace(whole, `"front_left_hose"`, `"no_hose"`, 1), "no_hose")
	refused(strings.Replace(whole, "\"state_J\": [\n  ", "\"state_J\": [\n  -", 1), "state_J number 1")
	_, err := networkOf(t, "coach").Resume(bytes.NewReader(text))
	assert.ErrorContains(t, err, "another vehicle")
}

// Whatever a file says, it is refused in words or becomes a run that can be asked and advanced without a panic.
func FuzzResume(f *testing.F) {
	_, text := savedTruck(f)
	n := truckNetwork(f)
	f.Add(text)
	f.Add([]byte(`{"format":"airpath run 1"}`))
	f.Fuzz(func(t *testing.T, text []byte) {
		r, err := n.Resume(bytes.NewReader(text))
		if err != nil {
			return
		}
		_ = r.Advance(0.01)
		r.Pressure("tank.primary")
	})
}
