package gaugelog

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"airpath/circuit"
)

func TestFormsOfALog(t *testing.T) {
	for name, text := range map[string]string{
		"commas":     "time [s],primary [psi],secondary [psi]\n0,100,99\n1,99.5,98.5\n",
		"semicolons": "Time (s);Primary (psi);Secondary (psi)\n0;100,0;99,0\n1;99,5;98,5\n",
		"tabs":       "# a logger\r\ntime_s\tprimary_psi\tsecondary_psi\r\n0\t100\t99\r\n1\t99.5\t98.5\r\n",
		"as written": "seconds,gauge_primary (psi),gauge_secondary (psi)\n0.00,100,99\n1.00,99.5,98.5\n",
		"in minutes": "\uFEFFtime min,primary psi,secondary psi\n0,100,99\n0.016666666666666666,99.5,98.5\n",
	} {
		t.Run(name, func(t *testing.T) {
			l, err := Read("x.csv", []byte(text))
			require.NoError(t, err)
			require.Len(t, l.Columns, 2)
			assert.InDeltaSlice(t, []float64{0, 1}, l.Seconds, 1e-9)
			assert.InDelta(t, circuit.AtmospherePressure+99.5*circuit.PSI, l.Columns[0].Pressure[1], 1e-6)
			at, err := l.Match([]string{"gauge_primary", "gauge_secondary"}, []string{"primary gauge", "secondary gauge"}, nil)
			require.NoError(t, err)
			assert.Equal(t, []int{0, 1}, at)
		})
	}
}

func TestAnEmptyFieldIsNoReading(t *testing.T) {
	l, err := Read("x.csv", []byte("time [s],p [bar]\n0,8\n1,\n2,7.9\n"))
	require.NoError(t, err)
	assert.True(t, math.IsNaN(l.Columns[0].Pressure[1]))
}

func TestErrorsSayWhere(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"", "x.csv: the file is empty"},
		{"time [s],primary\n", `x.csv:1, column 2: "primary" names no unit`},
		{"primary [psi]\n1\n", "x.csv:1: no column of time"},
		{"time [s]\n1\n", "x.csv:1: no column of pressure"},
		{"time [s],time [min]\n", "x.csv:1, column 2: a second column of time"},
		{"time [s],p [psi]\n0,100\n1,abc\n", `x.csv:3, column 2 (p): "abc" is no number`},
		{"time [s],p [psi]\n0,100\n0,99\n", "x.csv:3, column 1 (time): time goes from 0 s to 0 s; it must rise"},
		{"time [s],p [psi]\n0,100,5\n", "x.csv:2: 3 fields, but the head has 2; with commas as decimal points"},
		{"time [s],p [psi]\n0,-40\n", "less than a vacuum"},
		{"time [s],p [psi]\n0,100\n", "there are 1 rows of figures"},
		{"time [s],p [psi]\n,100\n", "x.csv:2, column 1 (time): no time"},
	} {
		_, err := Read("x.csv", []byte(c.text))
		require.ErrorContains(t, err, c.want, c.text)
	}
}

func TestColumnsByHand(t *testing.T) {
	l, err := Read("x.csv", []byte("time [s],ch1 [psi],ch2 [psi]\n0,1,2\n1,1,2\n"))
	require.NoError(t, err)
	ids, names := []string{"gauge_primary", "gauge_secondary"}, []string{"primary gauge", "secondary gauge"}
	_, err = l.Match(ids, names, nil)
	require.ErrorContains(t, err, "no column is named like a gauge")
	at, err := l.Match(ids, names, []string{"gauge_secondary", "-"})
	require.NoError(t, err)
	assert.Equal(t, []int{1, -1}, at)
	_, err = l.Match(ids, names, []string{"gauge_primry", "-"})
	require.ErrorContains(t, err, `did you mean "gauge_primary"?`)
	_, err = l.Match(ids, names, []string{"gauge_primary"})
	require.ErrorContains(t, err, "1 gauges are named for the 2 pressure columns")
}

func FuzzRead(f *testing.F) {
	f.Add([]byte("time [s],primary [psi]\n0,100\n1,99\n"))
	f.Add([]byte("# x\ntime_min;a_bar;b_kPa\n0;1,5;200\n1;;190\n"))
	f.Fuzz(func(t *testing.T, text []byte) {
		l, err := Read("x.csv", text)
		if err != nil {
			return
		}
		for _, c := range l.Columns {
			if len(c.Pressure) != len(l.Seconds) {
				t.Fatalf("%d pressures for %d times", len(c.Pressure), len(l.Seconds))
			}
		}
		for i := 1; i < len(l.Seconds); i++ {
			if !(l.Seconds[i] > l.Seconds[i-1]) {
				t.Fatal("time does not rise")
			}
		}
	})
}
